"""The faintest star by eye, under one sky at one moment."""

from collections.abc import Iterator
from datetime import UTC, datetime

import numpy as np
import pytest

from companion.night import Conditions, EyeSky, eye_sky, naked_eye_limit
from companion.sky import LOON_BARRENS, Ephemeris

NEW_MOON = datetime(2026, 10, 11, 2, tzinfo=UTC)
FULL_MOON = datetime(2026, 10, 26, 4, tzinfo=UTC)


@pytest.fixture(scope="module")
def ephemeris() -> Iterator[Ephemeris]:
    loaded = Ephemeris.load()
    yield loaded
    loaded.close()


def sky_at(ephemeris: Ephemeris, utc: datetime, zenith_mag: float = 21.5) -> EyeSky:
    conditions = Conditions.at(LOON_BARRENS, zenith_mag=zenith_mag)
    return eye_sky(ephemeris.moment(LOON_BARRENS, utc), conditions)


@pytest.mark.parametrize("zenith_mag", [21.9, 21.0, 19.5, 18.0])
def test_on_a_moonless_night_the_zenith_gives_the_limit(
    zenith_mag: float, ephemeris: Ephemeris
) -> None:
    sky = sky_at(ephemeris, NEW_MOON, zenith_mag)
    # Kasten and Young give the zenith 0.9997 airmasses.
    overhead = float(naked_eye_limit(zenith_mag))
    assert float(sky.limit(0.0, 90.0)) == pytest.approx(overhead, abs=2e-4)
    assert sky.faintest == pytest.approx(float(sky.limit(0.0, 90.0)), abs=0.01)


def test_air_takes_its_magnitudes_towards_the_horizon(ephemeris: Ephemeris) -> None:
    limit = sky_at(ephemeris, NEW_MOON).limit(np.zeros(5), [90.0, 60.0, 30.0, 10.0, 2.0])
    assert (np.diff(limit) < 0.0).all()
    # At 30° there is another airmass, 0.25 mag, and a sky that the same air brightens a little.
    assert 0.2 < limit[0] - limit[2] < 0.7


def test_the_moon_brightens_the_sky_around_it(ephemeris: Ephemeris) -> None:
    moonlit = sky_at(ephemeris, FULL_MOON)
    azimuth, altitude = moonlit.moon_deg
    assert altitude > 20.0
    beside = float(moonlit.limit(azimuth + 12.0, altitude))
    assert beside < moonlit.faintest - 0.5 < sky_at(ephemeris, NEW_MOON).faintest - 1.0


def test_twilight_leaves_the_brightest(ephemeris: Ephemeris) -> None:
    """Sun 6° down: the first magnitude; 12° down: the groups (common practice, no source)."""
    hours = [datetime(2026, 10, 10, 22, minute, tzinfo=UTC) for minute in range(0, 60, 4)]
    skies = [sky_at(ephemeris, utc) for utc in hours]
    limits = [sky.faintest for sky in skies]
    assert limits == sorted(limits)
    six = min(skies, key=lambda sky: abs(sky.sun_altitude_deg + 6.0))
    assert six.faintest == pytest.approx(1.2, abs=0.5)
    assert six.without_sun.faintest > 6.0
