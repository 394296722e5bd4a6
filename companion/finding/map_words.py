"""A guide map in sentences: where to face, along which part of the figure, how far, one check."""

from dataclasses import replace
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.finding.courses import Course, course_to
from companion.finding.figures import figure_of
from companion.finding.groups import Group
from companion.finding.guide import GuideStars
from companion.finding.lines import angles_deg, onward
from companion.finding.map_ends import End
from companion.finding.map_ways import Lead, Rivals
from companion.finding.way_words import NUMBERS, go_words, off_words
from companion.finding.ways import WayKind
from companion.sky import compass_point, fists_text

_LEAN_DEG: Final = 55.0  # who looks higher leans back
_STRAIGHT_UP_DEG: Final = 78.0
_ORANGE: Final = 1.1  # B - V that a beginner sees as orange in a bright star
_BLUE: Final = 0.0
_SHOWS_COLOUR_MAG: Final = 1.5
_CLEARLY_MAG: Final = 0.3
_SEVERAL: Final = frozenset(
    {"pointers", "southern-pointers", "pleiades", "twins", "kids", "cats-eyes"}
)
_CROWD_DEG: Final = 3.0
_ALONE_DEG: Final = 10.0
_NEIGHBOUR_DEG: Final = 5.0
_NEIGHBOUR_MAG: Final = 1.2
_SEEN_BESIDE_MAG: Final = 2.6


def azimuth_altitude_deg(vector: FloatArray) -> tuple[float, float]:
    """Give azimuth and altitude of a seen unit vector (3,)."""
    x, y, z = vector.tolist()
    azimuth = float(np.degrees(np.arctan2(-y, x)) % 360.0)
    return azimuth, float(np.degrees(np.arcsin(np.clip(z, -1.0, 1.0))))


def stand_words(vector: FloatArray) -> str:
    """Say where something stands: ``in the south-east, four fists up``."""
    azimuth, altitude = azimuth_altitude_deg(vector)
    if altitude > _STRAIGHT_UP_DEG:
        return "nearly overhead"
    return f"in the {compass_point(azimuth, 8)}, {fists_text(altitude)} up"


def face_words(vector: FloatArray) -> str:
    """Say how to stand: ``Face north, lean back``."""
    azimuth, altitude = azimuth_altitude_deg(vector)
    lean = ", lean back" if altitude > _LEAN_DEG else ""
    return f"Face {compass_point(azimuth, 8)}{lean}"


def group_words(group: Group, middle: FloatArray, own_deg: float) -> str:
    """Say where the group itself stands and how long it is."""
    stands = "stand" if group.key in _SEVERAL else "stands"
    return (
        f"{face_words(middle)}: {group.called} {stands} {stand_words(middle)}, "
        f"{fists_text(own_deg)} long."
    )


def lead_sentence(stars: GuideStars, group: Group, lead: Lead, check: str) -> str:
    """Say the way to one end."""
    facing = "" if lead.via else f"{face_words(last_of(stars, lead))}: "
    line = _carry(lead, group, go_words(course_of(stars, lead)))
    length = lead.length.words(figure_of(group).length)
    side = ""
    if lead.side is not None:
        side = f" {off_words(fists_text(lead.way.miss_deg), lead.side)}"
    words = f"{facing}{line}, {length}: {_there(lead.end, side)}, {stand_words(lead.end.vector)}"
    rival = _rival(replace(lead, rival="") if lead.rival and lead.rival in check else lead)
    return f"{words[:1].upper()}{words[1:]}{rival}. Check: {check}."


def last_of(stars: GuideStars, lead: Lead) -> FloatArray:
    """Give where the line of a lead ends and the way on begins, (3,)."""
    return lead.stroke.end if lead.stroke else stars.vectors[stars.rows[lead.way.stars[-1]]]


def course_of(stars: GuideStars, lead: Lead) -> Course:
    """Give which way a lead goes on at the end of its line."""
    last = last_of(stars, lead)
    if lead.stroke is not None:
        return course_to(last, onward(lead.stroke.begin, last)).course
    if lead.via is not None:
        return course_to(last, lead.end.vector).course
    return course_to(last, onward(stars.vectors[stars.rows[lead.way.stars[-2]]], last)).course


