"""How bright and how large each target is taken to be, and how well that is known."""

from dataclasses import dataclass
from enum import StrEnum

import numpy as np

from companion.sky import Kind, Target


class Known(StrEnum):
    """Where a magnitude comes from; the value is the word shown."""

    MEASURED = "measured"
    FROM_BLUE = "estimated from blue light"
    GUESSED = "guessed from kind and size"
    NOT = "unknown"


# Uncertainty of each, mag. The blue estimate's is the spread of B - V within a kind of galaxy.
_SIGMA = {Known.MEASURED: 0.2, Known.FROM_BLUE: 0.4, Known.NOT: 3.0}
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
CORE_SIZE = {Kind.GALAXY: 0.45, Kind.GLOBULAR: 0.35, Kind.COMET: 0.3}
# Part of the size that the bright centre fills, and how much fainter than the total it is.
# Galaxies: half of a bulge of a fifth of the light, within 0.2 scale lengths of the disc, usual
# for Sb (Graham & Worley 2008, MNRAS 388, 1708; from memory). Globular clusters: a sphere of
# Plummer 1911 (MNRAS 71, 460) holds 4.6% of its light within 0.22 of its half-light size.
CENTRE = {Kind.GALAXY: (0.054, 2.4), Kind.GLOBULAR: (0.077, 3.34)}
# The brightest stars of a cluster are this much fainter than all together (common practice).
STARS_BELOW_TOTAL = 2.5
STAR_CLUSTERS = frozenset({Kind.OPEN_CLUSTER, Kind.CLUSTER_NEBULA, Kind.GROUP})
POINTS = frozenset({Kind.STAR, Kind.DOUBLE, Kind.VARIABLE, Kind.PLANET, Kind.DWARF_PLANET})
ALWAYS_SEEN = frozenset({Kind.MOON})
_ESTIMATE_WORD = "estimated from blue"  # as the catalogue notes it
_ARCSEC2_PER_ARCMIN2 = 3600.0


@dataclass(frozen=True, slots=True)
class Brightness:
    """What the visibility of one target is computed from; NaN where nothing can be said."""

    magnitude: float
    sigma_mag: float
    known: Known
    major_arcmin: float  # 0 for points
    minor_arcmin: float
    size_guessed: bool


def brightness_of(target: Target) -> Brightness:
    """Take a target's magnitude and size, or the best guess that its kind allows."""
    if target.kind in POINTS:
        known = Known.NOT if target.magnitude is None else Known.MEASURED
        magnitude = np.nan if target.magnitude is None else target.magnitude
        return Brightness(magnitude, _SIGMA[known], known, 0.0, 0.0, size_guessed=False)
    guessed_size = target.major_arcmin is None
    major = target.major_arcmin or _USUAL_SIZE_ARCMIN.get(target.kind, 1.0)
    minor = target.minor_arcmin or major
    magnitude, sigma, known = _magnitude(target, major * minor * np.pi / 4.0)
    return Brightness(magnitude, sigma, known, major, minor, guessed_size)


def _magnitude(target: Target, area_arcmin2: float) -> tuple[float, float, Known]:
    """Give magnitude, uncertainty and where they come from, for something with an area."""
    if target.magnitude is not None:
        known = Known.FROM_BLUE if _ESTIMATE_WORD in target.note else Known.MEASURED
        vague = known is Known.FROM_BLUE and target.kind in _NEBULAE
        return target.magnitude, _NEBULA_FROM_BLUE_SIGMA if vague else _SIGMA[known], known
    usual = _USUAL_SURFACE.get(target.kind)
    if usual is None or target.major_arcmin is None:
        return np.nan, _SIGMA[Known.NOT], Known.NOT
    total = usual[0] - 2.5 * np.log10(area_arcmin2 * _ARCSEC2_PER_ARCMIN2)
    return float(total), usual[1], Known.GUESSED
