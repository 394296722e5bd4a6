"""An alignment in words: how far it is trusted, what is not known yet, where to look first."""

from collections.abc import Sequence
from typing import Final

from companion.mount.aim import NO_AIM_DEG, Aim
from companion.mount.alignment import Alignment
from companion.mount.records import LEVELLED
from companion.sky import angle_text

SURE: Final = 0.95  # probability at which a field is worth looking into first
_MOST_NAMED: Final = 2
CONTRADICTED: Final = "the sightings contradict each other: no numbers yet"
_NAMES: Final = {
    "azimuth_zero": "where the azimuth dial's zero points",
    "altitude_zero": "where the altitude dial's zero points",
    "tilt_north": "tilt towards north",
    "tilt_east": "tilt towards east",
    "cone": "tube not square to its axis",
    "skew": "axes not square to each other",
    "sag": "sag of the tube",
}


def parameter_words(name: str) -> str:
    """Give the plain words for a parameter of ``model.PARAMETERS``."""
    return _NAMES[name]


def trust_words(alignment: Alignment, radius95_deg: float | None) -> str:
    """Say on how many sightings the alignment rests and how far it is trusted.

    Parameters
    ----------
    alignment : Alignment
        The fit.
    radius95_deg : float or None
        A typical radius, for instance the median over the queue; None where there is none.
    """
    stars = sum(not one.weak for one in alignment.used)
    doubted = sum(not one.weak for one in alignment.doubted)
    if (radius95_deg is None and not stars) or (radius95_deg or 0.0) > NO_AIM_DEG:
        return CONTRADICTED if doubted else "not aligned: sight a bright star"
    within = "" if radius95_deg is None else f", 95% of aims within {angle_text(radius95_deg)}"
    without = f", without {doubted} in doubt" if doubted else ""
    if not stars:
        names = (one.name for one in alignment.used if one.weak and one.target_key != LEVELLED)
        weak = ", ".join(dict.fromkeys(names))
        return f"by {weak or 'the set-up'} only{within}{without}"
    return f"aligned on {stars} star{'' if stars == 1 else 's'}{within}{without}"


def undetermined_words(alignment: Alignment) -> str:
    """Say what the sightings cannot tell yet; empty when they tell everything."""
    names = [parameter_words(name) for name in alignment.undetermined]
    if not names:
        return ""
    listed = names[0] if len(names) == 1 else f"{', '.join(names[:-1])} and {names[-1]}"
    return f"Not known yet: {listed}. Held at what is usual."


def field_words(aim: Aim, fields: Sequence[tuple[str, float]]) -> str:
    """Say how probably the target is in each field, and where to start.

    Parameters
    ----------
    aim : Aim
        With its error.
    fields : sequence of (str, float)
        Name as it is said ("finder", "25 mm") and diameter of the true field in degrees, in any
        order. The narrowest that holds the target with 95% is the one to start with; two are named,
        it and the next narrower one.

    Returns
    -------
    str
        For instance "in the finder 99%, in the 25 mm 71%: start with the finder".
    """
    wide_first = sorted(fields, key=lambda field: -field[1])
    if not aim.known:
        return "not aligned yet: sight a bright star first"
    if not wide_first:
        return f"95% within {angle_text(aim.radius95_deg)}"
    chances = [(name, aim.probability_within(width / 2.0)) for name, width in wide_first]
    sure = [name for name, chance in chances if chance >= SURE]
    first = max(0, min(len(sure) - 1, len(chances) - _MOST_NAMED))
    named = chances[first : first + _MOST_NAMED]
    listed = ", ".join(f"in the {name} {_percent(chance)}" for name, chance in named)
    if sure:
        return f"{listed}: start with the {sure[-1]}"
    sweep = angle_text(aim.radius95_deg)
    return f"{listed}: start with the {chances[0][0]} and sweep {sweep} around"


def _percent(chance: float) -> str:
    """Write a probability; nothing is ever quite sure or quite impossible."""
    if chance > 0.99:
        return "99%" if chance < 0.995 else "over 99%"
    return "under 1%" if chance < 0.01 else f"{chance * 100.0:.0f}%"
