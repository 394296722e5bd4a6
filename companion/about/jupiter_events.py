"""What the moons of Jupiter do in a night: in front of it, behind it, into its shadow and out."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from enum import StrEnum

import numpy as np

from companion.about.jupiter_moons import NAMES, lanes_along, moon_states_km, seen_places_km
from companion.arrays import BoolArray, FloatArray, RowArray
from companion.sky import FIRST_UTC, LAST_UTC, Ephemeris, Knots

_STEP_S = 300.0
_HOUR_S, _WIDE_S = 3600.0, 21600.0  # between knots of the moons, and of Jupiter
_SPARE = 3  # knots before and after
_EDGE = timedelta(hours=2)  # of the ephemeris: light comes from before the first moment
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


class _Course:
    """Jupiter and its moons against Earth and Sun over some days, between knots an hour apart.

    Between them Io is off by less than a kilometre, Jupiter's direction by less than 0.01″.
    """

    def __init__(self, ephemeris: Ephemeris, start: datetime, span_s: float) -> None:
        wide = _inside(start, np.arange(-_SPARE, span_s / _WIDE_S + _SPARE + 1.0) * _WIDE_S)
        hours = np.arange(-_SPARE, span_s / _HOUR_S + _SPARE + 1.0) * _HOUR_S
        aspects = [ephemeris.aspect("jupiter", start + timedelta(seconds=s)) for s in wide.tolist()]
        self._jupiter = Knots(
            float(wide[0]),
            _WIDE_S,
            np.array([(*one.to_body_km, *one.from_sun_km, one.days) for one in aspects]),
        )
        days = self._jupiter.at(hours)[:, 6]
        states = np.array([moon_states_km(day).ravel() for day in days.tolist()])
        self._moons = Knots(float(hours[0]), _HOUR_S, states)
        self._days, self._radius_km = float(days[len(days) // 2]), aspects[0].radius_km

    def holds(self, seconds: FloatArray) -> BoolArray:
        """Tell of moments (k,) and moons what is going on, (k, 4, 4), in the order of the table.

        In front of Jupiter, behind it, casting its shadow on it, in its shadow.
        """
        jupiter = self._jupiter.at(seconds)
        to_body, from_sun = jupiter[:, :3], jupiter[:, 3:6]
        states = self._moons.at(seconds).reshape(len(seconds), len(NAMES), 6)
        places = seen_places_km(states, to_body)
        going_on = []
        for along in (to_body, from_sun):
            lanes = lanes_along(places, along, self._days, self._radius_km)
            on_disk = lanes.aside < 1.0
            going_on += [on_disk & (lanes.beyond <= 0.0), on_disk & (lanes.beyond > 0.0)]
        return np.stack(going_on, axis=2)


def _inside(start: datetime, seconds: FloatArray) -> FloatArray:
    """Move knots to where the ephemeris has Jupiter: it may end within them."""
    first_s = (FIRST_UTC + _EDGE - start).total_seconds()
    last_s = (LAST_UTC - _EDGE - start).total_seconds()
    early, late = max(first_s - seconds[0], 0.0), max(seconds[-1] - last_s, 0.0)
    return np.asarray(seconds + early - late)


def moon_events(
    ephemeris: Ephemeris, from_utc: datetime, until_utc: datetime
) -> tuple[MoonEvent, ...]:
    """Give all events between two moments, in order.

    Occultations are of the disk, whether the moon was already dark in the shadow or not: what
    cannot be seen because the other has not ended is left out.

    Raises
    ------
    AdviceError
        If the ephemeris does not cover the times.
    """
    span_s = max((until_utc - from_utc).total_seconds(), 1.0)
    course = _Course(ephemeris, from_utc, span_s)
    moments = np.linspace(0.0, span_s, max(int(np.ceil(span_s / _STEP_S)), 1) + 1)
    holds = course.holds(moments)
    steps, moons, which = np.nonzero(holds[1:] != holds[:-1])
    if not len(steps):
        return ()
    seconds = _changes(course, moments, holds, (steps, moons, which))
    then = course.holds(seconds)
    found = []
    rows = zip(steps.tolist(), moons.tolist(), which.tolist(), strict=True)
    for row, (at, moon, kind) in enumerate(rows):
        # Nothing shows of a moon that goes behind the disk dark, or out of shadow behind it.
        if kind in _UNSEEN_WHILE and then[row, moon, _UNSEEN_WHILE[kind]]:
            continue
        begins, ends = _BEGINS_ENDS[kind]
        utc = from_utc + timedelta(seconds=float(seconds[row]))
        found.append(MoonEvent(begins if holds[at + 1, moon, kind] else ends, NAMES[moon], utc))
    return tuple(sorted(found, key=lambda event: event.utc))


def _changes(
    course: _Course, moments: FloatArray, holds: BoolArray, found: tuple[RowArray, ...]
) -> FloatArray:
    """Halve the time between two moments until each change is found."""
    steps, moons, which = found
    early, late = moments[steps], moments[steps + 1]
    was = holds[steps, moons, which]
    each = np.arange(len(steps))
    for _ in range(_HALVINGS):
        middle = (early + late) / 2.0
        same = course.holds(middle)[each, moons, which] == was
        early, late = np.where(same, middle, early), np.where(same, late, middle)
    return np.asarray((early + late) / 2.0)
