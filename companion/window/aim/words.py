"""What the aim and its queue say, in words: pure text of the facts, without a widget."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta, tzinfo

from companion.instant import AimFacts, PastSun, RowFacts, Snapshot, Trend, Turn
from companion.journal import Outcome, outcome_text
from companion.live import QueueItem
from companion.sky import (
    altitude_text,
    angle_text,
    azimuth_text,
    clock_text,
    duration_text,
    fists_text,
    kind_text,
    magnitude_text,
)
from companion.window.kit.facts import Fact

_DAY = "day"  # of ``DarkFacts.phase``
_BY_DAY_MAG = -1.5  # what shows in a blue sky to who knows the place: Venus, Jupiter
_TRUE_STEP_DEG = 0.5  # of an azimuth ring without a mount: finer than anybody sets it by hand
_FILTER = (
    "This is the Sun. Look only with a filter made for it, sound and firmly over the front of the "
    "tube, the finder capped. One glance without it blinds at once and for good."
)


_ECLIPSE = (
    "The Moon stands in front of the Sun. Look only with a certified solar filter, sound and "
    "firmly over the front of tube and finder. Eclipse glasses are for the bare eye and never "
    "for looking through optics. Without a filter a glance blinds at once and for good."
)
_DISCS_TOUCH_DEG = 0.6  # both discs are about half a degree wide


@dataclass(frozen=True, slots=True)
class Notice:
    """What takes the place under the numbers when something needs attention."""

    head: str
    text: str = ""
    caution: bool = False  # somebody can get hurt


NOTHING = Notice("")
NO_PLACE = Notice(
    "No place is known yet.", "Press 7 and say where you are: every number depends on it."
)


EMPTY = Notice(
    "Press / and type what you want to see.",
    "M 31, Saturn, alp Lyr, a name spelled nearly right, or a position: 05 35.3 −05 23.",
)


def withheld(aim: AimFacts, uncovered: frozenset[str]) -> bool:
    """Say whether the numbers must not be shown: the Sun is up and near."""
    return aim.sun_danger and aim.target.key not in uncovered


def numbers(aim: AimFacts) -> tuple[str, str]:
    """Give the two numbers: the mount's own readings, or true altitude and azimuth."""
    if aim.reading is not None:
        return aim.reading.altitude_text, aim.reading.azimuth_text
    return altitude_text(aim.altitude_deg), azimuth_text(aim.azimuth_deg, _TRUE_STEP_DEG)


def captions(aim: AimFacts | None) -> tuple[str, str]:
    """Name the two numbers."""
    if aim is not None and aim.reading is not None:
        return "ALTITUDE DIAL", "AZIMUTH DIAL"
    return "ALTITUDE", "AZIMUTH FROM TRUE NORTH"


def beneath(aim: AimFacts) -> tuple[str, str]:
    """Give the lines beneath the numbers: what is left over, then true and compass."""
    altitude = [f"as seen {altitude_text(aim.altitude_deg, 0.01)}°"]
    azimuth = [f"true {azimuth_text(aim.azimuth_deg, 0.1)}°"]
    if aim.compass_deg is not None:
        azimuth.append(f"compass {azimuth_text(aim.compass_deg, 0.5)}°")
    if aim.reading is None:
        altitude.append(f"without air {altitude_text(aim.altitude_airless_deg, 0.01)}°")
    else:
        altitude.insert(0, aim.reading.altitude_remainder)
        azimuth.insert(0, aim.reading.azimuth_remainder)
    return _joined(altitude), _joined(azimuth)


def description(aim: AimFacts) -> str:
    """Say what it is and looks like: "planet in Pisces · mag 0.9 · 18″ · rings tilted 7°"."""
    kind = kind_text(aim.target.kind)
    where = f"{kind} in {aim.constellation}" if aim.constellation else kind
    light = "" if aim.magnitude is None else magnitude_text(aim.magnitude)
    return _joined([str(where), light, aim.size, aim.detail])


def turns(aim: AimFacts) -> tuple[str, str, str]:
    """Give the two ways to turn, up or down, left or right, and the latter in fists."""
    turn = aim.turn
    if turn is None or turn.past_sun is not None:
        return "", "", ""
    up = f"{angle_text(abs(turn.altitude_deg))} {'up' if turn.altitude_deg > 0 else 'down'}"
    size = abs(turn.azimuth_deg)
    side = f"{angle_text(size)} {'right' if turn.azimuth_deg > 0 else 'left'}"
    return up, side, fists_text(size)


