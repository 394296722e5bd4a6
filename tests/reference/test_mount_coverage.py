"""The stated 95% radius against Monte Carlo: it must hold 95% of simulated nights, within what
counting so few allows; ``tests/benchmarks/mount_coverage.py`` counts as many as one has time for.

The method is that of the *Guide to the Expression of Uncertainty in Measurement*, Supplement 1
(JCGM 101:2008): draw what is uncertain from its distribution, and count.
"""

from dataclasses import replace

import numpy as np
import pytest
from mount.nights import (
    DRAWN,
    GOOD,
    GOOD_UNKNOWN,
    LOOSE,
    LOOSE_UNKNOWN,
    ROUGH,
    ROUGH_UNKNOWN,
    Dials,
    one_night,
)


def inside(dials: Dials, nights: int, seed: int = 11) -> list[float]:
    rng = np.random.default_rng(seed)
    found = [one_night(rng, dials, int(rng.integers(1, 5))) for _ in range(nights)]
    exactly, as_set = np.mean(found, axis=0).tolist()
    return [exactly, as_set]


@pytest.mark.parametrize("level", [False, True])
def test_the_stated_radius_holds_what_it_says_in_a_thousand_nights(level: bool) -> None:
    # Three sigma of counting a thousand nights.
    assert inside(replace(GOOD, level=level), 1000) == pytest.approx([0.95, 0.95], abs=0.021)


def test_it_holds_for_dials_of_which_only_the_prior_is_known() -> None:
    # Three sigma of counting three hundred nights, here and below.
    assert inside(DRAWN, 300) == pytest.approx([0.95, 0.95], abs=0.037)


@pytest.mark.parametrize("dials", [ROUGH, LOOSE])
def test_it_holds_for_dials_with_play_that_was_given(dials: Dials) -> None:
    assert inside(dials, 300) == pytest.approx([0.95, 0.95], abs=0.037)


@pytest.mark.parametrize("dials", [ROUGH_UNKNOWN, LOOSE_UNKNOWN])
def test_play_that_nobody_gave_is_learnt_before_much_is_promised(dials: Dials) -> None:
    assert min(inside(dials, 150)) > 0.9
    rng = np.random.default_rng(13)
    assert np.mean([one_night(rng, dials, 6) for _ in range(150)]) > 0.9


def test_good_dials_pay_with_a_wider_radius_until_their_play_is_measured() -> None:
    assert min(inside(GOOD_UNKNOWN, 200)) > 0.95
