"""Air, moonlight and limits against what their papers and other authors print.

Values marked "from memory" were written down without the paper at hand; their tolerance allows
for that.
"""

import math
from datetime import UTC, datetime, timedelta

import ephem
import numpy as np
import pytest

from companion.night.hours.turning import refracted
from companion.night.sight import contrast, star_limit as stars
from companion.night.sight.air import airmass
from companion.night.sight.brightness import Known, brightness_of
from companion.night.sight.choose_view import choose_views
from companion.night.sight.contrast import surface_limit
from companion.night.sight.detail import detail_of, moon_craters, ring_end_arcmin
from companion.night.sight.instruments import BINOCULARS, TELESCOPES, find_instrument
from companion.night.sight.limits import object_limits
from companion.night.sight.objects import NightObjects
from companion.night.sight.observer import Conditions, Observer, Practice
from companion.night.sight.scales import (
    candela_per_m2,
    mag_per_arcsec2,
    naked_eye_limit,
    nanolamberts,
    zenith_of_bortle,
    zenith_of_limit,
)
from companion.night.sight.skylight import (
    Lights,
    daylight_nl,
    glow_nl,
    moon_magnitude,
    scattering,
    sun_nl,
)
from companion.night.sight.star_limit import star_limit
from companion.night.sight.views import View, views_of
from companion.sky import load_catalogue, load_search

LABORATORY = View("eye", 1.0, 100.0, 7.0, 1.0, both_eyes=True, pupil_mm=7.0)


def test_airmass_at_the_horizon() -> None:
    # Kasten & Young 1989 (Applied Optics 28, 4735): "about 38" at the horizon, 2.0 at 30°, 10.3
    # at 5° (from memory).
    assert airmass([0.0, 5.0, 30.0]) == pytest.approx([37.92, 10.31, 1.994], rel=0.001)
    assert float(airmass(0.0)) == pytest.approx(38.0, abs=0.2)


def test_airmass_agrees_with_another_author() -> None:
    # Young 1994 (Applied Optics 33, 1108), by the true altitude; ours takes the seen one.
    true_deg = np.linspace(0.0, 90.0, 91)
    c = np.sin(np.radians(true_deg))
    young = (1.002432 * c**2 + 0.148386 * c + 0.0096467) / (
        c**3 + 0.149864 * c**2 + 0.0102963 * c + 0.000303978
    )
    assert airmass(refracted(true_deg)) == pytest.approx(young, rel=0.007)


def test_the_full_moon_gives_a_quarter_of_a_lux() -> None:
    # 0.25 to 0.27 lux outside the air (Allen's Astrophysical Quantities; from memory), with
    # -14.18 mag for 1 lux; the half Moon gives a ninth to a twelfth of it (the same).
    full = float(10.0 ** (-0.4 * (moon_magnitude(0.0) + 14.18)))
    half = float(10.0 ** (-0.4 * (moon_magnitude(90.0) + 14.18)))
    assert 0.25 <= full <= 0.27
    assert 9.0 <= full / half <= 12.0


def test_the_moons_brightness_agrees_with_another_program() -> None:
    # ``ephem`` computes the Moon's magnitude by its own formula.
    for days in range(0, 28, 3):
        when = datetime(2026, 3, 4, tzinfo=UTC) + timedelta(days=days)
        moon = ephem.Moon(when.strftime("%Y/%m/%d %H:%M"))
        angle = math.degrees(math.acos(min(max(2.0 * moon.moon_phase - 1.0, -1.0), 1.0)))
        if angle < 120.0:  # a thin crescent is anybody's guess
            assert float(moon_magnitude(angle)) == pytest.approx(moon.mag, abs=0.5)


def test_scattering_as_krisciunas_and_schaefer_print_it() -> None:
    # Krisciunas & Schaefer 1991 (PASP 103, 1033), equations 17, 18 and 21 by hand at 90°:
    # 10^5.36 x 1.06 + 10^(6.15 - 90/40); the aureole of equation 19 takes over within 10°.
    assert float(scattering(90.0)) == pytest.approx(10.0**5.36 * 1.06 + 10.0**3.9)
    assert float(scattering(5.0)) == pytest.approx(
        10.0**5.36 * (1.06 + math.cos(math.radians(5.0)) ** 2) + 6.2e7 / 25.0
    )
    # Equation 1 by hand: 34.08 e^(20.7233 - 0.92104 x 21.587) is 79 nL, the paper's dark zenith.
    assert float(nanolamberts(21.587)) == pytest.approx(79.0, rel=0.01)


def test_a_clear_day_sky_is_some_thousand_candela() -> None:
    # 2,000 to 8,000 cd/m² (common textbook values, from memory).
    sky = mag_per_arcsec2(daylight_nl(Lights(45.0, -40.0, 180.0), 90.0, 45.0, 0.2))
    assert 1500.0 < float(candela_per_m2(sky)) < 12_000.0


