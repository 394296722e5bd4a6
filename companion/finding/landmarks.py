"""What tells a star from its neighbours in the view: its rank, a partner, a figure, its colour."""

from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.finding.field_stars import FieldStars
from companion.finding.lines import angles_deg

_PAIR_PART: Final = 0.08  # of the field: so near, two stars are seen as one thing
_PAIR_MAGNITUDES: Final = 1.0
_ORANGE: Final = 1.4  # B - V of a star that looks orange
_ORANGE_MAGNITUDE: Final = 5.5  # fainter stars show no colour
_SAME_DEG: Final = 0.003
_ROW: Final = 0.06  # height over length of three stars that pass for a straight row


def landmark(stars: FieldStars, row: int, field_deg: float) -> str:
    """Say what marks a star in a field that is centred on it; often several things, or nothing."""
    near = stars.within(stars.vectors[row], field_deg / 2.0, 400)
    others = near[near != row]
    brighter = int((stars.magnitude[others] < stars.magnitude[row] - 0.1).sum())
    rank = ("the brightest in the field", "the second brightest in the field")
    words = [rank[brighter]] if brighter < 2 and len(others) else []
    if not len(others):
        words.append("alone in the field")
    apart = angles_deg(stars.vectors[others], stars.vectors[row])
    alike = np.abs(stars.magnitude[others] - stars.magnitude[row]) < _PAIR_MAGNITUDES
    close = apart < _PAIR_PART * field_deg
    if (close & alike).any():
        words.append("one of a close pair")
    if figure := figure_with(stars.vectors[row], stars.vectors[others[~close][:2]]):
        words.append(figure)
    if stars.colour_index[row] > _ORANGE and stars.magnitude[row] < _ORANGE_MAGNITUDE:
        words.append("orange")
    return ", ".join(words)


def place_landmark(stars: FieldStars, vector: FloatArray, field_deg: float) -> str:
    """Say how a place lies to the two brightest stars of a field that is centred on it."""
    near = stars.within(vector, field_deg / 2.0, 3)
    others = [row for row in near if angles_deg(stars.vectors[row], vector) > _SAME_DEG]
    return figure_with(vector, stars.vectors[others[:2]])


def figure_with(vector: FloatArray, others: FloatArray) -> str:
    """Name the figure that a direction makes with two others; nothing where it makes none.

    The kinds are told by the height over the longest side and by the sides' ratios; the limits
    are our own judgement.
    """
    if len(others) < 2:
        return ""
    corners = np.vstack([vector, others])
    sides = angles_deg(corners[[0, 1, 2]], corners[[1, 2, 0]])  # towards 1, between, towards 2
    longest, middle, shortest = np.sort(sides)[::-1]
    if shortest < _SAME_DEG:
        return ""
    half = sides.sum() / 2.0
    area = np.sqrt(max(half * np.prod(half - sides), 0.0))
    flatness = 2.0 * area / longest**2
    if flatness < _ROW:
        return f"{'in the middle' if sides[1] == longest else 'at the end'} of a row of three"
    kinds = (
        ("a flat", flatness < 0.25),
        ("an even", longest < 1.2 * shortest),
        ("a right-angled", abs(longest**2 - middle**2 - shortest**2) < 0.12 * longest**2),
        ("a slender", middle > 1.8 * shortest),
        ("a", True),
    )
    return f"in {next(kind for kind, fits in kinds if fits)} triangle with two stars"
