"""Takes a sentence at its word, as a person under the sky would, and says where that leads.

Independent of the program: plain trigonometry on azimuth and altitude, and only what stands in the
sentence. Where it can be taken in two senses, both are followed.
"""

import math
import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass

Vector = tuple[float, float, float]  # east, north, up

HANDS = {
    "less than a finger": 0.3,
    "a finger": 1.0,
    "two fingers": 2.0,
    "a quarter of a fist": 2.5,
    "half a fist": 5.0,
    "three quarters of a fist": 7.5,
    "a fist": 10.0,
    "a fist and a quarter": 12.5,
    "a fist and a half": 15.0,
    "a fist and three quarters": 17.5,
}
NUMBERS = ("no", "one", "two", "three", "four", "five", "six", "seven", "eight", "nine", "ten")
PARTS = {
    "a quarter": 1 / 4,
    "a third": 1 / 3,
    "a half": 1 / 2,
    "half": 1 / 2,
    "two thirds": 2 / 3,
    "three quarters": 3 / 4,
    "three quarter": 3 / 4,
}
SEEN = {
    "up": 0.0,
    "up and to the right": 45.0,
    "to the right": 90.0,
    "down and to the right": 135.0,
    "down": 180.0,
    "down and to the left": 225.0,
    "to the left": 270.0,
    "up and to the left": 315.0,
    "above": 0.0,
    "above and to the right of": 45.0,
    "to the right of": 90.0,
    "below and to the right of": 135.0,
    "below": 180.0,
    "below and to the left of": 225.0,
    "to the left of": 270.0,
    "above and to the left of": 315.0,
}
POINTS = (
    "north", "north-north-east", "north-east", "east-north-east",
    "east", "east-south-east", "south-east", "south-south-east",
    "south", "south-south-west", "south-west", "west-south-west",
    "west", "west-north-west", "north-west", "north-north-west",
)  # fmt: skip
WRONG_WAY_DEG = 23.0  # a course that is farther off leads the eye away

_COURSE = r"(?:up|down|to the)[a-z ]*?|towards the [a-z-]+ horizon"
_LINE = re.compile(
    rf"From (?P<a>.+?) through (?P<b>.+?)(?: of (?P<group>.+?))? go on (?P<course>{_COURSE}), "
    r"(?P<far>[^:]+): (?P<name>.+) lies (?P<end>.+)\."
)
_BESIDE = re.compile(
    rf"From (?P<a>.+?)(?: of (?P<group>.+?))? go (?P<far>[a-z ]+?) (?P<course>{_COURSE})"
    rf"(?: and (?P<far2>[a-z ]+?) (?P<course2>{_COURSE}))?: "
    r"there is (?P<name>.+)\."
)
_BETWEEN = re.compile(
    r"Go (?P<part>halfway|a third of the way|a quarter of the way) (?:between|from) (?P<a>.+?) "
    r"(?:and|to) (?P<b>.+?)(?: of (?P<group>.+?))?"
    rf"(?:, then (?P<far>[a-z ]+?) (?P<course>{_COURSE}))?: there is (?P<name>.+)\."
)
_HOP = re.compile(
    r"(?:From .+? go to (?P<hour>\d+) o'clock, (?P<part>[a-z ]+?)(?: of a| a) field \("
    r"(?P<size>[\d.]+)(?P<unit>[°′])\))"
)
_END = re.compile(
    r"(?P<far>.+?) (?P<side>(?:above|below|to the)[a-z ]*?) the line"
    r"|(?P<far2>.+?) off the line, (?P<course>towards the [a-z-]+ horizon)"
)


@dataclass(frozen=True)
class Landing:
    """Where a sentence leads, in one sense; a course against the line leads nowhere."""

    vector: Vector
    wrong_way_deg: float = 0.0


def direction(azimuth_deg: float, altitude_deg: float) -> Vector:
    """Give the unit vector of a direction."""
    a, h = math.radians(azimuth_deg), math.radians(altitude_deg)
    return math.cos(h) * math.sin(a), math.cos(h) * math.cos(a), math.sin(h)


def apart_deg(a: Vector, b: Vector) -> float:
    """Give the angle between two directions (Vincenty's form)."""
    return math.degrees(math.atan2(math.hypot(*_cross(a, b)), _dot(a, b)))


def landings(sentence: str, sky: Mapping[str, Vector]) -> list[Landing]:
    """Give every place that one step's sentence leads to when taken at its word.

    Parameters
    ----------
    sentence : str
        One step: what stands after ``First:`` or ``Then:``.
    sky : mapping
        Where the stars stand that it may name.

    Raises
    ------
    ValueError
        If nobody could understand it.
    """
    if match := _LINE.fullmatch(sentence):
        return list(_line(match, sky))
    if match := _BETWEEN.fullmatch(sentence):
        return list(_between(match, sky))
    if match := _BESIDE.fullmatch(sentence):
        return list(_beside(match, sky))
    raise ValueError(sentence)


def hop_landings(sentence: str, start: Vector, field_deg: float) -> list[Vector]:
    """Give where a step through a finder that turns the view upside down leads, at its word.

    Raises
    ------
    ValueError
        If nobody could understand it.
    """
    match = _HOP.match(sentence)
    if match is None:
        raise ValueError(sentence)
    turn = math.radians(30.0 * int(match["hour"]) + 180.0)
    right = _unit((start[1], -start[0], 0.0))
    above = _cross(right, start)
    ahead = _plus(_times(above, math.cos(turn)), _times(right, math.sin(turn)))
    exact = float(match["size"]) / (60.0 if match["unit"] == "′" else 1.0)
    if match["part"] is None:
        return [_go(start, ahead, exact)]
    part = 0.1 if match["part"] == "a tenth" else PARTS[match["part"]]
    return [_go(start, ahead, exact), _go(start, ahead, part * field_deg)]


