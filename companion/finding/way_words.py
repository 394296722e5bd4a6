"""Ways said in one plain sentence."""

from typing import Final

from companion.finding.ways import Way, WayKind
from companion.sky import fists_text

_DIRECTIONS: Final = (
    "up", "up and to the right", "to the right", "down and to the right",
    "down", "down and to the left", "to the left", "up and to the left",
)  # fmt: skip
_ON_THE_LINE_DEG: Final = 0.75
_TIMES: Final = {1: "half", 2: "once", 3: "one and a half times", 4: "twice"}
_NUMBERS: Final = (
    "no",
    "one",
    "two",
    "three",
    "four",
    "five",
    "six",
    "seven",
    "eight",
    "nine",
    "ten",
)
_PARTS: Final = (
    (0.5, "halfway"),
    (1.0 / 3.0, "a third of the way"),
    (0.25, "a quarter of the way"),
)


def direction_words(bearing_deg: float) -> str:
    """Say a direction, clockwise from up: ``up``, ``down and to the left`` and so on."""
    return _DIRECTIONS[round((bearing_deg % 360.0) / 45.0) % 8]


def times_words(gaps: float) -> str:
    """Say a multiple to the nearest half: ``twice``, ``two and a half times``; small ones finer."""
    if gaps < 0.42:
        return "a quarter of" if gaps < 0.29 else "a third of"
    halves = max(1, round(gaps * 2.0))
    if halves in _TIMES:
        return _TIMES[halves]
    whole, half = divmod(halves, 2)
    count = _NUMBERS[whole] if whole < len(_NUMBERS) else str(whole)
    return f"{count} and a half times" if half else f"{count} times"


def part_words(part: float) -> str:
    """Say where between two stars, counted from the first."""
    return min(_PARTS, key=lambda known: abs(known[0] - part))[1]


def sentence_of(way: Way, name: str) -> str:
    """Say one way to what is called ``name``."""
    return _WRITERS[way.kind](way, name)


def _of_group(way: Way) -> str:
    return f" of {way.group.called}" if way.group else ""


def _line(way: Way, name: str) -> str:
    first, second = way.names
    end = (
        "lies on the line"
        if way.miss_deg < _ON_THE_LINE_DEG
        else f"lies {fists_text(way.miss_deg)} to the {way.side} of the line"
    )
    return (
        f"From {first} through {second}{_of_group(way)} go on {way.direction}, "
        f"{times_words(way.gaps)} their gap, about {fists_text(way.extension_deg)}: {name} {end}."
    )


def _between(way: Way, name: str) -> str:
    first, second = way.names
    part = part_words(way.gaps)
    where = f"{part} between {first} and {second}"
    if part != "halfway":
        where = f"{part} from {first} to {second}"
    off = (
        ""
        if way.miss_deg < _ON_THE_LINE_DEG
        else f", then {fists_text(way.miss_deg)} {way.direction}"
    )
    return f"Go {where}{_of_group(way)}{off}: there is {name}."


def _beside(way: Way, name: str) -> str:
    return (
        f"From {way.names[0]}{_of_group(way)} go {fists_text(way.distance_deg)} {way.direction}: "
        f"there is {name}."
    )


def _curve(way: Way, name: str) -> str:
    return (
        f"Follow the curve from {way.names[0]} to {way.names[-1]}{_of_group(way)} on "
        f"{way.direction}, bending as it bends, about {fists_text(way.extension_deg)}: {name} is "
        "the bright light there."
    )


def _member(way: Way, name: str) -> str:
    return f"{name} is itself a star{_of_group(way)}."


def _chain(way: Way, name: str) -> str:
    before = way.first
    start = "" if before is None else f"First: {before.sentence} Then: "
    return start + (_line if way.gap_deg else _beside)(way, name)


_WRITERS: Final = {
    WayKind.MEMBER: _member,
    WayKind.BESIDE: _beside,
    WayKind.LINE: _line,
    WayKind.BETWEEN: _between,
    WayKind.CURVE: _curve,
    WayKind.CHAIN: _chain,
}
