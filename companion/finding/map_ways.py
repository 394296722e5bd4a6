"""Which line of a figure leads to which end, so that the words for it arrive there."""

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.finding.courses import Course, course_to
from companion.finding.curves import curve_ways
from companion.finding.figure_lines import Stroke, carried_on, follow_stroke
from companion.finding.figures import figure_of
from companion.finding.groups import Group
from companion.finding.guide import GuideStars
from companion.finding.lines import angles_deg, cross
from companion.finding.map_ends import End
from companion.finding.map_lengths import Length, length_of
from companion.finding.ways import Way, WayKind

_EXTENSION_DEG: Final = (3.0, 62.0)
_MOST_LENGTHS: Final = 3.3  # of a large group
_SMALL_REACH_DEG: Final = 34.0  # what a small one reaches
_MOST_GAPS: Final = 10.5
_TO_POLE: Final = 1.4  # times farther: no rival stands near a pole
_MISS_PART: Final = 0.075  # of the extension: what the eye strays from a line
_LEAST_MISS_DEG: Final = 1.5
# Nobody misses a light of the first magnitude beside a line; how far off it stands is said.
_BESIDE_MAG: Final = 1.6
_BESIDE_PART, _BESIDE_DEG = 0.25, 6.0
_SIDE_SLIP: Final = 0.4  # sine of what a course of eight may be off
LANDS_PART: Final = 0.12  # words may end so far off, as a part of the way
LANDS_DEG: Final = 2.5
_AS_BRIGHT_MAG: Final = 0.8
_RIVAL_DEG: Final = 5.0
_CLEARLY_MAG: Final = 0.4
_CLEARLY_NEARER: Final = 0.6
_CHAIN_PARTS: Final = (0.4, 1.6)
_MOST_BEND_DEG: Final = 35.0
_CURVE_WORTH: Final = 2.0
_CURVE_COST: Final = 0.3


@dataclass(frozen=True, slots=True, eq=False)
class Lead:
    """A way to an end before it is said. ``via`` is what a chain goes through."""

    end: End
    way: Way
    length: Length
    rival: str = ""  # what of like brightness stands near
    planet: str = ""  # a planet that stands near
    brighter: bool = False  # the end outshines the rival; else it is the nearer to the line's end
    via: "Lead | None" = None
    stroke: Stroke | None = None  # nothing where it bends on: a curve, or a chain from one
    side: Course | None = None  # where the end lies off the line, where that is said

    @property
    def bends(self) -> bool:
        """Whether it follows no straight line."""
        return self.stroke is None


@dataclass(frozen=True, slots=True, eq=False)
class Rivals:
    """What could be taken for an end: stars and planets that are seen, (n,)."""

    names: tuple[str, ...]
    hip: tuple[int, ...]  # 0 for planets
    magnitude: FloatArray
    vectors: FloatArray  # (n, 3)


@dataclass(frozen=True, slots=True, eq=False)
class Beginning:
    """The group that a map begins at, how long it is, and the sky around it."""

    stars: GuideStars
    group: Group
    own_deg: float
    rivals: Rivals


def direct_leads(
    begin: Beginning, strokes: Sequence[Stroke], ends: Sequence[End]
) -> tuple[Lead, ...]:
    """Give the best line of a figure to each end that one leads to."""
    found = []
    for end, near in zip(ends, _near(strokes, ends), strict=True):
        ways: list[tuple[Way, Stroke | None]] = list(_lines(begin, near, end))
        if end.worth <= _CURVE_WORTH and end.group is None:
            ways += [
                (replace(way, cost=_CURVE_COST), None)
                for way in curve_ways(begin.stars, end.vector)
                if way.group == begin.group
            ]
        leads = (_checked(begin, way, stroke, end) for way, stroke in ways)
        good = [lead for lead in leads if lead is not None]
        if good:
            found.append(min(good, key=lambda lead: lead.way.cost))
    return tuple(found)


def chained_leads(
    begin: Beginning, firsts: Sequence[Lead], ends: Iterable[End]
) -> tuple[Lead, ...]:
    """Give ways on through an end that was found, about as far again, to ends that no line has."""
    found = []
    for end in ends:
        if end.group is None and end.worth > _BESIDE_MAG:
            continue
        good = [
            lead
            for first in firsts
            if len(first.end.own) == 1 and not first.end.own & end.own
            for lead in _chains(begin, first, end)
        ]
        if good:
            found.append(min(good, key=lambda lead: lead.way.cost))
    return tuple(found)


