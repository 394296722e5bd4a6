"""The sky of an instant for the charts, and where it comes to lie on a view."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from functools import cache
from itertools import pairwise
from typing import Any

import numpy as np
import pytest

from companion.advice import AdviceError
from companion.charts import (
    ChartKind,
    ChartView,
    SkyFrame,
    SkyFrameMaker,
    apart_deg,
    lens_of,
    scene_of,
)
from companion.finding import (
    Eyepiece,
    Finder,
    Instrument,
    InstrumentKind,
    ViewFrame,
    Viewing,
    seen_vectors,
)
from companion.instant import Choices
from companion.mount import Mount, Sighting
from companion.sky import (
    DRY_PAN,
    LOON_BARRENS,
    Ephemeris,
    Site,
    TargetTable,
    load_catalogue,
    moved,
)

UTC_DARK = datetime(2026, 10, 11, 2, tzinfo=UTC)
UP = np.array([0.0, 0.0, 1.0])
POLE = Site("the Pole", 90.0, 0.0)
TELESCOPE = Instrument(
    "telescope",
    InstrumentKind.TELESCOPE,
    150.0,
    focal_mm=1200.0,
    eyepieces=(Eyepiece("25 mm", 25.0, 52.0), Eyepiece("9 mm", 9.0, 52.0)),
    finder=Finder("finder", 6.0, 8.0, 50.0, Viewing.TURNED),
    viewing=Viewing.TURNED,
)
BASE = Choices(1, LOON_BARRENS, instrument=TELESCOPE)


@cache
def maker() -> SkyFrameMaker:
    return SkyFrameMaker(Ephemeris.load(), load_catalogue())


def sky_of(key: str = "", utc: datetime = UTC_DARK, **changes: Any) -> SkyFrame:
    target = load_catalogue().target(key) if key else None
    borders = changes.pop("borders", False)
    return maker().frame(replace(BASE, target=target, **changes), utc, borders=borders)


def view_of(sky: SkyFrame, kind: ChartKind, centre: np.ndarray, side: float = 900.0) -> ChartView:
    lens = lens_of(sky, kind)
    frame = ViewFrame(centre, UP, lens.viewing)
    return ChartView(frame, side, side, side / 2.0 / frame.radius(lens.span_deg / 2.0))


def star(sky: SkyFrame, hip: int) -> np.ndarray:
    row = int(np.flatnonzero(sky.index.hip == hip)[0])
    return np.asarray(sky.stars[row], float)


@pytest.mark.parametrize("site", [LOON_BARRENS, DRY_PAN])
def test_faint_stars_stand_where_the_sky_has_them(site: Site) -> None:
    """Against the whole way that named stars go: proper motion, aberration, refraction."""
    sky = maker().frame(replace(BASE, site=site), UTC_DARK)
    assert sky.faint is not None
    stars = sky.faint.stars
    rows, seen = sky.faint.near(np.array([0.6, 0.0, 0.8]), 12.0, 9.0)
    assert len(rows) > 500
    assert stars.magnitude[rows].max() <= 9.0
    years = 2026.0 + 283.0 / 365.25 - 2016.0
    there = moved(
        stars.ra_deg[rows],
        stars.dec_deg[rows],
        stars.pm_ra_mas_per_yr[rows] * years,
        stars.pm_dec_mas_per_yr[rows] * years,
    )
    places = Ephemeris.load().moment(site, UTC_DARK).horizontal_of(there)
    exact = seen_vectors(places.azimuth_deg, places.altitude_deg)
    up = places.altitude_deg > 5.0
    off_arcsec = np.degrees(np.linalg.norm(seen - exact, axis=1)[up]) * 3600.0
    assert off_arcsec.max() < 0.3


def test_a_finder_shows_the_faint_stars_of_its_field_and_no_other_chart_by_eye_does() -> None:
    sky = sky_of("ngc:NGC6205")
    assert sky.target is not None
    for kind in (ChartKind.FINDER, ChartKind.EYEPIECE):
        lens, view = lens_of(sky, kind), view_of(sky, kind, sky.target.vector)
        scene = scene_of(sky, view, lens)
        faint = scene.stars.rows >= len(sky.stars)
        assert faint.any()
        assert lens.complete_to == min(lens.star_limit, 10.0)
        assert (np.diff(scene.stars.radii) <= 1e-9).all()
    wide = view_of(sky, ChartKind.WIDE, sky.target.vector)
    by_eye = scene_of(sky, wide, lens_of(sky, ChartKind.WIDE))
    assert (by_eye.stars.rows < len(sky.stars)).all()


def test_stars_stand_where_the_aim_has_them() -> None:
    sky, ephemeris = sky_of(), Ephemeris.load()
    targets = [load_catalogue().star(hip) for hip in (91262, 11767, 71683, 104214)]
    places = ephemeris.moment(LOON_BARRENS, UTC_DARK).horizontal(TargetTable.of(targets, UTC_DARK))
    ephemeris.close()
    seen = seen_vectors(places.azimuth_deg, places.altitude_deg)
    for target, vector in zip(targets, seen, strict=True):
        # α Centauri, the nearest of them, has a parallax of 0.75″ that charts leave out.
        off = apart_deg(star(sky, int(target.key[4:])), vector)
        assert off * 3600.0 < 0.9


def test_stars_are_all_there_and_sorted() -> None:
    sky = sky_of()
    assert len(sky.stars) == len(load_catalogue().stars.hip)
    assert (np.diff(sky.index.star_magnitude) >= 0.0).all()
    assert np.allclose(np.linalg.norm(sky.stars, axis=1), 1.0, atol=1e-6)
    assert len(sky.deep) == len(sky.index.deep_names) > 9000


def test_known_objects_come_first_and_once() -> None:
    index = sky_of().index
    known = int(index.deep_known.sum())
    assert index.deep_known[:known].all()
    assert {"M 1", "M 31", "M 110"} <= set(index.deep_names[:known])
    assert len(set(index.deep_keys)) == len(index.deep_keys)


def test_a_direction_is_carried_with_the_sky() -> None:
    first, later = sky_of(), sky_of(utc=UTC_DARK + timedelta(minutes=30))
    for hip in (91262, 677, 11767):
        before, after = star(first, hip), star(later, hip)
        if before[2] > 0.3 < after[2]:  # where refraction changes little
            assert apart_deg(later.carry(before, first), after) * 60.0 < 1.0


@pytest.mark.parametrize("site", [LOON_BARRENS, DRY_PAN, POLE])
def test_the_sky_turns_about_the_pole(site: Site) -> None:
    first = sky_of(site=site)
    later = sky_of(site=site, utc=UTC_DARK + timedelta(hours=3))
    assert apart_deg(first.pole, later.pole) == pytest.approx(0.0, abs=1e-9)
    # The pole of the catalogues stands 0.15° from that of date, and turns around it.
    assert apart_deg(first.pole, first.north) == pytest.approx(0.15, abs=0.03)
    assert np.allclose(first.turn @ first.turn.T, np.eye(3), atol=1e-9)


def test_near_the_sun_there_is_a_caution_and_no_way() -> None:
    utc = datetime(2026, 10, 22, 16, 30, tzinfo=UTC)
    sky = sky_of("body:venus", utc)
    assert "from the Sun" in sky.caution
    assert not sky.paths.ways
    assert not sky.paths.hops
    assert "This is the Sun" in sky_of("body:sun", utc).caution
    assert sky_of("body:venus", utc, uncovered=frozenset({"body:venus"})).caution == ""
    assert "readings" in sky_of("", utc, pointed_deg=(180.0, 30.0)).caution
    assert sky_of("", utc, pointed_deg=(0.0, 45.0)).caution == ""


def test_a_target_has_ways_and_hops_that_end_at_it() -> None:
    sky = sky_of("ngc:NGC0224")
    assert sky.target is not None
    assert sky.paths.ways
    for way in sky.paths.ways:
        assert len(way.traces) in {1, 2}
        assert all(len(trace) >= 2 for trace in way.traces)
        assert sky.target.name in way.sentence
    for route in (sky.paths.hops, sky.paths.second):
        assert apart_deg(route[-1].end, sky.target.vector) < 1e-6
        for before, after in pairwise(route):
            assert apart_deg(before.end, after.start) < 1e-6


def test_ways_follow_the_sky_between_two_searches() -> None:
    sky_of("ngc:NGC0224")
    later = sky_of("ngc:NGC0224", UTC_DARK + timedelta(seconds=15))
    assert later.target is not None
    assert apart_deg(later.paths.hops[-1].end, later.target.vector) * 3600.0 < 5.0


def test_hops_tell_the_readings_of_the_dials_once_there_is_a_mount() -> None:
    assert sky_of("ngc:NGC0224").paths.hops[0].readings == ""
    sky = sky_of("ngc:NGC0224", mount=Mount("wooden"))
    assert sky.paths.hops[0].readings.startswith("altitude ")
    assert sky.radius95_deg is None  # no sighting yet
    assert sky.grid == ()


def test_an_aligned_mount_brings_its_grid_and_its_circle() -> None:
    sighting = Sighting(UTC_DARK, "Vega", "hip:91262", 285.0, 40.0, 300.0, 41.0)
    sky = sky_of("ngc:NGC0224", mount=Mount("wooden"), sightings=(sighting,))
    assert sky.radius95_deg is not None
    assert 0.0 < sky.radius95_deg < 10.0
    texts = {line.text for line in sky.grid}
    # Every ten degrees of the altitude dial to 80, every fifteen of the azimuth dial.
    assert texts == {f"{number}°" for number in (*range(0, 90, 10), *range(0, 360, 15))}
    line = next(line for line in sky.grid if line.text == "300°")
    azimuth = np.degrees(np.arctan2(-line.points[0, 1], line.points[0, 0])) % 360.0
    assert azimuth == pytest.approx(285.0, abs=1.0)


def test_readings_point_somewhere() -> None:
    sky = sky_of(pointed_deg=(120.0, 30.0))
    assert sky.pointed is not None
    assert apart_deg(sky.pointed, seen_vectors(120.0, 30.0)) < 1e-9


def test_borders_come_on_demand() -> None:
    assert sky_of().borders is None
    borders = sky_of(borders=True).borders
    assert borders is not None
    lengths = np.linalg.norm(borders[~np.isnan(borders[:, 0])], axis=1)
    assert np.allclose(lengths, 1.0)


def test_the_ecliptic_runs_by_what_moves_along_it() -> None:
    """Venus comes up to 8.7° beside it when she is nearest; the air lifts what stands low."""
    sky = sky_of(utc=UTC_DARK)
    assert sky.ecliptic is not None
    for body in sky.bodies:
        nearest = np.degrees(np.arccos(np.clip(sky.ecliptic @ body.vector, -1.0, 1.0))).min()
        assert nearest < (1.2 if body.body == "sun" else 8.9), body.body


def test_outside_the_ephemeris_it_says_so() -> None:
    with pytest.raises(AdviceError, match="outside the ephemeris"):
        sky_of(utc=datetime(2200, 1, 1, tzinfo=UTC))
