from .apparent import LIGHT_AU_PER_DAY as LIGHT_AU_PER_DAY
from .aspect import AU_KM as AU_KM, LIGHT_KM_PER_S as LIGHT_KM_PER_S, Aspect as Aspect
from .axes import MERIDIANS as MERIDIANS, body_axes as body_axes
from .borders import (
    constellation_borders as constellation_borders,
    constellation_of as constellation_of,
)
from .carried import CARRIED as CARRIED
from .catalogue import (
    Catalogue as Catalogue,
    load_catalogue as load_catalogue,
    place_target as place_target,
)
from .constellation import (
    CONSTELLATIONS as CONSTELLATIONS,
    constellation_name as constellation_name,
)
from .conventions import (
    ASTRONOMICAL_DEG as ASTRONOMICAL_DEG,
    CIVIL_DEG as CIVIL_DEG,
    HORIZON_REFRACTION_DEG as HORIZON_REFRACTION_DEG,
    NAUTICAL_DEG as NAUTICAL_DEG,
    SUN_DANGER_DEG as SUN_DANGER_DEG,
    SUN_UP_DEG as SUN_UP_DEG,
)
from .crossings import Crossings as Crossings, find_crossings as find_crossings
from .dark import (
    NextPhase as NextPhase,
    Phase as Phase,
    next_phase as next_phase,
    phase_of as phase_of,
    phase_text as phase_text,
)
from .deep_sky import DeepSky as DeepSky, DeepSkyColumns as DeepSkyColumns
from .dipole import Geomagnetic as Geomagnetic, geomagnetic as geomagnetic
from .direction import parse_direction as parse_direction
from .diurnal import (
    TURN_DEG_PER_S as TURN_DEG_PER_S,
    TURN_RAD_PER_S as TURN_RAD_PER_S,
    Diurnal as Diurnal,
    equator_axes as equator_axes,
    turned_west as turned_west,
)
from .ephemeris import Ephemeris as Ephemeris
from .faint_stars import (
    ALL_STARS_COMPLETE_TO_MAG as ALL_STARS_COMPLETE_TO_MAG,
    FaintStars as FaintStars,
    load_faint_stars as load_faint_stars,
)
from .hand import (
    HAND as HAND,
    NARROWEST_FIST_DEG as NARROWEST_FIST_DEG,
    USUAL_FIST_DEG as USUAL_FIST_DEG,
    WIDEST_FIST_DEG as WIDEST_FIST_DEG,
)
from .hit import Hit as Hit, Match as Match, Understood as Understood
from .horizon import horizon_altitude_deg as horizon_altitude_deg
from .knots import Knots as Knots
from .magnetic import (
    MODEL as MODEL,
    MagneticField as MagneticField,
    MagneticZone as MagneticZone,
    field_at as field_at,
    magnetic_field as magnetic_field,
    year_of as year_of,
)
from .milky_way import milky_way as milky_way
from .moment import (
    Horizontal as Horizontal,
    Moment as Moment,
    Rates as Rates,
    SeenMover as SeenMover,
)
from .moon_features import (
    FEATURE_KINDS as FEATURE_KINDS,
    MoonFeatures as MoonFeatures,
    load_moon_features as load_moon_features,
)
from .moon_places import moon_row as moon_row
from .movers import Mover as Mover, MoverFacts as MoverFacts, Vantage as Vantage
from .names import (
    DoubleStar as DoubleStar,
    Names as Names,
    StarName as StarName,
    VariableStar as VariableStar,
)
from .parse import (
    parse_latitude as parse_latitude,
    parse_longitude as parse_longitude,
    parse_place as parse_place,
)
from .parse_time import (
    parse_time as parse_time,
    twice_words as twice_words,
    zone_of as zone_of,
)
from .polaris import POLARIS as POLARIS, PolarisLook as PolarisLook, polaris_look as polaris_look
from .refraction import air_of as air_of, airless_deg as airless_deg, refracted_deg as refracted_deg
from .resources import resource as resource
from .search import SearchIndex as SearchIndex, load_search as load_search
from .search_words import hit_text as hit_text
from .site import (
    DEMO_SITES as DEMO_SITES,
    DRY_PAN as DRY_PAN,
    LOON_BARRENS as LOON_BARRENS,
    Site as Site,
)
from .sky_points import stands_still as stands_still
from .solar_system import (
    FIRST_UTC as FIRST_UTC,
    LAST_UTC as LAST_UTC,
    LIGHTS as LIGHTS,
    MOON as MOON,
    PLANETS as PLANETS,
    SOLAR_SYSTEM as SOLAR_SYSTEM,
    SUN as SUN,
)
from .span import (
    SkySpan as SkySpan,
    disc_radii_rad as disc_radii_rad,
    separations_rad as separations_rad,
)
from .spelling import fold as fold
from .stars_data import (
    STARS_COMPLETE_TO_MAG as STARS_COMPLETE_TO_MAG,
    StarColumns as StarColumns,
)
from .table import TargetTable as TargetTable, julian_year as julian_year, moved as moved
from .target import (
    Bulge as Bulge,
    Kind as Kind,
    LightFrom as LightFrom,
    Target as Target,
)
from .target_words import disc_text as disc_text, kind_text as kind_text
from .text import (
    altitude_text as altitude_text,
    angle_text as angle_text,
    as_fists as as_fists,
    azimuth_text as azimuth_text,
    clock_text as clock_text,
    compass_point as compass_point,
    declination_text as declination_text,
    duration_text as duration_text,
    fists_text as fists_text,
    magnitude_text as magnitude_text,
    position_text as position_text,
    right_ascension_text as right_ascension_text,
    signed_text as signed_text,
    size_text as size_text,
    zone_text as zone_text,
)
from .towns import (
    Town as Town,
    TownIndex as TownIndex,
    find_site as find_site,
    time_zone_at as time_zone_at,
)
from .vectors import (
    cross as cross,
    horizontal_separation_deg as horizontal_separation_deg,
    ra_dec_of as ra_dec_of,
    separation_deg as separation_deg,
    unit_vectors as unit_vectors,
    wrap_180 as wrap_180,
)
