"""What the host's screen and the guests' page say, in words: pure text, without a widget."""

from dataclasses import dataclass, replace
from datetime import datetime, tzinfo
from typing import TYPE_CHECKING

from companion.finding import InstrumentKind
from companion.journal import Outcome
from companion.live import Showing
from companion.sky import clock_text
from companion.window.aim.words import Notice
from companion.window.frame.hint_line import Hint
from companion.window.kit.facts import Fact
from companion.window.kit.row_list import Row

if TYPE_CHECKING:
    from companion.live import HostModel
    from companion.road import Stop

HEAD = "A host's evening"
COMING = Notice("The evening is being worked out.", "It takes a few seconds.")
BEGIN = Notice(
    "Enter works the evening out.",
    "From now, or from dusk on: what guests see first, then the best that stands well, at most two "
    "of a kind. ← → choose a number above, enter changes it. f9 opens the page that guests read, "
    "on a second screen if there is one.",
)
NONE_STANDS = Notice("Nothing stands well for guests then.", "Ask for another time or instrument.")
TAKEN_UP = "taken up where it was left · work it out anew for times and words"
ANOTHER_PLACE = "worked out for another place: work it out anew"
_THROUGH = {
    InstrumentKind.EYE: "by eye",
    InstrumentKind.BINOCULARS: "with binoculars",
    InstrumentKind.TELESCOPE: "with a telescope",
}


def chips(host: "HostModel") -> tuple[Hint, ...]:
    """Give what can be asked for; enter changes it."""
    wishes, instrument = host.wishes, host.instrument
    through = _THROUGH[wishes.through]
    if instrument is not None and wishes.through is not InstrumentKind.EYE:
        through = f"with {instrument.name}"
    axis = "height of the axis" if host.axis_m is None else f"axis {host.axis_m:.2f} m up"
    many = "target" if wishes.targets == 1 else "targets"
    made = (Hint("", "work it out anew", "anew"),) if host.targets else ()
    return (
        Hint("", f"{wishes.targets} {many}", "targets"),
        Hint("", f"{wishes.minutes:g} min each", "minutes"),
        Hint("", through, "through"),
        Hint("", axis, "axis"),
        *made,
    )


def about(host: "HostModel", zone: tzinfo) -> str:
    """Say from when to when it goes, and what is special."""
    if host.program is None and host.targets:
        return TAKEN_UP
    if host.program is None or not host.program.stops:
        return ""
    first = clock_text(host.program.begins_utc.astimezone(zone))
    last = clock_text(host.program.stops[-1].begins_utc.astimezone(zone))
    said = [f"from {first}, the last one at {last}", f"{len(host.targets)} targets"]
    said += [ANOTHER_PLACE] if host.moved else []
    said += [host.program.words.rstrip(".").lower()] if host.program.words else []
    return " · ".join(said)


def rows(host: "HostModel", zone: tzinfo) -> list[Row]:
    """Say each target: when, with what, what to say, where the eyepiece is.

    Beside what is shown now there is less room: with what stands there then.
    """
    return [_row(host, at, zone) for at in range(len(host.targets))]


def _row(host: "HostModel", at: int, zone: tzinfo) -> Row:
    target, stop = host.targets[at], host.stop(at)
    outcome = Outcome.FOUND if host.found(target.key) else None
    if stop is None:
        return Row(target.name, right=_place(host, at), lead="–", outcome=outcome)
    height = eyepiece(stop)
    right = " · ".join(filter(None, (height, _place(host, at) or stop.where)))
    return Row(
        stop.full_name,
        beside=stop.view if host.at is None else "",
        right=right,
        below=stop.saying.fact,
        lead=clock_text(stop.begins_utc.astimezone(zone)),
        outcome=outcome,
    )


def _place(host: "HostModel", at: int) -> str:
    return "now" if at == host.at else ""


def eyepiece(stop: "Stop") -> str:
    """Say how high the eyepiece is: "eyepiece 1.5 m up"; empty where nobody knows."""
    return "" if stop.eyepiece_m is None else f"eyepiece {stop.eyepiece_m:.1f} m up"


def counter(showing: Showing) -> str:
    """Say which one it is, and how long it may still take."""
    left = round(showing.minutes_left)
    if left > 1:
        rest = f"{left} minutes left"
    elif left >= 0:
        rest = "one minute left" if left else "its time is over"
    else:
        late = -left
        rest = f"{late} minute{'s' if late > 1 else ''} over"
    return f"{showing.number} of {showing.count} · {rest}"


def facts(stop: "Stop") -> tuple[Fact, ...]:
    """Give where to look, with what, and who needs a step."""
    return (
        Fact("where", stop.where),
        Fact("with", stop.view),
        Fact("eyepiece", eyepiece(stop).removeprefix("eyepiece "), stop.stand),
    )


def behind(stop: "Stop") -> str:
    """Say what is for the host alone, a line each, what can be missed most at the end."""
    saying = stop.saying
    said = [f"Before: {saying.before}"] if saying.before else []
    said += [f"For you: {saying.answer}"] if saying.answer else []
    said += [f"If clouds come there, f10: {stop.if_clouds}."] if stop.if_clouds else []
    said += [f"Meanwhile by eye: {stop.eye}"] if stop.eye else []
    return "\n".join(said)


@dataclass(frozen=True, slots=True)
class GuestLines:
    """What the page for guests says, from the top."""

    name: str
    what: str = ""
    look: str = ""
    fact: str = ""
    ask: str = ""
    note: str = ""


WELCOME = GuestLines(
    "Welcome",
    "Your eyes need ten minutes without white light.",
    "",
    "Put telephones away, or cover them in red.",
    "How many stars do you see now, and how many in ten minutes?",
)


def not_now(local: datetime | None) -> str:
    """Say that directions are those of another time; None: they are of now."""
    return (
        "" if local is None else f"For {clock_text(local)} on {local.day} {local:%B}, not for now."
    )


def guest_lines(showing: Showing | None, note: str = "") -> GuestLines:
    """Give what guests read: large and little. ``note`` is what stands below it all."""
    if showing is None:
        return replace(WELCOME, note=note)
    stop, name = showing.told, showing.target.name
    if stop is None:
        return GuestLines(name, note=note)
    if stop.caution:
        return GuestLines(name, ask=stop.caution, note=note)
    saying = stop.saying
    what = f"{name}: {saying.what}" if saying.called else saying.what
    far = f", {saying.far}" if saying.far else ""
    return GuestLines(
        saying.called or name,
        f"{what[:1].upper()}{what[1:]}{far}.",
        look_words(stop),
        saying.fact,
        saying.ask,
        note,
    )


def look_words(stop: "Stop") -> str:
    """Say which way to look: "Face east: two fists up"."""
    up = stop.where.partition(", ")[2] or stop.where
    return f"{stop.face}: {up}."
