"""Declination against the test values that NOAA publishes with the World Magnetic Model 2025.

``wmm2025_values.csv`` holds the official WMM2025 test values (NOAA NCEI, public domain), as the
npm package ``geomagnetism`` 0.2.0 (Apache-2.0) repeats them in ``test/values.csv``.
"""

import csv
from datetime import UTC, datetime
from pathlib import Path

import pytest

from companion.sky import MagneticField, MagneticZone, Site, field_at, magnetic_field

with (Path(__file__).parent / "wmm2025_values.csv").open() as stream:
    ROWS = [{name: float(text) for name, text in row.items()} for row in csv.DictReader(stream)]


def field_of(row: dict[str, float]) -> MagneticField:
    return field_at(
        row["latitude_deg"], row["longitude_deg"], row["height_km"] * 1000.0, row["year"]
    )


def test_there_are_a_hundred_rows() -> None:
    assert len(ROWS) == 100


@pytest.mark.parametrize("row", ROWS)
def test_declination_inclination_and_horizontal_field(row: dict[str, float]) -> None:
    field = field_of(row)
    off = (field.declination_deg - row["declination_deg"] + 180.0) % 360.0 - 180.0
    assert abs(off) <= 0.0101  # the table is rounded to 0.01°
    assert field.inclination_deg == pytest.approx(row["inclination_deg"], abs=0.0101)
    assert field.horizontal_nt == pytest.approx(row["horizontal_nt"], abs=0.11)
    assert not field.expired


def test_the_error_and_the_zones_are_those_of_the_technical_report() -> None:
    # WMM2025 technical report: sigma = sqrt(0.26² + (5417/H)²)°, blackout under 2000 nT, caution
    # under 6000 nT.
    for row in ROWS:
        field = field_of(row)
        expected = (0.26**2 + (5417.0 / row["horizontal_nt"]) ** 2) ** 0.5
        assert field.declination_sigma_deg == pytest.approx(expected, rel=1e-3)
        zone = (
            MagneticZone.BLACKOUT
            if row["horizontal_nt"] < 2000
            else MagneticZone.CAUTION
            if row["horizontal_nt"] < 6000
            else MagneticZone.PLAIN
        )
        assert field.zone is zone


def test_after_2030_the_model_is_marked_as_expired() -> None:
    site = Site("", 45.2, -62.3)
    assert magnetic_field(site, datetime(2030, 6, 1, tzinfo=UTC)).expired
    assert magnetic_field(site, datetime(2024, 6, 1, tzinfo=UTC)).expired
    assert not magnetic_field(site, datetime(2029, 12, 1, tzinfo=UTC)).expired


@pytest.mark.parametrize("row", ROWS[:12])
def test_the_declination_moves_on_as_the_yearly_change_says(row: dict[str, float]) -> None:
    """The model is linear in time but for its turning into an angle: year upon year adds up."""
    place = (row["latitude_deg"], row["longitude_deg"], row["height_km"] * 1000.0)
    early, later = field_at(*place, 2025.0), field_at(*place, 2029.0)
    moved = (later.declination_deg - early.declination_deg + 180.0) % 360.0 - 180.0
    change = (early.yearly_change_deg + later.yearly_change_deg) / 2.0
    assert moved == pytest.approx(4.0 * change, rel=0.05, abs=0.01)
