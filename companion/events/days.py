"""The days of a span for a picture of them: how long it is dark, and how much Moon there is."""

from dataclasses import dataclass
from datetime import date, timedelta

import numpy as np

from companion.events.coming import ComingRequest
from companion.events.scene import NIGHT_STEP_S
from companion.sky import ASTRONOMICAL_DEG, Ephemeris, zone_of

_HOUR_S = 3600.0


@dataclass(frozen=True, slots=True)
class Day:
    """The night that follows a day."""

    day: date  # by the site's clocks
    dark_hours: float  # with the Sun 18° down
    moonless_hours: float  # of them, with the Moon down


def days_of(ephemeris: Ephemeris, request: ComingRequest) -> tuple[Day, ...]:
    """Give every day of a span, as far as the ephemeris reaches.

    Raises
    ------
    AdviceError
        If the span lies outside.
    """
    span = ephemeris.span(request.site, request.first, request.last + timedelta(days=1))
    zone = zone_of(request.site.time_zone)
    noon = request.first.astimezone(zone).replace(hour=12, minute=0, second=0, microsecond=0)
    count = max((request.last - request.first).days, 1)
    steps = np.arange(0.0, 86400.0, NIGHT_STEP_S)
    days = np.arange(count) * 86400.0 + span.seconds(noon)
    seconds = np.clip((days[:, None] + steps).ravel(), 0.0, span.length_s)
    up = {
        body: span.local(span.place(body, seconds), seconds)[:, 2].reshape(count, -1)
        / np.linalg.norm(span.place(body, seconds), axis=1).reshape(count, -1)
        for body in ("sun", "moon")
    }
    dark = up["sun"] < np.sin(np.radians(ASTRONOMICAL_DEG))
    hours = NIGHT_STEP_S / _HOUR_S
    return tuple(
        Day(
            (noon + timedelta(days=at)).date(),
            float(dark[at].sum()) * hours,
            float((dark[at] & (up["moon"][at] < 0.0)).sum()) * hours,
        )
        for at in range(count)
    )
