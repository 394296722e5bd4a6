"""Finds the words for a way that lead, taken literally, to its target; else the way is not given.

Words are coarse: eight courses, quarters of a fist, halves and thirds of a gap. Each way of saying
is followed in thought, in every sense that a person could take it, and the easiest one that ends
near the target is said.
"""

import math
from collections.abc import Callable, Iterable, Mapping
from dataclasses import replace
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.finding.courses import OVERHEAD_DEG, SEEN, Course, Told, course_to
from companion.finding.guide import UP, GuideStars
from companion.finding.lines import angles_deg, cross, onward, point_between
from companion.finding.single_ways import Place
from companion.finding.way_words import (
    beside_sentence,
    between_sentence,
    chain_sentence,
    curve_sentence,
    line_sentence,
    member_sentence,
    nearest_times,
    times_words,
)
from companion.finding.ways import Way, WayKind
from companion.sky import as_fists

LANDS_DEG: Final = 1.8  # words that end farther from the target mislead
_GAPS_LAND_DEG: Final = 1.0  # along the line
_SIMPLY_DEG: Final = 1.0  # one straight step is said where it ends so near, else two
_ON_THE_LINE_DEG: Final = 0.75
_TURNED_DEG: Final = 60.0  # who follows a line so far around turns, and left and right with him
_CLEARLY_BRIGHTER: Final = 0.3
_CLEARLY_FARTHER: Final = 0.1  # of the group's size
_UP: Final = np.array(UP)


def said(stars: GuideStars, way: Way, place: Place) -> Way | None:
    """Give a way with its sentence, or nothing where all words would mislead."""
    if way.first is None:
        return _SAYERS[way.kind](stars, way, place)
    then = _SAYERS[WayKind.LINE if way.gap_deg else WayKind.BESIDE](stars, way, place)
    row = stars.rows[way.stars[-1]]
    star = Place(stars.vectors[row], stars.names[row], float(stars.magnitude[row]))
    first = then and said(stars, way.first, star)
    if then is None or first is None:
        return None
    return replace(then, first=first, sentence=chain_sentence(first, then.sentence))


def best_said(stars: GuideStars, ways: Iterable[Way], place: Place) -> Way | None:
    """Give the best way that words lead along, with its sentence."""
    ranked = sorted(ways, key=lambda way: way.rank)
    return next((spoken for way in ranked if (spoken := said(stars, way, place))), None)


def _line(stars: GuideStars, way: Way, place: Place) -> Way | None:
    a, b = (stars.vectors[stars.rows[hip]] for hip in way.stars)
    told = course_to(b, onward(a, b))
    side = _side(a, b, place) if way.miss_deg >= _ON_THE_LINE_DEG else None
    count, parts = nearest_times(way.gap_deg, way.extension_deg, _GAPS_LAND_DEG)
    by_gaps = count * way.gap_deg / parts - way.extension_deg
    by_fists = as_fists(way.extension_deg) - way.extension_deg
    courses = (told.course, None if side is None else side.course)
    times = times_words(count, parts) if count else ""
    for spoken, fists in ((times, True), (times, False), ("", True)):
        if not spoken and not fists:
            continue
        off = max(abs(by_gaps) if spoken else 0.0, abs(by_fists) if fists else 0.0)
        if _off_line_deg(off, way.miss_deg, side) <= LANDS_DEG:
            sentence = line_sentence(way, place.name, courses, times=spoken, fists=fists)
            return replace(way, course=courses[0], side=courses[1], sentence=sentence)
    return None


def _side(a: FloatArray, b: FloatArray, place: Place) -> Told:
    """Tell where a place lies off a line, seen by one who faces the line there."""
    normal = cross(a, b)
    foot = place.vector - (place.vector @ normal) / (normal @ normal) * normal
    foot /= np.linalg.norm(foot)
    side = course_to(foot, place.vector)
    around = math.degrees(
        abs(math.atan2(b[0] * foot[1] - b[1] * foot[0], b[0] * foot[0] + b[1] * foot[1]))
    )
    return course_to(foot, place.vector, overhead=True) if around > _TURNED_DEG else side


def _off_line_deg(along_deg: float, miss_deg: float, side: Told | None) -> float:
    """Give how far off the words for a line may end.

    Who goes the said distance off the line goes either square to it or straight the said course.
    """
    if side is None:
        return math.hypot(along_deg, miss_deg)
    far, turn = as_fists(miss_deg), math.radians(side.off_deg)
    square = math.hypot(along_deg, miss_deg - far)
    straight = math.hypot(along_deg + abs(far * math.sin(turn)), miss_deg - far * math.cos(turn))
    return max(square, straight)


def _off_step_deg(distance_deg: float, told: Told) -> float:
    """Give how far off one straight step ends: the flat law of cosines."""
    far = as_fists(distance_deg)
    turn = math.radians(told.off_deg)
    return math.hypot(distance_deg - far * math.cos(turn), far * math.sin(turn))


