"""What an instrument resolves and reaches at best, on this sky, by one observer."""

import math
from dataclasses import dataclass

from companion.finding import Instrument
from companion.night import Conditions, View, star_limit, views_of

_SEEING_PART = 0.5  # of a star's blur: what steady moments leave (common practice, no source)


@dataclass(frozen=True, slots=True)
class Power:
    """The sharpest view of an instrument, and the faintest star through any of its views.

    ``resolution_arcsec`` counts the aperture, the eye behind this power and the air;
    ``limit_magnitude`` is outside the air, under the sky overhead.
    """

    view: View
    views: tuple[View, ...]
    resolution_arcsec: float
    limit_magnitude: float


def power_of(instrument: Instrument, conditions: Conditions) -> Power:
    """Give the sharpest view of an instrument and its limits.

    Raises
    ------
    AdviceError
        If the instrument cannot gather light or magnify.
    """
    views = views_of(instrument, conditions.observer)
    best = min(views, key=lambda view: view.resolution_arcsec)
    limits = [
        float(
            star_limit(
                view,
                conditions.zenith_mag,
                conditions.observer,
                seeing_arcsec=conditions.seeing_arcsec,
            )
        )
        for view in views
    ]
    return Power(
        view=best,
        views=views,
        resolution_arcsec=math.hypot(
            best.resolution_arcsec, _SEEING_PART * conditions.seeing_arcsec
        ),
        limit_magnitude=max(limits) - conditions.extinction_mag,
    )


def caption_of(instrument: Instrument, view: View) -> str:
    """Say through what something is seen: "150 mm f/8, 6 mm, 200×"."""
    if view.name == instrument.name:
        return instrument.name
    return f"{instrument.name}, {view.name}, {view.magnification:.0f}×"
