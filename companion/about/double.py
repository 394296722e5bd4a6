"""A double star as it stands this year, and which instruments part it."""

import math

from companion.about.record import AboutQuestion, DoublePage
from companion.about.tables import load_tables
from companion.finding import Instrument, InstrumentKind
from companion.night import Conditions, View, star_limit, views_of
from companion.sky import DoubleStar, julian_year

_SEEING_PART = 0.5  # of a star's blur, within which no pair is parted
_SPLIT_AT_ARCSEC = 150.0  # apparent distance at which a pair is parted at ease
# Each magnitude of difference beyond the first asks for a quarter more (common practice).
_UNEQUAL = 1.25


def double_page(star: DoubleStar, question: AboutQuestion) -> DoublePage:
    """Give the place of this year, and who parts it.

    Raises
    ------
    AdviceError
        If an instrument cannot gather light or magnify.
    """
    orbit = load_tables().orbits.get(star.hip)
    separation, angle, year = star.separation_arcsec, star.position_angle_deg, None
    if orbit is not None:
        year = julian_year(question.utc)
        separation, angle = orbit[0].place(year)
    every = {one.name: one for one in (question.instrument, *question.others)}
    own = _parting(question.instrument, star, separation, question.conditions)
    return DoublePage(
        separation_arcsec=separation,
        position_angle_deg=angle,
        magnitudes=(star.primary_magnitude, star.companion_magnitude),
        colours=star.colours,
        splits_with=tuple(
            name
            for name, one in every.items()
            if _parting(one, star, separation, question.conditions)
        ),
        magnification=min((view.magnification for view in own), default=None),
        spare=separation / _least(question.instrument, star, question.conditions),
        year=year,
    )


def _parting(
    instrument: Instrument, star: DoubleStar, separation: float, conditions: Conditions
) -> list[View]:
    """Give the views of an instrument that part a pair and show its fainter star."""
    return [
        view
        for view in views_of(instrument, conditions.observer)
        if separation >= _needed(view, star, conditions)
        and star.companion_magnitude + conditions.extinction_mag <= _limit(view, conditions)
    ]


def _least(instrument: Instrument, star: DoubleStar, conditions: Conditions) -> float:
    views = views_of(instrument, conditions.observer)
    return min(_needed(view, star, conditions) for view in views)


def _needed(view: View, star: DoubleStar, conditions: Conditions) -> float:
    """Give the separation that a view parts, arcseconds."""
    apart_mag = max(star.companion_magnitude - star.primary_magnitude - 1.0, 0.0)
    sharp = max(view.resolution_arcsec, _SEEING_PART * conditions.seeing_arcsec)
    # The eye needs its own distance, whatever the difference.
    return max(sharp * math.pow(_UNEQUAL, apart_mag), _SPLIT_AT_ARCSEC / view.magnification)


def _limit(view: View, conditions: Conditions) -> float:
    limit = star_limit(
        view, conditions.zenith_mag, conditions.observer, seeing_arcsec=conditions.seeing_arcsec
    )
    return float(limit)


def double_words(page: DoublePage, question: AboutQuestion) -> list[str]:
    """Say how the pair looks and whether this instrument parts it."""
    faint, bright = max(page.magnitudes), min(page.magnitudes)
    said = [
        (
            f"It is two stars, of magnitudes {bright:.1f} and {faint:.1f}, {page.colours}, "
            f"{page.separation_arcsec:.1f} arcseconds apart."
        )
    ]
    name = question.instrument.name
    by_eye = question.instrument.kind is InstrumentKind.EYE
    if page.magnification is None:
        return [*said, "By eye it is one star." if by_eye else f"The {name} does not part it."]
    if by_eye:
        return [*said, "Sharp eyes part it."]
    return [*said, f"The {name} parts it from {page.magnification:.0f} times magnified."]
