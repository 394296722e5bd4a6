"""Moon and planets against the worked examples of Meeus, *Astronomical Algorithms*, 2nd edition.

The printed values are from memory. The examples are for dynamical time; what is used here goes
by UTC, 59 seconds earlier in 1992.
"""

import math
from datetime import UTC, datetime, timedelta

import pytest

from companion.about.jupiter_moons import jupiter_moons
from companion.about.moon import age_days, moon_look
from companion.about.orbit import Orbit
from companion.about.planet import planet_look
from companion.about.rings import ring_look
from companion.sky import Ephemeris

DYNAMICAL = timedelta(seconds=59)
MOON_UTC = datetime(1992, 4, 12, tzinfo=UTC) - DYNAMICAL
WINTER_UTC = datetime(1992, 12, 16, tzinfo=UTC)


def test_the_moon_of_chapter_53(ephemeris: Ephemeris) -> None:
    """53.a: libration -1.23°, +4.20°; axis 15.08°; Sun's point 67.89°, +1.46°; colongitude 22.11°.

    Its latitudes are of the axes of inertia; ours, as those of the gazetteer, of the mean axes,
    which lie 79″ (0.022°) aside (Archinal et al. 2011).
    """
    look = moon_look(ephemeris.aspect("moon", MOON_UTC))
    assert look.facing.longitude_deg == pytest.approx(-1.23, abs=0.01)
    assert look.facing.latitude_deg + 0.022 == pytest.approx(4.20, abs=0.01)
    assert look.axis_position_angle_deg == pytest.approx(15.08, abs=0.01)
    assert look.subsolar.longitude_deg == pytest.approx(67.89, abs=0.01)
    assert look.subsolar.latitude_deg == pytest.approx(1.46, abs=0.02)
    assert look.colongitude_deg == pytest.approx(22.11, abs=0.01)


def test_the_bright_limb_of_chapter_48(ephemeris: Ephemeris) -> None:
    """48.a: position angle 285.0°, illuminated fraction 0.6786."""
    look = moon_look(ephemeris.aspect("moon", MOON_UTC))
    assert look.bright_limb_angle_deg == pytest.approx(285.0, abs=0.1)
    assert look.lit == pytest.approx(0.6786, abs=0.0002)


def test_the_age_from_the_new_moon_of_the_naval_observatory(ephemeris: Ephemeris) -> None:
    """New Moon of 1992 April 3, 5:01 UT (USNO, from memory)."""
    age = age_days(ephemeris, MOON_UTC)
    assert age is not None
    assert age == pytest.approx(
        (MOON_UTC - datetime(1992, 4, 3, 5, 1, tzinfo=UTC)) / timedelta(1), abs=0.002
    )


def test_the_ring_of_chapter_45(ephemeris: Ephemeris) -> None:
    """45.a: B = 16.442°, B' = 14.679°, P = 6.741° (an older pole), 35.87″ by 10.15″."""
    ring = ring_look(ephemeris.aspect("saturn", WINTER_UTC - DYNAMICAL))
    assert ring.opening_deg == pytest.approx(16.442, abs=0.01)
    assert ring.sun_opening_deg == pytest.approx(14.679, abs=0.01)
    assert ring.angle_deg == pytest.approx(6.741, abs=0.03)
    assert ring.major_arcsec == pytest.approx(35.87, abs=0.01)
    assert ring.minor_arcsec == pytest.approx(10.15, abs=0.01)


def test_the_meridians_of_chapter_43(ephemeris: Ephemeris) -> None:
    """43.a: D_E = -2.48°, D_S = -2.20°, P = 24.80°, System I 268.06°, System II 72.74°."""
    look = planet_look(ephemeris.aspect("jupiter", WINTER_UTC))
    assert look.turn is not None
    assert look.turn.facing_latitude_deg == pytest.approx(-2.48, abs=0.01)
    assert look.turn.subsolar_latitude_deg == pytest.approx(-2.20, abs=0.01)
    assert look.turn.axis_position_angle_deg == pytest.approx(24.80, abs=0.02)
    assert look.turn.meridians_deg["I"] == pytest.approx(268.06, abs=0.05)
    assert look.turn.meridians_deg["II"] == pytest.approx(72.74, abs=0.05)


def test_the_moons_of_chapter_44(ephemeris: Ephemeris) -> None:
    """44.a, in radii of Jupiter along its equator: west -3.45, +7.44, +1.20, +7.07."""
    aspect = ephemeris.aspect("jupiter", WINTER_UTC - DYNAMICAL)
    look = planet_look(aspect)
    assert look.turn is not None
    angle = math.radians(look.turn.axis_position_angle_deg)
    radius = look.diameter_arcsec / 2.0
    west = [
        -(m.east_arcsec * math.cos(angle) - m.north_arcsec * math.sin(angle)) / radius
        for m in jupiter_moons(aspect)
    ]
    assert west == pytest.approx([-3.45, 7.44, 1.20, 7.07], abs=0.015)


def test_mars_of_chapter_42(ephemeris: Ephemeris) -> None:
    """42.a, 1992 November 9: D_E = 12.44°, D_S = -2.76°, meridian 111.55°, P 347.64°, 10.75″."""
    look = planet_look(ephemeris.aspect("mars", datetime(1992, 11, 9, tzinfo=UTC)))
    assert look.turn is not None
    assert look.turn.facing_latitude_deg == pytest.approx(12.44, abs=0.01)
    assert look.turn.subsolar_latitude_deg == pytest.approx(-2.76, abs=0.01)
    assert look.turn.meridians_deg["I"] == pytest.approx(111.55, abs=0.03)
    assert look.turn.axis_position_angle_deg == pytest.approx(347.64, abs=0.01)
    assert look.diameter_arcsec == pytest.approx(10.75, abs=0.01)
    assert look.lit == pytest.approx(0.9012, abs=0.0002)
    # Q = 279.91° is the angle of the greatest defect, opposite the bright limb.
    assert (look.bright_limb_angle_deg + 180.0) % 360.0 == pytest.approx(279.91, abs=0.02)


def test_the_phase_of_venus_in_chapter_41(ephemeris: Ephemeris) -> None:
    """41.a, 1992 December 20, 0h TD: illuminated fraction 0.647, phase angle 72.96°."""
    look = planet_look(ephemeris.aspect("venus", datetime(1992, 12, 20, tzinfo=UTC) - DYNAMICAL))
    assert look.lit == pytest.approx(0.647, abs=0.001)
    assert look.phase_angle_deg == pytest.approx(72.96, abs=0.01)


def test_the_pair_of_chapter_57() -> None:
    """57.a, eta Coronae Borealis in 1980.0: 0.411″ at 318.4°."""
    orbit = Orbit(41.623, 1934.008, 0.2763, 0.907, 59.025, 23.717, 219.907)
    separation, angle = orbit.place(1980.0)
    assert separation == pytest.approx(0.411, abs=0.001)
    assert angle == pytest.approx(318.4, abs=0.1)
