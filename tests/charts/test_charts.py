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
    around,
    crossing_s,
    double_of,
    in_field,
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


# On a view.


def test_the_lens_goes_as_deep_as_the_instrument() -> None:
    sky = sky_of()
    limits = [lens_of(sky, kind).star_limit for kind in ChartKind]
    assert limits == sorted(limits)
    assert lens_of(sky, ChartKind.EYEPIECE, 3).name == "9 mm"
    bare = sky_of(instrument=None)
    assert lens_of(bare, ChartKind.EYEPIECE).kind is ChartKind.FINDER
    assert lens_of(bare, ChartKind.FINDER).field_deg == 6.0


@pytest.mark.parametrize("kind", ChartKind)
def test_a_scene_keeps_to_limit_and_area(kind: ChartKind) -> None:
    sky = sky_of("ngc:NGC6720")
    assert sky.target is not None
    lens, view = lens_of(sky, kind), view_of(sky, kind, sky.target.vector)
    scene = scene_of(sky, view, lens)
    assert sky.faint is not None
    magnitude = np.concatenate([sky.index.star_magnitude, sky.faint.stars.magnitude])[
        scene.stars.rows
    ]
    assert len(magnitude) > 3
    assert magnitude.max() <= lens.star_limit
    assert (np.diff(magnitude) >= 0.0).all()
    assert ((scene.stars.places > -20) & (scene.stars.places < 920)).all()
    back = view.direction(scene.stars.places)
    named = scene.stars.rows < len(sky.stars)
    assert np.allclose(back[named], sky.stars[scene.stars.rows[named]], atol=1e-5)


def test_only_the_field_is_bright() -> None:
    sky = sky_of("ngc:NGC6720")
    assert sky.target is not None
    lens = lens_of(sky, ChartKind.FINDER)
    view = view_of(sky, ChartKind.FINDER, sky.target.vector)
    scene = scene_of(sky, view, lens)
    seen = view.direction(scene.stars.places)
    away = [apart_deg(sky.target.vector, vector) for vector in seen]
    assert np.array_equal(scene.in_field, np.array(away) <= lens.field_deg / 2.0)


def test_nothing_shines_through_the_ground() -> None:
    sky = sky_of()
    view = view_of(sky, ChartKind.WHOLE, seen_vectors(180.0, 10.0))
    scene = scene_of(sky, view, lens_of(sky, ChartKind.WHOLE))
    assert scene.ground == "outside"
    assert (sky.stars[scene.stars.rows][:, 2] > 0.0).all()
    hill = replace(LOON_BARRENS, horizon=((0.0, 25.0), (120.0, 25.0), (240.0, 25.0)))
    behind = scene_of(sky_of(site=hill), view, lens_of(sky, ChartKind.WHOLE))
    assert (sky.stars[behind.stars.rows][:, 2] > np.sin(np.radians(24.9))).all()
    assert len(behind.stars.rows) < len(scene.stars.rows)


@pytest.mark.parametrize(
    ("altitude_deg", "ground"), [(80.0, ""), (1.0, "outside"), (0.0, "outside"), (-1.0, "inside")]
)
def test_the_ground_lies_below(altitude_deg: float, ground: str) -> None:
    sky = sky_of()
    view = view_of(sky, ChartKind.FINDER, seen_vectors(30.0, altitude_deg))
    assert scene_of(sky, view, lens_of(sky, ChartKind.FINDER)).ground == ground
    deep = view_of(sky, ChartKind.FINDER, seen_vectors(30.0, -60.0))
    assert scene_of(sky, deep, lens_of(sky, ChartKind.FINDER)).ground == "all"


def test_the_letters_stand_along_the_horizon() -> None:
    sky = sky_of()
    view = view_of(sky, ChartKind.WHOLE, seen_vectors(180.0, 20.0))
    points = dict(scene_of(sky, view, lens_of(sky, ChartKind.WHOLE)).points)
    assert points["S"][0] == pytest.approx(450.0)
    assert points["SE"][0] < points["S"][0] < points["SW"][0]  # east is left of one facing south
    assert "N" not in points


@pytest.mark.parametrize("viewing", Viewing)
def test_deep_sky_is_drawn_to_scale_along_its_axis(viewing: Viewing) -> None:
    sky = sky_of("ngc:NGC0224")
    assert sky.target is not None
    lens = replace(lens_of(sky, ChartKind.FINDER), viewing=viewing)
    frame = ViewFrame(sky.target.vector, UP, viewing)
    view = ChartView(frame, 900.0, 900.0, 100.0)
    (sign,) = [one for one in scene_of(sky, view, lens).signs if one.name == "M 31"]
    target = load_catalogue().target("ngc:NGC0224")
    assert target.major_arcmin is not None
    assert sign.major == pytest.approx(target.major_arcmin / 60.0 / 2.0 * 100.0, rel=0.01)
    # The way from M 32 to M 110 lies across the long axis; here the angle is the frame's own.
    expected = frame.angle_of(target.position_angle_deg or 0.0, sky.north)
    assert (sign.angle_deg - expected + 180.0) % 360.0 - 180.0 == pytest.approx(0.0, abs=0.1)


def test_the_companion_of_a_double_stands_to_scale() -> None:
    sky = sky_of("hip:95947")
    assert sky.target is not None
    view = view_of(sky, ChartKind.EYEPIECE, sky.target.vector)
    pair = scene_of(sky, view, lens_of(sky, ChartKind.EYEPIECE)).doubles[0]
    assert pair.apart == pytest.approx(34.7 / 3600.0 * view.scale, rel=0.01)
    expected = view.frame.angle_of(55.0, sky.north)
    assert pair.angle_deg == pytest.approx(expected, abs=1.0)
    double = double_of(sky, sky.target)
    assert double is not None
    assert double.separation_arcsec == 34.7


