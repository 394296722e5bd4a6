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
from companion.night.sight.air import airmass
from companion.night.sight.brightness import Known, brightness_of
from companion.night.sight.contrast import surface_limit
from companion.night.sight.detail import detail_of, moon_craters, ring_end_arcmin
from companion.night.sight.instruments import BINOCULARS, TELESCOPES, find_instrument
from companion.night.sight.observer import Conditions, Observer, Practice
from companion.night.sight.scales import (
    candela_per_m2,
    mag_per_arcsec2,
    naked_eye_limit,
    nanolamberts,
    zenith_of_bortle,
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
from companion.sky import load_catalogue

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
    assert float(surface_limit(LABORATORY, sky_mag, 1e-4, observer)) == pytest.approx(
        line, abs=0.05
    )


@pytest.mark.parametrize("sky_mag", [18.0, 19.0, 20.0, 21.0, 22.0])
def test_two_papers_agree_on_the_naked_eye(sky_mag: float) -> None:
    # Schaefer 1990 (PASP 102, 212) and Crumey 2014 rest on different laboratory data.
    observer = Observer(practice=Practice.SOME)
    schaefer = float(star_limit(LABORATORY, sky_mag, observer))
    assert schaefer == pytest.approx(float(naked_eye_limit(sky_mag)), abs=0.5)
    assert schaefer == pytest.approx(
        float(surface_limit(LABORATORY, sky_mag, 1e-4, observer)), abs=0.95
    )


def test_bortles_classes_have_his_limits() -> None:
    # Bortle 2001 (Sky & Telescope 101(2), 126): class 3 shows 6.6 to 7.0, class 5 5.6 to 6.0,
    # class 8 4.1 to 4.5 (from memory); the meter's value between them is a later convention.
    for bortle, low, high in ((3, 6.6, 7.0), (5, 5.6, 6.0), (8, 4.1, 4.5)):
        ours = float(naked_eye_limit(zenith_of_bortle(bortle)))
        assert low - 0.6 <= ours <= high + 0.6


@pytest.mark.parametrize("instrument", [*BINOCULARS, *TELESCOPES])
def test_telescopes_reach_what_textbooks_say(instrument: object) -> None:
    # 7.7 + 5 log D in cm (common textbook, from memory) is for an average night and power.
    chosen = find_instrument(getattr(instrument, "name"))  # noqa: B009 - an object for the ids
    views = views_of(chosen, Observer())
    best = max(float(star_limit(view, 21.5, Observer())) for view in views)
    assert best == pytest.approx(7.7 + 5.0 * math.log10(chosen.aperture_mm / 10.0), abs=1.2)


def test_messiers_objects_show_in_an_80_mm_telescope() -> None:
    # All of Messier's objects are within reach of 80 mm under a dark sky (common practice).
    from companion.night.sight.choose_view import choose_views
    from companion.night.sight.objects import NightObjects

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
