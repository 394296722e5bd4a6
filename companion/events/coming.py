"""All that comes within a span of days, in order of time."""

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Final

from companion.advice import AdviceError
from companion.events.darkness import dark_windows, zodiacal_lights
from companion.events.elements.passes import passes
from companion.events.elements.record import Elements
from companion.events.event import Event, EventKind
from companion.events.judge import judge
from companion.events.jupiter import NEAR, jupiter_moons
from companion.events.lunar_eclipses import lunar_eclipses
from companion.events.meteors import showers
from companion.events.moon import distances, phases, standstills
from companion.events.occultations import occultations
from companion.events.pairs import conjunctions, groupings
from companion.events.planets import brightest_venus, elongations, meetings, rings, stations
from companion.events.scene import Draft, Scene
from companion.events.solar_eclipses import solar_eclipses
from companion.events.titan import titans
from companion.events.variables import maxima_of_stars, minima_of_stars
from companion.events.young_moon import old_moons, young_moons
from companion.finding import Instrument
from companion.night import Cancelled, Conditions, Progress
from companion.sky import Catalogue, Ephemeris, Site

# What begins or ends near the asked span is found whole only with some of the sky around it: a
# month of the Moon, and what changes between the knots of the slowest planets.
_MARGIN = timedelta(days=40)
_SHORT = timedelta(days=1)  # what lasts no longer is told while it lasts
LONGEST = timedelta(days=366 * 25)

SEEKERS: Final[tuple[tuple[frozenset[EventKind], Callable[[Scene], list[Draft]]], ...]] = tuple(
    (frozenset(kinds), seek)
    for *kinds, seek in (
        (EventKind.MOON_PHASE, phases),
        (EventKind.MOON_DISTANCE, distances),
        (EventKind.MOON_STANDSTILL, standstills),
        (EventKind.YOUNG_MOON, young_moons),
        (EventKind.OLD_MOON, old_moons),
        (EventKind.LUNAR_ECLIPSE, lunar_eclipses),
        (EventKind.SOLAR_ECLIPSE, solar_eclipses),
        (EventKind.CONJUNCTION, conjunctions),
        (EventKind.GROUPING, groupings),
        (EventKind.OCCULTATION, occultations),
        (EventKind.OPPOSITION, EventKind.SOLAR_CONJUNCTION, meetings),
        (EventKind.ELONGATION, elongations),
        (EventKind.STATION, stations),
        (EventKind.BRIGHTEST, brightest_venus),
        (EventKind.SATURN_RING, rings),
        (EventKind.TITAN, titans),
        (EventKind.VARIABLE_MINIMUM, minima_of_stars),
        (EventKind.VARIABLE_MAXIMUM, maxima_of_stars),
        (EventKind.METEOR_SHOWER, showers),
        (EventKind.ZODIACAL_LIGHT, zodiacal_lights),
        (EventKind.DARK_WINDOW, dark_windows),
    )
)


@dataclass(frozen=True, slots=True)
class ComingRequest:
    """What is asked for; no kinds means all."""

    site: Site
    first: datetime
    last: datetime
    instrument: Instrument
    conditions: Conditions
    kinds: frozenset[EventKind] = frozenset()
    satellites: tuple[Elements, ...] = ()


def what_comes(
    ephemeris: Ephemeris,
    catalogue: Catalogue,
    request: ComingRequest,
    progress: Progress | None = None,
) -> tuple[Event, ...]:
    """Find all events of a span, in order of time.

    What lies past the end of the ephemeris is left out.

    Raises
    ------
    AdviceError
        If the span lies outside the ephemeris, or is too long.
    Cancelled
        If ``progress`` gives False.
    """
    if not timedelta(0) < request.last - request.first <= LONGEST:
        raise AdviceError(
            "The time to look through is empty, or longer than 25 years.",
            "Give from 1 to 9131 days.",
        )
    ephemeris.earth.time(request.first)  # refuses what lies outside
    span = ephemeris.span(request.site, request.first - _MARGIN, request.last + _MARGIN)
    scene = Scene(span, catalogue, request.instrument, request.conditions)
    drafts = list(_sought(scene, request, progress))
    if not request.kinds or EventKind.JUPITER_MOON in request.kinds:
        last = min(request.last, span.last)
        last = last if request.kinds else min(last, request.first + NEAR)
        drafts += jupiter_moons(scene, ephemeris, request.first, last)
    inside = [draft for draft in drafts if _asked(scene, draft, request)]
    found = judge(scene, inside)
    if request.satellites and (not request.kinds or EventKind.SATELLITE in request.kinds):
        first_s, last_s = span.seconds(request.first), span.seconds(request.last)
        found += passes(scene, request.satellites, first_s, last_s)
    return tuple(sorted(found, key=lambda event: (event.utc, event.uid)))


def _sought(scene: Scene, request: ComingRequest, progress: Progress | None) -> Iterator[Draft]:
    wanted = [row for row in SEEKERS if not request.kinds or request.kinds & row[0]]
    for done, (_kinds, seek) in enumerate(wanted):
        if progress is not None and not progress(done / len(wanted)):
            raise Cancelled
        for draft in seek(scene):
            if not request.kinds or draft.kind in request.kinds:
                yield draft


def _asked(scene: Scene, draft: Draft, request: ComingRequest) -> bool:
    utc = scene.span.utc(draft.seconds)
    if request.first <= utc <= request.last:
        return True
    if draft.start_s is None or draft.end_s is None:
        return False
    begins, ends = scene.span.utc(draft.start_s), scene.span.utc(draft.end_s)
    return ends - begins <= _SHORT and begins <= request.first <= ends


_GROUPS: Final[Mapping[str, frozenset[str]]] = {
    "planets": frozenset(
        {"opposition", "solar_conjunction", "elongation", "station", "brightest", "saturn_ring"}
    ),
    "variables": frozenset({"variable_minimum", "variable_maximum"}),
    "moon": frozenset({"moon_phase", "moon_distance", "moon_standstill", "young_moon", "old_moon"}),
}


def event_kinds_named(text: str) -> frozenset[EventKind]:
    """Understand kinds separated by commas: codes, or a word of theirs such as "eclipses".

    Raises
    ------
    AdviceError
        If one of them is no kind.
    """
    found: set[EventKind] = set()
    for word in (part.strip() for part in text.split(",")):
        if not word:
            continue
        plain = word.casefold().replace(" ", "_").replace("-", "_")
        group = _GROUPS.get(plain, frozenset())
        named = {kind for kind in EventKind if kind in group or _means(plain, kind)}
        if not named:
            raise AdviceError(
                f"“{word[:40]}” is not a kind of event.",
                f"Choose from: {', '.join(EventKind)}.",
            )
        found |= named
    return frozenset(found)


def _means(word: str, kind: EventKind) -> bool:
    forms = {word, word.removesuffix("s"), word.removesuffix("es")}
    exact = set(EventKind) & forms
    return kind in exact if exact else bool(forms & set(kind.split("_")))
