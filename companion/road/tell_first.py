"""Steps with the group to begin at: itself, the pole, and the first bright stars from it."""

from datetime import datetime
from typing import Final

import numpy as np

from companion.finding import (
    MapLead,
    azimuth_altitude_deg,
    best_known,
    extent,
    face_words,
    map_from,
    stand_words,
)
from companion.road.evening import Evening
from companion.road.looks import LOOKS, USUAL
from companion.road.telling import TOO_SOON, TURNED, Telling, Waiting
from companion.sky import HAND, USUAL_FIST_DEG, compass_point, fists_text

_POLARIS: Final = "hip:11767"
_SOUTH_POLE: Final = "point:south-pole"
_TO_SOUTH_POLE: Final = ("southern-cross", "fish-hook", "crane")
_SEVERAL: Final = frozenset({"southern-pointers", "pointers", "pleiades", "twins"})
_NO_COMPASS_DEG: Final = 75.0  # near the poles a compass is not to be trusted
_FIRST_MAG, _SECOND_MAG = 1.7, 2.2
_POLE_LOW_DEG: Final = 10.0
STARS: Final = frozenset({"pole", "first-star", "second-star", "third-star"})  # keys of aims
_SIDES: Final = 6  # groups that are tried
_NOT_FOUND_HERE: Final = "From here the poles of the sky lie too near the horizon."


def own_group(evening: Evening) -> Telling | Waiting:
    """Begin: the best-known group that stands well."""
    group = evening.group
    if group is None:
        return Waiting("No well-known group of stars can be made out now.", _when_any(evening))
    middle, across_deg = extent(evening.stars, group)
    azimuth_deg, altitude_deg = azimuth_altitude_deg(middle)
    looks, what = LOOKS.get(group.key, USUAL)
    stand = "stand" if group.key in _SEVERAL else "stands"
    return Telling(
        azimuth_deg,
        altitude_deg,
        (
            f"{face_words(middle)}: {group.called} {stand} {stand_words(middle)}.",
            looks,
            f"It is about {fists_text(across_deg)} long at arm's length.",
            what,
        ),
        f"Another night, find {group.called} without help and point at it.",
        TURNED,
        f"group:{group.key}",
        group.called,
    )


def _when_any(evening: Evening) -> datetime | None:
    """Give when stars of the best-known groups stand well on an evening."""
    south = evening.latitude_deg < 0.0
    keys = ("hip:60718", "hip:24436") if south else ("hip:62956", "hip:26311", "hip:4427")
    return evening.season.when(tuple(evening.catalogue.target(key) for key in keys), 25.0)


def pole(evening: Evening) -> Telling | Waiting:
    """Find north or south by the stars."""
    lead = _pole_lead(evening)
    if lead is not None:
        return _pole_told(evening, lead.azimuth_deg, lead.altitude_deg, lead.sentence, lead)
    if abs(evening.latitude_deg) < _POLE_LOW_DEG:
        return Waiting(_NOT_FOUND_HERE)
    row = evening.stars.rows.get(11767)
    if evening.latitude_deg > 0.0 and row is not None:
        vector = evening.stars.vectors[row]
        azimuth_deg, altitude_deg = azimuth_altitude_deg(vector)
        words = (
            f"{face_words(vector)}: the star that stands {stand_words(vector)}, alone, is Polaris."
        )
        return _pole_told(evening, azimuth_deg, altitude_deg, words, None)
    hip = 54061 if evening.latitude_deg > 0.0 else 60718
    until = evening.season.when((evening.catalogue.star(hip),), 20.0)
    return Waiting("What points to the pole of the sky does not stand well now.", until)


def _pole_lead(evening: Evening) -> MapLead | None:
    """Give the way to the pole from the evening's group; in the south from any that leads there."""
    lead = next((lead for lead in evening.leads if _is_pole(lead)), None)
    if lead is not None or evening.latitude_deg > 0.0:
        return lead
    known = {group.key: group for group in evening.stars.groups}
    groups = [known[key] for key in _TO_SOUTH_POLE if key in known]
    leads = (lead for group in groups for lead in evening.leads_from(group))
    return next((lead for lead in leads if _is_pole(lead)), None)


def _is_pole(lead: MapLead) -> bool:
    return lead.target.key in {_POLARIS, _SOUTH_POLE}


