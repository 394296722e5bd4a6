"""Rehearsal indoors: questions about this evening's sky, each with exactly one right answer."""

import math
import random
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Final

import numpy as np

from companion.arrays import FloatArray
from companion.finding import (
    Group,
    MapLead,
    azimuth_altitude_deg,
    best_known,
    face_words,
    load_groups,
    map_from,
    stand_words,
)
from companion.night import Conditions
from companion.road.evening import Evening
from companion.sky import Catalogue, Ephemeris, Site, TargetTable, zone_of

_CHOICES: Final = 4
_APART_DEG: Final = 25.0  # of the places of wrong answers from that of the right one
_TURNED_DEG, _HIGHER_DEG = 50.0, 12.0  # two points of the compass, more than a fist
_BRIGHT: Final = 2.2
_LOW_DEG: Final = 12.0
_NINE: Final = 21


@dataclass(frozen=True, slots=True)
class Question:
    """One question. ``kind`` is a stable code, ``subject`` the key of what it is about.

    ``right`` is the place of the right answer among the choices; ``why`` explains it on the chart.
    ``azimuth_deg`` and ``altitude_deg`` are where the chart marks it, without a name: of what is
    asked for at nine, where it stands then. ``name`` is that of the subject, ``line`` the Hipparcos
    numbers of the two stars that lead to it, where a line is asked for.
    """

    kind: str
    text: str
    choices: tuple[str, ...]
    right: int
    why: str
    subject: str
    azimuth_deg: float
    altitude_deg: float
    name: str = ""
    line: tuple[int, ...] = ()

    @property
    def answer(self) -> str:
        """The right answer."""
        return self.choices[self.right]


@dataclass(frozen=True, slots=True)
class Rehearsal:
    """Questions about the sky of one moment: now, or the dusk that comes."""

    utc: datetime
    questions: tuple[Question, ...]


@dataclass(frozen=True, slots=True, eq=False)
class _Star:
    key: str
    name: str
    vector: FloatArray
    magnitude: float


def rehearse(
    ephemeris: Ephemeris,
    catalogue: Catalogue,
    site: Site,
    utc: datetime,
    conditions: Conditions,
    *,
    count: int,
    seed: int,
    first: Iterable[str] = (),
) -> Rehearsal:
    """Give questions about the sky of an evening; by day about that of the coming dusk.

    Parameters
    ----------
    count : int
        How many; fewer come where the sky gives no more.
    seed : int
        The same seed asks the same.
    first : iterable of str
        Keys that were answered wrongly before: they are asked first.
    """
    evening = _evening(ephemeris, catalogue, site, utc, conditions)
    chance = random.Random(seed)  # noqa: S311 - a quiz
    pools = [
        list(_which(evening, chance)),
        list(_point_at(evening, chance)),
        list(_at_nine(evening, ephemeris, chance)),
        list(_lines(evening, chance)),
    ]
    for pool in pools:
        chance.shuffle(pool)
    wanted = frozenset(first)
    asked = [question for question in _in_turn(pools) if question.subject in wanted]
    asked += [question for question in _in_turn(pools) if question.subject not in wanted]
    return Rehearsal(evening.moment.utc, tuple(asked[:count]))


def _evening(
    ephemeris: Ephemeris, catalogue: Catalogue, site: Site, utc: datetime, conditions: Conditions
) -> Evening:
    now = Evening(catalogue, ephemeris.moment(site, utc), conditions)
    if now.moment.body("sun").altitude_airless_deg <= -6.5:
        return now
    dusk = now.season.when_dark()
    return now if dusk is None else Evening(catalogue, ephemeris.moment(site, dusk), conditions)


def _in_turn(pools: list[list[Question]]) -> Iterator[Question]:
    """Give one of each kind in turn."""
    for row in range(max(map(len, pools), default=0)):
        yield from (pool[row] for pool in pools if row < len(pool))


def _stars(evening: Evening) -> list[_Star]:
    stars = evening.stars
    return [
        _Star(
            f"hip:{int(stars.hip[row])}",
            stars.names[row],
            stars.vectors[row],
            float(stars.magnitude[row]),
        )
        for row in evening.bright(_BRIGHT, _LOW_DEG)
    ]


def _apart_deg(one: FloatArray, other: FloatArray) -> float:
    return math.degrees(math.acos(max(-1.0, min(1.0, float(one @ other)))))


def _far_from(star: _Star, stars: list[_Star]) -> list[_Star]:
    """Give those that no words for their place could be true of this one's."""
    azimuth_deg, altitude_deg = azimuth_altitude_deg(star.vector)
    found = []
    for other in stars:
        az, alt = azimuth_altitude_deg(other.vector)
        turned = abs((az - azimuth_deg + 180.0) % 360.0 - 180.0)
        plainly = turned >= _TURNED_DEG or abs(alt - altitude_deg) >= _HIGHER_DEG
        if plainly and _apart_deg(star.vector, other.vector) >= _APART_DEG:
            found.append(other)
    return found


def _made(  # noqa: PLR0917 - what a question is made of
    chance: random.Random, kind: str, text: str, right: str, wrong: list[str], star: _Star, why: str
) -> Question:
    choices = [right, *wrong]
    chance.shuffle(choices)
    place = azimuth_altitude_deg(star.vector)
    at = choices.index(right)
    return Question(kind, text, tuple(choices), at, why, star.key, *place, star.name)


