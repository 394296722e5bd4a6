"""Sightings of another star than was meant, or misread: which, and how probable that is."""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Final

import numpy as np

from companion.mount.alignment import Alignment
from companion.mount.doubts import Fitting
from companion.mount.observations import observations_of
from companion.mount.outliers import Outlier, leave_one_out
from companion.mount.predict import misread
from companion.mount.records import Mount, Sighting
from companion.mount.stars import OtherStar, StarsAt, other_star

# How probable each is before the sightings say anything (common practice, no source).
_OTHER_STAR: Final = 0.03
_MISREAD: Final = 0.01
_WEAK_WRONG: Final = 0.1  # a compass beside a car is the commonest of all
_MISREAD_DEG: Final = 3.0  # by a mark or a few; or else by anything
_ANYWHERE: Final = -math.log(360.0 * 90.0)  # logarithm of the density of readings of any kind
_ANY_WEAK: Final = -math.log(360.0)

_AS_GOOD: Final = math.log(20.0)  # suspects that are less probable by more are not named
# The work is counted, not timed: the same sightings always get the same answer.
_MOST_ROUNDS: Final = 8  # sightings that are questioned one after the other
_MOST_ROWS: Final = 100  # sightings fitted in a round, those of all its fits together
_FEWEST_REFITTED: Final = 3  # of those that agree least; of ten sightings all are


@dataclass(frozen=True, slots=True, eq=False)
class Suspect:
    """A sighting that may be wrong, and the stars that it may have been.

    ``log_evidence`` is that of all readings if this one is wrong and the others are right.
    """

    outlier: Outlier
    fits: tuple[Fitting, ...]
    log_evidence: float


@dataclass(frozen=True, slots=True, eq=False)
class WrongStars:
    """The supposition that some sightings are wrong.

    ``rounds`` holds the suspects of each round, the likeliest first: one of them is wrong.
    ``left`` are the sightings that no round has doubted; ``settled`` tells that they agree, and
    are not fewer than the wrong ones. ``first`` are the suspects if just one were wrong, whether
    or not that is more probable than that all are right, and ``first_log_evidence`` is theirs.
    """

    rounds: tuple[tuple[Suspect, ...], ...]
    left: tuple[Sighting, ...]
    log_evidence: float
    settled: bool
    first: tuple[Suspect, ...]
    first_log_evidence: float


def wrong_stars(alignment: Alignment, stars_at: StarsAt) -> WrongStars:
    """Take sightings for wrong, one after the other, while that makes the rest more probable.

    The work is bounded: after eight sightings it is given up, unsettled, and of many sightings
    only the few that agree least with all others are looked into.
    """
    mount, left = alignment.mount, list(alignment.used)
    present = alignment.posterior.log_evidence
    spent, rounds = 0.0, []
    settled, tried = False, list[tuple[Suspect, ...]]()
    for _ in range(_MOST_ROUNDS):
        suspects = _suspects(mount, left, stars_at)
        tried.append(suspects)
        if not suspects or _together(suspects) <= present:
            settled = True
            break
        rounds.append(suspects)
        worst = suspects[0].outlier
        left = [one for one in left if one is not worst.sighting]
        present = worst.without.posterior.log_evidence
        spent += suspects[0].log_evidence - present
    first = rounds[0] if len(rounds) == 1 else ()
    evidence = _together(first) if first else spent + present
    doubted = [one.outlier.sighting for suspects in rounds for one in suspects]
    return WrongStars(
        tuple(rounds),
        tuple(one for one in alignment.used if one not in doubted),
        evidence,
        settled and (len(rounds) < 2 or _own(left) >= len(rounds)),
        tried[0],
        _together(tried[0]) if tried[0] else float("-inf"),
    )


def _own(sightings: Sequence[Sighting]) -> int:
    return sum(not one.weak for one in sightings)


def _together(suspects: Sequence[Suspect]) -> float:
    return float(np.logaddexp.reduce([one.log_evidence for one in suspects]))


def _suspects(mount: Mount, left: list[Sighting], stars_at: StarsAt) -> tuple[Suspect, ...]:
    """Give the sightings of which one is wrong, if any, the likeliest first."""
    if len(left) < 2:
        return ()
    most = max(_FEWEST_REFITTED, _MOST_ROWS // len(left))
    found = [_suspect(one, stars_at) for one in leave_one_out(mount, left, most)]
    found.sort(key=lambda one: -one.log_evidence)
    return tuple(one for one in found if one.log_evidence > found[0].log_evidence - _AS_GOOD)


def _suspect(outlier: Outlier, stars_at: StarsAt) -> Suspect:
    sighting, without = outlier.sighting, outlier.without
    others = without.posterior.log_evidence
    if sighting.weak:
        return Suspect(outlier, (), others + math.log(_WEAK_WRONG) + _ANY_WEAK)
    other = OtherStar((), float("-inf"))
    if outlier.questioned:
        other = other_star(without, sighting, stars_at(sighting.utc))
    near = misread(without, observations_of(without.mount, [sighting]), _MISREAD_DEG)[0]
    anything = np.logaddexp(near, _ANYWHERE) + math.log(_MISREAD / 2.0)
    wrong = float(np.logaddexp(other.log_density + math.log(_OTHER_STAR), anything))
    return Suspect(outlier, other.fits, others + wrong)
