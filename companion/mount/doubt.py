"""Which sightings are to be doubted, and what would explain them: star, hour or bumped dial."""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

from companion.mount.bump import Bump, best_bump
from companion.mount.doubt_words import (
    bump_words,
    geometry_doubts,
    hour_words,
    star_words,
    weak_words,
)
from companion.mount.doubts import Doubt, DoubtKind
from companion.mount.fit import fit
from companion.mount.hour import Shift, best_shift
from companion.mount.outliers import Outlier, leave_one_out
from companion.mount.records import Mount, Sighting
from companion.mount.stars import Fitting, StarsAt, fitting_stars

# What an explanation costs before it has explained anything, in sigma²: the rarer, the more.
_NO_STAR_COST: Final = 16.0  # the readings fit no bright star: misread, perhaps
_STAR_COST: Final = 6.0
_WEAK_COST: Final = 4.0  # a compass beside a car is the commonest of all
_HOUR_COST: Final = 10.0
_BUMP_COST: Final = 14.0
_UNLIKELY_SIGMAS: Final = 3.09  # one honest night in a thousand fits worse


@dataclass(frozen=True, slots=True, eq=False)
class _Suspect:
    """A sighting that might be the wrong one, and the star that it might be."""

    outlier: Outlier
    fits: tuple[Fitting, ...]
    cost: float


def examine(
    mount: Mount, sightings: Sequence[Sighting], stars_at: StarsAt, latitude_deg: float
) -> tuple[Doubt, ...]:
    """Question the sightings in use.

    Parameters
    ----------
    mount : Mount
        With its dials.
    sightings : sequence of Sighting
        Those set aside are passed over.
    stars_at : callable
        Gives the bright stars at a moment, those below the horizon too.
    latitude_deg : float
        Of the site, for the daily turn.

    Returns
    -------
    tuple of Doubt
        Wrong stars, a wrong hour or a bumped dial: the one explanation that fits best. After
        them come weak spots of the geometry. Empty when all is well.
    """
    used = [one for one in sightings if not one.set_aside]
    return (*_contradictions(mount, used, stars_at, latitude_deg), *geometry_doubts(used))


def _contradictions(
    mount: Mount, used: list[Sighting], stars_at: StarsAt, latitude_deg: float
) -> list[Doubt]:
    outliers = leave_one_out(mount, used)
    cost = fit(mount, used).cost
    if not any(one.questioned for one in outliers) and cost < _honest_cost(used):
        return []
    suspects = _suspects(outliers, stars_at)
    stars, star_cost = _wrong_stars(mount, used, suspects, stars_at)
    shift = best_shift(mount, used, latitude_deg) if _own(used) >= 2 else None
    bump = best_bump(mount, used)
    hour_cost = float("inf") if shift is None else shift.cost + _HOUR_COST
    bump_cost = float("inf") if bump is None else bump.cost + _BUMP_COST
    least = min(star_cost, hour_cost, bump_cost)
    if shift is not None and hour_cost == least and hour_cost < cost:
        return [_hour_doubt(used, shift)]
    if bump is not None and bump_cost == least and bump_cost < cost:
        return [_bump_doubt(bump)]
    return stars


def _own(used: Sequence[Sighting]) -> int:
    """Count the sightings of stars, without compass and level."""
    return sum(not one.weak for one in used)


def _honest_cost(used: Sequence[Sighting]) -> float:
    """Give the cost that one honest night in a thousand exceeds.

    The least cost of a fit with Gaussian priors is distributed as chi² with as many degrees of
    freedom as there are readings; its quantile by Wilson & Hilferty (1931, PNAS 17, 684).
    """
    readings = sum(
        (one.azimuth_reading_deg is not None) + (one.altitude_reading_deg is not None)
        for one in used
    )
    if not readings:
        return float("inf")
    ninth = 2.0 / (9.0 * readings)
    return float(readings * (1.0 - ninth + _UNLIKELY_SIGMAS * ninth**0.5) ** 3)


def _suspects(outliers: Sequence[Outlier], stars_at: StarsAt) -> list[_Suspect]:
    """Give the questioned sightings, the likeliest culprit first.

    The culprit is the one without which the rest fits best and whose readings fit another
    bright star; or the compass or level, which stand for no star.
    """
    found = []
    for one in outliers:
        if not one.questioned:
            continue
        fits: tuple[Fitting, ...] = ()
        if not one.sighting.weak:
            fits = fitting_stars(one.without, one.sighting, stars_at(one.sighting.utc))
        found.append(_Suspect(one, fits, one.without.cost + _lost(one, fits)))
    return sorted(found, key=lambda suspect: suspect.cost)


def _lost(one: Outlier, fits: Sequence[Fitting]) -> float:
    """Give what it costs to take a sighting for a wrong one."""
    if one.sighting.weak:
        return _WEAK_COST
    return fits[0].score + _STAR_COST if fits else _NO_STAR_COST


def _wrong_stars(
    mount: Mount, used: list[Sighting], suspects: list[_Suspect], stars_at: StarsAt
) -> tuple[list[Doubt], float]:
    """Question sightings one after the other until the rest agrees; give them and the cost.

    Of two sightings alone either may be the wrong one: both are questioned.
    """
    doubts: list[Doubt] = []
    spent = 0.0
    left = used
    while suspects:
        worst = suspects[0]
        alone = _own(left) <= 2
        doubts += [_star_doubt(one, left) for one in (suspects if alone else suspects[:1])]
        left = [one for one in left if one is not worst.outlier.sighting]
        remaining = worst.outlier.without.cost
        spent += worst.cost - remaining
        if alone or remaining < _honest_cost(left):
            return doubts, spent + remaining
        suspects = _suspects(leave_one_out(mount, left), stars_at)
    return doubts, spent + fit(mount, left).cost


def _star_doubt(suspect: _Suspect, used: list[Sighting]) -> Doubt:
    if suspect.outlier.sighting.weak:
        wrong, do = weak_words(suspect.outlier)
        return Doubt(DoubtKind.WEAK, (suspect.outlier.sighting,), wrong, do)
    wrong, do = star_words(suspect.outlier, suspect.fits, used)
    return Doubt(DoubtKind.STAR, (suspect.outlier.sighting,), wrong, do, suspect.fits)


def _hour_doubt(used: list[Sighting], shift: Shift) -> Doubt:
    wrong, do = hour_words(shift)
    concerned = tuple(one for one in used if not one.weak)
    return Doubt(DoubtKind.HOUR, concerned, wrong, do, hours=shift.hours)


def _bump_doubt(bump: Bump) -> Doubt:
    wrong, do = bump_words(bump)
    return Doubt(DoubtKind.BUMP, bump.earlier, wrong, do)