def test_twilights_mean_what_their_definitions_say() -> None:
    # US Naval Observatory: at the end of civil twilight the brightest stars are seen, at that of
    # nautical twilight those for navigation, at that of astronomical twilight the Sun adds less
    # than the night's own light.
    def sky(depression_deg: float) -> float:
        lights = Lights(-depression_deg, -40.0, 180.0)
        sunlight = sun_nl(lights, 90.0 + depression_deg, 90.0, 0.2)
        return float(mag_per_arcsec2(glow_nl(21.9, 90.0, 0.2) + sunlight))

    observer = Observer()
    assert -0.5 < float(star_limit(LABORATORY, sky(6.0), observer)) < 4.0
    assert 3.5 < float(star_limit(LABORATORY, sky(12.0), observer)) < 6.0
    assert 21.9 - sky(18.0) < 0.1
    # Patat et al. 2006 (A&A 455, 385): by then the zenith is V 21.5 to 21.9 at their site.
    assert sky(15.0) == pytest.approx(21.3, abs=0.3)


@pytest.mark.parametrize("sky_mag", [20.0, 20.5, 21.0, 21.5, 22.0])
def test_the_threshold_of_points_as_crumey_prints_it(sky_mag: float) -> None:
    # Crumey 2014 (MNRAS 442, 2600), his own straight line for skies of 20 to 22:
    # 0.3834 mu - 1.4400 - 2.5 log F (from memory).
    observer = Observer(practice=Practice.SOME)
    line = 0.3834 * sky_mag - 1.44 - 2.5 * math.log10(observer.field_factor)
    assert crumey(sky_mag, observer) == pytest.approx(line, abs=0.05)


def crumey(sky_mag: float, observer: Observer) -> float:
    """Give the threshold of a small patch by his law alone."""
    seen = float(surface_limit(LABORATORY, sky_mag, 1e-4, observer))
    return seen - float(contrast.beyond_law_mag(sky_mag))


@pytest.mark.parametrize("sky_mag", [18.0, 19.0, 20.0, 21.0, 22.0])
def test_two_papers_agree_on_the_naked_eye(sky_mag: float) -> None:
    # Schaefer 1990 (PASP 102, 212) and Crumey 2014 rest on different laboratory data; both laws
    # are taken alone, without what practice adds.
    practised = Observer(practice=Practice.LONG)
    schaefer = float(star_limit(LABORATORY, sky_mag, practised) - stars.beyond_law_mag(sky_mag))
    short = 7.93 - 5.0 * math.log10(10.0 ** (4.316 - sky_mag / 5.0) + 1.0)  # his own short form
    assert schaefer == pytest.approx(short, abs=0.5)
    assert schaefer == pytest.approx(crumey(sky_mag, Observer()), abs=0.95)


# Bortle 2001 (Sky & Telescope 101(2), 126), from memory: the limits of the bare eye in each class;
# the meter's value in the middle of a class is a later convention.
BORTLE_LIMITS = (
    (7.6, 8.0), (7.1, 7.5), (6.6, 7.0), (6.1, 6.5), (5.6, 6.0), (5.1, 5.5), (4.6, 5.0), (4.1, 4.5),
)  # fmt: skip


@pytest.mark.parametrize(("bortle", "limits"), list(enumerate(BORTLE_LIMITS, 1)))
def test_bortles_classes_have_his_limits(bortle: int, limits: tuple[float, float]) -> None:
    low, high = limits
    sky_mag = zenith_of_bortle(bortle)
    assert low <= float(naked_eye_limit(sky_mag)) <= high
    practised = float(star_limit(LABORATORY, sky_mag, Observer(practice=Practice.LONG)))
    assert low <= practised <= high
    assert zenith_of_limit(float(naked_eye_limit(sky_mag))) == pytest.approx(sky_mag)


def margins(name: str, bortle: int, practice: Practice = Practice.LONG) -> float:
    """Give how much brighter than the bare eye's limit something 60° up is."""
    target = load_search().resolve(name)
    observer = Observer(practice=practice)
    objects = NightObjects.of([target])
    sky = np.array([zenith_of_bortle(bortle)])
    conditions = Conditions(zenith_mag=float(sky[0]), extinction_mag=0.2, observer=observer)
    (view,) = views_of(find_instrument("eye"), observer)
    limit = object_limits(view, sky, objects, conditions)
    return float(limit[0, 0] - 0.2 * float(airmass(60.0)) - objects.magnitude[0])


def test_bortles_classes_show_his_objects_to_the_eye() -> None:
    # Bortle 2001, from memory: M 33 is obvious in class 1, rather easy in 2, easy with averted
    # vision in 3, difficult in 4, and not seen from 5 on; M 31 is modest in 6; M 4, M 5, M 15 and
    # M 22 are seen in 3. His observer is practised.
    m33 = [margins("m 33", bortle) for bortle in range(1, 6)]
    assert m33[0] > 0.8
    assert m33[1] > 0.5
    assert m33[2] > 0.0
    assert -0.5 < m33[3] < 0.5
    assert m33[4] < -0.5
    assert margins("m 31", 3) > 1.5
    assert margins("m 31", 6) > 0.3
    assert margins("m 31", 9) < 0.0
    for name in ("m 4", "m 5", "m 15", "m 22"):
        assert margins(name, 3) > 0.1