def _which(evening: Evening, chance: random.Random) -> Iterator[Question]:
    """Ask for the name of what stands somewhere: the brightest within two fists."""
    stars = _stars(evening)
    for star in stars:
        near = [o for o in stars if o is not star and _apart_deg(star.vector, o.vector) < 20.0]
        others = _far_from(star, stars)
        if len(others) < _CHOICES - 1 or any(o.magnitude < star.magnitude + 0.5 for o in near):
            continue
        names = [other.name for other in chance.sample(others, _CHOICES - 1)]
        where = stand_words(star.vector)
        text = f"{face_words(star.vector)}: which is the brightest star {where}?"
        why = f"{star.name} stands there; the others stand elsewhere."
        yield _made(chance, "which-is-this", text, star.name, names, star, why)


def _point_at(evening: Evening, chance: random.Random) -> Iterator[Question]:
    """Ask where something stands now."""
    stars = _stars(evening)
    for star in stars:
        wrong = _places(_far_from(star, stars), chance, stand_words(star.vector))
        if len(wrong) == _CHOICES - 1:
            where = stand_words(star.vector)
            why = f"{star.name} stands {where}."
            yield _made(chance, "point-at", f"Point at {star.name}.", where, wrong, star, why)


def _places(stars: list[_Star], chance: random.Random, but: str) -> list[str]:
    """Give the places of a few other stars in words, each once."""
    words = [text for text in dict.fromkeys(stand_words(o.vector) for o in stars) if text != but]
    return chance.sample(words, min(_CHOICES - 1, len(words)))


def _at_nine(evening: Evening, ephemeris: Ephemeris, chance: random.Random) -> Iterator[Question]:
    """Ask where something will stand at nine by the site's clocks, an hour away at least."""
    site, utc = evening.moment.site, evening.moment.utc
    local = utc.astimezone(zone_of(site.time_zone))
    nine = local.replace(hour=_NINE, minute=0, second=0, microsecond=0)
    if nine - local < timedelta(hours=1):
        nine += timedelta(days=1)
    then = ephemeris.moment(site, nine.astimezone(utc.tzinfo))
    stars = _stars(evening)
    if not stars:
        return
    targets = tuple(evening.catalogue.target(star.key) for star in stars)
    seen = then.horizontal(TargetTable.of(targets, utc))
    later = [
        _Star(star.key, star.name, _vector(float(az), float(alt)), star.magnitude)
        for star, az, alt in zip(stars, seen.azimuth_deg, seen.altitude_deg, strict=True)
    ]
    up = [star for star in later if star.vector[2] > math.sin(math.radians(_LOW_DEG))]
    day = "tomorrow" if nine.date() != local.date() else "tonight"
    for star in up:
        wrong = _places(_far_from(star, up), chance, stand_words(star.vector))
        if len(wrong) == _CHOICES - 1:
            where = stand_words(star.vector)
            text = f"Where will {star.name} stand at nine {day}?"
            why = f"At nine it stands {where}: the sky turns fifteen degrees an hour."
            yield _made(chance, "where-at-nine", text, where, wrong, star, why)


def _vector(azimuth_deg: float, altitude_deg: float) -> FloatArray:
    az, alt = math.radians(azimuth_deg), math.radians(altitude_deg)
    flat = math.cos(alt)
    return np.array([flat * math.cos(az), -flat * math.sin(az), math.sin(alt)])


def _lines(evening: Evening, chance: random.Random) -> Iterator[Question]:
    """Ask which line of a group leads to a star; no other one of the choices does."""
    for group in best_known(evening.stars)[:4]:
        found = map_from(
            evening.catalogue, evening.moment, evening.finder, evening.stars, group, glass=False
        )
        leads = [one for one in found.leads if one.way.first is None and len(one.way.stars) == 2]
        for lead in leads:
            pairs = dict.fromkeys(_pairs(leads))
            wrong = [_line_of(*names) for stars, names in pairs if not _leads(evening, stars, lead)]
            if len(wrong) >= _CHOICES - 1:
                yield _line_question(group, lead, chance.sample(wrong, _CHOICES - 1), chance)


_Pair = tuple[tuple[int, int], tuple[str, str]]  # two stars: Hipparcos numbers and names


def _pairs(leads: list[MapLead]) -> Iterator[_Pair]:
    """Give the lines of a group, and each taken the wrong way round."""
    for one in leads:
        (first, second), (name, other) = one.way.stars, one.way.names
        yield (first, second), (name, other)
        yield (second, first), (other, name)


def _line_of(first: str, second: str) -> str:
    return f"from {first} through {second}"


def _leads(evening: Evening, stars: tuple[int, int], lead: MapLead) -> bool:
    """Whether a line passes within a fist and a half of another's end, ahead of it."""
    if stars == tuple(lead.way.stars):
        return True
    a, b = (evening.stars.vectors[evening.stars.rows[hip]] for hip in stars)
    end = _vector(lead.azimuth_deg, lead.altitude_deg)
    normal = np.cross(a, b)
    normal /= np.linalg.norm(normal)
    ahead = float(np.cross(normal, b) @ end) > 0.0
    return ahead and abs(math.degrees(math.asin(float(normal @ end)))) < 15.0


def _line_question(
    group: Group, lead: MapLead, wrong: list[str], chance: random.Random
) -> Question:
    end = _Star(
        lead.target.key, lead.target.name, _vector(lead.azimuth_deg, lead.altitude_deg), 0.0
    )
    groups = {f"group:{one.key}": one.called for one in load_groups()}
    called = groups.get(lead.target.key, lead.target.name)
    text = f"Which line of {group.called} leads to {called}?"
    made = _made(chance, "which-line", text, _line_of(*lead.way.names), wrong, end, lead.sentence)
    return replace(made, line=tuple(lead.way.stars))
