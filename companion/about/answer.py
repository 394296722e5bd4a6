"""One question about a target, whatever it is, and its answer."""

from companion.about.fixed_page import fixed_page
from companion.about.moon_page import moon_page
from companion.about.planet_page import planet_page, sun_page
from companion.about.record import About, AboutQuestion
from companion.about.star_page import star_page
from companion.sky import SOLAR_SYSTEM, Ephemeris

_PLANETS = frozenset(body.target.body for body in SOLAR_SYSTEM[2:])


def about(ephemeris: Ephemeris, question: AboutQuestion) -> About:
    """Tell what a target is and what this instrument shows of it now.

    Raises
    ------
    AdviceError
        If the ephemeris does not cover the time, or the instrument cannot be one.
    """
    body = question.target.body
    if body == "moon":
        return moon_page(ephemeris, question)
    if body == "sun":
        return sun_page(ephemeris, question)
    if body in _PLANETS:
        return planet_page(ephemeris, question)
    if question.target.key.startswith("hip:"):
        return star_page(ephemeris, question)
    return fixed_page(question)
