"""Events against plain searches by skyfield, published elements, and a fine grid."""

from datetime import UTC, datetime, timedelta
from typing import Any

import numpy as np
import pytest
from skyfield import almanac
from skyfield.api import wgs84
from skyfield.searchlib import find_maxima, find_minima

from companion.events import ComingRequest, Event, EventKind, what_comes
from companion.night import Conditions, find_instrument
from companion.sky import LOON_BARRENS, Ephemeris, load_catalogue

FIRST, DAYS = datetime(2026, 3, 1, tzinfo=UTC), 120


def coming(ephemeris: Ephemeris, *kinds: EventKind, days: int = DAYS) -> tuple[Event, ...]:
    request = ComingRequest(
        LOON_BARRENS,
        FIRST,
        FIRST + timedelta(days=days),
        find_instrument("10x50"),
        Conditions.at(LOON_BARRENS),
        frozenset(kinds),
    )
    return what_comes(ephemeris, load_catalogue(), request)


def _kernel(ephemeris: Ephemeris) -> Any:
    """Give what skyfield reads, without types."""
    return ephemeris._kernel


def _near(found: list[datetime], theirs: list[datetime], seconds: float) -> None:
    assert len(found) == len(theirs)
    for ours, other in zip(found, theirs, strict=True):
        assert abs(ours - other) < timedelta(seconds=seconds), (ours, other)


def test_phases_are_those_of_skyfields_almanac(ephemeris: Ephemeris) -> None:
    scale = ephemeris.earth.timescale
    times, _which = almanac.find_discrete(
        scale.from_datetime(FIRST),
        scale.from_datetime(FIRST + timedelta(days=DAYS)),
        almanac.moon_phases(_kernel(ephemeris)),
    )
    ours = [event.utc for event in coming(ephemeris, EventKind.MOON_PHASE)]
    _near(ours, times.utc_datetime().tolist(), 2.0)


def test_oppositions_and_conjunctions_with_the_sun_are_skyfields(ephemeris: Ephemeris) -> None:
    scale, kernel = ephemeris.earth.timescale, _kernel(ephemeris)
    ends = [scale.from_datetime(FIRST + timedelta(days=d)) for d in (0, 365)]
    theirs = []
    for name in ("mars", "jupiter barycenter", "saturn barycenter", "venus"):
        times, _which = almanac.find_discrete(
            *ends, almanac.oppositions_conjunctions(kernel, kernel[name])
        )
        theirs += times.utc_datetime().tolist()
    found = coming(ephemeris, EventKind.OPPOSITION, EventKind.SOLAR_CONJUNCTION, days=365)
    named = {"Mars", "Jupiter", "Saturn", "Venus"}
    _near([e.utc for e in found if e.bodies[0] in named], sorted(theirs), 5.0)


def test_elongations_and_conjunctions_are_skyfields(ephemeris: Ephemeris) -> None:
    scale, kernel = ephemeris.earth.timescale, _kernel(ephemeris)
    ends = [scale.from_datetime(FIRST + timedelta(days=d)) for d in (0, DAYS)]

    def apart(observer: Any, one: str, other: str, step: float) -> Any:
        def separation(times: Any) -> Any:
            here = observer.at(times)
            seen = [here.observe(kernel[name]).apparent() for name in (one, other)]
            return seen[0].separation_from(seen[1]).degrees

        separation.step_days = step  # type: ignore[attr-defined]  # how skyfield is told
        return separation

    times, _degrees = find_maxima(*ends, apart(kernel["earth"], "sun", "mercury", 5.0))
    found = coming(ephemeris, EventKind.ELONGATION)
    ours = [event.utc for event in found if event.bodies == ("Mercury",)]
    _near(ours, times.utc_datetime().tolist(), 60.0)
    here = kernel["earth"] + wgs84.latlon(45.2, -62.3, 120.0)
    times, degrees = find_minima(*ends, apart(here, "venus", "jupiter barycenter", 5.0))
    close = [t for t, d in zip(times.utc_datetime(), degrees, strict=True) if d < 6.5]
    found = coming(ephemeris, EventKind.CONJUNCTION)
    ours = [event.utc for event in found if event.bodies == ("Venus", "Jupiter")]
    _near(ours, close, 60.0)


def test_minima_of_algol_follow_its_published_elements(ephemeris: Ephemeris) -> None:
    """2452253.567 + 2.867321 E, heliocentric, as *Sky & Telescope* uses them (from memory)."""
    minima = [
        event.utc
        for event in coming(ephemeris, EventKind.VARIABLE_MINIMUM)
        if event.bodies == ("Algol",)
    ]
    assert len(minima) == pytest.approx(DAYS / 2.867321, abs=1.0)
    for utc in minima:
        days = utc.timestamp() / 86400.0 + 2440587.5 - 2452253.567
        off = days / 2.867321
        # The Earth stands up to 8.3 minutes before or behind the Sun.
        assert abs(off - round(off)) * 2.867321 * 1440.0 < 8.4


def test_nothing_is_missed_or_doubled_against_a_fine_grid(ephemeris: Ephemeris) -> None:
    """The closest approaches of Moon and planets within a field, minute by minute."""
    days = 30
    kernel, scale = _kernel(ephemeris), ephemeris.earth.timescale
    here = kernel["earth"] + wgs84.latlon(45.2, -62.3, 120.0)
    minutes = np.arange(0, days * 1440 + 1, 20)
    times = scale.from_datetimes([FIRST + timedelta(minutes=int(m)) for m in minutes])
    at = here.at(times)
    moon = at.observe(kernel["moon"]).apparent().position.au
    moon = moon / np.linalg.norm(moon, axis=0)
    expected = set()
    for name in ("mercury", "venus", "mars", "jupiter barycenter", "saturn barycenter"):
        planet = at.observe(kernel[name]).apparent().position.au
        apart = np.degrees(np.arccos(np.sum(moon * planet, 0) / np.linalg.norm(planet, axis=0)))
        lowest = np.flatnonzero((apart[1:-1] <= apart[:-2]) & (apart[1:-1] < apart[2:])) + 1
        expected |= {
            (name.partition(" ")[0].capitalize(), int(minutes[row]) // 60)
            for row in lowest
            if apart[row] < 6.5
        }
    found = [
        event
        for event in coming(ephemeris, EventKind.CONJUNCTION, days=days)
        if event.bodies[0] == "Moon" and event.keys[1].startswith("body:")
    ]
    planets = [e for e in found if e.bodies[1] in {"Mercury", "Venus", "Mars", "Jupiter", "Saturn"}]
    assert len(planets) == len(expected)
    for event in planets:
        hour = int((event.utc - FIRST).total_seconds()) // 3600
        assert any((event.bodies[1], hour + d) in expected for d in (-1, 0, 1)), event.title


def test_the_meteor_rate_is_that_of_its_definition() -> None:
    """Koschack & Rendtel 1990 (WGN 18, 44): ZHR 100, radiant 30° up, limit 5.5, r = 2.2."""
    from companion.events.meteors import hourly_rate

    rate = hourly_rate(100.0, np.array([30.0]), 2.2, np.array([5.5]))
    assert rate[0] == pytest.approx(100.0 * 0.5 / 2.2)
