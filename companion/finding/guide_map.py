"""The guide map: from one star group that a person knows to at most seven bright ends."""

from dataclasses import dataclass, replace
from typing import Final

import numpy as np

from companion.finding.figure_lines import strokes_of
from companion.finding.groups import Group, find_group
from companion.finding.guide import GuideStars
from companion.finding.lines import angles_deg
from companion.finding.map_ends import End, best_known, ends_for, extent, stands_well
from companion.finding.map_ways import Beginning, Lead, Rivals, chained_leads, direct_leads
from companion.finding.map_words import (
    azimuth_altitude_deg,
    check_words,
    course_of,
    face_words,
    group_words,
    last_of,
    lead_sentence,
)
from companion.finding.pointers import round_of
from companion.finding.single_ways import Place
from companion.finding.wayfinder import EyeLimit, WayFinder
from companion.finding.ways import Way
from companion.sky import PLANETS, Catalogue, Kind, Moment, Target

MOST_ENDS: Final = 7
_ONE_LIGHT_DEG: Final = 0.1
_SAME_PLACE_DEG: Final = 12.0  # a fainter end beside a chosen one says nothing new
_WELL_UP_DEG: Final = 20.0  # what is queued can still be aimed at in an hour
_FAINT_MAG, _FAINT_COST = 1.7, 0.8  # the brightest twenty are the first to be known
_FAINTEST_PLANET: Final = 2.5
_BINOCULAR_MAG: Final = 7.0  # of what binoculars show at once
_BINOCULAR_REACH_DEG: Final = 25.0
_AWAY: Final = frozenset({Kind.REMNANT, Kind.DARK_NEBULA, Kind.OTHER, Kind.PLANETARY})


@dataclass(frozen=True, slots=True)
class MapLead:
    """One end of the map and the way there; ``lengths`` in the group's own, 0 where too many."""

    target: Target
    way: Way
    lengths: float
    azimuth_deg: float
    altitude_deg: float
    face_azimuth_deg: float  # where the way begins
    check: str

    @property
    def sentence(self) -> str:
        """The way in words."""
        return self.way.sentence


@dataclass(frozen=True, slots=True)
class GuideMap:
    """Where one group leads by eye and through binoculars; ``advice`` where that is nothing.

    ``instead`` is a well-known group that stands well, offered where this one does not.
    """

    group: Group
    facing: str
    azimuth_deg: float | None
    altitude_deg: float | None
    own_deg: float | None
    leads: tuple[MapLead, ...]
    binoculars: tuple[MapLead, ...]
    advice: str
    instead: Group | None

    @property
    def queued(self) -> tuple[Target, ...]:
        """What of the map stands well now, in its order."""
        both = (*self.leads, *self.binoculars)
        return tuple(lead.target for lead in both if lead.altitude_deg >= _WELL_UP_DEG)

    @property
    def words(self) -> str:
        """Say what became of it in the queue."""
        if self.advice:
            return self.advice
        return f"{self.group.name} leads to {len(self.queued)}: they stand at the end of the queue."


