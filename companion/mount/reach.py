"""How the tube gets from one reading to the next: cables, stops, and the top of the sky."""

from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.mount.daily_turn import azimuth_rate, turned_with_sky
from companion.mount.dial import angle_of, is_on_dial
from companion.mount.model import directions_of, vectors_of
from companion.mount.records import Mount
from companion.sky import angle_text, duration_text

_FASTEST_DEG_PER_MIN: Final = 2.0  # of azimuth that a hand can follow (common practice, no source)
_LOOK_AHEAD_S: Final = 4 * 3600.0
_LOOK_STEP_S: Final = 30.0


@dataclass(frozen=True, slots=True)
class DialTurn:
    """The way from where the dials stand to where they shall stand.

    ``azimuth_deg`` is positive to the right (clockwise seen from above), ``altitude_deg``
    upwards. ``wound_deg`` is where the azimuth then stands, in turns from the dial's zero that
    are not folded into 360°: the next turn starts from it. ``words`` is empty when there is
    nothing to say.
    """

    azimuth_deg: float
    altitude_deg: float
    wound_deg: float
    long_way: bool
    words: str


def dial_turn(
    mount: Mount,
    from_readings_deg: tuple[float, float],
    to_readings_deg: tuple[float, float],
    wound_deg: float | None = None,
) -> DialTurn:
    """Choose the way round that the cable and the stops of the azimuth dial allow.

    Parameters
    ----------
    mount : Mount
        ``cable_limit_deg`` is how far it may be turned either way from the dial's zero; a dial
        of less than a full circle is taken as stopped at both ends.
    from_readings_deg, to_readings_deg : tuple of float
        Azimuth and altitude readings.
    wound_deg : float, optional
        Where the azimuth stands unfolded (``wound_deg`` of the turn before); taken as the
        shortest way from the dial's zero if not given.
    """
    start = angle_of(mount.azimuth, from_readings_deg[0])
    if wound_deg is not None:
        start = wound_deg
    end = angle_of(mount.azimuth, to_readings_deg[0])
    shortest = (end - start + 180.0) % 360.0 - 180.0
    chosen = _allowed_turn(mount, start, shortest, to_readings_deg[0] - from_readings_deg[0])
    raised = angle_of(mount.altitude, to_readings_deg[1]) - angle_of(
        mount.altitude, from_readings_deg[1]
    )
    if chosen is None:
        words = "No way round stays within the cable's reach: unwind it first."
        return DialTurn(shortest, raised, start + shortest, long_way=False, words=words)
    long_way = abs(chosen) > 180.0 + 1e-9
    words = ""
    if long_way:
        side = "right" if chosen > 0.0 else "left"
        reason = "the cable" if mount.cable_limit_deg is not None else "the dial's stop"
        words = f"The long way round, {angle_text(abs(chosen))} to the {side}: {reason}."
    return DialTurn(chosen, raised, start + chosen, long_way, words)


def _allowed_turn(
    mount: Mount, start_deg: float, shortest_deg: float, on_dial_deg: float
) -> float | None:
    """Give the shortest turn that stays within the limits, None where there is none."""
    dial = mount.azimuth
    if dial.high_deg - dial.low_deg < 360.0 - 1e-9:
        return on_dial_deg if dial.clockwise else -on_dial_deg
    limit = mount.cable_limit_deg
    turns = [shortest_deg + 360.0 * k for k in (-2, -1, 0, 1, 2)]
    if limit is not None:
        turns = [turn for turn in turns if abs(start_deg + turn) <= limit + 1e-9]
    return min(turns, key=abs, default=None)


def may_turn(mount: Mount, from_reading_deg: float, turn_deg: float) -> bool:
    """Say whether the azimuth may be turned so far from a reading: cable and stops."""
    start, dial = angle_of(mount.azimuth, from_reading_deg), mount.azimuth
    if dial.high_deg - dial.low_deg < 360.0 - 1e-9:
        reading = from_reading_deg + (turn_deg if dial.clockwise else -turn_deg)
        return dial.low_deg <= reading <= dial.high_deg
    return mount.cable_limit_deg is None or abs(start + turn_deg) <= mount.cable_limit_deg + 1e-9


def reach_words(mount: Mount, altitude_deg: float, readings_deg: tuple[float, float]) -> str:
    """Say why the mount cannot point there; empty where it can."""
    if altitude_deg > mount.reach_high_deg:
        over = angle_text(altitude_deg - mount.reach_high_deg)
        return (
            f"{over} higher than the tube can be brought: wait until it sinks, or tilt the tripod."
        )
    if altitude_deg < mount.reach_low_deg:
        return (
            f"{angle_text(mount.reach_low_deg - altitude_deg)} lower than the tube can be brought."
        )
    for dial, reading, what in (
        (mount.azimuth, readings_deg[0], "azimuth"),
        (mount.altitude, readings_deg[1], "altitude"),
    ):
        if not is_on_dial(dial, reading):
            return f"The {what} dial ends before {reading:.1f}°."
    return ""


@dataclass(frozen=True, slots=True)
class BlindSpot:
    """How fast the azimuth runs, and when it can be followed again.

    ``back_in_s`` is None while it can be followed, and when it cannot for hours.
    """

    azimuth_deg_per_min: float
    inside: bool
    back_in_s: float | None
    words: str


def blind_spot(
    latitude_deg: float,
    azimuth_deg: float,
    altitude_deg: float,
    reach_high_deg: float = 90.0,
    fastest_deg_per_min: float = _FASTEST_DEG_PER_MIN,
) -> BlindSpot:
    """Say whether a star is too near the zenith to be followed, and when it comes back.

    Parameters
    ----------
    latitude_deg : float
        Of the site.
    azimuth_deg, altitude_deg : float
        Where the star stands; refraction, under half a minute of arc up there, does not count.
    reach_high_deg : float
        Highest altitude that the tube can be brought to.
    fastest_deg_per_min : float
        Of azimuth that can be followed by hand.
    """
    limit = np.radians(fastest_deg_per_min) / 60.0
    start = np.radians(np.array([azimuth_deg])), np.radians(np.array([altitude_deg]))
    rate = float(azimuth_rate(latitude_deg, *start)[0])
    per_minute = float(np.degrees(rate)) * 60.0
    if abs(rate) <= limit and altitude_deg <= reach_high_deg:
        return BlindSpot(per_minute, inside=False, back_in_s=None, words="")
    times = np.arange(0.0, _LOOK_AHEAD_S, _LOOK_STEP_S)
    turned = turned_with_sky(vectors_of(*start), latitude_deg, times)[:, 0]
    azimuth, altitude = directions_of(turned)
    usable = np.abs(azimuth_rate(latitude_deg, azimuth, altitude)) <= limit
    usable &= np.degrees(altitude) <= reach_high_deg
    back = float(times[int(np.argmax(usable))]) if usable.any() else None
    when = "It stays there for hours" if back is None else f"Better in {duration_text(back)}"
    words = f"Near the zenith its azimuth runs {abs(per_minute):.1f}° a minute. {when}."
    if altitude_deg > reach_high_deg:
        words = f"Higher than the tube can be brought. {when}."
    return BlindSpot(per_minute, inside=True, back_in_s=back, words=words)
