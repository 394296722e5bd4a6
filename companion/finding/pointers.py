"""The best few ways to a place in the sky by eye, and where one group leads."""

from collections.abc import Sequence
from dataclasses import replace
from typing import Final

import numpy as np
from numpy.typing import NDArray

from companion.finding.chains import chain_ways
from companion.finding.curves import CATCHES_THE_EYE, curve_ways
from companion.finding.groups import Group
from companion.finding.guide import LOWEST_DEG, GuideStars
from companion.finding.lines import angles_deg, follow, known_pairs, pairs_of
from companion.finding.single_ways import (
    SAME_DEG,
    Place,
    beside_way,
    beside_ways,
    best_lines,
    between_ways,
    line_costs,
    line_ways,
)
from companion.finding.way_words import sentence_of
from companion.finding.ways import Way, Ways

_MOST_OF_ONE_GROUP: Final = 2


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
    if from_group and not found:
        found = [_far_beside(stars, from_group, place)]
    found.sort(key=lambda way: way.cost)
    alike = most if from_group else _MOST_OF_ONE_GROUP
    chosen = tuple(
        replace(way, sentence=sentence_of(way, place.name)) for way in _varied(found, most, alike)
    )
    return Ways(chosen, _advice_after(place, chosen, from_group))


def _all_ways(stars: GuideStars, place: Place, group: Group | None) -> list[Way]:
    apart = angles_deg(stars.vectors, place.vector) >= SAME_DEG
    pairs = pairs_of(stars, group) if group else known_pairs(stars)
    pairs = pairs.where(apart[pairs.first] & apart[pairs.second])
    lines = follow(stars, pairs, place.vector[None, :])
    found = beside_ways(stars, place)
    found += line_ways(stars, lines)
    found += between_ways(stars, lines, place)
    if place.magnitude is not None and place.magnitude <= CATCHES_THE_EYE:
        found += [way for way in curve_ways(stars, place.vector) if _leaves_out(way, stars, apart)]
    found += [way for way in chain_ways(stars, group, place) if _leaves_out(way, stars, apart)]
    return found


def _far_beside(stars: GuideStars, group: Group, place: Place) -> Way:
    """Give the plain direction and distance from the group's nearest star."""
    rows = stars.members[stars.groups.index(group)]
    nearest = rows[int(angles_deg(stars.vectors[rows], place.vector).argmin())]
    return beside_way(stars, int(nearest), place, group)


def _leaves_out(way: Way, stars: GuideStars, apart: NDArray[np.bool_]) -> bool:
    """Keep ways that do not use the target itself as a star on the way."""
    return all(
        apart[stars.rows[hip]] for hip in (*way.stars, *(way.first.stars if way.first else ()))
    )


def round_of(
    stars: GuideStars, group: Group, places: Sequence[Place]
) -> tuple[tuple[Place, Way], ...]:
    """Give what one group leads to among many places, each with its best line, nearest first.

    Stars of the group itself are left out; a place that no line of the group reaches is missing.
    """
    if group not in stars.groups or not places:
        return ()
    number = stars.groups.index(group)
    pairs = pairs_of(stars, group)
    lines = follow(stars, pairs, np.stack([place.vector for place in places]))
    costs = line_costs(stars, lines)
    own = stars.vectors[stars.members[number]]
    found = []
    for column, place in enumerate(places):
        ways = best_lines(stars, lines, costs, column, 1)
        if place.magnitude is not None and place.magnitude <= CATCHES_THE_EYE:
            ways += [way for way in curve_ways(stars, place.vector) if way.group == group]
        if ways and float(angles_deg(own, place.vector).min()) >= SAME_DEG:
            way = min(ways, key=lambda way: way.cost)
            found.append((place, replace(way, sentence=sentence_of(way, place.name))))
    return tuple(sorted(found, key=lambda lead: lead[1].distance_deg))


def _begins_at(way: Way, group: Group | None) -> bool:
    if group is None:
        return True
    return (way.first or way).stars[0] in group.stars


def _varied(found: list[Way], most: int, alike: int) -> list[Way]:
    """Choose the best, but not all from one star or one group."""
    chosen: list[Way] = []
    for way in found:
        same_end = any(other.stars[-1] == way.stars[-1] for other in chosen)
        same_group = sum(other.group == way.group for other in chosen if way.group)
        if not same_end and same_group < alike and len(chosen) < most:
            chosen.append(way)
    return chosen


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


def _advice_after(place: Place, chosen: tuple[Way, ...], group: Group | None) -> str:
    if not chosen:
        start = f"From {group.called} nothing" if group else "No pair of stars"
        return f"{start} points to {place.name} now: set the dials, or hop from a bright star."
    if place.altitude_deg < LOWEST_DEG:
        return f"{place.name} stands only {place.altitude_deg:.0f}° high: haze may hide it."
    return ""