def test_the_middle_class_shows_what_everybody_shows_there() -> None:
    # Common practice, no source: with some practice, M 31 and M 42 are plain in class 4.
    assert margins("m 31", 4, Practice.SOME) > 1.0
    assert margins("m 42", 4, Practice.SOME) > 1.0


@pytest.mark.parametrize(
    ("through", "names"),
    [
        ("10x50", "m 8, m 31, m 33, m 42, m 27, ngc 7000, ngc 253, ngc 5128"),
        ("150", "m 8, m 16, m 17, m 20, m 43, m 51, ngc 6992, ngc 2070, ngc 3372, ngc 253"),
        ("250", "m 8, m 16, m 17, m 20, m 43, ngc 6960, ngc 6992, m 97, m 101, m 74"),
    ],
)
def test_what_is_looked_at_every_year_is_within_reach(through: str, names: str) -> None:
    # Common practice, no source: under a country sky (21.3), well up.
    margin = margins_of(names.split(", "), through, 21.3)
    assert {name: value for name, value in margin.items() if value < 0.5} == {}


def test_dwarf_spheroidals_and_stars_in_fog_are_no_easy_targets() -> None:
    # Common practice, no source: a bright middle that spirals have is not to be expected of a
    # dwarf spheroidal, and a reflection nebula is fainter than the star that lights it.
    dwarfs = margins_of(["eso 356-4", "eso 351-30", "ngc 147"], "150", 21.3)
    assert max(dwarfs.values()) < 2.0
    fog = margins_of(["ngc 7023", "ngc 1788", "ngc 6888", "ngc 7635", "ic 405"], "10x50", 21.3)
    assert max(fog.values()) < 2.0


def margins_of(names: list[str], through: str, sky_mag: float) -> dict[str, float]:
    """Give how much is to spare of things 60° up in the best eyepiece."""
    search = load_search()
    observer = Observer()
    conditions = Conditions(zenith_mag=sky_mag, extinction_mag=0.2, observer=observer)
    objects = NightObjects.of([search.resolve(name) for name in names])
    through_air = objects.magnitude + 0.2 * float(airmass(60.0))
    sky = np.full(len(objects), sky_mag)
    views = views_of(find_instrument(through), observer)
    _view, limits = choose_views(objects, views, sky, through_air, conditions)
    return dict(zip(names, (limits - through_air).tolist(), strict=True))


@pytest.mark.parametrize("instrument", [*BINOCULARS, *TELESCOPES])
def test_telescopes_reach_what_textbooks_say(instrument: object) -> None:
    # 7.7 + 5 log D in cm (common textbook, from memory) is for an average night and power.
    chosen = find_instrument(getattr(instrument, "name"))  # noqa: B009 - an object for the ids
    views = views_of(chosen, Observer())
    best = max(float(star_limit(view, 21.5, Observer())) for view in views)
    assert best == pytest.approx(7.7 + 5.0 * math.log10(chosen.aperture_mm / 10.0), abs=1.2)


def test_messiers_objects_show_in_an_80_mm_telescope() -> None:
    # All of Messier's objects are within reach of 80 mm under a dark sky (common practice).
    catalogue = load_catalogue()
    targets = [catalogue.deep_sky.target(row) for row in catalogue.deep_sky.messier_rows.values()]
    objects = NightObjects.of(targets)
    conditions = Conditions(zenith_mag=21.7, observer=Observer(practice=Practice.LONG))
    views = views_of(find_instrument("80"), conditions.observer)
    through_air = objects.magnitude + conditions.extinction_mag
    _view, limits = choose_views(
        objects, views, np.full(len(objects), 21.7), through_air, conditions
    )
    seen = limits > through_air
    assert all(brightness_of(target).known is not Known.NOT for target in targets)
    assert seen.sum() >= 107


def test_saturns_rings_by_common_practice() -> None:
    # A hint in 10× binoculars, plain from 25× to 30× on, nothing by eye (common practice, no
    # source); Saturn's disc is 16″ to 20″.
    for disc_arcsec in (16.5, 18.0, 20.0):
        (ten,) = views_of(find_instrument("10x50"), Observer())
        assert detail_of("saturn", disc_arcsec, ten, 2.5) == "a hint of rings"
        assert ring_end_arcmin(disc_arcsec, 1.0) < 1.0
    (eye,) = views_of(find_instrument("eye"), Observer())
    assert detail_of("saturn", 18.0, eye, 2.5) == ""
    for view in views_of(find_instrument("150"), Observer()):
        assert detail_of("saturn", 18.0, view, 2.5) == "rings plain"
    assert ring_end_arcmin(18.0, 25.0) > 4.5


def test_craters_by_common_practice() -> None:
    # Steady 7× to 10× binoculars show craters by the hundred, the eye none (common practice, no
    # source).
    for binoculars in BINOCULARS:
        (view,) = views_of(binoculars, Observer())
        assert detail_of("moon", 1865.0, view, 2.5) == "craters by the hundred"
        assert 100 <= moon_craters(view.magnification, view.resolution_arcsec) < 1000
    (eye,) = views_of(find_instrument("eye"), Observer())
    assert detail_of("moon", 1865.0, eye, 2.5) == "the dark seas"
