"""Minima of bright eclipsing stars and maxima of long-period ones, by period and epoch."""

from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray
from companion.events.event import EventKind
from companion.events.scene import Draft, Scene, around, sun_limit_deg
from companion.sky import LIGHT_AU_PER_DAY

_DAY_S = 86400.0
_JD_OF_2000 = 2451544.5  # 2000 January 1, 0h
_SECONDS_OF_2000 = 946684800.0  # of the same moment, since 1970


@dataclass(frozen=True, slots=True)
class Cycle:
    """What a star does again and again.

    ``epoch_hjd`` is heliocentric; ``half_s`` is how long before and after the moment it is worth a
    look, for eclipses half their length; ``error_days`` how far off a prediction may be by now.
    """

    key: str
    epoch_hjd: float
    period_days: float
    magnitude: float
    half_s: float
    error_days: float


# Algol: 2452253.567 + 2.867321 E, as Sky & Telescope's predictions have it. The others: General
# Catalogue of Variable Stars (Samus et al. 2017), β Lyrae the AAVSO's index. All from memory.
MINIMA = (
    Cycle("hip:14576", 2452253.567, 2.867321, 3.4, 5.0 * 3600.0, 0.03),
    Cycle("hip:18724", 2421506.8506, 3.9529478, 3.9, 7.0 * 3600.0, 0.1),
    Cycle("hip:73473", 2422852.3598, 2.3273543, 5.9, 6.0 * 3600.0, 0.1),
    Cycle("hip:92420", 2455434.8702, 12.9406171, 4.4, 2.0 * _DAY_S, 0.3),
)
# Single cycles of Mira stars differ from the mean by weeks: 8 % of the period is allowed for.
MAXIMA = (
    Cycle("hip:10826", 2444839.0, 331.96, 3.5, 20.0 * _DAY_S, 27.0),
    Cycle("hip:97629", 2442140.0, 408.05, 5.2, 20.0 * _DAY_S, 33.0),
    Cycle("hip:48036", 2444164.0, 309.95, 5.8, 20.0 * _DAY_S, 25.0),
    Cycle("hip:65835", 2443596.0, 388.87, 4.5, 20.0 * _DAY_S, 31.0),
    Cycle("hip:46806", 2442000.0, 308.71, 4.6, 20.0 * _DAY_S, 25.0),
    Cycle("hip:118188", 2444463.0, 430.46, 6.0, 20.0 * _DAY_S, 35.0),
    Cycle("hip:12193", 2445215.0, 266.9, 6.2, 20.0 * _DAY_S, 21.0),
    Cycle("hip:104451", 2444177.0, 388.14, 6.0, 20.0 * _DAY_S, 31.0),
    Cycle("hip:28041", 2445254.0, 368.3, 6.3, 20.0 * _DAY_S, 30.0),
    Cycle("hip:13502", 2441490.0, 407.6, 5.3, 20.0 * _DAY_S, 33.0),
)


def minima_of_stars(scene: Scene) -> list[Draft]:
    """Find the minima of bright eclipsing stars."""
    return [
        _draft(scene, cycle, s, EventKind.VARIABLE_MINIMUM, "faintest")
        for cycle in MINIMA
        for s in times_of(scene, cycle).tolist()
    ]


def maxima_of_stars(scene: Scene) -> list[Draft]:
    """Find the maxima of bright long-period stars, which are expected within weeks only."""
    return [
        _draft(scene, cycle, s, EventKind.VARIABLE_MAXIMUM, "brightest")
        for cycle in MAXIMA
        for s in times_of(scene, cycle).tolist()
    ]


def times_of(scene: Scene, cycle: Cycle) -> FloatArray:
    """Give when light that left at these moments arrives here, seconds of the span."""
    start_jd = (scene.span.first.timestamp() - _SECONDS_OF_2000) / _DAY_S + _JD_OF_2000
    end_jd = start_jd + scene.span.length_s / _DAY_S
    first, last = ((jd - cycle.epoch_hjd) / cycle.period_days for jd in (start_jd, end_jd))
    count = np.arange(np.ceil(first), np.floor(last) + 1.0)
    seconds = (cycle.epoch_hjd + count * cycle.period_days - start_jd) * _DAY_S
    star = scene.vector_of(scene.catalogue.target(cycle.key))[0]
    sun = scene.span.geocentric("sun", np.clip(seconds, 0.0, scene.span.length_s))
    late = seconds + sun @ star / LIGHT_AU_PER_DAY * _DAY_S
    return np.asarray(late[(late >= 0.0) & (late <= scene.span.length_s)])


def _draft(scene: Scene, cycle: Cycle, s: float, kind: EventKind, what: str) -> Draft:
    name = scene.name(cycle.key)
    minimum = kind is EventKind.VARIABLE_MINIMUM
    hold_s = cycle.half_s / 2.0 if minimum else _DAY_S / 2.0
    give = cycle.error_days if not minimum else cycle.error_days * 24.0
    unit = "days" if not minimum else "hours"
    return Draft(
        kind,
        what,
        f"{name} {what}" + ("" if minimum else ", expected"),
        s,
        (cycle.key,),
        around(s, hold_s),
        sun_limit_deg(cycle.magnitude),
        start_s=s - cycle.half_s,
        end_s=s + cycle.half_s,
        magnitude=cycle.magnitude,
        remark=f"{'to within' if minimum else 'give or take'} {give:.1g} {unit}",
        numbers={"error_days": cycle.error_days, "period_days": cycle.period_days},
    )
