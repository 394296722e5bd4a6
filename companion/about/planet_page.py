"""The page of a planet, of the Sun, and of Pluto."""

from datetime import datetime, timedelta

from companion.about.best_time import INNER, best_day, twilight_window
from companion.about.field_picture import planet_field_picture
from companion.about.jupiter_events import moon_events
from companion.about.jupiter_moons import PlanetMoon, jupiter_moons
from companion.about.picture import Picture
from companion.about.planet import mars_season_deg, planet_look, planet_turn
from companion.about.planet_field import FIELD_PLANETS, field_words, planet_field
from companion.about.planet_picture import planet_picture
from companion.about.planet_words import (
    NEAR_SUN_CAUTION,
    SUN_CAUTION,
    planet_look_for,
    planet_says,
    too_faint_words,
)
from companion.about.record import (
    About,
    AboutQuestion,
    Figures,
    Kept,
    PlanetField,
    PlanetPage,
)
from companion.about.rings import RingShows, ring_look, ring_shows
from companion.about.saturn_moons import saturn_moons
from companion.about.seeing_power import Power, caption_of, power_of
from companion.about.view_turn import ViewTurn, turn_of, zenith_angle_deg
from companion.about.words import figures, light_time
from companion.night import Darkness, darkness, night_grid
from companion.sky import SUN_DANGER_DEG, Aspect, Ephemeris

_SOURCES = {
    "magnitude": "Mallama & Hilton 2018",
    "size": "IAU Working Group on Cartographic Coordinates, report of 2015",
}
_MOON_SOURCES = {
    "jupiter": "Lainey, Duriez & Vienne 2004, through astronomy-engine; magnitudes from memory",
    "saturn": "the package ephem; magnitudes from memory",
}
_DAY = timedelta(days=1)
# The meridian that a given longitude is asked for, and how fast it turns, degrees a day.
_ASKED_SYSTEM = {"jupiter": ("II", 870.27), "mars": ("I", 350.892)}


def sun_page(ephemeris: Ephemeris, question: AboutQuestion) -> About:
    """Tell of the Sun, with the caution first."""
    sun = ephemeris.moment(question.site, question.utc).body("sun")
    aspect = ephemeris.aspect("sun", question.utc, question.site)
    return About(
        target=question.target,
        utc=question.utc,
        instrument=question.instrument,
        figures=Figures(
            distance_au=aspect.distance_au,
            light_time_s=aspect.light_time_s,
            true_size_km=2.0 * aspect.radius_km,
            diameter_arcsec=sun.diameter_arcsec,
            magnitude=sun.magnitude,
        ),
        says=(
            SUN_CAUTION,
            (
                f"The Sun is a star like others, {figures(2.0 * aspect.radius_km, 3)} kilometres "
                "across, 109 times the Earth, and about 4.6 billion years old."
            ),
            (
                f"It is {figures(aspect.distance_km / 1e6, 3)} million kilometres away; its light "
                f"takes {light_time(aspect.light_time_s)} to reach us."
            ),
        ),
        caution=SUN_CAUTION,
    )


def planet_page(ephemeris: Ephemeris, question: AboutQuestion, kept: Kept) -> About:
    """Tell of a planet.

    Raises
    ------
    AdviceError
        If the ephemeris does not cover the time, or the instrument cannot be one.
    """
    body = question.target.body
    aspect = ephemeris.aspect(body, question.utc, question.site)
    moment = ephemeris.moment(question.site, question.utc)
    seen, sun = moment.body(body), moment.body("sun")
    power = power_of(question.instrument, question.conditions)
    page = _page(ephemeris, question, aspect, power, kept)
    look = page.look
    near = look.elongation_deg < 2.0 * SUN_DANGER_DEG
    turn = turn_of(
        zenith_angle_deg(moment, aspect.to_body_km, aspect.north), question.instrument.viewing
    )
    up = (seen.altitude_deg, sun.altitude_airless_deg)
    too_faint = too_faint_words(question, seen.magnitude, power)
    return About(
        target=question.target,
        utc=question.utc,
        instrument=question.instrument,
        figures=Figures(
            distance_au=look.distance_au,
            light_time_s=look.light_time_s,
            true_size_km=2.0 * look.radius_km,
            diameter_arcsec=look.diameter_arcsec,
            magnitude=seen.magnitude,
            illuminated_fraction=look.lit,
            elongation_deg=look.elongation_deg,
        ),
        says=planet_says(page, question, up, power) + (too_faint or field_words(page.field)),
        look_for=() if too_faint else planet_look_for(page, question, power),
        caution=NEAR_SUN_CAUTION if near or body in {"mercury", "venus"} else "",
        planet=page,
        picture=_picture(page, turn, power, question),
        sources=_SOURCES | ({"moons": _MOON_SOURCES[body]} if page.moons else {}),
    )