def test_an_edge_points_to_what_is_off_the_chart() -> None:
    sky = sky_of()
    view = view_of(sky, ChartKind.WIDE, seen_vectors(180.0, 40.0))
    place, angle = view.edge(seen_vectors(300.0, 40.0), 30.0)
    assert np.abs(place - 450.0).max() == pytest.approx(420.0)
    assert place[0] > 450.0
    assert 0.0 < angle < 180.0
    place, angle = view.edge(seen_vectors(180.0, 88.0), 30.0)
    assert place[1] == pytest.approx(30.0)
    assert min(angle, 360.0 - angle) < 0.1


def test_the_moon_turns_its_lit_side_to_the_sun() -> None:
    sky = sky_of(utc=datetime(2026, 10, 18, 23, 0, tzinfo=UTC))
    moon = next(body for body in sky.bodies if body.body == "moon")
    sun = next(body for body in sky.bodies if body.body == "sun")
    view = view_of(sky, ChartKind.WIDE, moon.vector)
    (disc,) = [d for d in scene_of(sky, view, lens_of(sky, ChartKind.WIDE)).discs if d.body is moon]
    assert disc.lit_angle_deg == pytest.approx(view.frame.angle_towards(sun.vector), abs=0.5)
    assert disc.radius >= moon.diameter_deg / 2.0 * view.scale


@pytest.mark.parametrize("field_deg", [0.1, 60.0])
def test_odd_finders_are_drawn(field_deg: float) -> None:
    odd = replace(TELESCOPE, finder=Finder("odd", field_deg, 8.0, 50.0))
    sky = sky_of("ngc:NGC0224", instrument=odd)
    assert sky.target is not None
    lens = lens_of(sky, ChartKind.FINDER)
    scene = scene_of(sky, view_of(sky, ChartKind.FINDER, sky.target.vector), lens)
    assert len(scene.in_field) == len(scene.stars.rows)
    assert any(label.rank == "target" for label in scene.labels)


@pytest.mark.parametrize("altitude_deg", [90.0, -90.0])
def test_zenith_and_nadir_have_a_view(altitude_deg: float) -> None:
    sky = sky_of(site=POLE)
    view = view_of(sky, ChartKind.FINDER, seen_vectors(0.0, altitude_deg))
    scene = scene_of(sky, view, lens_of(sky, ChartKind.FINDER))
    assert np.isfinite(scene.stars.places).all()


def test_what_is_in_the_field_is_named() -> None:
    sky = sky_of("ngc:NGC0224")
    assert sky.target is not None
    found = in_field(sky, lens_of(sky, ChartKind.EYEPIECE), sky.target.vector)
    assert [one.name for one in found] == ["M 31", "M 32"]
    assert found[0].position_angle_deg is None
    wider = in_field(sky, lens_of(sky, ChartKind.FINDER), sky.target.vector)
    assert {"M 31", "M 32", "M 110", "ν And"} <= {one.name for one in wider}
    assert in_field(sky, lens_of(sky, ChartKind.WHOLE), sky.target.vector) == ()


def test_a_field_is_crossed_the_faster_the_nearer_to_the_equator() -> None:
    sky = sky_of()
    lens = lens_of(sky, ChartKind.EYEPIECE)
    equator = np.cross(sky.pole, (1.0, 0.0, 0.0))
    equator /= np.linalg.norm(equator)
    # 15.04″ a second at the equator (common textbook)
    assert crossing_s(sky, lens, equator) == pytest.approx(
        lens.field_deg * 3600.0 / 15.04, rel=1e-3
    )
    assert crossing_s(sky, lens, sky.pole) is None


def test_around_takes_in_all() -> None:
    points = [seen_vectors(10.0, 20.0), seen_vectors(50.0, 60.0), seen_vectors(30.0, 30.0)]
    middle, reach = around(points)
    assert max(apart_deg(middle, one) for one in points) == pytest.approx(reach)
    assert around([seen_vectors(0.0, 0.0), seen_vectors(180.0, 0.0)])[1] == 180.0


@pytest.mark.parametrize("key", ["point:zenith", "point:south-pole", "point:antisolar"])
def test_a_point_of_the_sky_is_a_target_of_the_chart(key: str) -> None:
    sky = sky_of(key)
    assert sky.target is not None
    assert sky.target.magnitude is None


def test_a_double_in_the_field_is_called_one_and_a_single_star_is_not() -> None:
    sky = sky_of("hip:95947")  # Albireo
    assert sky.target is not None
    kinds = {
        one.name: one.kind
        for one in in_field(sky, lens_of(sky, ChartKind.FINDER), sky.target.vector)
    }
    assert "double" in kinds["Albireo"]
    vega = sky_of("hip:91262")
    assert vega.target is not None
    around_vega = in_field(vega, lens_of(vega, ChartKind.FINDER), vega.target.vector)
    assert "double" not in next(one.kind for one in around_vega if one.name == "Vega")


def test_faint_stars_are_moved_to_another_year() -> None:
    """Over 24 years the fastest of them goes further than a chart's line is wide."""
    now, later = sky_of(), sky_of(utc=UTC_DARK.replace(year=2050))
    assert now.faint is not None
    assert later.faint is not None
    gone = np.linalg.norm(now.faint.vectors - later.faint.vectors, axis=1)
    speed = np.hypot(now.faint.stars.pm_ra_mas_per_yr, now.faint.stars.pm_dec_mas_per_yr)
    expected_arcsec = speed.max() * 24.0 / 1000.0
    assert np.degrees(gone.max()) * 3600.0 == pytest.approx(expected_arcsec, abs=0.2)
