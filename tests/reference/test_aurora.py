"""Geomagnetic latitudes and Kp against what is published."""

import pytest

from companion.events.aurora import boundary_deg
from companion.sky import Site, geomagnetic

# Geomagnetic latitudes of observatories as the World Data Center for Geomagnetism, Kyoto, lists
# them for the dipole of 2010 (IGRF-11). From memory, to 0.1°. The carried model is brought back to
# that year by its yearly change, which takes its straight line 15 years too far: 0.3° are allowed.
OBSERVATORIES = (
    ("Kakioka", 36.232, 140.186, 27.5),
    ("Honolulu", 21.316, -158.000, 21.6),
    ("San Juan", 18.111, -66.150, 28.0),
    ("Hermanus", -34.425, 19.225, -34.0),
    ("Boulder", 40.137, -105.237, 48.1),
    ("Fredericksburg", 38.205, -77.373, 47.9),
    ("Niemegk", 52.072, 12.675, 51.7),
    ("Sitka", 57.058, -135.325, 60.2),
    ("College", 64.874, -147.860, 65.3),
    ("Tromso", 69.663, 18.948, 67.3),
    ("Canberra", -35.315, 149.363, -42.1),
)


@pytest.mark.parametrize(("name", "latitude", "longitude", "published_deg"), OBSERVATORIES)
def test_geomagnetic_latitudes_of_observatories(
    name: str, latitude: float, longitude: float, published_deg: float
) -> None:
    here = geomagnetic(Site(name, latitude, longitude), 2010.0)
    assert here.latitude_deg == pytest.approx(published_deg, abs=0.3)


# NOAA Space Weather Prediction Center, "Aurora viewing": geomagnetic latitude of the aurora
# overhead by Kp. From memory.
@pytest.mark.parametrize(
    ("kp", "latitude_deg"), [(0, 66.5), (3, 60.4), (5, 56.3), (7, 52.2), (9, 48.1)]
)
def test_kp_to_latitude(kp: float, latitude_deg: float) -> None:
    assert boundary_deg(kp) == latitude_deg


def test_the_pole_of_the_dipole_stands_where_it_is_published() -> None:
    """NOAA NCEI for WMM2025, 2025.0: geomagnetic pole 80.85° N 72.76° W (from memory)."""
    pole = geomagnetic(Site("pole", 80.9, -72.8), 2025.0)
    assert pole.latitude_deg == pytest.approx(90.0, abs=0.2)
