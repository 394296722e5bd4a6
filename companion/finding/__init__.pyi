from .courses import Course as Course
from .field_stars import FieldStars as FieldStars
from .groups import (
    Group as Group,
    Hemisphere as Hemisphere,
    find_group as find_group,
    load_groups as load_groups,
)
from .guide import (
    GuideStars as GuideStars,
    seen_vectors as seen_vectors,
)
from .guide_map import (
    GuideMap as GuideMap,
    MapLead as MapLead,
    guide_map as guide_map,
    map_from as map_from,
)
from .hop_steps import Hop as Hop, Hops as Hops
from .hops import hops_to as hops_to
from .instrument import (
    Eyepiece as Eyepiece,
    Finder as Finder,
    Instrument as Instrument,
    InstrumentKind as InstrumentKind,
    Viewing as Viewing,
    eyepiece_height_m as eyepiece_height_m,
    viewing_text as viewing_text,
)
from .map_ends import WELL_KNOWN as WELL_KNOWN, best_known as best_known, extent as extent
from .map_words import (
    azimuth_altitude_deg as azimuth_altitude_deg,
    face_words as face_words,
    stand_words as stand_words,
)
from .optics import (
    Optics as Optics,
    drift_time_s as drift_time_s,
    optics_of as optics_of,
    view_matrix as view_matrix,
)
from .pointers import round_of as round_of, ways_to as ways_to
from .projection import (
    ViewFrame as ViewFrame,
    arc_between as arc_between,
    circle_around as circle_around,
    position_angle_deg as position_angle_deg,
)
from .single_ways import Place as Place
from .trace import trace as trace
from .wayfinder import (
    EyeLimit as EyeLimit,
    WayFinder as WayFinder,
    finder_limit as finder_limit,
    floor_deg as floor_deg,
)
from .ways import Way as Way, WayKind as WayKind, Ways as Ways
