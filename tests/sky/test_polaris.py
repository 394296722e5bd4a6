"""Polaris as a north: how much better than a compass it is, and where it is none."""

from datetime import UTC, datetime

import numpy as np
import pytest

from companion.sky import DRY_PAN, LOON_BARRENS, Ephemeris, MagneticField, MagneticZone, Site
from companion.sky.polaris import polaris_look

UTC_NOW = datetime(2026, 10, 10, 23, 14, tzinfo=UTC)


def field(sigma_deg: float, zone: MagneticZone = MagneticZone.PLAIN) -> MagneticField:
    return MagneticField(-16.0, sigma_deg, 68.0, 18000.0, 0.1, zone, expired=False)


@pytest.mark.parametrize("latitude_deg", [10.0, 45.2, 70.0])
def test_its_gain_shrinks_with_its_height(ephemeris: Ephemeris, latitude_deg: float) -> None:
    """A sight of 0.1° across the sky is one of 0.1°/cos(altitude) in azimuth."""
    moment = ephemeris.moment(Site("", latitude_deg, -62.3), UTC_NOW)
    look = polaris_look(moment, field(0.75))
    assert look.altitude_deg == pytest.approx(latitude_deg, abs=0.9)
    compass = np.hypot(0.75, 1.0)  # the model's and the reading's
    expected = compass / (0.1 / np.cos(np.radians(look.altitude_deg)))
    assert look.gain == pytest.approx(expected, rel=1e-9)


def test_a_surer_declination_makes_the_compass_better(ephemeris: Ephemeris) -> None:
    moment = ephemeris.moment(LOON_BARRENS, UTC_NOW)
    sure, unsure = (polaris_look(moment, field(sigma)).gain for sigma in (0.0, 2.0))
    assert sure is not None
    assert unsure is not None
    assert unsure / sure == pytest.approx(5.0**0.5)


def test_where_it_is_low_or_the_compass_useless_there_is_no_gain(ephemeris: Ephemeris) -> None:
    moment = ephemeris.moment(LOON_BARRENS, UTC_NOW)
    assert polaris_look(moment, field(1.0, MagneticZone.BLACKOUT)).gain is None
    for site, usable in ((DRY_PAN, False), (Site("", 3.0, 0.0), False), (Site("", 7.0, 0.0), True)):
        look = polaris_look(ephemeris.moment(site, UTC_NOW), field(1.0))
        assert look.usable is usable
        assert (look.gain is not None) is usable
