"""Which sightings are to be doubted, what would explain them, and a fit without them."""

import math
from collections.abc import Sequence
from typing import Final

import numpy as np

from companion.mount.alignment import Alignment
from companion.mount.bump import Bump, best_bump
from companion.mount.doubt_words import (
    bump_words,
    confused_words,
    geometry_doubts,
    hour_words,
    lean_doubts,
    star_words,
    unsure_words,
    weak_words,
)
from companion.mount.doubts import Doubt, DoubtKind
from companion.mount.fit import fit
from companion.mount.hour import Shift, best_shift
from companion.mount.records import Mount, Sighting
from companion.mount.stars import StarsAt
from companion.mount.wrong_stars import Suspect, WrongStars, wrong_stars

_CALM: Final = 0.01  # nothing is looked into while one honest night in a hundred fits worse
_CALM_NOISE_DEG: Final = 0.4  # nor while the dials read about as they should
_NO_SENSE: Final = 1e-6  # an explanation that fits worse explains nothing
_POSITIVE: Final = math.log(3.0)
_STRONG: Final = math.log(20.0)
_NEVER: Final = float("-inf")


def examine(
    mount: Mount, sightings: Sequence[Sighting], stars_at: StarsAt, latitude_deg: float
) -> tuple[Doubt, ...]:
    """Question the sightings in use.

    All explanations are compared by the probability of the readings under each, times how
    probable it was before (Kass & Raftery 1995, *J. Am. Statist. Assoc.* 90, 773): that all is
    well, with dials that read worse than they should or a base that leans more than most; that
    stars were mistaken or misread; that the clock is wrong; that something was bumped. What is
    said is the most probable of them. The work is bounded, whatever was typed.

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
    alignment = fit(mount, used)
    doubts = [] if _is_calm(alignment) else _contradictions(alignment, stars_at, latitude_deg)
    return (*(doubts or lean_doubts(alignment)), *geometry_doubts(used))


def _is_calm(alignment: Alignment) -> bool:
    noise_deg = np.degrees(alignment.posterior.extra[0]).max()
    return (
        alignment.posterior.tail > _CALM
        and noise_deg < _CALM_NOISE_DEG
        and not lean_doubts(alignment)
    )


def _contradictions(alignment: Alignment, stars_at: StarsAt, latitude_deg: float) -> list[Doubt]:
    mount, used = alignment.mount, alignment.used
    stars = wrong_stars(alignment, stars_at)
    shift = best_shift(mount, used, latitude_deg) if _own(used) >= 2 else None
    bump = best_bump(mount, used)
    honest = alignment.posterior
    evidence = [
        honest.log_evidence,
        stars.log_evidence if stars.rounds else _NEVER,
        _NEVER if shift is None else shift.log_evidence,
        _NEVER if bump is None else bump.log_evidence,
    ]
    likeliest = evidence.index(max(evidence))
    if likeliest < 2 and _is_undecided(alignment, stars):
        return _unsure_doubts(alignment, stars)
    if likeliest == 1:
        return _star_doubts(stars, used)
    if likeliest == 2 and shift is not None and shift.tail > _NO_SENSE:
        return [_hour_doubt(used, shift)]
    if likeliest == 3 and bump is not None and bump.tail > _NO_SENSE:
        return [_bump_doubt(bump)]
    return [] if likeliest == 0 and honest.tail > _NO_SENSE else [_confused_doubt(0, used, used)]


def _is_undecided(alignment: Alignment, stars: WrongStars) -> bool:
    """Tell whether a base that leans far and another star would explain the readings alike.

    After Kass & Raftery: three times as probable is what speaks for the lean at all, twenty times
    is strong; only on strong evidence is somebody told to have taken another star.
    """
    lean = alignment.posterior.log_evidence - stars.first_log_evidence
    alike = -_STRONG < lean < _POSITIVE
    return alike and bool(lean_doubts(alignment)) and bool(_suspected(stars))


def _suspected(stars: WrongStars) -> tuple[Suspect, ...]:
    return tuple(one for one in stars.first if not one.outlier.sighting.weak)


def _unsure_doubts(alignment: Alignment, stars: WrongStars) -> list[Doubt]:
    """Ask about every sighting that may be of another star instead of a base that leans."""
    doubts = []
    for suspect in _suspected(stars):
        sighting = suspect.outlier.sighting
        wrong, do = unsure_words(alignment, sighting, suspect.fits)
        doubts.append(Doubt(DoubtKind.UNSURE, (sighting,), wrong, do, suspect.fits))
    return doubts


def _own(used: Sequence[Sighting]) -> int:
    """Count the sightings of stars, without compass and level."""
    return sum(not one.weak for one in used)


def _star_doubts(stars: WrongStars, used: Sequence[Sighting]) -> list[Doubt]:
    """Question the suspects of every round, each beside what the rounds before it left."""
    looked = len(stars.rounds)
    doubts = [] if stars.settled else [_confused_doubt(looked, stars.left, used)]
    left = list(used)
    for suspects in stars.rounds:
        doubts += [_star_doubt(one, left) for one in suspects]
        left.remove(suspects[0].outlier.sighting)
    return doubts


def _star_doubt(suspect: Suspect, used: Sequence[Sighting]) -> Doubt:
    if suspect.outlier.sighting.weak:
        wrong, do = weak_words(suspect.outlier)
        return Doubt(DoubtKind.WEAK, (suspect.outlier.sighting,), wrong, do)
    wrong, do = star_words(suspect.outlier, suspect.fits, used)
    exchanged = suspect.outlier.exchanged
    sighting = (suspect.outlier.sighting,)
    return Doubt(DoubtKind.STAR, sighting, wrong, do, suspect.fits, exchanged=exchanged)


def _confused_doubt(looked: int, left: Sequence[Sighting], used: Sequence[Sighting]) -> Doubt:
    wrong, do = confused_words(looked, len(used))
    return Doubt(DoubtKind.CONFUSED, tuple(left), wrong, do)


def _hour_doubt(used: Sequence[Sighting], shift: Shift) -> Doubt:
    wrong, do = hour_words(shift)
    concerned = tuple(one for one in used if not one.weak)
    return Doubt(DoubtKind.HOUR, concerned, wrong, do, hours=shift.hours)


def _bump_doubt(bump: Bump) -> Doubt:
    wrong, do = bump_words(bump)
    return Doubt(DoubtKind.BUMP, bump.earlier, wrong, do)


def trusted(mount: Mount, sightings: Sequence[Sighting], doubts: Sequence[Doubt]) -> Alignment:
    """Fit a mount to those of its sightings that nothing contradicts: aims are made from it.

    Where it is not known which of two is the wrong one, or all would be explained by a wrong
    clock, none of them is trusted, and the radius says that little is known.

    Parameters
    ----------
    mount : Mount
        With its dials.
    sightings : sequence of Sighting
        Those set aside are passed over.
    doubts : sequence of Doubt
        What ``examine`` said of them. A sighting that was kept counts all the same; how badly it
        fits makes the radius wider.
    """
    questioned = (one for doubt in doubts if doubt.contradicts for one in doubt.sightings)
    doubted = [one for one in questioned if not one.kept]
    return fit(mount, sightings, tuple(dict.fromkeys(doubted)))