def _beside(stars: GuideStars, way: Way, place: Place) -> Way | None:
    star = stars.vectors[stars.rows[way.stars[-1]]]
    told = course_to(star, place.vector)
    once_off = _off_step_deg(way.distance_deg, told)
    steps: tuple[tuple[float, Course], ...] = ((way.distance_deg, told.course),)
    if once_off > _SIMPLY_DEG and told.course in SEEN:
        two, two_off = _two_steps(star, way, place)
        if two_off < once_off:
            steps, once_off = two, two_off
    if once_off > LANDS_DEG:
        return None
    return replace(way, course=told.course, sentence=beside_sentence(way, place.name, steps))


def _two_steps(
    star: FloatArray, way: Way, place: Place
) -> tuple[tuple[tuple[float, Course], ...], float]:
    """Give a step along the horizon and one up or down, the longer first, and how far off they end.

    They are taken one after the other, or both from the star as on a flat picture.
    """
    bearing = math.radians(way.bearing_deg)
    parts = [way.distance_deg * math.sin(bearing), way.distance_deg * math.cos(bearing)]
    courses = [SEEN[2 if parts[0] > 0.0 else 6], SEEN[0 if parts[1] > 0.0 else 4]]
    order = (0, 1) if abs(parts[0]) >= abs(parts[1]) else (1, 0)
    at = star
    for which in order:
        at = _gone(at, SEEN.index(courses[which]) * 45.0, as_fists(parts[which]))
    flat = math.hypot(*(abs(part) - as_fists(part) for part in parts))
    steps = tuple((abs(parts[which]), courses[which]) for which in order)
    return steps, max(flat, float(angles_deg(at, place.vector)))


def _gone(origin: FloatArray, bearing: float, distance_deg: float) -> FloatArray:
    """Give where one comes out who goes straight from a place."""
    x, y, z = origin.tolist()
    level = math.hypot(x, y)
    right = np.array([y / level, -x / level, 0.0])
    above = np.array([-x * z / level, -y * z / level, level])
    turn, far = math.radians(bearing), math.radians(distance_deg)
    ahead = math.sin(turn) * right + math.cos(turn) * above
    return np.asarray(math.cos(far) * origin + math.sin(far) * ahead)


def _between(stars: GuideStars, way: Way, place: Place) -> Way | None:
    a, b = (stars.vectors[stars.rows[hip]] for hip in way.stars)
    if way.miss_deg < _ON_THE_LINE_DEG:
        return replace(way, sentence=between_sentence(way, place.name, None))
    told = course_to(point_between(a, b, way.gaps), place.vector)
    if _off_step_deg(way.miss_deg, told) > LANDS_DEG:
        return None
    sentence = between_sentence(way, place.name, told.course)
    return replace(way, course=told.course, sentence=sentence)


def _curve(stars: GuideStars, way: Way, place: Place) -> Way | None:
    if abs(as_fists(way.extension_deg) - way.extension_deg) > LANDS_DEG:
        return None
    before, last = (stars.vectors[stars.rows[hip]] for hip in way.stars[-2:])
    course = course_to(last, onward(before, last)).course
    return replace(way, course=course, sentence=curve_sentence(way, place.name, course))


def _member(stars: GuideStars, way: Way, place: Place) -> Way | None:
    others = [stars.rows[hip] for hip in way.stars]
    fainter = stars.magnitude[others].min() - _CLEARLY_BRIGHTER
    if place.magnitude is not None and place.magnitude < fainter:
        mark = "brightest"
    else:
        mark = _farthest(place.vector, stars.vectors[others])
    return replace(way, sentence=member_sentence(way, place.name, mark))


def _farthest(own: FloatArray, others: FloatArray) -> str:
    """Say to which side of its group a star stands out; nothing where it does not, or overhead."""
    middle = others.mean(axis=0)
    middle /= np.linalg.norm(middle)
    if middle[2] > math.sin(math.radians(OVERHEAD_DEG)) or float(others.min(axis=0) @ middle) < 0:
        return ""
    right = np.cross(middle, _UP)
    right /= np.linalg.norm(right)
    above = np.cross(right, middle)
    apart = _CLEARLY_FARTHER * float(angles_deg(others, middle).max()) * math.pi / 180.0
    for axis, word in (
        (above, "highest"),
        (-above, "lowest"),
        (-right, "leftmost"),
        (right, "rightmost"),
    ):
        if float(own @ axis) > float((others @ axis).max()) + apart:
            return word
    return ""


_Sayer = Callable[[GuideStars, Way, Place], Way | None]
_SAYERS: Final[Mapping[WayKind, _Sayer]] = {
    WayKind.MEMBER: _member,
    WayKind.BESIDE: _beside,
    WayKind.LINE: _line,
    WayKind.BETWEEN: _between,
    WayKind.CURVE: _curve,
}
