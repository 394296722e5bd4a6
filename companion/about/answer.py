"""One question about a target, whatever it is, and its answer."""

from companion.about.fixed_page import fixed_page
from companion.about.moon_page import moon_page
from companion.about.planet_page import planet_page, sun_page
from companion.about.record import About, AboutQuestion, Kept
from companion.about.star_page import star_page
from companion.sky import SOLAR_SYSTEM, Ephemeris, moon_row

_PLANETS = frozenset(body.target.body for body in SOLAR_SYSTEM[2:])


def about(ephemeris: Ephemeris, question: AboutQuestion, kept: Kept | None = None) -> About:
    """Tell what a target is and what this instrument shows of it now.

    Parameters
    ----------
    ephemeris : Ephemeris
        What is asked for places.
    question : AboutQuestion
        Target, place, moment and instrument.
    kept : dict, optional
        What whoever asks again and again keeps in between; it is filled and read here.

    Raises
    ------
    AdviceError
        If the ephemeris does not cover the time, or the instrument cannot be one.
    """
    body, kept = question.target.body, {} if kept is None else kept
    if body == "moon":
        return moon_page(ephemeris, question, kept)
    if (row := moon_row(body)) is not None:
        return moon_page(ephemeris, question, kept, row)
    if body == "sun":
        return sun_page(ephemeris, question)
    if body in _PLANETS:
        return planet_page(ephemeris, question, kept)
    if question.target.key.startswith("hip:"):
        return star_page(ephemeris, question, kept)
    return fixed_page(ephemeris, question)
