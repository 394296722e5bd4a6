"""What a hand costs binoculars, and what an eye takes in of them."""

from dataclasses import replace

import numpy as np
import pytest

from companion.advice import AdviceError
from companion.night import Conditions, Observer, find_instrument, views_of
from companion.night.sight.detail import detail_of
from companion.night.sight.limits import object_limits, splits
from companion.night.sight.objects import NightObjects
from companion.sky import load_catalogue

SKY_MAG = np.array([21.0])


def limits(name: str, *keys: str) -> list[float]:
    catalogue = load_catalogue()
    targets = tuple(catalogue.target(key) for key in keys)
    objects = NightObjects.of(targets, catalogue.names.doubles)
    (view,) = views_of(find_instrument(name), Observer())
    return [float(one) for one in object_limits(view, SKY_MAG, objects, Conditions())[:, 0]]


def test_a_star_loses_half_a_magnitude_in_the_hand_and_a_patch_nothing() -> None:
    steady = limits("10x50", "hip:91262", "ngc:NGC0224")
    held = limits("10x50 held", "hip:91262", "ngc:NGC0224")
    assert steady[0] - held[0] == pytest.approx(0.5)
    assert held[1] == pytest.approx(steady[1], abs=1e-6)


def test_a_stronger_glass_trembles_more() -> None:
    assert limits("7x50", "hip:91262")[0] - limits("7x50 held", "hip:91262")[0] < 0.5


def test_a_pair_must_be_twice_as_wide_in_the_hand() -> None:
    catalogue = load_catalogue()
    doubles = {hip: one for hip, one in catalogue.names.doubles.items() if one.separation_arcsec}
    between = [
        catalogue.star(hip)
        for hip, one in doubles.items()
        if 18.0 < one.separation_arcsec < 28.0 and one.companion_magnitude < 8.0
    ]
    assert between
    objects = NightObjects.of(tuple(between), doubles)
    parted = [
        splits(views_of(find_instrument(name), Observer())[0], objects, Conditions())
        for name in ("10x50", "10x50 held")
    ]
    assert parted[0].all()
    assert not parted[1].any()


def test_jupiter_s_moons_take_a_tripod_at_ten_times() -> None:
    steady, held = (
        views_of(find_instrument(one), Observer())[0] for one in ("10x50", "10x50 held")
    )
    assert "moons" in detail_of("jupiter", 45.0, steady, 2.5)
    assert "moons" not in detail_of("jupiter", 45.0, held, 2.5)


def test_only_binoculars_are_held() -> None:
    scope = replace(find_instrument("150"), held=True)
    assert all(view.trembling_mag == 0.0 for view in views_of(scope, Observer()))
    with pytest.raises(AdviceError):
        find_instrument("held")


def test_an_old_eye_takes_in_less_of_a_wide_pupil() -> None:
    young, old = (
        views_of(find_instrument("7x50"), Observer(age_years=age))[0] for age in (15.0, 75.0)
    )
    assert young.beam_mm > old.beam_mm
    assert old.beam_mm == pytest.approx(old.pupil_mm)
