import math
from dataclasses import replace
from datetime import timedelta

import numpy as np
import pytest

from companion.advice import AdviceError
from companion.mount import Dial, Mount, OneSide, fit, play_of, reading_of, with_play
from companion.mount.observations import reading_sigma_deg
from mount.simulated import START

WOODEN = Mount("wooden mount", Dial(step_deg=1.0))
FINE = Mount(
    "fine", Dial(step_deg=0.1), Dial(low_deg=-90.0, high_deg=90.0, step_deg=0.1),
    centring_sigma_deg=0.0,
)  # fmt: skip


def side(reading_deg: float, minutes: float, azimuth_deg: float, altitude_deg: float) -> OneSide:
    return OneSide(START + timedelta(minutes=minutes), reading_deg, azimuth_deg, altitude_deg)


@pytest.mark.parametrize("play_deg", [0.0, 0.3, 1.0, 4.0])
@pytest.mark.parametrize("clockwise", [True, False])
@pytest.mark.parametrize("zero_deg", [0.0, 359.9])
def test_the_play_is_what_the_readings_differ_by_beyond_the_turn_of_the_sky(
    play_deg: float, clockwise: bool, zero_deg: float
) -> None:
    dial = Dial(clockwise=clockwise, zero_deg=zero_deg, step_deg=0.01)
    mount = replace(FINE, azimuth=dial)
    first, second = 0.1, 0.6  # it moves by half a degree meanwhile
    for sign in (1.0, -1.0):
        half_deg = sign * play_deg / 2.0
        found = play_of(
            mount,
            "azimuth",
            side((reading_of(dial, first) + half_deg) % 360.0, 0.0, first, 30.0),
            side((reading_of(dial, second) - half_deg) % 360.0, 2.0, second, 30.4),
        )
        assert found.seen_deg == pytest.approx(play_deg, abs=1e-9)
        assert found.kept_deg == pytest.approx(play_deg, abs=0.01)


def test_the_altitude_dial_is_measured_alike() -> None:
    found = play_of(
        FINE, "altitude", side(40.3, 0.0, 100.0, 40.0), side(40.6, 2.0, 100.0, 40.4)
    )  # fmt: skip
    assert found.seen_deg == pytest.approx(0.1)
    assert with_play(FINE, "altitude", found.kept_deg).altitude.play_deg == pytest.approx(
        math.hypot(0.1, found.sigma_deg), abs=1e-3
    )
    assert with_play(FINE, "altitude", None) == FINE


def test_what_two_coarse_readings_can_hide_is_kept_as_well() -> None:
    """Against Monte Carlo: the mean square of a play of which only two readings are known."""
    found = play_of(WOODEN, "azimuth", side(40.0, 0.0, 39.0, 30.0), side(40.0, 1.0, 39.0, 30.0))
    assert found.seen_deg == 0.0
    rng = np.random.default_rng(1)
    centring = WOODEN.centring_sigma_deg / math.cos(math.radians(30.0))
    errors = rng.uniform(-0.5, 0.5, (100_000, 2)) + rng.normal(0.0, centring, (100_000, 2))
    assert found.kept_deg == pytest.approx(float(np.std(np.diff(errors))), rel=0.01)
    assert "Kept" in found.words


@pytest.mark.parametrize(
    ("what", "second", "part"),
    [
        ("azimuth", side(14.5, 2.0, 0.0, 30.0), "no dial has so much play"),
        ("azimuth", side(0.5, 11.0, 0.0, 30.0), "Too much time"),
        ("azimuth", side(0.5, -1.0, 0.0, 30.0), "Too much time"),
        ("azimuth", side(9.0, 2.0, 9.0, 30.0), "Too much time"),
        ("azimuth", side(0.5, 2.0, 0.0, 66.0), "Take a lower one"),
        ("altitude", side(12.5, 2.0, 0.0, 30.0), "no dial has so much play"),
    ],
)
def test_nonsense_is_refused(what: str, second: OneSide, part: str) -> None:
    with pytest.raises(AdviceError, match=part) as refused:
        play_of(WOODEN, what, side(0.0, 0.0, 0.0, 30.0), second)
    assert "The play before is kept." in str(refused.value)


def test_measured_play_makes_the_numbers_as_sure_as_it_is() -> None:
    play_deg = 1.0
    loose = with_play(WOODEN, "azimuth", play_deg)
    assert reading_sigma_deg(loose.azimuth) > reading_sigma_deg(WOODEN.azimuth)
    radii = [
        fit(mount, []).posterior.extra_variance[0]
        for mount in (with_play(WOODEN, "azimuth", 0.1), WOODEN)
    ]
    assert radii[0] < radii[1]  # what was measured leaves less to be allowed for