def left_fact(
    aim: AimFacts, utc: datetime, low_limit_deg: float, local: datetime, *, drowned: bool = False
) -> Fact:
    """Say how long it can be used, and until when; nothing while daylight drowns it."""
    if aim.altitude_deg <= 0.0 or drowned:
        return Fact("TIME LEFT", "", "not by day" if drowned else "")
    if aim.sinks_utc is not None:
        until = clock_text(aim.sinks_utc.astimezone(local.tzinfo))
        left = duration_text((aim.sinks_utc - utc).total_seconds())
        return Fact("TIME LEFT", left, f"{low_limit_deg:g}° up at {until}")
    if aim.sets_utc is not None:
        at = clock_text(aim.sets_utc.astimezone(local.tzinfo))
        left = duration_text((aim.sets_utc - utc).total_seconds())
        return Fact("TIME LEFT", left, f"sets at {at}")
    return Fact("TIME LEFT", "unlimited" if aim.never else "long", aim.never)


def facts(snapshot: Snapshot, aim: AimFacts, low_limit_deg: float) -> tuple[Fact, ...]:
    """Give the quieter facts, the most useful first."""
    highest = ""
    if aim.trend is Trend.RISING and aim.transit_utc is not None:
        highest = f"highest at {clock_text(aim.transit_utc.astimezone(snapshot.local.tzinfo))}"
    moon = "" if aim.moon_distance_deg is None else f"{angle_text(aim.moon_distance_deg)} away"
    return (
        left_fact(
            aim,
            snapshot.utc,
            low_limit_deg,
            snapshot.local,
            drowned=drowned_by_day(snapshot.dark.phase, aim),
        ),
        stay_fact(aim),
        Fact("NOW", "" if aim.trend is Trend.BELOW else str(aim.trend), highest),
        Fact("MOON", moon, "" if snapshot.dark.moon_up else "down"),
        Fact("PER MINUTE", *_drift(aim)),
        height_fact(aim),
    )


def height_fact(aim: AimFacts) -> Fact:
    """Say how high the eyepiece is, for whoever needs a chair or a step; empty where unknown."""
    height_m = aim.handling.eyepiece_height_m
    if height_m is None:
        return Fact("EYEPIECE", "")
    return Fact("EYEPIECE", f"{height_m:.1f} m", "above the ground")


def _drift(aim: AimFacts) -> tuple[str, str]:
    """Give the rates in degrees a minute of time, as the tube has to follow."""
    side, rise = aim.azimuth_rate_arcsec_per_s / 60.0, aim.altitude_rate_arcsec_per_s / 60.0
    return (
        f"{abs(side):.2f}° {'right' if side > 0 else 'left'}",
        f"{abs(rise):.2f}° {'up' if rise > 0 else 'down'}",
    )


def lead_words(aim: AimFacts, local: datetime) -> str:
    """Say that the numbers are for a moment ahead; empty when they are for now."""
    if aim.lead_s <= 0.0:
        return ""
    moment = local + timedelta(seconds=aim.lead_s)
    return f"for {moment:%H:%M:%S}, in {duration_text(aim.lead_s)}"


def advice(aim: AimFacts, local: datetime) -> str:
    """Say for when the numbers are, if not for now, and how far to trust them at the eyepiece."""
    trust = "" if aim.reading is None else aim.reading.advice
    return _joined([lead_words(aim, local), trust])


def notice(
    snapshot: Snapshot, aim: AimFacts, uncovered: frozenset[str], *, asked: bool = False
) -> Notice:
    """Give what needs attention about this target."""
    if aim.sun_danger:
        return _sun_notice(aim, hidden=withheld(aim, uncovered), asked=asked)
    if aim.turn is not None and aim.turn.past_sun is not None:
        return _past_sun_notice(aim.turn, aim.turn.past_sun)
    if aim.altitude_deg < 0.0:
        return _below_notice(snapshot, aim)
    if drowned_by_day(snapshot.dark.phase, aim):
        return _day_notice(snapshot, aim)
    return _handling_notice(aim)


def drowned_by_day(phase: str, aim: AimFacts) -> bool:
    """Tell whether daylight hides a target: all but the Sun, the Moon and the brightest planets."""
    bright = aim.magnitude is not None and aim.magnitude < _BY_DAY_MAG
    return phase == _DAY and aim.target.body not in {"sun", "moon"} and not bright


def _day_notice(snapshot: Snapshot, aim: AimFacts) -> Notice:
    sets = snapshot.dark.next_phase_utc
    if sets is None:
        until = "The Sun does not set today."
    else:
        until = f"The Sun sets at {clock_text(sets.astimezone(snapshot.local.tzinfo))}."
    return Notice("Not to be seen: it is day.", f"{aim.target.name} is up in daylight. {until}")


def _past_sun_notice(turn: Turn, past: PastSun) -> Notice:
    """Say how to go round the Sun, tube and finder capped; the arrows are withheld."""
    near = angle_text(past.nearest_deg)
    why = f"The way from {turn.from_name} may pass {near} from the Sun."
    if past.corner_text:
        do = f"First to {past.corner_text}; from there to the two numbers above."
    else:
        do = "No way round keeps 20° off it: wait until the Sun has set."
    return Notice(
        "Caps on tube and finder. Go round the Sun." if past.corner_text else "Caps stay on.",
        f"{why} {do} Take the caps off only when the tube stands there.",
        caution=True,
    )


