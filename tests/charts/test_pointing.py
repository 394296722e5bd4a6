"""What a place of a chart points at, against astropy and against what is drawn there."""

from dataclasses import replace
from datetime import UTC, datetime

import numpy as np
import pytest
from astropy import units
from astropy.coordinates import AltAz, EarthLocation, SkyCoord
from astropy.time import Time

from companion.charts import (
    ChartKind,
    ChartView,
    Scene,
    SkyFrame,
    SkyFrameMaker,
    lens_of,
    pointed_at,
    scene_of,
)
from companion.charts.things import Dots, DrawnBody, Sign
from companion.finding import ViewFrame, Viewing, seen_vectors
from companion.instant import Choices
from companion.mount import Mount, Sighting
from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, Kind, Site, load_catalogue

UTC_DARK = datetime(2026, 10, 11, 2, tzinfo=UTC)
UP = np.array([0.0, 0.0, 1.0])
REACH = 14.0


@pytest.fixture(scope="module")
def maker() -> SkyFrameMaker:
    return SkyFrameMaker(Ephemeris.load(), load_catalogue())


def _view(sky: SkyFrame, kind: ChartKind, centre: np.ndarray) -> ChartView:
    lens = lens_of(sky, kind)
    frame = ViewFrame(centre, UP, Viewing.TURNED)
    return ChartView(frame, 900.0, 700.0, 350.0 / frame.radius(lens.span_deg / 2.0))


@pytest.mark.parametrize("site", [LOON_BARRENS, DRY_PAN])
def test_a_place_is_where_astropy_has_it(maker: SkyFrameMaker, site: Site) -> None:
    sky = maker.frame(Choices(1, site), UTC_DARK)
    view = _view(sky, ChartKind.WIDE, seen_vectors(200.0, 40.0))
    scene = scene_of(sky, view, lens_of(sky, ChartKind.WIDE))
    here = EarthLocation(
        lon=site.longitude_deg * units.deg,
        lat=site.latitude_deg * units.deg,
        height=site.elevation_m * units.m,
    )
    for place in ((450.0, 350.0), (100.0, 80.0), (820.0, 610.0)):
        pointed = pointed_at(sky, scene, view, np.array(place), REACH)
        assert pointed is not None
        icrs = SkyCoord(pointed.ra_deg * units.deg, pointed.dec_deg * units.deg)
        frame = AltAz(
            obstime=Time(UTC_DARK.replace(tzinfo=None)),
            location=here,
            pressure=1010.0 * units.hPa * np.exp(-site.elevation_m / 8400.0),
            temperature=10.0 * units.deg_C,
        )
        seen = icrs.transform_to(frame)
        assert seen.alt.deg == pytest.approx(pointed.altitude_deg, abs=0.02)
        assert seen.az.deg == pytest.approx(pointed.azimuth_deg, abs=0.02)
        assert pointed.readings == ""


def test_everything_that_is_drawn_is_found_under_its_own_place(maker: SkyFrameMaker) -> None:
    sky = maker.frame(Choices(1, LOON_BARRENS, target=load_catalogue().star(91262)), UTC_DARK)
    assert sky.target is not None
    view = _view(sky, ChartKind.WIDE, sky.target.vector)
    scene = scene_of(sky, view, lens_of(sky, ChartKind.WIDE))
    for place, row in zip(scene.stars.places[:40], scene.stars.rows[:40].tolist(), strict=True):
        if not view.holds(place):
            continue
        pointed = pointed_at(sky, scene, view, place, REACH)
        assert pointed is not None
        assert pointed.thing is not None
        assert pointed.thing.key == f"hip:{int(sky.index.hip[row])}"
        found = load_catalogue().target(pointed.thing.key)
        assert found.magnitude == pytest.approx(pointed.thing.magnitude, abs=0.01)
    for sign in scene.signs[:20]:
        pointed = pointed_at(sky, scene, view, sign.place, REACH)
        assert pointed is not None
        assert pointed.thing is not None


def test_an_aligned_mount_tells_its_own_numbers(maker: SkyFrameMaker) -> None:
    """A mount whose azimuth dial stands 30° off: the sighting on Vega says so."""
    vega = load_catalogue().star(91262)
    plain = maker.frame(Choices(1, LOON_BARRENS, target=vega), UTC_DARK)
    assert plain.target is not None
    x, y, z = plain.target.vector
    azimuth, altitude = np.degrees(np.arctan2(-y, x)) % 360.0, np.degrees(np.arcsin(z))
    dials = float(azimuth + 30.0) % 360.0, float(altitude)
    sighting = Sighting(UTC_DARK, vega.name, vega.key, float(azimuth), float(altitude), *dials)
    choices = Choices(1, LOON_BARRENS, target=vega, mount=Mount("m"), sightings=(sighting,))
    sky = maker.frame(choices, UTC_DARK)
    assert sky.target is not None
    view = _view(sky, ChartKind.WIDE, sky.target.vector)
    scene = scene_of(sky, view, lens_of(sky, ChartKind.WIDE))
    pointed = pointed_at(sky, scene, view, view.places(sky.target.vector), REACH)
    assert pointed is not None
    number = float(pointed.readings.rpartition("azimuth ")[2].rstrip("°").replace("½", ".5"))
    assert abs((number - azimuth - 30.0 + 180.0) % 360.0 - 180.0) < 1.5


