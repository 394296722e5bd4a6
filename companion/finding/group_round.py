"""A round of the sky from one star group: everything bright that it leads to now."""

from dataclasses import dataclass
from typing import Final

from companion.finding.groups import Group, find_group
from companion.finding.guide import seen_vectors
from companion.finding.pointers import round_of
from companion.finding.wayfinder import EyeLimit, WayFinder
from companion.finding.ways import Way
from companion.sky import (
    PLANETS,
    SUN_DANGER_DEG,
    SUN_UP_DEG,
    Catalogue,
    Moment,
    Target,
    separation_deg,
)

_FAINTEST: Final = 2.5  # stars that count as bright


@dataclass(frozen=True, slots=True)
class GroupRound:
    """What a group leads to, nearest first, each with the way; ``advice`` where that is nothing."""

    group: Group
    leads: tuple[tuple[Target, Way], ...]
    advice: str

    @property
    def words(self) -> str:
        """Say what the round holds."""
        if self.advice:
            return self.advice
        count = len(self.leads)
        return f"{self.group.name} leads to {count}: they stand at the end of the queue."


def group_round(catalogue: Catalogue, moment: Moment, text: str, limit: EyeLimit) -> GroupRound:
    """Give the round of a group by its name, with the stars that the eye finds now.

    What stands within 20° of the risen Sun is left out: nobody shall search there.

    Parameters
    ----------
    catalogue : Catalogue
        Stars and what they lead to.
    moment : Moment
        Site and time.
    text : str
        What the person calls the group.
    limit : callable
        The faintest star that the eye finds, by direction.

    Raises
    ------
    AdviceError
        If no group is called so.
    """
    group, finder = find_group(text), WayFinder(catalogue, moment.utc)
    targets = _showpieces(catalogue)
    places = finder.places(moment, targets)
    sun = moment.body("sun")
    glare = seen_vectors(sun.azimuth_deg, sun.altitude_deg)
    risen = sun.altitude_airless_deg > SUN_UP_DEG
    up = {
        id(place): target
        for place, target in zip(places, targets, strict=True)
        if place.altitude_deg > place.floor_deg
        and not (risen and float(separation_deg(place.vector, glare)) < SUN_DANGER_DEG)
    }
    stars = finder.guide_stars(moment, limit)
    leads = round_of(stars, group, [place for place in places if id(place) in up])
    found = tuple((up[id(place)], way) for place, way in leads)
    return GroupRound(group, found, "" if found else _advice(group, seen=group in stars.groups))


def _advice(group: Group, *, seen: bool) -> str:
    if seen:
        return f"{group.name} leads to nothing bright that is up now: choose another group."
    return (
        f"{group.name} cannot be made out now, too low or too bright a sky: choose another group."
    )


def _showpieces(catalogue: Catalogue) -> tuple[Target, ...]:
    """Give bright stars, planets, and the objects of Messier's list."""
    deep = catalogue.deep_sky
    messier = [deep.target(row) for _number, row in sorted(deep.messier_rows.items())]
    planets = PLANETS[:5]  # those that the eye sees
    return (*catalogue.bright_stars(_FAINTEST), *planets, *messier)
