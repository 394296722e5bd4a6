"""Steps with the Moon and the planets."""

import math
from typing import Final

import numpy as np

from companion.finding import azimuth_altitude_deg, face_words, seen_vectors, stand_words
from companion.road.evening import Evening
from companion.road.telling import HIDDEN, Telling, Waiting
from companion.sky import fists_text

_MOON_KEY: Final = "body:moon"
_LOWEST_DEG: Final = 5.0
_LEAST_LIT: Final = 0.02
_WIDE_LIT: Final = 0.3
_HALF_LIT: Final = (0.12, 0.9)
# How far ahead of the Sun the Moon is then, within the shares above.
_SEEN_AHEAD_DEG: Final = (30.0, 200.0)
_WIDE_AHEAD_DEG: Final = (75.0, 200.0)
_HALF_AHEAD_DEG: Final = (43.0, 140.0)
_LIGHT_WORDS: Final = (
    "upper", "upper right", "right", "lower right", "lower", "lower left", "left", "upper left",
)  # fmt: skip
_PLANET_LOOKS: Final = {
    "venus": "white and brighter than any star",
    "jupiter": "white and brighter than any star beside it",
    "mars": "orange",
    "saturn": "yellowish",
    "mercury": "in the twilight",
}


def _moon_up(evening: Evening) -> bool:
    return evening.moon.altitude_deg > _LOWEST_DEG and evening.moon.lit_fraction > _LEAST_LIT


def _stands(evening: Evening) -> str:
    vector = evening.moon_vector
    return f"{face_words(vector)}: the Moon stands {stand_words(vector)}."


def _no_moon(evening: Evening, ahead_deg: tuple[float, float] = _SEEN_AHEAD_DEG) -> Waiting:
    """Say why it cannot be seen now, and when it can, so far ahead of the Sun as the step needs."""
    thinnest_deg, fullest_deg = ahead_deg
    until = evening.season.when_moon(thinnest_deg=thinnest_deg, fullest_deg=fullest_deg)
    if evening.moon.altitude_deg <= 0.0:
        return Waiting("The Moon is not up now.", until)
    if evening.moon.altitude_deg <= _LOWEST_DEG:
        return Waiting("The Moon stands too low now.", until)
    if evening.moon.lit_fraction > 0.5:
        return Waiting("The Moon is too full for it now: its shadows are short.", until)
    return Waiting("The Moon is too thin for it now.", until)


def lit_side(evening: Evening) -> str:
    """Say which side of the Moon is lit, as one faces it: towards the Sun, wherever that is."""
    sun = evening.moment.body("sun")
    sun_vector = seen_vectors(sun.azimuth_deg, sun.altitude_airless_deg)
    moon = evening.moon_vector
    x, y, z = moon.tolist()
    level = math.hypot(x, y)
    right = np.array([y, -x, 0.0]) / level
    above = np.array([-x * z, -y * z, level * level]) / level
    bearing = math.degrees(math.atan2(float(sun_vector @ right), float(sun_vector @ above)))
    return _LIGHT_WORDS[round((bearing % 360.0) / 45.0) % 8]


def moon(evening: Evening) -> Telling | Waiting:
    """See the Moon: where, and which side is lit."""
    if not _moon_up(evening):
        return _no_moon(evening)
    seen = evening.moon
    lit = f"{seen.lit_fraction:.0%} of its disc is lit"
    side = f", the {lit_side(evening)} side" if seen.lit_fraction < 0.97 else ""
    return Telling(
        seen.azimuth_deg,
        seen.altitude_deg,
        (
            _stands(evening),
            f"{lit}{side}.",
            "The lit side faces the Sun, even after sunset.",
        ),
        "Another night, say where the Sun is by the Moon alone.",
        HIDDEN,
        _MOON_KEY,
    )


def moon_moves(evening: Evening) -> Telling | Waiting:
    """See how far the Moon goes among the stars in a night."""
    if not _moon_up(evening):
        return _no_moon(evening)
    rows = evening.bright(2.2, 5.0)
    if not rows:
        return Waiting("No star stands near the Moon to measure by.", evening.season.when_moon())
    apart = evening.stars.vectors[rows] @ evening.moon_vector
    row = rows[int(apart.argmax())]
    apart_deg = math.degrees(math.acos(min(float(apart.max()), 1.0)))
    return Telling(
        evening.moon.azimuth_deg,
        evening.moon.altitude_deg,
        (
            (
                f"{face_words(evening.moon_vector)}: {evening.stars.names[row]} stands "
                f"{fists_text(apart_deg)} from the Moon."
            ),
            "Measure again tomorrow: the Moon goes a fist and a quarter eastwards in a night.",
            "In a month it is round.",
        ),
        "Tomorrow, say beforehand beside which star the Moon will stand.",
        HIDDEN,
        _MOON_KEY,
    )


