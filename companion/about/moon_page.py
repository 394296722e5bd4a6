"""The page of the Moon, and of one place on it."""

from datetime import datetime, timedelta

from companion.about.moon import MEAN_RADIUS_KM, age_days, moon_look
from companion.about.moon_evenings import coming_evenings
from companion.about.moon_ground import ground_of
from companion.about.moon_picture import moon_picture
from companion.about.moon_words import feature_says, moon_look_for, moon_says
from companion.about.picture import Picture
from companion.about.record import About, AboutQuestion, Figures, Kept, MoonEvening, MoonPage
from companion.about.seeing_power import Power, power_of
from companion.about.view_turn import ViewTurn, turn_of, zenith_angle_deg
from companion.sky import LIGHT_KM_PER_S, Ephemeris, load_moon_features

_SOURCES = {
    "features": "Gazetteer of Planetary Nomenclature, IAU and USGS",
    "axis": "IAU Working Group on Cartographic Coordinates, report of 2009",
    "age": "from memory",
}


def moon_page(
    ephemeris: Ephemeris, question: AboutQuestion, kept: Kept, feature: int | None = None
) -> About:
    """Tell of the Moon, or of one feature by its row.

    Raises
    ------
    AdviceError
        If the ephemeris does not cover the time, or the instrument cannot be one.
    """
    aspect = ephemeris.aspect("moon", question.utc, question.site)
    here = moon_look(aspect)
    power = power_of(question.instrument, question.conditions)
    page = MoonPage(
        here=here,
        geocentric=moon_look(ephemeris.aspect("moon", question.utc)),
        age_days=_age_days(ephemeris, question, kept),
        ground=ground_of(
            aspect, load_moon_features(), power.resolution_arcsec, power.view.magnification
        ),
        feature=feature,
        coming=() if feature is not None else _coming(ephemeris, question, power, kept),
    )
    moment = ephemeris.moment(question.site, question.utc)
    turn = turn_of(
        zenith_angle_deg(moment, aspect.to_body_km, aspect.north), question.instrument.viewing
    )
    moon, sun = moment.body("moon"), moment.body("sun")
    says = moon_says(page, question, (moon.altitude_deg, sun.altitude_airless_deg))
    if feature is not None:
        says = feature_says(page, feature)
    return About(
        target=question.target,
        utc=question.utc,
        instrument=question.instrument,
        figures=Figures(
            distance_km=here.distance_km,
            light_time_s=here.distance_km / LIGHT_KM_PER_S,
            true_size_km=_size_km(page),
            diameter_arcsec=here.diameter_arcsec if feature is None else None,
            magnitude=moon.magnitude if feature is None else None,
            illuminated_fraction=here.lit,
            elongation_deg=here.elongation_deg,
        ),
        says=says,
        look_for=_look_for(page, question, moon.altitude_deg),
        moon=page,
        picture=_picture(page, turn, question, kept),
        sources=_SOURCES,
    )


def _size_km(page: MoonPage) -> float | None:
    """Give how large it is: the Moon's diameter, or that of the feature where it is listed."""
    if page.feature is None:
        return 2.0 * MEAN_RADIUS_KM
    return float(page.ground.features.diameter_km[page.feature]) or None


def _look_for(page: MoonPage, question: AboutQuestion, altitude_deg: float) -> tuple[str, ...]:
    """Give what shows of the Moon while it is up; of a feature its sentences say it."""
    if altitude_deg <= 0.0 or page.feature is not None:
        return ()
    return moon_look_for(page.ground, question.site)


def _age_days(ephemeris: Ephemeris, question: AboutQuestion, kept: Kept) -> float | None:
    """Give the age; the last new Moon is looked for once an hour."""
    key = ("new moon", *question.hour)
    if key not in kept:
        age = age_days(ephemeris, question.utc)
        kept[key] = None if age is None else question.utc - timedelta(days=age)
    begun: datetime | None = kept[key]
    return None if begun is None else (question.utc - begun) / timedelta(days=1)


def _coming(
    ephemeris: Ephemeris, question: AboutQuestion, power: Power, kept: Kept
) -> tuple[MoonEvening, ...]:
    """Look at the coming evenings once an hour."""
    key = ("coming", question.instrument, question.conditions, *question.hour)
    if key not in kept:
        kept[key] = coming_evenings(ephemeris, question.site, question.utc, power)
    found: tuple[MoonEvening, ...] = kept[key]
    return found


def _picture(page: MoonPage, turn: ViewTurn, question: AboutQuestion, kept: Kept) -> Picture:
    """Draw the disk once a minute: no shadow moves by a line's width meanwhile."""
    minute = question.utc.replace(second=0, microsecond=0)
    key = ("picture", question.target.key, question.site, question.instrument, minute)
    if key not in kept:
        kept[key] = moon_picture(page, turn, question.instrument.name)
    picture: Picture = kept[key]
    return picture