def _near(strokes: Sequence[Stroke], ends: Sequence[End]) -> list[list[Stroke]]:
    """Give for each end the few strokes that pass near it at all."""
    if not strokes or not ends:
        return [[] for _end in ends]
    begins, lasts = (np.stack([getattr(s, at) for s in strokes]) for at in ("begin", "end"))
    normals = np.asarray(cross(begins, lasts))
    normals /= np.linalg.norm(normals, axis=1)[:, None]
    vectors = np.stack([end.vector for end in ends])
    widest = np.array([max(_BESIDE_DEG, end.across_deg / 4.0) for end in ends])
    ahead = np.asarray(cross(normals, lasts)) @ vectors.T > 0.0
    passes = ahead & (np.abs(normals @ vectors.T) <= np.sin(np.radians(widest)))
    return [[strokes[int(at)] for at in np.flatnonzero(column)] for column in passes.T]


def _lines(begin: Beginning, strokes: Sequence[Stroke], end: End) -> Iterator[tuple[Way, Stroke]]:
    reach_deg = min(max(_MOST_LENGTHS * begin.own_deg, _SMALL_REACH_DEG), _EXTENSION_DEG[1])
    figure = figure_of(begin.group)
    most_gaps = _MOST_GAPS * (_TO_POLE if end.is_pole else 1.0)
    for stroke in strokes:
        way = _line(begin, stroke, end)
        if not _EXTENSION_DEG[0] < way.extension_deg < reach_deg or way.gaps > most_gaps:
            continue
        if abs(way.miss_deg) <= _allowed_miss_deg(end, way.extension_deg):
            named = not stroke.is_bend and figure.pair(*stroke.hips)
            yield _costed(way, 0.0 if named else 0.4), stroke


def _line(begin: Beginning, stroke: Stroke, end: End) -> Way:
    followed = follow_stroke(stroke, end.vector)
    distance_deg = float(angles_deg(stroke.end, end.vector))
    rows = [begin.stars.rows[hip] for hip in stroke.hips]
    return Way(
        kind=WayKind.BEND if stroke.is_bend else WayKind.LINE,
        stars=stroke.hips,
        names=tuple(begin.stars.names[row] for row in rows),
        group=begin.group,
        gap_deg=stroke.gap_deg,
        extension_deg=followed.along_deg,
        gaps=followed.along_deg / stroke.gap_deg,
        distance_deg=distance_deg,
        miss_deg=followed.miss_deg,
        bearing_deg=0.0,
        cost=0.0,
    )


def _allowed_miss_deg(end: End, extension_deg: float) -> float:
    """Give how far a line may pass from an end: a group is met anywhere in its middle half."""
    on_line_deg = max(_MISS_PART * extension_deg, _LEAST_MISS_DEG, end.across_deg / 4.0)
    if not end.is_pole and end.worth > _BESIDE_MAG:
        return on_line_deg
    return max(on_line_deg, min(_BESIDE_PART * extension_deg, _BESIDE_DEG))


def _costed(way: Way, extra: float) -> Way:
    strays = abs(way.miss_deg) / max(way.extension_deg, 1.0)
    cost = 0.06 * max(way.gaps - 5.0, 0.0) + 8.0 * max(strays - 0.03, 0.0)
    return replace(way, cost=cost + 0.02 * way.extension_deg + extra)


def _checked(begin: Beginning, way: Way, stroke: Stroke | None, end: End) -> Lead | None:
    """Give a lead whose words end near, with what else stands there; nothing where they mislead."""
    lead = Lead(end, way, length_of(way.extension_deg, begin.own_deg), stroke=stroke)
    landing = end.vector if stroke is None else carried_on(stroke, lead.length.said_deg)
    if stroke is not None:
        lead = _with_side(lead, stroke)
        off_deg = float(angles_deg(landing, end.vector))
        if lead.side is not None:
            along_deg = lead.length.said_deg - way.extension_deg
            off_deg = math.hypot(along_deg, _SIDE_SLIP * way.miss_deg)
        if off_deg > max(LANDS_DEG, LANDS_PART * way.extension_deg, end.across_deg / 3.0):
            return None
    if end.group is not None or end.target.magnitude is None:
        return lead
    return _against_rivals(lead, landing, begin.rivals)


