"""How bright and how large each target is taken to be, and how well that is known."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from companion.sky import Bulge, Kind, LightFrom, Target


class Known(StrEnum):
    """Where a magnitude comes from, as a stable code."""

    MEASURED = "measured"
    VARIES = "varies"  # the faint end of a range: nobody knows today's
    FROM_BLUE = "blue"
    BY_EYE = "eye"
    GUESSED = "guessed"  # from kind and size
    NOT = "unknown"


_OF_LIGHT = {
    LightFrom.MEASURED: Known.MEASURED,
    LightFrom.BLUE: Known.FROM_BLUE,
    LightFrom.EYE: Known.BY_EYE,
}
# Uncertainty of each, mag. The blue estimate's is the spread of B - V within a kind of galaxy,
# the eye's how far handbooks differ about a nebula.
_SIGMA = {
    Known.MEASURED: 0.2,
    Known.VARIES: 0.3,
    Known.FROM_BLUE: 0.4,
    Known.BY_EYE: 0.5,
    Known.NOT: 3.0,
}
_NEBULA_FROM_BLUE_SIGMA = 1.5  # nebulae shine in lines, and their edges are anybody's choice
_NEBULAE = frozenset({Kind.NEBULA, Kind.REMNANT, Kind.CLUSTER_NEBULA})
BODY_SIGMA = 0.1  # of a planet's predicted magnitude
# Usual mean surface brightness, V mag/arcsec², with its spread: median and spread of the objects
# in the carried catalogue that have both magnitude and size; nebulae without a published total
# are the faint ones (from memory).
_USUAL_SURFACE = {
    Kind.GALAXY: (22.5, 0.8),
    Kind.OPEN_CLUSTER: (20.8, 1.5),
    Kind.GLOBULAR: (21.5, 1.2),
    Kind.CLUSTER_NEBULA: (21.0, 1.8),
    Kind.NEBULA: (23.0, 1.5),
    Kind.PLANETARY: (17.5, 2.5),
    Kind.REMNANT: (24.0, 1.5),
    Kind.GROUP: (21.1, 1.5),
}
_USUAL_SIZE_ARCMIN = {  # medians of the same catalogue
    Kind.GALAXY: 1.2,
    Kind.OPEN_CLUSTER: 4.5,
    Kind.GLOBULAR: 3.9,
    Kind.CLUSTER_NEBULA: 4.8,
    Kind.NEBULA: 4.5,
    Kind.PLANETARY: 0.4,
    Kind.REMNANT: 10.0,
    Kind.GROUP: 4.8,
    Kind.COMET: 4.0,
}
# Part of the size that holds half of the light: galaxies after the mean ratio of effective to
# isophotal diameter (RC3, from memory); globular clusters after half-light against listed size.
_HALF_LIGHT_SIZE = {Kind.GALAXY: 0.45, Kind.GLOBULAR: 0.35, Kind.COMET: 0.3}
_HALF_LIGHT_MAG = 0.7526
# Part of a galaxy's size that its bright middle fills, and how much fainter than the total it is:
# half of a bulge of a fifth of the light (types before Sc) or of a twelfth (Sc), within 0.2 scale
# lengths of the disc (Graham & Worley 2008, MNRAS 388, 1708; from memory).
_BULGES = {Bulge.LARGE: (0.054, 2.4), Bulge.SMALL: (0.054, 3.4)}
# A sphere of Plummer 1911 (MNRAS 71, 460) holds 4.6% of its light within 0.22 of its half-light
# size.
_GLOBULAR_MIDDLE = (0.22, 3.34)
# The brightest stars of a cluster are this much fainter than all together (common practice).
STARS_BELOW_TOTAL = 2.5
STAR_CLUSTERS = frozenset({Kind.OPEN_CLUSTER, Kind.CLUSTER_NEBULA, Kind.GROUP})
POINTS = frozenset(
    {
        Kind.STAR, Kind.DOUBLE, Kind.VARIABLE, Kind.PLANET, Kind.DWARF_PLANET, Kind.MINOR_PLANET,
        Kind.SATELLITE,
    }
)  # fmt: skip
ALWAYS_SEEN = frozenset({Kind.MOON})
_ARCSEC2_PER_ARCMIN2 = 3600.0

BrightPart = tuple[float, float]  # of the size, and how much fainter than the whole it is
_NO_PART: BrightPart = (np.nan, np.nan)


@dataclass(frozen=True, slots=True)
class Brightness:
    """What the visibility of one target is computed from; NaN where nothing can be said.

    ``brighter_mag`` is how much brighter than ``magnitude`` a variable star may be tonight.
    ``parts`` are a bright part and the very middle, each as a part of the size and what it is
    fainter than the whole: often they show where the whole does not.
    """

    magnitude: float
    sigma_mag: float
    known: Known
    major_arcmin: float = 0.0  # 0 for points
    minor_arcmin: float = 0.0
    size_guessed: bool = False
    brighter_mag: float = 0.0
    parts: tuple[BrightPart, BrightPart] = (_NO_PART, _NO_PART)


def brightness_of(target: Target) -> Brightness:
    """Take a target's magnitude and size, or the best guess that its kind allows."""
    if target.kind in POINTS:
        return _point(target)
    if target.magnitude is None and target.part_magnitude is not None:
        return _part_alone(target)
    major = target.major_arcmin or _USUAL_SIZE_ARCMIN.get(target.kind, 1.0)
    minor = target.minor_arcmin or major
    magnitude, sigma, known = _magnitude(target, major * minor * np.pi / 4.0)
    return Brightness(
        magnitude,
        sigma,
        known,
        major,
        minor,
        size_guessed=target.major_arcmin is None,
        parts=_parts(target, float(np.sqrt(major * minor))),
    )


