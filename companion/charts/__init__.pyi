from .dotted import dots_along as dots_along
from .facts import (
    InField as InField,
    apart_deg as apart_deg,
    around as around,
    crossing_s as crossing_s,
    double_of as double_of,
    in_field as in_field,
)
from .frame import (
    SkyBody as SkyBody,
    SkyFrame as SkyFrame,
    SkyHop as SkyHop,
    SkyIndex as SkyIndex,
    SkyPaths as SkyPaths,
    SkyTarget as SkyTarget,
    SkyTrack as SkyTrack,
    SkyWay as SkyWay,
)
from .glow import GLOW_CELL as GLOW_CELL, glow_of as glow_of
from .maker import SkyFrameMaker as SkyFrameMaker
from .pages import (
    PageHour as PageHour,
    PageTime as PageTime,
    SkyPage as SkyPage,
    sky_pages as sky_pages,
)
from .placing import leaders as leaders, place_labels as place_labels
from .pointing import Pointed as Pointed, PointedThing as PointedThing, pointed_at as pointed_at
from .scene import Scene as Scene, magnitude_key as magnitude_key, scene_of as scene_of
from .sheet import SheetSky as SheetSky, sheet_sky as sheet_sky
from .things import DrawnName as DrawnName
from .view import (
    CIRCLE_SHARE as CIRCLE_SHARE,
    ChartKind as ChartKind,
    ChartView as ChartView,
    Lens as Lens,
    eyepieces as eyepieces,
    lens_of as lens_of,
)