def _sun_notice(aim: AimFacts, *, hidden: bool, asked: bool) -> Notice:
    if aim.target.body == "sun":
        text = _FILTER
    else:
        text = _ECLIPSE if _covers_sun(aim) else _near_text(aim)
    if not hidden:
        return Notice("Uncovered. The Sun is near.", text, caution=True)
    key = (
        "Press shift u once more to uncover them."
        if asked
        else "Pressing shift u twice uncovers them."
    )
    return Notice("The numbers are withheld.", f"{text} {key}", caution=True)


def _near_text(aim: AimFacts) -> str:
    apart = "" if aim.sun_distance_deg is None else angle_text(aim.sun_distance_deg)
    return (
        f"The Sun is up, {apart} from {aim.target.name}. Seen through a tube, binoculars or a "
        "finder it blinds at once and for good. Never sweep for a target here: wait until the "
        "Sun has set."
    )


def _covers_sun(aim: AimFacts) -> bool:
    distance = aim.sun_distance_deg
    return aim.target.body == "moon" and distance is not None and distance < _DISCS_TOUCH_DEG


def _below_notice(snapshot: Snapshot, aim: AimFacts) -> Notice:
    if aim.rises_utc is None:
        why = aim.never or "does not come up within a day"
        return Notice("Below the horizon.", f"{aim.target.name} {why}.")
    at = clock_text(aim.rises_utc.astimezone(snapshot.local.tzinfo))
    wait = duration_text((aim.rises_utc - snapshot.utc).total_seconds())
    return Notice(
        f"Below the horizon until {at}.", f"It comes up in {wait}. Press l to keep it for later."
    )


def _handling_notice(aim: AimFacts) -> Notice:
    """Say what the mount or the hand cannot do, or not the short way."""
    handling, name = aim.handling, aim.target.name
    if handling.reach:
        return Notice(f"The mount can't point at {name}.", handling.reach)
    if handling.blind:
        return Notice("Too near the zenith to be followed.", handling.blind)
    if handling.turn:
        return Notice("Not the short way round.", handling.turn)
    return NOTHING


def stay_fact(aim: AimFacts) -> Fact:
    """Say how long it stays in the eyepiece once centred, and which way it leaves."""
    stays = aim.handling.stays
    if not stays:
        return Fact("IN THE FIELD", "")
    widest = stays[min(1, len(stays) - 1)]  # of the eyepieces; binoculars have one field
    stay = next((one for one in stays if one.look == aim.handling.eyepiece), widest)
    stays_for = "for ever" if stay.seconds is None else duration_text(stay.seconds)
    way = "" if stay.seconds is None else f"then {stay.direction}"
    return Fact(f"IN THE {stay.look.upper()}", stays_for, way)


def _joined(parts: list[str]) -> str:
    return " · ".join(part for part in parts if part)


@dataclass(frozen=True, slots=True)
class RowWords:
    """One row: four figures, or a sentence in their place."""

    key: str
    name: str
    outcome: Outcome
    figures: tuple[str, str, str, str] = ("", "", "", "")  # altitude, azimuth, time left, Moon
    instead: str = ""  # "found 19:42"
    noted: bool = False
    current: bool = False


def row_words(
    item: QueueItem,
    facts: RowFacts | None,
    zone: tzinfo | None,
    uncovered: frozenset[str],
    current_key: str | None,
) -> RowWords:
    """Give what a row says."""
    key = item.target.key
    figures, instead = ("", "", "", ""), ""
    if item.outcome is not Outcome.WAITING:
        at = "" if item.utc is None else clock_text(item.utc.astimezone(zone))
        instead = f"{outcome_text(item.outcome)} {at}".strip()
    elif facts is not None and facts.sun_danger and key not in uncovered:
        instead = "too near the Sun"
    elif facts is not None:
        figures = _figures(facts)
    return RowWords(
        key, item.target.name, item.outcome, figures, instead, bool(item.note), key == current_key
    )


def _figures(facts: RowFacts) -> tuple[str, str, str, str]:
    moon = "" if facts.moon_distance_deg is None else angle_text(round(facts.moon_distance_deg))
    return (f"{facts.altitude_text}°", f"{facts.azimuth_text}°", time_words(facts), moon)


def time_words(facts: RowFacts) -> str:
    """Say how long a row can be used, or when it comes up."""
    if facts.altitude_deg < 0.0:
        return "down" if facts.rises_in_s is None else f"in {duration_text(facts.rises_in_s)}"
    if facts.time_left_s is None:
        return "stays up"
    return "low" if facts.time_left_s <= 0.0 else duration_text(facts.time_left_s)


def progress(items: Sequence[QueueItem]) -> str:
    """Say how far the evening has come: "7 of 12 seen · 3 waiting"."""
    if not items:
        return "nothing in the queue yet"
    found = sum(item.outcome is Outcome.FOUND for item in items)
    waiting = sum(item.outcome is Outcome.WAITING for item in items)
    return f"{found} of {len(items)} seen · {waiting or 'none'} waiting"