def _with_side(lead: Lead, stroke: Stroke) -> Lead:
    """Say the side where an end stands clearly beside its line."""
    way = lead.way
    on_line_deg = max(_MISS_PART * way.extension_deg, LANDS_DEG, lead.end.across_deg / 3.0)
    if abs(way.miss_deg) <= on_line_deg:
        return lead
    foot = carried_on(stroke, way.extension_deg)
    return replace(lead, side=course_to(foot, lead.end.vector).course)


def _against_rivals(lead: Lead, landing: FloatArray, rivals: Rivals) -> Lead | None:
    """Name the star or planet that the eye could take instead; nothing where it would."""
    end = lead.end
    own_off = float(angles_deg(landing, end.vector))
    apart = angles_deg(rivals.vectors, landing)
    known = end.own | set(lead.way.stars)
    near = [
        row
        for row, hip in enumerate(rivals.hip)
        if (hip == 0 or hip not in known)
        and rivals.magnitude[row] <= end.worth + _AS_BRIGHT_MAG
        and apart[row] <= max(own_off + 2.0, _RIVAL_DEG)
    ]
    if not near:
        return lead
    planet = next((row for row in near if rivals.hip[row] == 0), None)
    near = [row for row in near if rivals.hip[row]]
    if planet is not None:
        lead = replace(lead, planet=rivals.names[planet])
    if not near:
        return lead
    worst = min(near, key=lambda row: float(rivals.magnitude[row]))
    if float(rivals.magnitude[worst]) >= end.worth + _CLEARLY_MAG:
        return replace(lead, rival=rivals.names[worst], brighter=True)
    nearest = min(near, key=lambda row: float(apart[row]))
    if own_off < _CLEARLY_NEARER * float(apart[nearest]):
        return replace(lead, rival=rivals.names[nearest])
    return None


def _chains(begin: Beginning, first: Lead, end: End) -> Iterator[Lead]:
    """Give the ways to an end that go through another end, straight on or bending on."""
    (via,) = first.end.own
    stars = begin.stars
    starts = begin.group.stars if first.end.is_pole else (first.way.stars[-1],)
    for start in starts:
        if start not in stars.rows or via not in stars.rows:
            continue
        stroke = Stroke((start, via), stars.vectors[stars.rows[start]], first.end.vector)
        way = _line(begin, stroke, end)
        on = way.distance_deg / way.gap_deg
        if not _CHAIN_PARTS[0] < on < _CHAIN_PARTS[1] or way.extension_deg <= 0.0:
            continue
        lead = None
        if first.way.kind is WayKind.CURVE and _bends_on(stars, first, end):
            bent = replace(way, extension_deg=way.distance_deg, miss_deg=0.0, gaps=on)
            chain = replace(bent, kind=WayKind.CHAIN, first=first.way, cost=_CURVE_COST)
            lead = _checked(begin, chain, None, end)
        elif abs(way.miss_deg) <= _allowed_miss_deg(end, way.extension_deg):
            extra = 0.6 if first.end.is_pole else 1.6
            chain = replace(_costed(way, extra), kind=WayKind.CHAIN, first=first.way)
            lead = _checked(begin, chain, stroke, end)
        if lead is not None:
            yield replace(lead, via=first)


def _bends_on(stars: GuideStars, curve: Lead, end: End) -> bool:
    """Say whether going on from a curve's end to another turns to the same side, and gently."""
    before, last = (stars.vectors[stars.rows[hip]] for hip in curve.way.stars[-2:])
    middle = curve.end.vector
    if end.group is not None or end.worth > _BESIDE_MAG:
        return False
    was = _turn_deg(before, last, middle)
    turn = _turn_deg(last, middle, end.vector)
    return was * turn > 0.0 and abs(turn) <= _MOST_BEND_DEG


def _turn_deg(before: FloatArray, at: FloatArray, after: FloatArray) -> float:
    """Give by how much who goes over three places turns at the middle one."""
    came, goes = np.asarray(cross(before, at)), np.asarray(cross(at, after))
    side = float(np.asarray(cross(came, goes)) @ at)
    return float(np.degrees(np.arctan2(side, came @ goes)))
