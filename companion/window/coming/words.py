"""What the screen of what comes says: a line an event, filters, and what is about to begin."""

from collections.abc import Sequence
from datetime import datetime, tzinfo
from enum import StrEnum

from companion.events import AURORA_ADVICE, AuroraLook, Event, EventKind
from companion.live import KpSaid, Reach
from companion.sky import clock_text, compass_point
from companion.window.aim.words import Notice
from companion.window.frame.hint_line import Hint
from companion.window.kit.row_list import Row

COMING = Notice("What comes is being worked out.", "It takes some seconds; esc stops it.")
STOPPED = Notice("What comes was not worked out.", "Look for another time, or come back later.")
_NOTHING = Notice(
    "Nothing of that kind comes within that time.",
    "x takes all filters away; the first one looks further ahead.",
)


class Sort(StrEnum):
    """Kinds that are looked at together; the value is the word shown."""

    ALL = "all kinds"
    ECLIPSES = "eclipses"
    MEETINGS = "close together"
    MOON = "the Moon"
    PLANETS = "planets"
    STARS = "variable stars"
    METEORS = "meteors"
    DARK = "dark skies"
    SATELLITES = "satellites"


SORTS = {
    Sort.ECLIPSES: {EventKind.LUNAR_ECLIPSE, EventKind.SOLAR_ECLIPSE},
    Sort.MEETINGS: {EventKind.CONJUNCTION, EventKind.GROUPING, EventKind.OCCULTATION},
    Sort.MOON: {
        EventKind.MOON_PHASE, EventKind.MOON_DISTANCE, EventKind.MOON_STANDSTILL,
        EventKind.YOUNG_MOON, EventKind.OLD_MOON,
    },
    Sort.PLANETS: {
        EventKind.OPPOSITION, EventKind.SOLAR_CONJUNCTION, EventKind.ELONGATION,
        EventKind.STATION, EventKind.BRIGHTEST, EventKind.SATURN_RING, EventKind.JUPITER_MOON,
        EventKind.TITAN,
    },
    Sort.STARS: {EventKind.VARIABLE_MINIMUM, EventKind.VARIABLE_MAXIMUM},
    Sort.METEORS: {EventKind.METEOR_SHOWER},
    Sort.DARK: {EventKind.DARK_WINDOW, EventKind.ZODIACAL_LIGHT},
    Sort.SATELLITES: {EventKind.SATELLITE},
}  # fmt: skip


class With(StrEnum):
    """What one looks with; the value is the word shown."""

    ALL = "with anything"
    EYE = "by eye"
    BINOCULARS = "with binoculars"
    TELESCOPE = "with a telescope"


_INSTRUMENTS = {
    With.EYE: {"eye"},
    With.BINOCULARS: {"eye", "binoculars"},
    With.TELESCOPE: {"eye", "binoculars", "telescope"},
}


def passes(event: Event, sort: Sort, tool: With, *, unseen: bool) -> bool:
    """Tell whether an event passes the filters."""
    of_kind = sort is Sort.ALL or event.kind in SORTS[sort]
    with_it = tool is With.ALL or event.instrument in _INSTRUMENTS[tool]
    return of_kind and with_it and (unseen or event.seen_here)


def row_of(
    event: Event, zone: tzinfo, now: datetime, queued: frozenset[str], readings: str = ""
) -> Row:
    """Say one event: when, what, where to look and with what, and why.

    ``readings`` are what the mount's own dials show there, altitude first.
    """
    at = (event.best_utc or event.utc).astimezone(zone)
    same_night = abs((at - now).total_seconds()) < 18 * 3600
    lead = clock_text(at) if same_night else f"{at.day} {at:%b}"
    where = ""
    if event.best_altitude_deg is not None and event.best_azimuth_deg is not None:
        point = compass_point(event.best_azimuth_deg, 8)
        where = f"{event.best_altitude_deg:.0f}° up, {point} {event.best_azimuth_deg:.0f}°"
    tool = "by eye" if event.instrument == "eye" else f"with {event.instrument}"
    tool = "with a solar filter" if event.kind is EventKind.SOLAR_ECLIPSE else tool
    right = " · ".join(
        part
        for part in (
            where if event.seen_here else "not from here",
            f"dials {readings}" if readings else "",
            tool if event.seen_here else "",
            "in the queue" if queued & set(event.keys[:1]) else "",
        )
        if part
    )
    day = "" if same_night else f"at {clock_text(at)}: "
    below = f"{day}{event.why}" if event.seen_here else event.why
    below = f"{below[:1].upper()}{below[1:]}"
    if event.caution:
        below = f"{event.caution.partition('. ')[0].rstrip('.')}. {below}"
    return Row(event.title, right=right, below=below, lead=lead)


def chips_of(
    reach: Reach, sort: Sort, tool: With, *, unseen: bool, kp: KpSaid | None, zone: tzinfo
) -> list[Hint]:
    """Give a chip for every filter."""
    return [
        Hint("", reach, "reach", reach is not Reach.NIGHT),
        Hint("", sort, "kinds", sort is not Sort.ALL),
        Hint("e", tool, "instrument", tool is not With.ALL),
        Hint("", "seen here or not" if unseen else "seen from here", "unseen", unseen),
        Hint("", kp_words(kp, zone), "aurora", kp is not None),
        Hint("", "the year as a picture", "year"),
        Hint("", "read orbits or Kp", "import"),
    ]


def kp_words(kp: KpSaid | None, zone: tzinfo) -> str:
    """Say which Kp holds, and since when it was said to."""
    if kp is None:
        return "aurora: type Kp"
    since = clock_text(kp.start_utc.astimezone(zone))
    return f"Kp {kp.kp:.3g}, {'of the file, from' if kp.of_file else 'typed at'} {since}"


def head_of(reach: Reach, shown: int, whole: int) -> str:
    """Say how many events there are."""
    if shown == whole:
        return f"What comes {reach}" if whole else f"What comes {reach}: nothing"
    return f"What comes {reach}: {shown} of {whole}"


def aurora_words(look: AuroraLook | None, *, outdated: bool = False) -> str:
    """Say what an aurora takes here, and what the Kp that was said means.

    ``outdated`` is whether one was said that no longer holds.
    """
    if look is None:
        return ""
    low = (
        ": none reaches here" if look.kp_horizon is None else f" from Kp {look.kp_horizon:.0f} low"
    )
    high = "" if look.kp_overhead is None else f", from {look.kp_overhead:.0f} overhead"
    way = f"look {compass_point(look.look_azimuth_deg, 8)}, {look.look_azimuth_deg:.0f}°"
    if look.kp is None:
        again = " The Kp that was said is more than three hours old." if outdated else ""
        needs = f"{low}{high}; {way}." if look.kp_horizon is not None else f"{low}."
        return f"Aurora{needs}{again}"
    advice = "" if look.chance == "none" else " " + " ".join(AURORA_ADVICE)
    return f"Aurora at Kp {look.kp:.3g}: {look.words}; {way}.{advice}"


def notice_of(events: Sequence[Event], *, known: bool, working: bool) -> Notice:
    """Say why there are no rows; nothing where there are some."""
    if events:
        return Notice("", "")
    if not known:
        return COMING if working else STOPPED
    return _NOTHING