def guide_map(catalogue: Catalogue, moment: Moment, text: str, limit: EyeLimit) -> GuideMap:
    """Give the guide map of a group by its name, under the sky of this moment.

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
    finder = WayFinder(catalogue, moment.utc)
    stars = finder.guide_stars(moment, limit)
    return map_from(catalogue, moment, finder, stars, find_group(text))


def map_from(
    catalogue: Catalogue,
    moment: Moment,
    finder: WayFinder,
    stars: GuideStars,
    group: Group,
    *,
    glass: bool = True,
) -> GuideMap:
    """Give the guide map of a group from the stars that lead now; without ``glass`` by eye only."""
    if not stands_well(stars, group):
        return _nothing(stars, group)
    middle, own_deg = extent(stars, group)
    azimuth_deg, altitude_deg = azimuth_altitude_deg(middle)
    pole, *planets = finder.places(moment, (catalogue.target("point:south-pole"), *PLANETS[:5]))
    seen = [p for p in planets if p.altitude_deg > 0 and (p.magnitude or 9) <= _FAINTEST_PLANET]
    rivals = _rivals(stars, seen)
    ends = ends_for(catalogue, stars, group, pole.vector)
    chosen = _chosen(_all_leads(Beginning(stars, group, own_deg, rivals), ends))
    latitude_deg = moment.site.latitude_deg
    leads = tuple(_said(stars, group, lead, rivals, latitude_deg) for lead in chosen)
    through = _binoculars(catalogue, moment, finder, stars, group) if glass else ()
    none = f"{group.name} leads to nothing bright that stands well now."
    return GuideMap(
        group,
        group_words(group, middle, own_deg),
        azimuth_deg,
        altitude_deg,
        own_deg,
        leads,
        through,
        "" if leads else _offer(none, stars, group),
        None if leads else _instead(stars, group),
    )


def _rivals(stars: GuideStars, planets: list[Place]) -> Rivals:
    """Give what the eye could take for an end; a close pair is one light."""
    alone = np.array([not _is_lost(stars, row) for row in range(len(stars.hip))], bool)
    rows = np.flatnonzero(alone).tolist()
    return Rivals(
        (*(stars.names[row] for row in rows), *(planet.name for planet in planets)),
        (*stars.hip[alone].tolist(), *(0 for _planet in planets)),
        np.array([*stars.magnitude[alone], *(planet.magnitude for planet in planets)], float),
        np.array([*stars.vectors[alone], *(planet.vector for planet in planets)]),
    )


def _is_lost(stars: GuideStars, row: int) -> bool:
    """Say whether a star stands in the light of a brighter one (stars are sorted)."""
    return bool((angles_deg(stars.vectors[:row], stars.vectors[row]) < _ONE_LIGHT_DEG).any())


def _all_leads(begin: Beginning, ends: tuple[End, ...]) -> tuple[Lead, ...]:
    direct = direct_leads(begin, strokes_of(begin.stars, begin.group), ends)
    reached = {lead.end.target.key for lead in direct}
    rest = [end for end in ends if end.target.key not in reached]
    return direct + chained_leads(begin, direct, rest)


def _use(lead: Lead) -> float:
    """Give what the more useful end has less of: poles first, what a curve goes on to at once."""
    if lead.end.is_pole:
        return -10.0
    if lead.via is not None and lead.bends:
        return _use(lead.via) + 0.001
    own = lead.end.worth + lead.way.cost + (_FAINT_COST if lead.end.worth > _FAINT_MAG else 0.0)
    return max(own, _use(lead.via) + 0.001) if lead.via else own


def _chosen(leads: tuple[Lead, ...]) -> tuple[Lead, ...]:
    """Give at most seven ends in order of use; a chain comes after what it goes through."""
    chosen: list[Lead] = []
    for lead in sorted(leads, key=_use):
        if len(chosen) == MOST_ENDS:
            break
        if lead.via is not None and lead.via not in chosen:
            continue
        if not any(_same_place(lead, other) for other in chosen):
            chosen.append(lead)
    return tuple(chosen)


def _same_place(lead: Lead, other: Lead) -> bool:
    if lead.end.own & other.end.own:
        return True
    return bool(angles_deg(lead.end.vector, other.end.vector) < _SAME_PLACE_DEG)


def _said(
    stars: GuideStars, group: Group, lead: Lead, rivals: Rivals, latitude_deg: float
) -> MapLead:
    check = check_words(stars, group, lead.end, rivals, latitude_deg)
    way = replace(
        lead.way,
        course=course_of(stars, lead),
        sentence=lead_sentence(stars, group, lead, check),
    )
    last = last_of(stars, lead)
    return MapLead(
        lead.end.target,
        way,
        lead.length.multiple,
        lead.end.azimuth_deg,
        lead.end.altitude_deg,
        azimuth_altitude_deg(last)[0],
        check,
    )


def _binoculars(
    catalogue: Catalogue, moment: Moment, finder: WayFinder, stars: GuideStars, group: Group
) -> tuple[MapLead, ...]:
    """Give the second map: what binoculars show at once, brightest first."""
    deep = catalogue.deep_sky
    all_messier = (deep.target(row) for _number, row in sorted(deep.messier_rows.items()))
    bright = tuple(
        target
        for target in all_messier
        if (target.magnitude or 99.0) <= _BINOCULAR_MAG and target.kind not in _AWAY
    )
    places = finder.places(moment, bright)
    up = {
        id(place): target
        for place, target in zip(places, bright, strict=True)
        if place.altitude_deg >= max(place.floor_deg, _WELL_UP_DEG)
    }
    found = [
        (place, way)
        for place, way in round_of(stars, group, [place for place in places if id(place) in up])
        if way.distance_deg <= _BINOCULAR_REACH_DEG
    ]
    ranked = sorted(found, key=lambda lead: up[id(lead[0])].magnitude or 99.0)[:MOST_ENDS]
    leads = []
    for place, way in ranked:
        last = stars.vectors[stars.rows[way.stars[-1]]]
        azimuth_deg, altitude_deg = azimuth_altitude_deg(place.vector)
        said = replace(way, sentence=f"{face_words(last)}. {way.sentence}")
        face_deg = azimuth_altitude_deg(last)[0]
        target = up[id(place)]
        leads.append(MapLead(target, said, 0.0, azimuth_deg, altitude_deg, face_deg, ""))
    return tuple(leads)


def _nothing(stars: GuideStars, group: Group) -> GuideMap:
    """Say that a group stands low, is half set or drowned, and offer another."""
    if group in stars.groups:
        wrong = f"{group.name} stands too low now: haze and trees hide where it leads."
    elif sum(hip in stars.rows for hip in group.stars):
        wrong = f"Only a part of {group.name} can be made out now: it is half set, or faint."
    else:
        wrong = f"{group.name} cannot be made out now: it is down, or the sky too bright."
    advice = _offer(wrong, stars, group)
    return GuideMap(group, "", None, None, None, (), (), advice, _instead(stars, group))


def _offer(wrong: str, stars: GuideStars, group: Group) -> str:
    other = _instead(stars, group)
    if other is None:
        return f"{wrong} Choose another group later: no well-known one stands well now."
    middle, _own_deg = extent(stars, other)
    return f"{wrong} Choose another group: {other.name}. {face_words(middle)}."


def _instead(stars: GuideStars, group: Group) -> Group | None:
    return next((other for other in best_known(stars) if other != group), None)