def hand_deg(words: str) -> float:
    """Give the angle that a hand at arm's length measures."""
    if words in HANDS:
        return HANDS[words]
    match = re.fullmatch(r"(\w+)(?: and (a quarter|a half|three quarter))? fists", words)
    if match is None:
        raise ValueError(words)
    return 10.0 * (NUMBERS.index(match[1]) + (PARTS[match[2]] if match[2] else 0.0))


def times(words: str) -> float:
    """Give the multiple of a gap that is meant."""
    if words in {"once", "twice"}:
        return {"once": 1.0, "twice": 2.0}[words]
    if words.removesuffix(" of") in PARTS:
        return PARTS[words.removesuffix(" of")]
    match = re.fullmatch(r"(\w+)(?: and (.+))? times", words)
    if match is None:
        raise ValueError(words)
    return NUMBERS.index(match[1]) + (PARTS[match[2]] if match[2] else 0.0)


def _line(match: re.Match[str], sky: Mapping[str, Vector]) -> Iterator[Landing]:
    a, b = sky[match["a"]], sky[match["b"]]
    for far in match["far"].split(", "):
        if far.startswith("about "):
            distance = hand_deg(far.removeprefix("about "))
        else:
            distance = times(far.removesuffix(" their gap")) * apart_deg(a, b)
        ahead = _tangent(b, a, -1.0)
        wrong = _between_deg(ahead, _ahead(b, match["course"]))
        foot = _go(b, ahead, distance)
        for landing in _off(match["end"], foot, _cross(a, b)):
            yield Landing(landing, wrong)


def _off(end: str, foot: Vector, normal: Vector) -> Iterator[Vector]:
    """Go off the line: straight the said course, and square to the line on that side."""
    if end == "on the line":
        yield foot
        return
    match = _END.fullmatch(end)
    if match is None:
        raise ValueError(end)
    distance = hand_deg(match["far"] or match["far2"])
    said = _ahead(foot, match["side"] or match["course"])
    yield _go(foot, said, distance)
    square = _unit(normal)
    yield _go(foot, square if _dot(square, said) > 0.0 else _times(square, -1.0), distance)


def _between(match: re.Match[str], sky: Mapping[str, Vector]) -> Iterator[Landing]:
    a, b = sky[match["a"]], sky[match["b"]]
    part = {"halfway": 0.5, "a third of the way": 1 / 3, "a quarter of the way": 0.25}
    point = _go(a, _tangent(a, b), part[match["part"]] * apart_deg(a, b))
    if match["far"]:
        point = _go(point, _ahead(point, match["course"]), hand_deg(match["far"]))
    yield Landing(point)


def _beside(match: re.Match[str], sky: Mapping[str, Vector]) -> Iterator[Landing]:
    star = sky[match["a"]]
    first = hand_deg(match["far"])
    at = _go(star, _ahead(star, match["course"]), first)
    if not match["far2"]:
        yield Landing(at)
        return
    second = hand_deg(match["far2"])
    yield Landing(_go(at, _ahead(at, match["course2"]), second))
    # Or both from the star, as on a picture of the sky around it.
    one, two = _ahead(star, match["course"]), _ahead(star, match["course2"])
    both = _plus(_times(one, first), _times(two, second))
    yield Landing(_go(star, _unit(both), math.hypot(first, second)))


def _ahead(at: Vector, words: str) -> Vector:
    """Give the direction in which a person at a place in the sky is sent, as a tangent."""
    if words in SEEN:
        right = _unit((at[1], -at[0], 0.0))
        above = _cross(right, at)
        turn = math.radians(SEEN[words])
        return _plus(_times(above, math.cos(turn)), _times(right, math.sin(turn)))
    point = words.removeprefix("towards the ").removesuffix(" horizon")
    return _tangent(at, direction(22.5 * POINTS.index(point), 0.0))


def _tangent(at: Vector, to: Vector, sign: float = 1.0) -> Vector:
    """Give the tangent at a place towards another one, or away from it."""
    return _unit(_times(_plus(to, _times(at, -_dot(at, to))), sign))


def _go(at: Vector, tangent: Vector, distance_deg: float) -> Vector:
    far = math.radians(distance_deg)
    return _plus(_times(at, math.cos(far)), _times(tangent, math.sin(far)))


def _between_deg(a: Vector, b: Vector) -> float:
    return apart_deg(a, b)


def _dot(a: Vector, b: Vector) -> float:
    return a[0] * b[0] + a[1] * b[1] + a[2] * b[2]


def _cross(a: Vector, b: Vector) -> Vector:
    return a[1] * b[2] - a[2] * b[1], a[2] * b[0] - a[0] * b[2], a[0] * b[1] - a[1] * b[0]


def _times(a: Vector, factor: float) -> Vector:
    return a[0] * factor, a[1] * factor, a[2] * factor


def _plus(a: Vector, b: Vector) -> Vector:
    return a[0] + b[0], a[1] + b[1], a[2] + b[2]


def _unit(a: Vector) -> Vector:
    return _times(a, 1.0 / math.hypot(*a))
