"""When a planet is at its best within the coming year, and when an inner one shows in twilight."""

from datetime import datetime, timedelta

from companion.about.orientation import elongation_deg
from companion.about.record import AboutQuestion, TwilightWindow
from companion.advice import AdviceError
from companion.night import darkness, night_grid
from companion.sky import Ephemeris

INNER = ("mercury", "venus")
_YEAR_DAYS, _STEP_DAYS, _MERCURY_STEP_DAYS = 400, 5, 2
_LOW_DEG = 3.0  # lower than that haze and houses hide a planet (common practice, no source)
_WAIT = timedelta(minutes=30)  # after sunset and before sunrise: bright stars show, the Sun is down


def best_day(ephemeris: Ephemeris, body: str, utc: datetime) -> datetime | None:
    """Give the day on which a planet stands farthest from the Sun: opposition, or elongation.

    The first one of the coming year, to a day; None where the year has none, or the ephemeris ends.
    """
    step = timedelta(days=_MERCURY_STEP_DAYS if body == "mercury" else _STEP_DAYS)
    count = timedelta(days=_YEAR_DAYS) // step
    try:
        angles = [elongation_deg(ephemeris.aspect(body, utc + k * step)) for k in range(count)]
    except AdviceError:
        return None
    for k in range(1, count - 1):
        if angles[k - 1] < angles[k] >= angles[k + 1]:
            # A parabola through three finds the top between them.
            a, b, c = angles[k - 1 : k + 2]
            shift = 0.5 * (a - c) / (a - 2.0 * b + c)
            return utc + (k + shift) * step
    return None


def twilight_window(ephemeris: Ephemeris, question: AboutQuestion) -> TwilightWindow | None:
    """Give when Venus or Mercury stands in a safe twilight tonight; None where it does not."""
    grid = night_grid(ephemeris, question.site, question.utc)
    sun = darkness(grid).sun_down
    if sun.begins_utc is None or sun.ends_utc is None:
        return None
    track = grid.tracks[question.target.body]
    inside = grid.steps_between(sun.begins_utc + _WAIT, sun.ends_utc - _WAIT)
    up = inside & (track.altitude_deg >= _LOW_DEG)
    if not up.any():
        return None
    offsets = grid.offsets_s[up]
    return TwilightWindow(
        begins_utc=grid.utc(float(offsets[0])),
        ends_utc=grid.utc(float(offsets[-1])),
        highest_deg=float(track.altitude_deg[up].max()),
    )
