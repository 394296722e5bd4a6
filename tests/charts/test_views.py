"""What of a sky is seen on a view: depth, ground, letters, edges, what is in the field."""

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest

from charts.test_charts import POLE, TELESCOPE, UP, UTC_DARK, sky_of, view_of
from companion.charts import (
    ChartKind,
    ChartView,
    apart_deg,
    around,
    crossing_s,
    double_of,
    in_field,
    lens_of,
    scene_of,
)
from companion.charts.scene import _above
from companion.finding import (
    Finder,
    ViewFrame,
    Viewing,
    seen_vectors,
)
from companion.sky import (
    LOON_BARRENS,
    load_catalogue,
)


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


def test_a_wall_in_the_west_hides_what_is_low_in_the_west_and_nothing_in_the_east() -> None:
    wall = ((225.0, 0.0), (226.0, 30.0), (314.0, 30.0), (315.0, 0.0))
    sky = sky_of(site=replace(LOON_BARRENS, horizon=wall))

    def at(azimuth_deg: float, altitude_deg: float) -> list[float]:
        turned, high = np.radians(azimuth_deg), np.radians(altitude_deg)
        return [np.cos(turned) * np.cos(high), -np.sin(turned) * np.cos(high), np.sin(high)]

    directions = np.array(
        [at(270, 20), at(270, 40), at(90, 20), at(0, 5), at(180, 5), at(90, -1)], np.float32
    )
    assert _above(sky, directions).tolist() == [False, True, True, True, True, False]
