"""The page of a deep-sky object, and of whatever else stands still among the stars."""

import math

from companion.about.fixed_picture import outline_picture
from companion.about.record import About, AboutQuestion, Figures
from companion.about.seeing_power import caption_of, power_of
from companion.about.star_page import LIGHT_YEAR_S
from companion.about.tables import load_tables
from companion.about.view_turn import fixed_turn
from companion.about.words import figures, light_time
from companion.night import star_limit, views_of
from companion.sky import Ephemeris, Kind, Target, kind_text

# What each kind is, in a sentence; textbook knowledge.
WHAT = {
    Kind.GALAXY: "a galaxy: a system of billions of stars far beyond our own",
    Kind.OPEN_CLUSTER: "an open cluster: stars that were born together",
    Kind.GLOBULAR: "a globular cluster: a ball of some hundred thousand stars, about as old as our "
    "galaxy",
    Kind.CLUSTER_NEBULA: "a cluster of young stars in the gas that they were born from",
    Kind.NEBULA: "a nebula: gas and dust lit by stars",
    Kind.PLANETARY: "a planetary nebula: gas that a dying star has thrown off",
    Kind.REMNANT: "the remains of a star that exploded",
    Kind.DARK_NEBULA: "a dark nebula: dust that hides what lies behind it",
}
_CLUSTERS = frozenset({Kind.OPEN_CLUSTER, Kind.GLOBULAR, Kind.CLUSTER_NEBULA})
# The brightest stars of a cluster below its total light, mag (common practice, no source).
_STARS_BELOW = {Kind.GLOBULAR: 6.5, Kind.OPEN_CLUSTER: 2.5, Kind.CLUSTER_NEBULA: 2.5}


def fixed_page(ephemeris: Ephemeris, question: AboutQuestion) -> About:
    """Tell of a deep-sky object; what is not known is left out.

    Raises
    ------
    AdviceError
        If the instrument cannot gather light or magnify.
    """
    target = question.target
    power = power_of(question.instrument, question.conditions)
    distance = load_tables().distances_ly.get(target.key)
    across = target.major_arcmin
    size_ly = None
    if distance is not None and across is not None:
        size_ly = 2.0 * distance * math.tan(math.radians(across / 60.0) / 2.0)
    return About(
        target=target,
        utc=question.utc,
        instrument=question.instrument,
        figures=Figures(
            distance_ly=distance,
            light_time_s=None if distance is None else distance * LIGHT_YEAR_S,
            true_size_ly=size_ly,
            diameter_arcsec=None if across is None else across * 60.0,
            magnitude=target.magnitude,
        ),
        says=tuple(_says(target, distance, size_ly)),
        look_for=tuple(_look_for(question)),
        picture=outline_picture(
            target,
            fixed_turn(ephemeris, question),
            power,
            caption_of(question.instrument, power.views[0]),
        ),
        sources={"distance": "from memory"} if distance is not None else {},
    )


def _says(target: Target, distance: float | None, size_ly: float | None) -> list[str]:
    common = next((name for name in target.aliases if name[:1].isalpha() and " " in name), "")
    called = f", the {common}," if target.kind in WHAT and common[-1:].islower() else ""
    what = WHAT.get(target.kind, f"a {kind_text(target.kind)}")
    said = [f"{target.name}{called} is {what}."]
    if distance is not None:
        said.append(
            f"It is about {figures(distance)} light years away: its light has been on the way for "
            f"{light_time(distance * LIGHT_YEAR_S)}."
        )
    if size_ly is not None:
        said.append(f"It is about {figures(size_ly)} light years across.")
    return said


def _look_for(question: AboutQuestion) -> list[str]:
    """Say what shows of it in this instrument, the easiest first."""
    target, conditions = question.target, question.conditions
    views = views_of(question.instrument, conditions.observer)
    found = []
    if target.major_arcmin is not None:
        apparent_deg = target.major_arcmin / 60.0 * views[-1].magnification
        part = target.part_arcmin
        if part is not None and part < 0.8 * target.major_arcmin:
            found.append(
                f"the bright part, {figures(part)} of {figures(target.major_arcmin)} arcminutes"
            )
        if target.kind in WHAT and apparent_deg < 0.1:
            found.append("hardly larger than a star")
    if target.kind in _CLUSTERS and target.magnitude is not None:
        limit = max(
            float(
                star_limit(
                    view,
                    conditions.zenith_mag,
                    conditions.observer,
                    seeing_arcsec=conditions.seeing_arcsec,
                )
            )
            for view in views
        )
        deep = limit - conditions.extinction_mag - target.magnitude - _STARS_BELOW[target.kind]
        if deep > 2.0:
            found.append("resolved into many stars")
        elif deep > 0.0:
            found.append("its brightest stars, singly")
        else:
            found.append("a glow without single stars")
    return found
