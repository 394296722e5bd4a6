"""Orbits against published worked examples and the verification set of SGP4."""

from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from pathlib import Path

import numpy as np
import pytest
import sgp4

from companion.events import Family, read_elements
from companion.events.elements.bodies import OrbitMover
from companion.events.elements.record import Elements
from companion.events.elements.satellite_lines import of_two_lines
from companion.events.elements.satellites import satrec_of

HERE = Path(sgp4.__file__).parent

# The Minor Planet Center's description of its formats shows lines such as these (from memory; the
# columns are those of the published tables, the elements of Hale-Bopp and Ceres as listed there).
HALE_BOPP = (
    "    CJ95O010  1997 03 29.6333  0.931430  0.994982  130.5753  282.4407   89.4271  20220809"
    "  -2.0  4.0  C/1995 O1 (Hale-Bopp)                                    MPC106342"
)
CERES = (
    "00001    3.34  0.15 K24AH 188.70269   73.27343   80.25221   10.58780  0.0794013  0.21424651"
    "   2.7660512  0 E2024-V47  7258 123 1801-2024 0.80 M-v 30k MPCLINUX   4000      (1) Ceres"
    "              20241101"
)


def test_a_comets_published_line() -> None:
    (comet,) = read_elements(HALE_BOPP).elements
    assert (comet.key, comet.name) == ("comet:C/1995 O1", "C/1995 O1 (Hale-Bopp)")
    assert comet.epoch_utc.date().isoformat() == "2022-08-09"
    assert comet.numbers == pytest.approx(
        {
            "perihelion_au": 0.931430,
            "eccentricity": 0.994982,
            "argument_deg": 130.5753,
            "node_deg": 282.4407,
            "inclination_deg": 89.4271,
            "perihelion_jd": 2450537.1333,
            "magnitude": -2.0,
            "slope": 4.0,
        }
    )


def test_a_minor_planets_published_line() -> None:
    (ceres,) = read_elements(CERES).elements
    assert (ceres.key, ceres.name) == ("minor:1", "1 Ceres")
    assert ceres.epoch_utc.date().isoformat() == "2024-10-17"
    assert ceres.numbers["perihelion_au"] == pytest.approx(2.7660512 * (1 - 0.0794013))
    period_days = 360.0 / 0.21424651
    after = ceres.numbers["perihelion_jd"] - ceres.epoch_jd
    assert after == pytest.approx(period_days * (1 - 188.70269 / 360.0), abs=0.02)


def test_a_comets_place() -> None:
    """Meeus, *Astronomical Algorithms*, 2nd ed., example 33.b: Encke on 1990 October 6, 0h TD.

    Elements and result from memory of the printed example: 10h34m14.2s, +19°09′31″ (2000),
    geometric distance from the Sun's coordinates there.
    """
    encke = Elements(
        Family.COMET,
        "2P",
        "2P/Encke",
        2448192.5,
        {
            "perihelion_au": 2.2091404 * (1 - 0.8502196),
            "eccentricity": 0.8502196,
            "inclination_deg": 11.94524,
            "node_deg": 334.75006,
            "argument_deg": 186.23352,
            "perihelion_jd": 2448193.04502,
        },
    )
    sun_au = np.array([-0.9756732, -0.2003254, -0.0868566])
    day = 2448170.5
    for _ in range(3):  # light takes minutes
        seen = OrbitMover(encke).from_sun_au(np.array([day]))[:, 0] + sun_au
        day = 2448170.5 - 0.0057755183 * float(np.linalg.norm(seen))
    ra = np.degrees(np.arctan2(seen[1], seen[0])) % 360.0
    dec = np.degrees(np.arcsin(seen[2] / np.linalg.norm(seen)))
    assert ra == pytest.approx(158.558965, abs=0.001)
    assert dec == pytest.approx(19.158496, abs=0.001)


def _verification() -> Iterator[tuple[str, str, str]]:
    lines = (HERE / "SGP4-VER.TLE").read_text().splitlines()
    for first, second in pairwise(lines):
        if first.startswith("1 ") and second.startswith("2 "):
            yield first[:69], second[:69], first[2:7].strip()


def test_satellites_follow_the_verification_set() -> None:
    """Vallado et al. 2006 (AIAA 2006-6753): the set's own output, ``tcppver.out``.

    Sets whose lines fail their checksum, or lie outside what is taken, are refused and skipped.
    """
    expected: dict[str, list[tuple[float, ...]]] = {}
    which = ""
    for line in (HERE / "tcppver.out").read_text().splitlines():
        words = line.split()
        if words[1:] == ["xx"]:
            which = words[0]
        elif len(words) >= 7:
            expected.setdefault(which, []).append(tuple(map(float, words[:4])))
    compared, refused = 0, 0
    for first, second, number in _verification():
        try:
            satrec = satrec_of(of_two_lines("", first, second))
        except ValueError:
            refused += 1
            continue
        for minutes, *place in expected.get(number.lstrip("0") or number, []):
            error, found, _speed = satrec.sgp4_tsince(minutes)
            if error == 0:
                assert np.linalg.norm(np.array(found) - place) < 0.02, (number, minutes)
                compared += 1
    assert compared > 400
    assert refused < 8


def test_an_epoch_is_the_published_one() -> None:
    """The line of the International Space Station in the description of two-line elements."""
    station = of_two_lines(
        "ISS (ZARYA)",
        "1 25544U 98067A   08264.51782528 -.00002182  00000-0 -11606-4 0  2927",
        "2 25544  51.6416 247.4627 0006703 130.5360 325.0288 15.72125391563537",
    )
    apart = station.epoch_utc - datetime(2008, 9, 20, 12, 25, 40, tzinfo=UTC)
    assert abs(apart) < timedelta(seconds=1)
