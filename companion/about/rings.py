"""Saturn's ring: how far it is open, how large, and whether an instrument shows it."""

import math
from dataclasses import dataclass
from enum import StrEnum

from companion.about.orientation import point_below, position_angle_of
from companion.sky import Aspect, body_axes

# The outer edge of ring A across at 1 au: Meeus, ch. 45, after the Astronomical Almanac. Cassini's
# cameras put the edge half a percent further out.
_ACROSS_ARCSEC = 375.35
# The gap in the ring, in parts of the outer edge (Meeus, ch. 45).
_GAP_INNER, _GAP_OUTER = 0.8599, 0.8801
_EDGE_ON_DEG = 0.5  # an opening that small hides the ring in most telescopes (common practice)
# Apparent length of one end beside the globe for a hint and for a plain view, arcmin, and the
# apparent width of the gap at the ends (common practice, no source).
_HINT_ARCMIN, _PLAIN_ARCMIN, _GAP_ARCMIN = 1.5, 4.5, 1.0
_END = 0.5 * (1.0 - 0.441)  # of the major axis: what stands out beside the globe


class RingShows(StrEnum):
    """How much of the ring an instrument shows, as a stable code."""

    NOTHING = "nothing"
    HINT = "hint"
    PLAIN = "plain"
    GAP = "gap"


@dataclass(frozen=True, slots=True)
class RingLook:
    """The ring for one observer; the opening is positive with the north face turned to us.

    ``sun_opening_deg`` is the Sun's height over the same plane; where the two have opposite signs
    we look at the unlit face. Error of the angles: 0.01°.
    """

    opening_deg: float
    sun_opening_deg: float
    angle_deg: float  # of the minor axis towards the north pole: north through east
    major_arcsec: float
    minor_arcsec: float

    @property
    def edge_on(self) -> bool:
        """Tell whether the ring is so thin a line, or unlit, that it hardly shows."""
        return abs(self.opening_deg) < _EDGE_ON_DEG or self.opening_deg * self.sun_opening_deg < 0.0


def ring_look(aspect: Aspect) -> RingLook:
    """Give how the ring looks to the observer of an aspect of Saturn (Meeus, ch. 45)."""
    axes = body_axes("saturn", aspect.days)
    opening = point_below(axes, -aspect.to_body_km).latitude_deg
    angle = position_angle_of(aspect, axes[2])
    across = _ACROSS_ARCSEC / aspect.distance_au
    return RingLook(
        opening_deg=opening,
        sun_opening_deg=point_below(axes, -aspect.from_sun_km).latitude_deg,
        angle_deg=(angle + 180.0) % 360.0 - 180.0,
        major_arcsec=across,
        minor_arcsec=across * abs(math.sin(math.radians(opening))),
    )


def ring_shows(look: RingLook, magnification: float, resolution_arcsec: float) -> RingShows:
    """Give how much of the ring shows at a power, with what the air lets through.

    Parameters
    ----------
    look : RingLook
        The ring.
    magnification : float
        Of the view.
    resolution_arcsec : float
        The finest that aperture, eye and air show.
    """
    if look.edge_on:
        return RingShows.NOTHING
    end_arcmin = _END * look.major_arcsec * magnification / 60.0
    gap_arcsec = 0.5 * (_GAP_OUTER - _GAP_INNER) * look.major_arcsec
    # A dark line on a bright ground shows though it is narrower than what parts two stars.
    fine = gap_arcsec >= 0.35 * resolution_arcsec
    if end_arcmin >= _PLAIN_ARCMIN:
        wide = gap_arcsec * magnification / 60.0 >= _GAP_ARCMIN
        return RingShows.GAP if fine and wide else RingShows.PLAIN
    return RingShows.HINT if end_arcmin >= _HINT_ARCMIN else RingShows.NOTHING