def test_below_the_ground_nothing_is_pointed_at(maker: SkyFrameMaker) -> None:
    sky = maker.frame(Choices(1, LOON_BARRENS), UTC_DARK)
    view = _view(sky, ChartKind.WIDE, seen_vectors(180.0, -30.0))
    scene = scene_of(sky, view, lens_of(sky, ChartKind.WIDE))
    assert pointed_at(sky, scene, view, np.array([450.0, 350.0]), REACH) is None


def test_near_the_risen_sun_no_numbers_are_told(maker: SkyFrameMaker) -> None:
    """Whatever is aimed at; by night the same place has its numbers."""
    noon = datetime(2026, 10, 10, 16, tzinfo=UTC)
    sky = maker.frame(Choices(1, LOON_BARRENS), noon)
    sun = next(body.vector for body in sky.bodies if body.body == "sun")
    view = _view(sky, ChartKind.WIDE, sun)
    scene = scene_of(sky, view, lens_of(sky, ChartKind.WIDE))
    middle = view.places(sun)
    for away, near in ((0.0, True), (15.0, True), (25.0, False)):
        place = middle + np.array([away * view.scale, 0.0])
        pointed = pointed_at(sky, scene, view, place, REACH)
        assert pointed is not None
        apart = float(np.degrees(np.arccos(np.clip(view.direction(place) @ sun, -1.0, 1.0))))
        assert (apart < 20.0) is near
        assert pointed.near_sun is near
    dark = maker.frame(Choices(1, LOON_BARRENS), UTC_DARK)
    view = _view(dark, ChartKind.WIDE, seen_vectors(200.0, 40.0))
    scene = scene_of(dark, view, lens_of(dark, ChartKind.WIDE))
    pointed = pointed_at(dark, scene, view, np.array([450.0, 350.0]), REACH)
    assert pointed is not None
    assert not pointed.near_sun


MIDDLE = np.array([450.0, 350.0])


def _sign(name: str, right: float) -> Sign:
    """Give a cluster so many pixels to the right of the middle."""
    place = MIDDLE + np.array([right, 0.0])
    return Sign(name, f"ngc:{name}", Kind.OPEN_CLUSTER, place, 9.0, 9.0, 0.0, 6.0)


def _empty(sky: SkyFrame, view: ChartView) -> Scene:
    none = Dots(np.empty(0, np.int64), np.empty((0, 2)), np.empty(0))
    scene = scene_of(sky, view, lens_of(sky, ChartKind.WIDE))
    return replace(scene, stars=none, signs=(), discs=())


def test_of_several_the_nearest_is_meant(maker: SkyFrameMaker) -> None:
    """Within reach; of two in one place the first, which is the better known."""
    sky = maker.frame(Choices(1, LOON_BARRENS), UTC_DARK)
    view = _view(sky, ChartKind.WIDE, seen_vectors(200.0, 40.0))
    empty = _empty(sky, view)

    def name(*signs: Sign, reach: float = REACH) -> str:
        pointed = pointed_at(sky, replace(empty, signs=signs), view, MIDDLE, reach)
        assert pointed is not None
        return "" if pointed.thing is None else pointed.thing.name

    near, far = _sign("near", 8.0), _sign("far", -12.0)
    assert name(near, far) == name(far, near) == "near"
    assert name(near, far, reach=7.0) == ""
    assert name(_sign("here", 0.0), _sign("beside", 0.5)) == "here"
    assert name(_sign("first", 8.0), _sign("second", 8.0)) == "first"


def test_a_disc_is_met_anywhere_on_it_and_a_star_on_it_before_it(maker: SkyFrameMaker) -> None:
    """The disc reaches 30 pixels about a point 20 to the left; a cluster is 13 to the right."""
    sky = maker.frame(Choices(1, LOON_BARRENS), UTC_DARK)
    view = _view(sky, ChartKind.WIDE, seen_vectors(200.0, 40.0))
    body = next(body for body in sky.bodies if body.body == "saturn")
    disc = DrawnBody(body, MIDDLE - np.array([20.0, 0.0]), 30.0, 0.0)
    scene = replace(_empty(sky, view), discs=(disc,), signs=(_sign("beside", 13.0),))
    pointed = pointed_at(sky, scene, view, MIDDLE, REACH)
    assert pointed is not None
    assert pointed.thing is not None
    assert pointed.thing.name == "Saturn"
    row = sky.index.star_row[91262]
    star = Dots(np.array([row]), MIDDLE[None], np.array([2.0]))
    over = pointed_at(sky, replace(scene, stars=star), view, MIDDLE, REACH)
    assert over is not None
    assert over.thing is not None
    assert over.thing.name == "Vega"
    beside = replace(star, places=MIDDLE[None] + np.array([[4.0, 0.0]]))
    under = pointed_at(sky, replace(scene, stars=beside), view, MIDDLE, REACH)
    assert under is not None
    assert under.thing is not None
    assert under.thing.name == "Saturn"
