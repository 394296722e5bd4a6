"""Ways said in plain sentences: which words there are, and what numbers they stand for."""

from typing import Final

from companion.finding.courses import SEEN, Course
from companion.finding.ways import Way
from companion.sky import fists_text

_GO: Final = dict(
    zip(
        SEEN,
        (
            "up", "up and to the right", "to the right", "down and to the right",
            "down", "down and to the left", "to the left", "up and to the left",
        ),
        strict=True,
    )
)  # fmt: skip
_OFF: Final = dict(
    zip(
        SEEN,
        (
            "above", "above and to the right of", "to the right of", "below and to the right of",
            "below", "below and to the left of", "to the left of", "above and to the left of",
        ),
        strict=True,
    )
)  # fmt: skip
NUMBERS: Final = (
    "no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten",
)  # fmt: skip
# What the eye parts a gap into, the easiest first: halves, thirds, quarters.
_EASY_PARTS: Final = (2, 3, 4)
_PARTS: Final = {
    (1, 2): "half", (1, 3): "a third of", (2, 3): "two thirds of", (1, 4): "a quarter of",
    (3, 4): "three quarters of",
}  # fmt: skip
_AND_PARTS: Final = {
    (1, 2): "a half", (1, 3): "a third", (2, 3): "two thirds", (1, 4): "a quarter",
    (3, 4): "three quarter",
}  # fmt: skip
_POINTS: Final = {2: "halfway", 3: "a third of the way", 4: "a quarter of the way"}


def go_words(course: Course) -> str:
    """Say a course: ``up and to the right``, ``towards the north-east horizon``."""
    return _GO.get(course) or f"towards the {course} horizon"


def nearest_times(gap_deg: float, extension_deg: float, within_deg: float) -> tuple[int, int]:
    """Give the easiest fraction of a gap that comes near enough to an extension.

    Returns
    -------
    tuple of int
        Numerator and denominator; (0, 1) where no fraction of halves, thirds or quarters does, or
        nobody counts so far.
    """
    for parts in _EASY_PARTS:
        count = round(extension_deg / gap_deg * parts)
        near = abs(count * gap_deg / parts - extension_deg) <= within_deg
        if near and count > 0 and count // parts < len(NUMBERS):
            return count, parts
    return 0, 1


def times_words(count: int, parts: int) -> str:
    """Say a multiple of a gap: ``half``, ``twice``, ``two and a third times``."""
    whole, rest = divmod(count, parts)
    part = _least(rest, parts)
    if not whole:
        return _PARTS[part]
    if rest:
        return f"{NUMBERS[whole]} and {_AND_PARTS[part]} times"
    return ("once", "twice")[whole - 1] if whole < 3 else f"{NUMBERS[whole]} times"


def _least(count: int, parts: int) -> tuple[int, int]:
    return (count // 2, parts // 2) if parts == 4 and count % 2 == 0 else (count, parts)


def line_sentence(
    way: Way, name: str, courses: tuple[Course, Course | None], *, times: str, fists: bool
) -> str:
    """Say a way along two stars: the course on, the side off it if any, how far in gaps if any."""
    (on, side), far_off = courses, fists_text(way.miss_deg)
    first, second = way.names
    far = [f"{times} their gap"] if times else []
    far += [f"about {fists_text(way.extension_deg)}"] if fists else []
    return (
        f"From {first} through {second}{_of_group(way)} go on {go_words(on)}, {', '.join(far)}: "
        f"{name} lies {'on the line' if side is None else off_words(far_off, side)}."
    )


def off_words(far: str, side: Course) -> str:
    """Say where something lies off a line: ``a fist above the line``."""
    if side in _OFF:
        return f"{far} {_OFF[side]} the line"
    return f"{far} off the line, towards the {side} horizon"


def between_sentence(way: Way, name: str, course: Course | None) -> str:
    """Say a way to a point between two stars, and from there."""
    first, second = way.names
    point = _POINTS[round(1.0 / way.gaps)]
    where = f"between {first} and {second}" if way.gaps == 0.5 else f"from {first} to {second}"
    off = "" if course is None else f", then {fists_text(way.miss_deg)} {go_words(course)}"
    return f"Go {point} {where}{_of_group(way)}{off}: there is {name}."


def beside_sentence(way: Way, name: str, steps: tuple[tuple[float, Course], ...]) -> str:
    """Say a way from one star in one or two straight steps, each in degrees."""
    far = " and ".join(f"{fists_text(deg)} {go_words(course)}" for deg, course in steps)
    return f"From {way.names[0]}{_of_group(way)} go {far}: there is {name}."


def curve_sentence(way: Way, name: str, course: Course) -> str:
    """Say a way along a curved row."""
    return (
        f"Follow the curve from {way.names[0]} to {way.names[-1]}{_of_group(way)} on "
        f"{go_words(course)}, bending as it bends, about {fists_text(way.extension_deg)}: {name} "
        "is the bright light there."
    )


def member_sentence(way: Way, name: str, mark: str) -> str:
    """Say which of its group's stars the target is, by what marks it, if anything does."""
    which = f"the {mark}" if mark else "one"
    count = NUMBERS[len(way.group.stars)] if way.group else ""
    return f"{name} is {which} of the {count} stars{_of_group(way)}."


def chain_sentence(first: Way, then: str) -> str:
    """Say two steps after each other."""
    return f"First: {first.sentence} Then: {then}"


def _of_group(way: Way) -> str:
    return f" of {way.group.called}" if way.group else ""