def _page(
    ephemeris: Ephemeris, question: AboutQuestion, aspect: Aspect, power: Power, kept: Kept
) -> PlanetPage:
    """Put together what belongs to this planet."""
    body = aspect.body
    magnitude = ephemeris.moment(question.site, question.utc).facts(body).magnitude
    ring = ring_look(aspect) if body == "saturn" else None
    if body == "jupiter" and ("events", *question.hour) not in kept:
        kept["events", *question.hour] = moon_events(ephemeris, *_night(ephemeris, question))
    if ("best", *question.hour) not in kept:
        kept["best", *question.hour] = best_day(ephemeris, body, question.utc)
        inner = body in INNER
        kept["twilight", *question.hour] = twilight_window(ephemeris, question) if inner else None
    return PlanetPage(
        look=planet_look(aspect),
        ring=ring,
        ring_shows=None if ring is None else _shows(aspect, power),
        moons=_moons(aspect),
        events=kept.get(("events", *question.hour), ()),
        season_deg=mars_season_deg(aspect) if body == "mars" else None,
        crossings_utc=_crossings(ephemeris, question, body),
        best_utc=kept["best", *question.hour],
        twilight=kept["twilight", *question.hour],
        field=_field(ephemeris, question, magnitude, power, kept),
    )


def _picture(page: PlanetPage, turn: ViewTurn, power: Power, question: AboutQuestion) -> Picture:
    """Draw the disk at high power; of what looks like a star, the stars around it at low power."""
    if page.field is not None:
        lowest = caption_of(question.instrument, power.views[0])
        return planet_field_picture(page.field, question.target.name, turn, lowest)
    return planet_picture(page, turn, power, caption_of(question.instrument, power.view))


def _field(
    ephemeris: Ephemeris, question: AboutQuestion, magnitude: float | None, power: Power, kept: Kept
) -> PlanetField | None:
    """Give the stars around it, once a minute: it moves a tenth of an arcsecond meanwhile."""
    if question.target.body not in FIELD_PLANETS or magnitude is None:
        return None
    minute = question.utc.replace(second=0, microsecond=0)
    key = ("field", question.target.key, question.site, question.instrument, minute)
    if key not in kept:
        kept[key] = planet_field(ephemeris, question, magnitude, power)
    found: PlanetField | None = kept[key]
    return found


def _moons(aspect: Aspect) -> tuple[PlanetMoon, ...]:
    if aspect.body == "jupiter":
        return jupiter_moons(aspect)
    return saturn_moons(aspect) if aspect.body == "saturn" else ()


def _shows(aspect: Aspect, power: Power) -> RingShows:
    return ring_shows(ring_look(aspect), power.view.magnification, power.resolution_arcsec)


def _night(ephemeris: Ephemeris, question: AboutQuestion) -> tuple[datetime, datetime]:
    """Give from sunset to sunrise; a whole day where the Sun does neither."""
    sun: Darkness = darkness(night_grid(ephemeris, question.site, question.utc))
    begins, ends = sun.sun_down.begins_utc, sun.sun_down.ends_utc
    if begins is None or ends is None:
        return question.utc, question.utc + _DAY
    return begins, ends


def _crossings(ephemeris: Ephemeris, question: AboutQuestion, body: str) -> tuple[datetime, ...]:
    """Give when the asked longitude crosses the middle of the disk within a day."""
    asked = _ASKED_SYSTEM.get(body)
    if asked is None or question.longitude_deg is None:
        return ()
    system, rate = asked

    def ahead_deg(utc: datetime) -> float:
        at = planet_turn(ephemeris.aspect(body, utc)).meridians_deg[system]
        return ((question.longitude_deg or 0.0) - at) % 360.0

    found: list[datetime] = []
    utc = question.utc + timedelta(days=ahead_deg(question.utc) / rate)
    while utc <= question.utc + _DAY:
        # The planet's distance changes the rate a little: correct to the nearer side.
        off = (ahead_deg(utc) + 180.0) % 360.0 - 180.0
        found.append(utc + timedelta(days=off / rate))
        utc = found[-1] + timedelta(days=360.0 / rate)
    return tuple(found)