def _carry(lead: Lead, group: Group, go: str) -> str:
    way, figure = lead.way, figure_of(group)
    if lead.via is not None and lead.bends:
        return f"from {way.names[-1]} go on {go}, bending the same way"
    parts = [_part(group, hip, name) for hip, name in zip(way.stars, way.names, strict=True)]
    if way.kind is WayKind.CURVE:
        curve = figure.curve or f"the curve of {group.called}"
        return f"follow {curve}, {way.names[0]} to {way.names[-1]}, on {go}, bending as it bends"
    if way.kind is WayKind.BEND and lead.stroke is not None and lead.stroke.opens:
        return f"from {parts[0]} go midway between {way.names[1]} and {way.names[2]} and on {go}"
    if way.kind is WayKind.BEND:
        return (
            f"from midway between {way.names[0]} and {way.names[1]} go through {parts[2]} on {go}"
        )
    pair = figure.pair(way.stars[0], way.stars[1])
    if pair and lead.via is None:
        return f"carry {pair}, {way.names[0]} to {way.names[1]}, on {go}"
    return f"from {parts[0]} go through {parts[1]} and on {go}"


def _part(group: Group, hip: int, name: str) -> str:
    part = figure_of(group).stars.get(hip)
    return name if part is None or part.endswith(name) else f"{part} ({name})"


def _there(end: End, side: str) -> str:
    if end.target.key == "point:south-pole":
        return "there is the south pole of the sky, where no bright star stands"
    name = end.group.called if end.group else end.target.name
    is_there = "are" if end.group and end.group.key in _SEVERAL else "is"
    return f"{name} {is_there}{side}" if side else f"there {is_there} {name}"


def _rival(lead: Lead) -> str:
    """Say what else stands near the line's end, and how to tell it."""
    if lead.planet:
        planet = f"; the steady light near it is {lead.planet}, a planet"
        return planet + _rival(replace(lead, planet=""))
    if not lead.rival:
        return ""
    if lead.brighter:
        return f"; it is the brighter one, the other is {lead.rival}"
    return f"; {lead.rival} stands farther from the line's end"


def check_words(
    stars: GuideStars, group: Group, end: End, rivals: Rivals, latitude_deg: float
) -> str:
    """Give one check by which the end is known: motion, colour, rank, a neighbour, its height."""
    if end.target.key == "point:south-pole":
        return f"straight down from there is south, {fists_text(end.altitude_deg)} below"
    if end.is_pole:
        return (
            f"it stands as high as your latitude says, {fists_text(abs(latitude_deg))}, "
            "and in half an hour it has not moved from a roof's edge"
        )
    if end.group is not None and end.across_deg < _CROWD_DEG:
        return "a small crowd of stars, close together"
    if end.group is not None:
        count = sum(hip in stars.rows for hip in end.own)
        return f"{NUMBERS[count]} stars make it, {fists_text(end.across_deg)} across"
    return _star_check(stars, group, end, rivals)


def _star_check(stars: GuideStars, group: Group, end: End, rivals: Rivals) -> str:
    colour = end.target.colour_index
    if colour is not None and end.worth <= _SHOWS_COLOUR_MAG:
        if colour >= _ORANGE:
            return "it is orange"
        if colour < _BLUE and end.worth <= 1.0:
            return "it is white with a touch of blue"
    if beside := _neighbour(end, rivals):
        return beside
    members = [stars.rows[hip] for hip in group.stars if hip in stars.rows]
    if end.worth <= float(stars.magnitude[members].min()) - _CLEARLY_MAG:
        return f"it is brighter than any star of {group.called}"
    if _is_alone(end, rivals):
        return "no star as bright stands within a fist of it"
    return f"it stands {fists_text(end.altitude_deg)} above the horizon"


def _neighbour(end: End, rivals: Rivals) -> str:
    apart = angles_deg(rivals.vectors, end.vector)
    near = [
        row
        for row, hip in enumerate(rivals.hip)
        if hip and hip not in end.own
        and apart[row] <= _NEIGHBOUR_DEG
        and rivals.magnitude[row] <= _SEEN_BESIDE_MAG
        and abs(float(rivals.magnitude[row]) - end.worth) <= _NEIGHBOUR_MAG
    ]  # fmt: skip
    if not near:
        return ""
    row = min(near, key=lambda row: float(rivals.magnitude[row]))
    side = go_words(course_to(end.vector, rivals.vectors[row]).course)
    return f"{rivals.names[row]} stands beside it, {fists_text(float(apart[row]))} {side}"


def _is_alone(end: End, rivals: Rivals) -> bool:
    apart = angles_deg(rivals.vectors, end.vector)
    as_bright = rivals.magnitude <= end.worth
    others = np.array([hip not in end.own for hip in rivals.hip])
    return not bool((as_bright & others & (apart < _ALONE_DEG)).any())
