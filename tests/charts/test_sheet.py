"""The sky of a visitors' sheet: it looks to the group, and a line leads to each end."""

from datetime import UTC, datetime

import numpy as np
import pytest

from companion.charts import sheet_sky
from companion.charts.frame import SkyWay
from companion.charts.sheet import _ending, _joined, _lifted
from companion.finding import Place, azimuth_altitude_deg, seen_vectors
from companion.night import Conditions
from companion.sky import LOON_BARRENS, Ephemeris, load_catalogue

SPRING = datetime(2027, 4, 11, 1, 0, tzinfo=UTC)


@pytest.mark.parametrize("names", [("Arcturus", "Spica"), ("Polaris",)])
def test_a_line_leads_to_each_end_in_its_order(names: tuple[str, ...]) -> None:
    catalogue, ephemeris = load_catalogue(), Ephemeris.load()
    found = sheet_sky(
        ephemeris,
        catalogue,
        (LOON_BARRENS, SPRING),
        Conditions.at(LOON_BARRENS),
        ("dipper", names),
    )
    moment = ephemeris.moment(LOON_BARRENS, SPRING)
    assert found.way is not None
    assert len(found.lasts) == len(names)
    hips = {"Arcturus": 69673, "Spica": 65474, "Polaris": 11767}
    for name, line in zip(names, found.lasts, strict=True):
        star = catalogue.stars.row(hips[name])
        assert star is not None
        ra, dec = (
            np.radians(column[star]) for column in (catalogue.stars.ra_deg, catalogue.stars.dec_deg)
        )
        where = moment.horizontal_of(
            np.array([[np.cos(dec) * np.cos(ra), np.cos(dec) * np.sin(ra), np.sin(dec)]])
        )
        there = seen_vectors(float(where.azimuth_deg[0]), float(where.altitude_deg[0]))
        assert np.degrees(np.arccos(np.clip(line[-1] @ there, -1, 1))) < 6.5
        assert np.degrees(np.arccos(np.clip(found.centre @ there, -1, 1))) <= found.reach_deg + 0.1
        # However a way bends, its line is one that the eye can follow: it leaps nowhere.
        steps = np.linalg.norm(np.diff(line, axis=0), axis=1)
        assert np.degrees(steps.max()) < 5.0
    ephemeris.close()


def test_without_a_group_it_looks_to_the_south() -> None:
    ephemeris = Ephemeris.load()
    place, conditions = (LOON_BARRENS, SPRING), Conditions.at(LOON_BARRENS)
    found = sheet_sky(ephemeris, load_catalogue(), place, conditions, ("", ()))
    ephemeris.close()
    assert found.way is None
    assert found.lasts == ()
    assert found.reach_deg == 0.0
    assert found.centre @ seen_vectors(180.0, 32.0) == pytest.approx(1.0)


@pytest.mark.parametrize(
    ("altitude_deg", "looked_at_deg"), [(10.0, 32.0), (33.0, 33.0), (51.0, 51.0), (80.0, 52.0)]
)
def test_the_horizon_stays_in_sight_and_up_stays_up(
    altitude_deg: float, looked_at_deg: float
) -> None:
    found = azimuth_altitude_deg(_lifted(seen_vectors(250.0, altitude_deg)))
    assert found == pytest.approx((250.0, looked_at_deg))


def way_along(first_deg: float, last_deg: float, name: str = "A") -> SkyWay:
    """Give a way on the horizon from one azimuth to another; its star stands at the first."""
    line = seen_vectors(np.linspace(first_deg, last_deg, 5), np.zeros(5))
    return SkyWay("", (name,), (line[0],), (line,))


@pytest.mark.parametrize(("short_deg", "kept"), [(0.0, True), (5.9, True), (6.1, False)])
def test_a_line_that_ends_elsewhere_is_drawn_anew_from_the_last_star(
    short_deg: float, *, kept: bool
) -> None:
    end = Place(seen_vectors(130.0, 0.0), "there")
    way = way_along(100.0, 130.0 - short_deg)
    drawn = _ending(way, end)
    assert (drawn is way) is kept
    if not kept:
        (line,) = drawn.traces
        assert line[0] == pytest.approx(way.stars[0])
        assert line[-1] == pytest.approx(end.vector)
        assert np.linalg.norm(line, axis=1) == pytest.approx(1.0)
        turns = [azimuth_altitude_deg(one)[0] for one in line]
        assert np.all(np.diff(turns) > 0.0)


def test_ways_joined_have_each_star_once_and_every_line() -> None:
    ways = [way_along(100.0, 110.0), way_along(100.0, 120.0), way_along(90.0, 95.0, "B")]
    joined = _joined(ways)
    assert joined is not None
    assert joined.names == ("A", "B")
    assert len(joined.stars) == 2
    assert len(joined.traces) == 3
    assert _joined([]) is None
