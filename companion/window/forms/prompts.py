"""The values that are typed on any screen: what is asked, and what is done with the answer."""

from collections.abc import Iterator
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from companion.advice import AdviceError
from companion.journal import outcome_text
from companion.live import FileKind, Severity
from companion.sky import clock_text, parse_time, twice_words, zone_of
from companion.window.forms.prompt_sheet import Prompt

if TYPE_CHECKING:
    from companion.live import Evening
    from companion.sky import Target

_MOST_LEAD_S = 3600.0
_LONGEST_NOTE = 2000
_JUST_NOW_S = 180.0  # for so long after a tick a note is taken to be about it
_NIGHT_HELP = "Clouds, an aurora, who came: anything of the night."
_MOST_CORRECTION_S = 86_400.0


def number_in(text: str, what: str, low: float, high: float, unit: str) -> float:
    """Read a number within its range.

    Raises
    ------
    AdviceError
        If it is none, or outside.
    """
    plain = text.strip().replace("−", "-").replace(",", ".").removesuffix(unit.strip()).strip()
    span = f"from {low:g} to {high:g}{unit}"
    try:
        value = float(plain)
    except ValueError:
        raise AdviceError(
            f"“{text.strip()[:40]}” is not a valid {what}.", f"Give a number {span}.", _kept(what)
        ) from None
    if not low <= value <= high:
        raise AdviceError(
            f"The {what} {plain[:40]}{unit} is out of range.", f"Give a number {span}.", _kept(what)
        )
    return value


def _kept(what: str) -> str:
    return f"The {what} before is kept."


def say_which(evening: "Evening", local: datetime) -> None:
    """Say which of two times was taken that the clocks show in a night in which they are set."""
    said = twice_words(local)
    if said:
        evening.messages.say(Severity.NOTE, said, "twice")


def note_prompt(evening: "Evening") -> Prompt:
    """Ask for a note: about what was just ticked, what is aimed at, or the night itself."""
    about = list(_noted_about(evening))
    heads = tuple((f"Note: {words}", _what_was_noted(evening, one)) for one, words in about)
    choices = tuple(f"about {words}" for _one, words in about)

    def take(text: str, choice: int) -> None:
        if text.strip():
            evening.queue.note(text.strip(), about[choice][0])

    return Prompt(*heads[0], "", take, choices if len(about) > 1 else (), _LONGEST_NOTE, heads)


def night_prompt(evening: "Evening") -> Prompt:
    """Ask for a line about the night itself, without a target."""

    def take(text: str, _choice: int) -> None:
        if text.strip():
            evening.queue.note(text.strip())

    return Prompt(
        "A line for the night",
        f"{_NIGHT_HELP} Enter keeps it with the time.",
        "",
        take,
        longest=_LONGEST_NOTE,
    )


def journal_prompt(evening: "Evening") -> Prompt:
    """Ask as what the whole journal is to be written."""
    kinds = (FileKind.TABLE, FileKind.LINES, FileKind.PAGE)
    return Prompt(
        "Write the journal",
        f"All nights, into {evening.home}. The arrows choose as what.",
        "",
        lambda _text, choice: evening.nights.write(kinds[choice]),
        ("a table: journal.csv", "JSON lines: journal.jsonl", "a page to read: journal.txt"),
        longest=0,
    )


def _noted_about(evening: "Evening") -> "Iterator[tuple[Target | None, str]]":
    """Give what a note may be about, the likeliest first, and how it is called."""
    zone = zone_of(evening.choices.site.time_zone)
    ticked, target = evening.queue.just_ticked(_JUST_NOW_S), evening.choices.target
    if ticked is not None and ticked.utc is not None:
        at = clock_text(ticked.utc.astimezone(zone))
        yield ticked.target, f"{ticked.target.name}, {outcome_text(ticked.outcome)} {at}"
    if target is not None and (ticked is None or ticked.target.key != target.key):
        yield target, target.name
    yield None, "the night itself"


def _what_was_noted(evening: "Evening", target: "Target | None") -> str:
    """Give the last note above the field; what is typed stands beside it, not in its place."""
    item = None if target is None else evening.queue.item(target.key)
    last = "" if item is None or not item.note else item.note.splitlines()[-1]
    asked = "What did it look like?" if target is not None else _NIGHT_HELP
    before = f"Noted before: “{last}” " if last else ""
    return f"{before}{asked} Enter keeps it with the time."


def round_prompt(evening: "Evening") -> Prompt:
    """Ask which star group a round of the sky is to start from."""

    def take(text: str, _choice: int) -> None:
        from companion.finding import find_group

        evening.guide_round.start(find_group(text).name)

    return Prompt(
        "A guide map from a star group",
        "Type a group that you know: Big Dipper, W of Cassiopeia, Orion's Belt, Southern Cross … "
        "What it leads to and stands well now goes to the end of the queue.",
        "",
        take,
    )


def lead_prompt(evening: "Evening") -> Prompt:
    """Ask how many seconds ahead the numbers are to be."""

    def take(text: str, _choice: int) -> None:
        lead_s = number_in(text or "0", "number of seconds ahead", 0.0, _MOST_LEAD_S, " s")
        evening.clock.set_lead(lead_s)

    return Prompt(
        "Seconds ahead",
        "The numbers are given for this many seconds from now: set them, and the target comes to "
        "you. 0 is now.",
        f"{evening.choices.lead_s:g}",
        take,
    )


def preview_prompt(evening: "Evening") -> Prompt:
    """Ask for another moment to be shown."""
    zone = evening.choices.site.time_zone
    now = evening.clock.now_utc

    def take(text: str, _choice: int) -> None:
        if text.strip():
            shown = parse_time(text, zone, now)
            say_which(evening, shown)
            evening.clock.set_preview(shown.astimezone(UTC))
        else:
            evening.clock.come_back()

    return Prompt(
        "Show another time",
        f"By the clocks of {evening.choices.site.name}: 23:30, or 2026-11-26T01:30. Empty comes "
        "back to the present.",
        clock_text(now.astimezone(zone_of(zone))),
        take,
    )


def clock_prompt(evening: "Evening") -> Prompt:
    """Ask for the correction of the machine's clock."""
    choices = evening.choices

    def take(text: str, _choice: int) -> None:
        if ":" in text:
            now = evening.clock.now_utc
            right = parse_time(text, choices.site.time_zone, now)
            correction_s = choices.clock_correction_s + (right - now).total_seconds()
        else:
            what = "clock correction"
            correction_s = number_in(
                text or "0", what, -_MOST_CORRECTION_S, _MOST_CORRECTION_S, " s"
            )
        evening.clock.set_correction(round(correction_s, 1))

    return Prompt(
        "Correct the clock",
        "Type the right time of now as hours:minutes:seconds, or the seconds that the machine's "
        "clock is behind (ahead with a minus). Ten seconds are up to 2.5′ on the dials.",
        f"{choices.clock_correction_s:g}",
        take,
    )


def limit_prompt(evening: "Evening") -> Prompt:
    """Ask for the altitude that time left counts to."""
    return Prompt(
        "Too low from here",
        "Time left counts until a target sinks to this altitude, in degrees above the horizon.",
        f"{evening.choices.low_limit_deg:g}",
        lambda text, _choice: evening.set_low_limit(number_in(text, "altitude", 0.0, 60.0, "°")),
    )