def _point(target: Target) -> Brightness:
    """Take a star by its magnitude, a variable one by the faint end of its range."""
    if target.faintest_magnitude is not None:
        faintest = target.faintest_magnitude
        brightest = target.brightest_magnitude
        brighter = 0.0 if brightest is None else faintest - brightest
        return Brightness(faintest, _SIGMA[Known.VARIES], Known.VARIES, brighter_mag=brighter)
    known = Known.NOT if target.magnitude is None else Known.MEASURED
    magnitude = np.nan if target.magnitude is None else target.magnitude
    return Brightness(magnitude, _SIGMA[known], known)


def _part_alone(target: Target) -> Brightness:
    """Take the part that is seen where nobody gives a total."""
    assert target.part_magnitude is not None  # noqa: S101 - the caller looked
    size = target.part_arcmin or target.major_arcmin or _USUAL_SIZE_ARCMIN.get(target.kind, 1.0)
    return Brightness(target.part_magnitude, _SIGMA[Known.BY_EYE], Known.BY_EYE, size, size)


def _magnitude(target: Target, area_arcmin2: float) -> tuple[float, float, Known]:
    """Give magnitude, uncertainty and where they come from, for something with an area."""
    if target.magnitude is not None:
        known = _OF_LIGHT[target.light_from]
        vague = known is Known.FROM_BLUE and target.kind in _NEBULAE
        return target.magnitude, _NEBULA_FROM_BLUE_SIGMA if vague else _SIGMA[known], known
    usual = _USUAL_SURFACE.get(target.kind)
    if usual is None or target.major_arcmin is None:
        return np.nan, _SIGMA[Known.NOT], Known.NOT
    total = usual[0] - 2.5 * np.log10(area_arcmin2 * _ARCSEC2_PER_ARCMIN2)
    return float(total), usual[1], Known.GUESSED


def _parts(target: Target, size_arcmin: float) -> tuple[BrightPart, BrightPart]:
    """Give the part that is seen, else that with half of the light; and the very middle."""
    half = _HALF_LIGHT_SIZE.get(target.kind)
    part = _NO_PART if half is None else (half, _HALF_LIGHT_MAG)
    if target.part_arcmin and target.part_magnitude is not None and target.magnitude is not None:
        part = target.part_arcmin / size_arcmin, target.part_magnitude - target.magnitude
    if target.kind is Kind.GLOBULAR:
        return part, (part[0] * _GLOBULAR_MIDDLE[0], _GLOBULAR_MIDDLE[1])
    middle = _BULGES.get(target.bulge) if target.kind is Kind.GALAXY else None
    return part, middle or _NO_PART