def _pole_told(
    evening: Evening, azimuth_deg: float, altitude_deg: float, way: str, lead: MapLead | None
) -> Telling:
    side = "north" if evening.latitude_deg > 0.0 else "south"
    key = _SOUTH_POLE if side == "south" else _POLARIS
    return Telling(
        azimuth_deg,
        altitude_deg,
        (
            way,
            f"Straight down from there, on the horizon, is {side}.",
            "The whole sky turns about this place once a day; it alone stays.",
        ),
        f"Another night, point at {side} by the stars alone.",
        TURNED,
        key,
        "the pole star" if lead is None and side == "north" else "",
    )


def bright_star(evening: Evening, number: int) -> Telling | Waiting:
    """Give the first, second or third bright star: by a line of the group, or by where it stands.

    Those of the first magnitude come before all others, the brightest first.
    """
    leads = [lead for lead in evening.leads if lead.target.key.startswith("hip:")]
    leads = [lead for lead in leads if not _is_pole(lead)]
    bright = sorted(
        (o for o in leads if _order(evening, o) <= _FIRST_MAG), key=lambda o: _order(evening, o)
    )
    told = {lead.target.key for lead in leads}
    high = _by_place(evening, _FIRST_MAG, told)
    fainter = [lead for lead in leads if lead not in bright]
    low = [row for row in _by_place(evening, _SECOND_MAG, told) if row not in high]
    found: list[MapLead | int] = [*bright, *high, *fainter, *low]
    if number >= len(found):
        return Waiting("No other bright star stands well now.", _when_any(evening))
    one = found[number]
    return _at_place(evening, one) if isinstance(one, int) else _by_line(evening, one)


def _order(evening: Evening, lead: MapLead) -> float:
    """Give a lead's magnitude, and never less than that of the star it goes through."""
    own = 9.0 if lead.target.magnitude is None else lead.target.magnitude
    if lead.way.first is None:
        return own
    via = evening.catalogue.star(lead.way.stars[-1]).magnitude
    return max(own, (9.0 if via is None else via) + 0.001)


def _by_line(evening: Evening, lead: MapLead) -> Telling:
    return Telling(
        lead.azimuth_deg,
        lead.altitude_deg,
        (lead.sentence, _distance(lead.target.parallax_mas)),
        f"Another night, go from {_begin(evening)} to {lead.target.name} without help.",
        TURNED,
        lead.target.key,
        lead.target.name,
    )


def _by_place(evening: Evening, faintest: float, told: set[str]) -> list[int]:
    """Give rows of stars that are known by their direction: no line of the group leads there."""
    stars = evening.stars
    own = set(evening.group.stars) if evening.group else set()
    return [
        row
        for row in evening.bright(faintest)
        if f"hip:{stars.hip[row]}" not in told and int(stars.hip[row]) not in own
        and _brightest_there(evening, row)
    ]  # fmt: skip


def _at_place(evening: Evening, row: int) -> Telling:
    """Tell of a star by its direction."""
    stars = evening.stars
    target, vector = evening.catalogue.star(int(stars.hip[row])), stars.vectors[row]
    azimuth_deg, altitude_deg = azimuth_altitude_deg(vector)
    return Telling(
        azimuth_deg,
        altitude_deg,
        (
            (
                f"{face_words(vector)}: {target.name} stands {stand_words(vector)}. "
                "It is the brightest star within two fists."
            ),
            _distance(target.parallax_mas),
        ),
        f"Another night, find {target.name} without help.",
        TOO_SOON,
        target.key,
        target.name,
    )


def from_another_side(evening: Evening, subject: str) -> Telling | None:
    """Lead to a star that is known from a group other than one's own; None where none does."""
    own = evening.group
    for group in best_known(evening.stars)[:_SIDES]:
        if own is not None and group.key == own.key:
            continue
        leads = map_from(
            evening.catalogue, evening.moment, evening.finder, evening.stars, group, glass=False
        ).leads
        for lead in leads:
            if lead.target.key == subject:
                name = lead.target.name
                return Telling(
                    lead.azimuth_deg,
                    lead.altitude_deg,
                    (f"This time from {group.called}.", lead.sentence),
                    f"Another night, find {name} without help.",
                    TOO_SOON,
                    subject,
                    name,
                )
    return None


