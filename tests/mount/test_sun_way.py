"""No turn passes the Sun without a word: against a plain walk along every way of a hand."""

import numpy as np
import pytest
from numpy.typing import NDArray

from companion.mount import Dial, Mount, Swing, may_turn, nearest_sun_deg, way_round

FloatArray = NDArray[np.float64]

DANGER_DEG = 20.0
REACH = (0.0, 90.0)


def _apart(azimuth: FloatArray, altitude: FloatArray, sun: tuple[float, float]) -> FloatArray:
    """Angle on the sphere by the dot product of plain unit vectors."""
    az, alt, saz, salt = (np.radians(value) for value in (azimuth, altitude, sun[0], sun[1]))
    dot = np.sin(alt) * np.sin(salt) + np.cos(alt) * np.cos(salt) * np.cos(az - saz)
    return np.asarray(np.degrees(np.arccos(np.clip(dot, -1.0, 1.0))))


def _walked(swing: Swing, sun: tuple[float, float]) -> float:
    """Walk azimuth first, altitude first, and both at once, and look how near the Sun it gets."""
    part = np.linspace(0.0, 1.0, 361)
    az = swing.azimuth_deg + swing.turn_deg * part
    alt = swing.altitude_deg + (swing.end_altitude_deg - swing.altitude_deg) * part
    legs = (
        (az, np.full_like(part, alt[0])), (np.full_like(part, az[-1]), alt),
        (np.full_like(part, az[0]), alt), (az, np.full_like(part, alt[-1])),
        (az, alt),
    )  # fmt: skip
    return min(float(_apart(*leg, sun).min()) for leg in legs)


def _random_swing(rng: np.random.Generator) -> tuple[Swing, tuple[float, float]]:
    turn = float(rng.uniform(-180.0, 180.0))
    swing = Swing(
        float(rng.uniform(0, 360)), float(rng.uniform(0, 85)), turn, float(rng.uniform(0, 85))
    )
    return swing, (float(rng.uniform(0, 360)), float(rng.uniform(0, 75)))


def test_ten_thousand_turns_pass_no_sun_unsaid() -> None:
    rng = np.random.default_rng(7)
    unsaid = flagged = 0
    for _ in range(10_000):
        swing, sun = _random_swing(rng)
        said = nearest_sun_deg(swing, *sun) < DANGER_DEG
        flagged += said
        unsaid += not said and _walked(swing, sun) < DANGER_DEG
    assert unsaid == 0
    assert 1000 < flagged < 9000  # it tells one from the other


def test_every_way_round_keeps_off_the_sun_on_both_turns() -> None:
    rng = np.random.default_rng(8)
    found = wanted = 0
    while wanted < 300:
        swing, sun = _random_swing(rng)
        ends = np.array([swing.azimuth_deg, swing.azimuth_deg + swing.turn_deg])
        heights = np.array([swing.altitude_deg, swing.end_altitude_deg])
        if nearest_sun_deg(swing, *sun) >= DANGER_DEG or _apart(ends, heights, sun).min() < 25.0:
            continue
        wanted += 1
        corner = way_round(swing, sun, REACH, lambda turn: abs(turn) <= 360.0)
        if corner is None:
            continue
        found += 1
        first = Swing(swing.azimuth_deg, swing.altitude_deg, corner.turn_deg, corner.altitude_deg)
        assert _walked(first, sun) >= DANGER_DEG
        rests = [swing.turn_deg - corner.turn_deg + 360.0 * k for k in (-1, 0, 1)]
        seconds = [
            Swing(corner.azimuth_deg, corner.altitude_deg, rest, swing.end_altitude_deg)
            for rest in rests
        ]
        assert max(_walked(second, sun) for second in seconds) >= DANGER_DEG
    assert found > 0.95 * wanted


def test_altair_to_venus_at_noon() -> None:
    """From low in the west past a Sun in the south to a planet beyond it."""
    swing = Swing(azimuth_deg=120.0, altitude_deg=30.0, turn_deg=95.0, end_altitude_deg=45.0)
    assert nearest_sun_deg(swing, 170.0, 40.0) < 0.1
    corner = way_round(swing, (170.0, 40.0), REACH, lambda turn: abs(turn) <= 360.0)
    assert corner is not None
    assert corner.altitude_deg > 60.0 or abs(corner.turn_deg) > 180.0


def test_what_the_mount_cannot_do_is_no_way_round() -> None:
    swing = Swing(120.0, 30.0, 95.0, 45.0)
    assert way_round(swing, (170.0, 40.0), (0.0, 45.0), lambda turn: 0.0 <= turn <= 95.0) is None
    assert way_round(swing, (170.0, 40.0), REACH, lambda _turn: False) is None


@pytest.mark.parametrize(
    ("mount", "reading", "turn", "may"),
    [
        (Mount("free"), 350.0, 300.0, True),
        (Mount("cable", cable_limit_deg=200.0), 150.0, 40.0, True),
        (Mount("cable", cable_limit_deg=200.0), 150.0, 60.0, False),
        (Mount("stop", Dial(low_deg=0.0, high_deg=180.0)), 150.0, 60.0, False),
        (Mount("stop", Dial(low_deg=0.0, high_deg=180.0)), 150.0, -60.0, True),
    ],
)
def test_cables_and_stops(mount: Mount, reading: float, turn: float, *, may: bool) -> None:
    assert may_turn(mount, reading, turn) is may
