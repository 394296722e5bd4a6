"""What can be aimed at, as a plain record."""

from dataclasses import dataclass
from enum import StrEnum


class Kind(StrEnum):
    """What a target is, as a stable code; its word is ``kind_text`` of ``target_words``."""

    STAR = "star"
    DOUBLE = "double_star"
    VARIABLE = "variable_star"
    GALAXY = "galaxy"
    OPEN_CLUSTER = "open_cluster"
    GLOBULAR = "globular_cluster"
    CLUSTER_NEBULA = "cluster_with_nebula"
    NEBULA = "nebula"
    PLANETARY = "planetary_nebula"
    REMNANT = "supernova_remnant"
    DARK_NEBULA = "dark_nebula"
    GROUP = "star_group"
    PLANET = "planet"
    MOON = "moon"
    SUN = "sun"
    COMET = "comet"
    PLACE = "place_in_the_sky"
    OTHER = "other"
    DWARF_PLANET = "dwarf_planet"
    MINOR_PLANET = "minor_planet"
    SATELLITE = "satellite"  # last: data files count kinds in this order

    @classmethod
    def _missing_(cls, value: object) -> "Kind | None":
        """Read what journals held before codes and words were parted: "double star", "Moon"."""
        code = str(value).lower().replace(" ", "_")
        return cls(code) if code != value and code in set(cls) else None


class LightFrom(StrEnum):
    """Where a magnitude comes from, as a stable code."""

    MEASURED = "measured"
    BLUE = "blue"  # estimated from the blue magnitude and the usual colour
    EYE = "eye"  # of a nebula as observers estimate it: nobody measured a total


class Bulge(StrEnum):
    """How much of a galaxy's light is in a bright middle, as a stable code."""

    NONE = "none"
    SMALL = "small"  # spirals of type Sc
    LARGE = "large"  # earlier spirals, lenticulars, ellipticals


@dataclass(frozen=True, slots=True)
class Target:
    """Something in the sky that a telescope can be turned to.

    Directions are ICRS at ``epoch_year`` (1991.25 for Hipparcos, 2000.0 for the rest). Bodies of
    the solar system have ``body`` set and carry no direction: it is computed for every moment.

    ``key`` is the stable identity that the journal stores: ``hip:91262``, ``ngc:NGC0224``,
    ``body:saturn``, ``icrs:83.82500-5.39000`` (degrees), ``own:NAME``.

    ``part_arcmin`` is the diameter of the bright part that is seen of something large, with the
    ``part_magnitude`` of that part alone. ``faintest_magnitude`` is what a variable star sinks to,
    ``brightest_magnitude`` what it rises to again and again.
    """

    key: str
    name: str
    kind: Kind
    ra_deg: float | None = None
    dec_deg: float | None = None
    pm_ra_mas_per_yr: float = 0.0  # times cos(dec)
    pm_dec_mas_per_yr: float = 0.0
    parallax_mas: float = 0.0
    epoch_year: float = 2000.0
    magnitude: float | None = None
    colour_index: float | None = None  # B - V
    major_arcmin: float | None = None
    minor_arcmin: float | None = None
    part_arcmin: float | None = None
    part_magnitude: float | None = None
    faintest_magnitude: float | None = None
    brightest_magnitude: float | None = None
    light_from: LightFrom = LightFrom.MEASURED
    bulge: Bulge = Bulge.NONE
    position_angle_deg: float | None = None  # of the major axis, north through east
    constellation: str = ""  # IAU abbreviation
    aliases: tuple[str, ...] = ()
    body: str = ""  # "saturn", "moon", ... for bodies of the solar system
    note: str = ""
