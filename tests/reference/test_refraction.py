"""Refraction against printed values."""

import numpy as np
import pytest

from companion.sky import airless_deg, refracted_deg


@pytest.mark.parametrize("seen_deg", [0.0, 0.5, 2.0, 5.0, 10.0, 20.0, 45.0, 60.0, 90.0])
def test_lift_agrees_with_bennett(seen_deg: float) -> None:
    # Bennett 1982 (J. Inst. Navig. 35, 255): R = 1 / tan(h + 7.31/(h + 4.4)) in minutes from the
    # seen altitude. Meeus, ch. 16: it agrees with Saemundsson's formula within 0.1′.
    bennett = 1.0 / np.tan(np.radians(seen_deg + 7.31 / (seen_deg + 4.4)))
    lift = (seen_deg - float(airless_deg(seen_deg, 1010.0, 10.0))) * 60
    assert lift == pytest.approx(bennett, abs=0.1)


@pytest.mark.parametrize(
    ("seen_deg", "arcmin"), [(10.0, 5.3), (15.0, 3.6), (20.0, 2.6), (30.0, 1.7), (50.0, 0.8)]
)
def test_lift_in_the_navigators_table(seen_deg: float, arcmin: float) -> None:
    # Altitude correction for stars, *Nautical Almanac*, 10 °C and 1010 hPa, rounded to 0.1′
    # (values from memory).
    lift = (seen_deg - float(airless_deg(seen_deg, 1010.0, 10.0))) * 60
    assert lift == pytest.approx(arcmin, abs=0.2)


def test_example_16a_of_meeus() -> None:
    # The Sun's lower limb seen at 30′ is truly at 1.246′ (Bennett's formula; ours inverts
    # Saemundsson's, which agrees to 4″ or 0.07′ as the book says).
    assert float(airless_deg(0.5, 1010.0, 10.0)) * 60 == pytest.approx(1.246, abs=0.12)


def test_there_and_back() -> None:
    seen = np.linspace(-0.2, 90.0, 1000)
    back = refracted_deg(airless_deg(seen, 1005.0, 3.0), 1005.0, 3.0)
    assert back == pytest.approx(seen, abs=1e-8)


def test_thin_cold_air_as_the_text_scales_it() -> None:
    # Meeus ch. 16: proportional to P/1010 and 283/(273 + T).
    standard = float(refracted_deg(10.0, 1010.0, 10.0)) - 10.0
    high = float(refracted_deg(10.0, 850.0, -5.0)) - 10.0
    assert high / standard == pytest.approx(850 / 1010 * 283 / 268, rel=1e-9)