def _brightest_there(evening: Evening, row: int) -> bool:
    """Whether nothing as bright stands within two fists, planets counted."""
    stars = evening.stars
    vectors = [*stars.vectors[:row], *(place.vector for _body, place in evening.planets)]
    if not vectors:
        return True
    near = np.array(vectors) @ stars.vectors[row]
    return bool(near.max() < np.cos(np.radians(2.0 * HAND.fist_deg)))


def _begin(evening: Evening) -> str:
    return evening.group.called if evening.group else "there"


def _distance(parallax_mas: float) -> str:
    """Say how old the light is, where that is known well."""
    if parallax_mas < 4.0:
        return "Its light has been under way for many centuries."
    years = 3261.56 / parallax_mas
    step = 1.0 if years < 30.0 else 5.0 if years < 100.0 else 50.0
    return f"Its light has been under way for about {round(years / step) * step:.0f} years."


def directions(evening: Evening) -> Telling | Waiting:
    """Know north, east, south and west where one stands."""
    north = evening.latitude_deg >= 0.0
    side, azimuth_deg = ("north", 0.0) if north else ("south", 180.0)
    by = (
        "the map alone" if abs(evening.latitude_deg) > _NO_COMPASS_DEG else "the compass or the map"
    )
    words = [f"Find {side} by {by}, and choose what on the horizon marks it."]
    if (rows := evening.bright(1.6)) and evening.faintest > 0.0:
        vector = evening.stars.vectors[rows[0]]
        point = compass_point(azimuth_altitude_deg(vector)[0], 8)
        words.append(
            f"{evening.stars.names[rows[0]]} stands {stand_words(vector)}: there is {point}."
        )
    turn = "right" if north else "left"
    words.append(f"Facing {side}, east is to your {turn}.")
    return Telling(
        azimuth_deg,
        0.0,
        tuple(words),
        "Another day, eyes closed, turn round twice and point to all four.",
        "Not sure? Where the Sun stands at noon is the other side.",
    )


def hand(evening: Evening) -> Telling | Waiting:
    """Know one's own fist as a ruler: on a known pair of stars, or from horizon to zenith."""
    own = HAND.fist_deg
    width = "about ten degrees" if own == USUAL_FIST_DEG else f"{own:.1f}°, as you measured"
    first = f"Stretch out your arm and make a fist: it covers {width}."
    if pair := _pair_of_a_fist(evening):
        one, other, apart_deg = pair
        vector = evening.stars.vectors[evening.stars.rows[one]]
        azimuth_deg, altitude_deg = azimuth_altitude_deg(vector)
        names = [evening.stars.names[evening.stars.rows[hip]] for hip in (one, other)]
        return Telling(
            azimuth_deg,
            altitude_deg,
            (
                f"{face_words(vector)}. {first}",
                f"From {names[0]} to {names[1]} it is {apart_deg:.1f}°: lay your fist on them.",
                (
                    "Covers it more or less? Count how many fit and type that into YOUR FIST, on "
                    "the screen of the place: all lengths follow your hand."
                ),
            ),
            "Another night, say an altitude in fists, and measure it afterwards.",
        )
    return Telling(
        None,
        45.0,
        (
            first,
            "Stack fist on fist from the horizon to straight overhead: nine make it ten degrees.",
        ),
        "Another night, say an altitude in fists, and measure it afterwards.",
        "Eight or ten fists? Then yours is larger or smaller: remember the number.",
    )


def _pair_of_a_fist(evening: Evening) -> tuple[int, int, float] | None:
    """Give two stars of the group whose distance is nearest to ten degrees."""
    group = evening.group
    if group is None:
        return None
    seen = [hip for hip in group.stars if hip in evening.stars.rows]
    best: tuple[int, int, float] | None = None
    for at, one in enumerate(seen):
        for other in seen[at + 1 :]:
            a, b = (evening.stars.vectors[evening.stars.rows[hip]] for hip in (one, other))
            apart_deg = float(np.degrees(np.arccos(np.clip(a @ b, -1.0, 1.0))))
            if best is None or abs(apart_deg - 10.0) < abs(best[2] - 10.0):
                best = (one, other, apart_deg)
    return best if best and 3.0 < best[2] < 20.0 else None
