"""The best few ways to a place in the sky by eye, and where one group leads."""

from collections.abc import Iterator, Sequence
from typing import Final

import numpy as np

from companion.arrays import BoolArray
from companion.finding.chains import chain_ways
from companion.finding.courses import course_to
from companion.finding.curves import CATCHES_THE_EYE, curve_ways
from companion.finding.groups import Group
from companion.finding.guide import LOWEST_DEG, GuideStars
from companion.finding.lines import angles_deg, follow, known_pairs, pairs_of
from companion.finding.saying import best_said, said
from companion.finding.single_ways import (
    Place,
    beside_way,
    beside_ways,
    best_lines,
    between_ways,
    line_costs,
    line_ways,
)
from companion.finding.way_words import go_words
from companion.finding.ways import Way, WayKind, Ways
from companion.sky import fists_text

_MOST_OF_ONE_GROUP: Final = 2
_FAR_BESIDE_DEG: Final = 25.0
_TRIED: Final = 4  # lines of a group to one place, until words lead along one


def ways_to(
    stars: GuideStars, place: Place, *, from_group: Group | None = None, most: int = 4
) -> Ways:
    """Give the best ways to a place from the stars that can be used now.

    Parameters
    ----------
    stars : GuideStars
        What is up, clear and bright enough.
    place : Place
        Where to go, in the same frame; its magnitude decides whether a curve may lead there.
    from_group : Group, optional
        Only ways that begin at this group.
    most : int, optional
        At most so many.
    """
    advice = _advice_before(stars, place, from_group)
    if advice:
        return Ways((), advice)
    found = [way for way in _all_ways(stars, place, from_group) if _begins_at(way, from_group)]
    found += _far_beside(stars, from_group, place) if from_group and not found else []
    alike = most if from_group else _MOST_OF_ONE_GROUP
    chosen = tuple(_varied(stars, found, place, most, alike))
    return Ways(chosen, _advice_after(stars, place, chosen, from_group))


def _all_ways(stars: GuideStars, place: Place, group: Group | None) -> list[Way]:
    leads = place.leads(stars.hip, angles_deg(stars.vectors, place.vector))
    pairs = pairs_of(stars, group) if group else known_pairs(stars)
    if not leads.all():
        pairs = pairs.where(leads[pairs.first] & leads[pairs.second])
    lines = follow(stars, pairs, place.vector[None, :])
    found = beside_ways(stars, place)
    found += line_ways(stars, lines)
    found += between_ways(stars, lines, place)
    if _catches_the_eye(place):
        found += [way for way in curve_ways(stars, place.vector) if _leaves_out(way, stars, leads)]
    found += [way for way in chain_ways(stars, group, place) if _leaves_out(way, stars, leads)]
    return found


def _far_beside(stars: GuideStars, group: Group, place: Place) -> list[Way]:
    """Give the plain way from each star of a group that is not too far."""
    rows = stars.members[stars.groups.index(group)]
    apart = angles_deg(stars.vectors[rows], place.vector)
    near = rows[(apart < _FAR_BESIDE_DEG) & place.leads(stars.hip[rows], apart)]
    return [beside_way(stars, row, place, group) for row in near.tolist()]


def _leaves_out(way: Way, stars: GuideStars, leads: BoolArray) -> bool:
    """Keep ways that do not use the target itself as a star on the way."""
    return all(
        leads[stars.rows[hip]] for hip in (*way.stars, *(way.first.stars if way.first else ()))
    )


def round_of(
    stars: GuideStars, group: Group, places: Sequence[Place]
) -> tuple[tuple[Place, Way], ...]:
    """Give what one group leads to among many places, each with its best line, nearest first.

    Stars of the group itself are left out; a place that no line of the group reaches is missing,
    and of those that only a long one reaches all that does not catch the eye.
    """
    if group not in stars.groups or not places:
        return ()
    number = stars.groups.index(group)
    pairs = pairs_of(stars, group)
    lines = follow(stars, pairs, np.stack([place.vector for place in places]))
    costs = line_costs(stars, lines)
    own, own_hips = stars.vectors[stars.members[number]], stars.hip[stars.members[number]]
    found: list[tuple[Place, Way]] = []
    for column, place in enumerate(places):
        ways = best_lines(stars, lines, costs, column, _TRIED)
        if _catches_the_eye(place):
            ways += [way for way in curve_ways(stars, place.vector) if way.group == group]
        if ways and place.leads(own_hips, angles_deg(own, place.vector)).all():
            way = best_said(stars, ways, place)
            if way is not None and (not way.is_long or _catches_the_eye(place)):
                found.append((place, way))
    return tuple(sorted(found, key=lambda lead: lead[1].distance_deg))


def _catches_the_eye(place: Place) -> bool:
    return place.magnitude is not None and place.magnitude <= CATCHES_THE_EYE


def _begins_at(way: Way, group: Group | None) -> bool:
    if group is None:
        return True
    return (way.first or way).stars[0] in group.stars


def _varied(
    stars: GuideStars, found: list[Way], place: Place, most: int, alike: int
) -> Iterator[Way]:
    """Choose the best that can be said, not all from one star or group, none long beside short."""
    chosen: list[Way] = []
    for way in sorted(found, key=lambda way: way.rank):
        if len(chosen) == most or (chosen and way.rank[0] and not chosen[0].rank[0]):
            return
        same_end = any(_alike(other, way) for other in chosen)
        same_group = sum(other.group == way.group for other in chosen if way.group)
        if same_end or same_group >= alike:
            continue
        if spoken := said(stars, way, place):
            chosen.append(spoken)
            yield spoken


def _alike(one: Way, other: Way) -> bool:
    """Say whether two ways go on from the same star; how to find that star first is another."""
    if WayKind.MEMBER in {one.kind, other.kind}:  # names a group, and starts nowhere
        return False
    return one.stars[-1] == other.stars[-1] and (one.first is None) == (other.first is None)


def _advice_before(stars: GuideStars, place: Place, group: Group | None) -> str:
    """Say why there can be no way at all."""
    if place.altitude_deg < place.floor_deg:
        return f"{place.name} is below the horizon: nothing leads there now."
    if not len(stars.hip):
        return "No star can be seen now: it is too bright, or the horizon hides them all."
    if group is not None and group not in stars.groups:
        return (
            f"{group.name} cannot be made out now: it is too low, or the sky is too bright. "
            "Choose another group."
        )
    if not stars.groups:
        return "No star group can be made out now: too few of their stars are up and bright enough."
    return ""


def _advice_after(
    stars: GuideStars, place: Place, chosen: tuple[Way, ...], group: Group | None
) -> str:
    if not chosen and group:
        return (
            f"From {group.called} nothing points to {place.name} now: {_where(stars, place, group)}"
        )
    if not chosen:
        start = f"No pair of stars points to {place.name} now"
        return f"{start}: set the dials, or hop from a bright star."
    if place.altitude_deg < LOWEST_DEG:
        return f"{place.name} stands only {place.altitude_deg:.0f}° high: haze may hide it."
    return ""


def _where(stars: GuideStars, place: Place, group: Group) -> str:
    """Say roughly how a place lies to a group: too far for a way."""
    rows = stars.members[stars.groups.index(group)]
    apart = angles_deg(stars.vectors[rows], place.vector)
    nearest = stars.vectors[rows[int(apart.argmin())]]
    course = go_words(course_to(nearest, place.vector).course)
    return f"it stands roughly {fists_text(float(apart.min()))} {course}. Begin at another group."