def planet_or_star(evening: Evening) -> Telling | Waiting:
    """Tell a planet from a star: the brightest steady light, or the brightest that twinkles."""
    if evening.planets:
        target, place = evening.planets[0]
        azimuth_deg, altitude_deg = azimuth_altitude_deg(place.vector)
        look = _PLANET_LOOKS.get(target.body, "steady")
        return Telling(
            azimuth_deg,
            altitude_deg,
            (
                (
                    f"{face_words(place.vector)}: the bright steady light "
                    f"{stand_words(place.vector)}, {look}, is {target.name}."
                ),
                "Stars twinkle, a planet hardly does.",
                "It is not a star: it goes round the Sun as we do and shines by its light.",
            ),
            "In a week, see that it has moved against the stars.",
            HIDDEN,
            target.key,
            target.name,
        )
    rows = evening.bright(1.6, 10.0)
    if not rows:
        return Waiting("Neither planet nor bright star is out now.", evening.season.when_dark(-4.0))
    row = rows[0]
    vector = evening.stars.vectors[row]
    azimuth_deg, altitude_deg = azimuth_altitude_deg(vector)
    return Telling(
        azimuth_deg,
        altitude_deg,
        (
            (
                f"{face_words(vector)}: the brightest star now is {evening.stars.names[row]}, "
                f"{stand_words(vector)}."
            ),
            "No planet stands well now. A star twinkles, the lower the more; a planet hardly does.",
        ),
        "Another night, say of the brightest light whether it is a planet or a star.",
        HIDDEN,
        f"hip:{int(evening.stars.hip[row])}",
    )


def moon_seas(evening: Evening) -> Telling | Waiting:
    """See the Moon's seas through binoculars."""
    if not _moon_up(evening) or evening.moon.lit_fraction < _WIDE_LIT:
        return _no_moon(evening, _WIDE_AHEAD_DEG)
    return Telling(
        evening.moon.azimuth_deg,
        evening.moon.altitude_deg,
        (
            (
                f"{face_words(evening.moon_vector)}, elbows on a wall: the Moon, "
                f"{stand_words(evening.moon_vector)}."
            ),
            "The dark plains are the seas: old lava. The bright parts are older, full of craters.",
            "Count how many dark plains you can part.",
        ),
        "Another night, show the largest sea on the Moon.",
        HIDDEN,
        _MOON_KEY,
    )


def moon_shadow(evening: Evening) -> Telling | Waiting:
    """See the Moon along its shadow line through the telescope."""
    least, most = _HALF_LIT
    if not _moon_up(evening) or not least < evening.moon.lit_fraction < most:
        return _no_moon(evening, _HALF_AHEAD_DEG)
    return Telling(
        evening.moon.azimuth_deg,
        evening.moon.altitude_deg,
        (
            f"{face_words(evening.moon_vector)}: the Moon, {stand_words(evening.moon_vector)}.",
            "Follow the line between light and dark from end to end: there the shadows are long.",
            "A peak that is lit beyond the line stands in its own sunrise or sunset.",
        ),
        "Another night, find a crater whose floor is still dark.",
        HIDDEN,
        _MOON_KEY,
    )


def _planet(evening: Evening, bodies: tuple[str, ...], lowest_deg: float) -> Telling | None:
    for target, place in evening.planets:
        azimuth_deg, altitude_deg = azimuth_altitude_deg(place.vector)
        if target.body in bodies and altitude_deg >= lowest_deg:
            return Telling(
                azimuth_deg,
                altitude_deg,
                (f"{face_words(place.vector)}: {target.name} stands {stand_words(place.vector)}.",),
                "",
                HIDDEN,
                target.key,
                target.name,
            )
    return None


def jupiter_moons(evening: Evening) -> Telling | Waiting:
    """See Jupiter's moons, and that they have moved tomorrow."""
    told = _planet(evening, ("jupiter",), 12.0)
    if told is None:
        return Waiting("Jupiter does not stand well now.", evening.season.when_planet("jupiter"))
    return _with(
        told,
        "Binoculars held firmly: up to four points in a row on both sides of it.",
        "They are its largest moons. Draw them.",
        check="Tomorrow, draw them again: none is where it was.",
    )


def patience(evening: Evening) -> Telling | Waiting:
    """Wait for the quiet moments on a planet."""
    told = _planet(evening, ("jupiter", "saturn", "mars"), 20.0)
    if told is None:
        soonest = [evening.season.when_planet(body, 22.0) for body in ("jupiter", "saturn")]
        known = [when for when in soonest if when is not None]
        return Waiting("Neither Jupiter nor Saturn stands well now.", min(known, default=None))
    return _with(
        told,
        "Look for ten minutes without a break; most of them it trembles.",
        "In the quiet seconds a belt, a shadow or a ring's gap is there. Draw what you saw.",
        check="Another night, see the same detail again.",
    )


def _with(told: Telling, *sentences: str, check: str) -> Telling:
    return Telling(
        told.azimuth_deg,
        told.altitude_deg,
        (*told.sentences, *sentences),
        check,
        told.missing,
        told.subject,
        told.thing,
    )
