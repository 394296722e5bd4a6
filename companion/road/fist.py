"""One's own fist, measured on two stars: how many fists fit between them."""

import math
from dataclasses import dataclass

from companion.advice import AdviceError, check_within
from companion.sky import NARROWEST_FIST_DEG, WIDEST_FIST_DEG, SearchIndex, Target, unit_vectors

_LEAST_DEG, _MOST_DEG = 5.0, 90.0  # apart: less is laid off badly, more is not seen at one go


@dataclass(frozen=True, slots=True)
class Fist:
    """What two stars say of a fist; ``apart_deg`` is the angle between them."""

    fist_deg: float
    apart_deg: float
    names: tuple[str, str]


def measured_fist(search: SearchIndex, fists: float, first: str, second: str) -> Fist:
    """Give how wide a fist is of which so many fit between two stars.

    Raises
    ------
    AdviceError
        If a name is not that of something fixed, the two are too near or too far, or no fist is
        as wide as that.
    """
    one, other = (_fixed(search, name) for name in (first, second))
    a, b = (unit_vectors(t.ra_deg or 0.0, t.dec_deg or 0.0) for t in (one, other))
    apart_deg = math.degrees(math.acos(max(-1.0, min(1.0, float((a * b).sum())))))
    names = f"{one.name} and {other.name}"
    if not _LEAST_DEG <= apart_deg <= _MOST_DEG:
        raise AdviceError(
            f"{names} stand {apart_deg:.0f}° apart.",
            f"Choose two that are {_LEAST_DEG:.0f}° to {_MOST_DEG:.0f}° apart.",
        )
    check_within("number of fists", fists, 0.25, 18.0)
    fist_deg = apart_deg / fists
    if not NARROWEST_FIST_DEG <= fist_deg <= WIDEST_FIST_DEG:
        raise AdviceError(
            f"{names} stand {apart_deg:.0f}° apart: a fist of {fist_deg:.1f}° is nobody's.",
            "Stretch the arm fully, one eye closed, and count again.",
        )
    return Fist(fist_deg, apart_deg, (one.name, other.name))


def _fixed(search: SearchIndex, name: str) -> Target:
    target = search.resolve(name)
    if target.ra_deg is None or target.dec_deg is None:
        raise AdviceError(f"{target.name} moves.", "Choose two stars.")
    return target
