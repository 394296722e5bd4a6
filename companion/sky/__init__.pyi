from .advice import AdviceError as AdviceError
from .ephemeris import Ephemeris as Ephemeris
from .magnetic import (
    MagneticField as MagneticField,
    MagneticZone as MagneticZone,
    magnetic_field as magnetic_field,
)
from .moment import BodyLook as BodyLook, Horizontal as Horizontal, Moment as Moment, Rates as Rates
from .refraction import air_of as air_of, airless_deg as airless_deg, refracted_deg as refracted_deg
from .site import DRY_PAN as DRY_PAN, LOON_BARRENS as LOON_BARRENS, Site as Site
from .table import TargetTable as TargetTable
from .target import Kind as Kind, Target as Target
from .vectors import (
    horizontal_separation_deg as horizontal_separation_deg,
    ra_dec_of as ra_dec_of,
    separation_deg as separation_deg,
    unit_vectors as unit_vectors,
    wrap_180 as wrap_180,
)
