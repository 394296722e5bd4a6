"""What the moons of Jupiter do in a night: in front of it, behind it, into its shadow and out."""

import itertools
from collections.abc import Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from enum import StrEnum

import numpy as np

from companion.about.jupiter_moons import NAMES, Lanes, lanes_along, moon_places_km
from companion.sky import Ephemeris

_STEP_S = 300.0
_MOST_S = 3 * 86400.0
_HALVINGS = 9  # of a step: to 0.6 s


class EventKind(StrEnum):
    """What begins or ends, as a stable code."""

    TRANSIT_BEGINS = "transit_begins"
    TRANSIT_ENDS = "transit_ends"
    SHADOW_BEGINS = "shadow_transit_begins"
    SHADOW_ENDS = "shadow_transit_ends"
    OCCULTATION_BEGINS = "occultation_begins"
    OCCULTATION_ENDS = "occultation_ends"
    ECLIPSE_BEGINS = "eclipse_begins"
    ECLIPSE_ENDS = "eclipse_ends"


_WORDS = {
    EventKind.TRANSIT_BEGINS: "moves in front of Jupiter",
    EventKind.TRANSIT_ENDS: "leaves Jupiter's disk",
    EventKind.SHADOW_BEGINS: "throws its shadow onto Jupiter",
    EventKind.SHADOW_ENDS: "takes its shadow off Jupiter",
    EventKind.OCCULTATION_BEGINS: "goes behind Jupiter",
    EventKind.OCCULTATION_ENDS: "comes out from behind Jupiter",
    EventKind.ECLIPSE_BEGINS: "goes dark in Jupiter's shadow",
    EventKind.ECLIPSE_ENDS: "comes out of Jupiter's shadow",
}
_BEGINS_ENDS = (
    (EventKind.TRANSIT_BEGINS, EventKind.TRANSIT_ENDS),
    (EventKind.OCCULTATION_BEGINS, EventKind.OCCULTATION_ENDS),
    (EventKind.SHADOW_BEGINS, EventKind.SHADOW_ENDS),
    (EventKind.ECLIPSE_BEGINS, EventKind.ECLIPSE_ENDS),
)
_UNSEEN_WHILE = {1: 3, 3: 1}  # numbers in the table above


@dataclass(frozen=True, slots=True)
class MoonEvent:
    """One event as it is seen from here: the middle of the moon, or of its shadow, at the edge."""

    kind: EventKind
    moon: str
    utc: datetime

    @property
    def text(self) -> str:
        """What the moon does: "Io moves in front of Jupiter"."""
        return f"{self.moon} {_WORDS[self.kind]}"


@dataclass(frozen=True, slots=True, eq=False)
class _Look:
    """The moons at one moment, along the sight and along the sunlight."""

    utc: datetime
    seen: Lanes
    lit: Lanes

    def holds(self, row: int, which: int) -> bool:
        """Tell whether a moon is in front, behind, casting its shadow, or in Jupiter's."""
        lanes = self.seen if which < 2 else self.lit
        behind = which in {1, 3}
        return bool(lanes.aside[row] < 1.0 and (lanes.beyond[row] > 0.0) == behind)


class _Course:
    """Jupiter against Earth and Sun over some days: a parabola through three of its places.

    Within three days it misses the true course by some hundred kilometres, 0.1″.
    """

    def __init__(self, ephemeris: Ephemeris, start: datetime, span_s: float) -> None:
        self._start, self._half_s = start, span_s / 2.0
        self._aspects = [
            ephemeris.aspect("jupiter", start + timedelta(seconds=k * self._half_s))
            for k in range(3)
        ]

    def look(self, utc: datetime) -> _Look:
        x = (utc - self._start).total_seconds() / self._half_s
        weights = ((x - 1.0) * (x - 2.0) / 2.0, x * (2.0 - x), x * (x - 1.0) / 2.0)
        parts = list(zip(weights, self._aspects, strict=True))
        aspect = replace(
            self._aspects[0],
            to_body_km=np.sum([w * a.to_body_km for w, a in parts], axis=0),
            from_sun_km=np.sum([w * a.from_sun_km for w, a in parts], axis=0),
            days=sum(w * a.days for w, a in parts),
        )
        places = moon_places_km(aspect)
        return _Look(
            utc,
            lanes_along(places, aspect.to_body_km, aspect.days, aspect.radius_km),
            lanes_along(places, aspect.from_sun_km, aspect.days, aspect.radius_km),
        )


def moon_events(
    ephemeris: Ephemeris, from_utc: datetime, until_utc: datetime
) -> tuple[MoonEvent, ...]:
    """Give all events between two moments, in order; at most three days.

    Occultations are of the disk, whether the moon was already dark in the shadow or not: what
    cannot be seen because the other has not ended is left out.

    Raises
    ------
    AdviceError
        If the ephemeris does not cover the times.
    """
    span_s = min((until_utc - from_utc).total_seconds(), _MOST_S)
    steps = max(int(np.ceil(span_s / _STEP_S)), 1)
    moments = [from_utc + timedelta(seconds=span_s * k / steps) for k in range(steps + 1)]
    course = _Course(ephemeris, from_utc, max(span_s, _STEP_S))
    looks = [course.look(moment) for moment in moments]
    found = [
        event
        for before, after in itertools.pairwise(looks)
        for event in _between(course, before, after)
    ]
    return tuple(sorted(found, key=lambda event: event.utc))


def _between(course: _Course, before: _Look, after: _Look) -> Iterator[MoonEvent]:
    for row, name in enumerate(NAMES):
        for which, (begins, ends) in enumerate(_BEGINS_ENDS):
            was, will = before.holds(row, which), after.holds(row, which)
            if was == will:
                continue
            utc = _change(course, before, after, row, which)
            # Nothing shows of a moon that goes behind the disk dark, or out of shadow behind it.
            if which in _UNSEEN_WHILE and course.look(utc).holds(row, _UNSEEN_WHILE[which]):
                continue
            yield MoonEvent(begins if will else ends, name, utc)


def _change(course: _Course, before: _Look, after: _Look, row: int, which: int) -> datetime:
    """Halve the time between two looks until the change is found."""
    early, late = before.utc, after.utc
    was = before.holds(row, which)
    for _ in range(_HALVINGS):
        middle = early + (late - early) / 2
        if course.look(middle).holds(row, which) == was:
            early = middle
        else:
            late = middle
    return early + (late - early) / 2
