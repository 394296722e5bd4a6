"""Facts of a snapshot about the danger that the Sun is, at the target and on the way to it."""

from collections.abc import Callable, Sequence

from companion.finding import Optics
from companion.instant.sky_table import Instant
from companion.instant.snapshot import PastSun, Reading
from companion.mount import Swing, dial_turn, may_turn, nearest_sun_deg, way_round
from companion.sky import (
    SUN_DANGER_DEG,
    SUN_UP_DEG,
    altitude_text,
    azimuth_text,
    horizontal_separation_deg,
    wrap_180,
)

ReadingOf = Callable[[float, float, Sequence[Optics]], Reading | None]
Direction = tuple[float, float]  # azimuth and altitude, degrees

_CORNER_STEP_DEG = 5.0


def sun_danger(azimuth_deg: float, altitude_deg: float, instant: Instant) -> tuple[float, bool]:
    """Give the distance from the Sun, and whether looking there by mistake could blind."""
    distance_deg = float(horizontal_separation_deg(azimuth_deg, altitude_deg, *_sun(instant)))
    return distance_deg, _is_up(instant) and distance_deg < SUN_DANGER_DEG


def past_sun_of(
    instant: Instant, start: Direction, to: Direction, reading_of: ReadingOf
) -> PastSun | None:
    """Say whether the turn from one direction to another passes the risen Sun; None if not."""
    if not _is_up(instant):
        return None
    swing = Swing(*start, _turn_deg(instant, start, to, reading_of), to[1])
    nearest = nearest_sun_deg(swing, *_sun(instant))
    if nearest >= SUN_DANGER_DEG:
        return None
    return PastSun(nearest, _corner_text(instant, swing, reading_of))


def _turn_deg(instant: Instant, start: Direction, to: Direction, reading_of: ReadingOf) -> float:
    """Give how far the azimuth is turned: the long way round where a cable or a stop wants it."""
    mount = instant.choices.mount
    here, there = reading_of(*start, ()), reading_of(*to, ())
    if mount is None or here is None or there is None:
        return float(wrap_180(to[0] - start[0]))
    return dial_turn(
        mount, (here.azimuth_deg, here.altitude_deg), (there.azimuth_deg, there.altitude_deg)
    ).azimuth_deg


def _corner_text(instant: Instant, swing: Swing, reading_of: ReadingOf) -> str:
    mount = instant.choices.mount
    here = reading_of(swing.azimuth_deg, swing.altitude_deg, ())

    def allowed(turn_deg: float) -> bool:
        return mount is None or here is None or may_turn(mount, here.azimuth_deg, turn_deg)

    reach = (0.0, 90.0) if mount is None else (mount.reach_low_deg, mount.reach_high_deg)
    corner = way_round(swing, _sun(instant), reach, allowed)
    if corner is None:
        return ""
    side = "right" if corner.turn_deg > 0.0 else "left"
    turned = f", turning {side}" if abs(corner.turn_deg) > 1.0 else ""
    shown = reading_of(corner.azimuth_deg, corner.altitude_deg, ())
    if shown is not None:
        return f"altitude {shown.altitude_text}°, azimuth {shown.azimuth_text}°{turned}"
    altitude = altitude_text(corner.altitude_deg, _CORNER_STEP_DEG)
    azimuth = azimuth_text(corner.azimuth_deg, _CORNER_STEP_DEG)
    return f"altitude {altitude}°, azimuth {azimuth}°{turned}"


def _sun(instant: Instant) -> Direction:
    row, places = instant.sky.sun_row, instant.places
    return float(places.azimuth_deg[row]), float(places.altitude_deg[row])


def _is_up(instant: Instant) -> bool:
    return float(instant.places.altitude_airless_deg[instant.sky.sun_row]) > SUN_UP_DEG
