"""Grades of visibility from margin and uncertainty."""

from enum import StrEnum

import numpy as np
from numpy.typing import ArrayLike

from companion.arrays import FloatArray, RowArray
from companion.night.sight.air import EXTINCTION_SIGMA, airmass
from companion.night.sight.objects import NightObjects
from companion.night.sight.observer import Conditions


class Grade(StrEnum):
    """How a thing shows, as a stable code. Best first."""

    EASY = "easy"
    FAIR = "fair"
    HARD = "hard"
    DOUBTFUL = "doubtful"
    OUT_OF_REACH = "out_of_reach"
    UNKNOWN = "unknown"


def grade_text(grade: Grade) -> str:
    """Say a grade in words: "out of reach"."""
    return grade.value.replace("_", " ")


GRADES = tuple(Grade)
_EASY_MAG, _FAIR_MAG = 2.0, 1.0  # to spare
# Spread of thresholds between people and nights (Schaefer 1990 compares his formula with some
# 300 observations; the figure is from memory), and what an assumed sky adds to it.
LIMIT_SIGMA, _ASSUMED_SKY_SIGMA = 0.4, 0.3


def uncertainty_mag(
    objects: NightObjects, altitude_deg: ArrayLike, conditions: Conditions
) -> FloatArray:
    """One standard deviation of the margin: brightness, air, sky and person; shape (n,)."""
    assumed = _ASSUMED_SKY_SIGMA if conditions.assumed else 0.0
    air = EXTINCTION_SIGMA * airmass(altitude_deg)
    return np.asarray(np.sqrt(objects.sigma_mag**2 + LIMIT_SIGMA**2 + assumed**2 + air**2))


def grade_numbers(
    margin_mag: ArrayLike,
    sigma_mag: ArrayLike,
    guessed: ArrayLike = False,
    brighter_mag: ArrayLike = 0.0,
) -> RowArray:
    """Give the number in ``GRADES`` of each margin.

    Within one standard deviation of the limit nothing better than doubtful is said, and of a
    guessed brightness nothing better than hard. A variable star out of reach at its faint end is
    doubtful if it may be ``brighter_mag`` brighter. NaN is unknown.
    """
    margin, sigma = np.asarray(margin_mag, dtype=np.float64), np.asarray(sigma_mag)
    with np.errstate(invalid="ignore"):
        number = np.asarray(
            np.select(
                [np.isnan(margin), margin < -sigma, margin < sigma, margin < _FAIR_MAG],
                [5, 4, 3, 2],
                np.where(margin < _EASY_MAG, 1, 0),
            ),
            dtype=np.intp,
        )
    out, doubtful = GRADES.index(Grade.OUT_OF_REACH), GRADES.index(Grade.DOUBTFUL)
    may_show = margin + np.asarray(brighter_mag, dtype=np.float64) > 0.0
    number = np.where((number == out) & may_show, doubtful, number)
    return np.where(guessed, np.maximum(number, GRADES.index(Grade.HARD)), number)
