"""Planets' magnitudes: the program takes them from skyfield's ``magnitudelib``, and puts the Sun
where it is.

That is Mallama & Hilton 2018 (Astronomy and Computing 25, 10), without the turn and season of Mars.
Checked are the library's functions against values of the authors' own test output
(Ap_Mag_Output_V3.txt, from memory), the program against those functions with another library's
geometry, and dated values of yearly handbooks (from memory).
"""

import math
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from random import Random
from typing import Final

import astronomy
import numpy as np
import pytest
from skyfield import magnitudelib

from companion.sky import LOON_BARRENS, Ephemeris

Formula = Callable[..., float]
# The authors' tests: distances from Sun and Earth in au, phase angle, and what else a formula
# takes, degrees or a year; the magnitude, from memory.
PUBLISHED: Final = (
    ("mercury", (0.310295423552, 1.32182643625754, 1.1677), -2.477),
    ("mercury", (0.413629222334, 0.92644808718613, 90.1662), 0.181),
    ("mercury", (0.448947624811, 0.56004973217883, 178.7284), 7.167),
    ("venus", (0.722722540169, 1.71607489554051, 1.3232), -3.917),
    ("venus", (0.721480714554, 0.37762511206278, 124.1348), -4.916),
    ("venus", (0.726166592736, 0.28889582420642, 179.1845), -3.090),
    ("jupiter", (5.446231815414, 6.44985867459088, 0.2446), -1.667),
    ("jupiter", (4.957681473205, 3.95393078136013, 0.3431), -2.934),
    ("uranus", (18.321003215845, 17.3229728525108, 0.0410, -20.29, -20.28), 5.381),
    ("uranus", (20.096361095266, 21.0888470145276, 0.0568, 1.02, 0.97), 6.025),
    ("neptune", (30.028181709541, 31.0203213478, 0.0381, 1970.0), 7.957),
    ("neptune", (29.994, 29.0028, 0.0381, 1990.0), 7.755),
)
PUBLISHED_MAG: Final = 0.002  # they are printed to 0.001
GEOMETRY_MAG: Final = 0.01  # what places that differ by arcseconds change
HANDBOOK_MAG: Final = 0.2  # printed to 0.1, most with formulas from before 2018

# Dates of handbooks and almanacs, at 0h UTC: oppositions, greatest elongations.
DATED: Final = (
    ("mars", "2003-08-28", -2.9), ("mars", "2012-03-04", -1.2), ("mars", "2016-05-22", -2.1),
    ("mars", "2018-07-27", -2.8), ("mars", "2020-10-14", -2.6), ("mars", "2022-12-08", -1.9),
    ("mars", "2025-01-16", -1.4), ("mars", "2027-02-19", -1.2),
    ("jupiter", "2010-09-21", -2.9), ("jupiter", "2020-07-14", -2.8),
    ("jupiter", "2021-08-20", -2.9), ("jupiter", "2022-09-26", -2.9),
    ("jupiter", "2023-11-03", -2.9), ("jupiter", "2024-12-07", -2.8),
    ("jupiter", "2026-01-10", -2.7),
    ("saturn", "2003-12-31", -0.5), ("saturn", "2009-03-08", 0.5), ("saturn", "2017-06-15", 0.0),
    ("saturn", "2020-07-20", 0.1), ("saturn", "2021-08-02", 0.2), ("saturn", "2022-08-14", 0.3),
    ("saturn", "2023-08-27", 0.4), ("saturn", "2024-09-08", 0.6), ("saturn", "2025-09-21", 0.6),
    ("uranus", "2020-10-31", 5.7), ("uranus", "2024-11-17", 5.6),
    ("neptune", "2020-09-11", 7.8), ("neptune", "2024-09-20", 7.8),
    ("venus", "2020-03-24", -4.4), ("venus", "2021-10-29", -4.5), ("venus", "2022-03-20", -4.4),
    ("venus", "2023-06-04", -4.4), ("venus", "2022-10-22", -3.9),
    ("mercury", "2020-02-10", -0.5), ("mercury", "2021-05-17", 0.3), ("mercury", "2023-04-11", 0.1),
)  # fmt: skip


def formula_of(body: str) -> Formula:
    """Give the library's own function: it has no public name for single formulas."""
    found: Formula = getattr(magnitudelib, f"_{body}_magnitude")
    return found


def told(ephemeris: Ephemeris, body: str, utc: datetime) -> float:
    magnitude = ephemeris.moment(LOON_BARRENS, utc).body(body).magnitude
    assert magnitude is not None
    return magnitude


@pytest.mark.parametrize(("body", "given", "magnitude"), PUBLISHED)
def test_the_authors_own_tests(body: str, given: tuple[float, ...], magnitude: float) -> None:
    assert float(formula_of(body)(*given)) == pytest.approx(magnitude, abs=PUBLISHED_MAG)


@pytest.mark.parametrize(
    "body", ["mercury", "venus", "mars", "jupiter", "saturn", "uranus", "neptune"]
)
def test_with_the_geometry_of_another_library(ephemeris: Ephemeris, body: str) -> None:
    """Distances, phase angle and the tilt of the axis by astronomy-engine, on a hundred dates."""
    random, worst = Random(2018), 0.0  # noqa: S311 - dates, no secrets
    for _ in range(100):
        utc = datetime(1950, 1, 1, tzinfo=UTC) + timedelta(days=random.random() * 30_000)
        there = astronomy.Body[body.capitalize()]
        tt = float(ephemeris.earth.time(utc).tt) - 2451545.0
        time = astronomy.Time.FromTerrestrialTime(tt)
        lit = astronomy.Illumination(there, time)
        given = [lit.hc.Length(), lit.gc.Length(), lit.phase_angle]
        if body in {"saturn", "uranus"}:
            axis = astronomy.RotationAxis(there, time).north
            given += [tilt_deg(axis, lit.hc), tilt_deg(axis, lit.gc)]
        given += [2000.0 + tt / 365.25] if body == "neptune" else []
        expected = float(formula_of(body)(*given))
        if not math.isnan(expected):
            worst = max(worst, abs(told(ephemeris, body, utc) - expected))
    print(f"{body}: {worst:.4f} mag")
    assert worst < GEOMETRY_MAG


def tilt_deg(axis: astronomy.Vector, towards: astronomy.Vector) -> float:
    """Give the latitude, on the planet, of whoever looks along a vector."""
    pole, way = (np.array([one.x, one.y, one.z]) for one in (axis, towards))
    sine = -float(pole @ way) / float(np.linalg.norm(pole) * np.linalg.norm(way))
    return math.degrees(math.asin(sine))


@pytest.mark.parametrize(("body", "day", "magnitude"), DATED)
def test_dated_values_of_handbooks(
    ephemeris: Ephemeris, body: str, day: str, magnitude: float
) -> None:
    utc = datetime.fromisoformat(day).replace(tzinfo=UTC)
    assert told(ephemeris, body, utc) == pytest.approx(magnitude, abs=HANDBOOK_MAG)
