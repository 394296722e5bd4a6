from .darkness import Darkness as Darkness, Twilights as Twilights, darkness as darkness
from .grid import NightGrid as NightGrid, Track as Track, night_grid as night_grid
from .horizon import horizon_altitude_deg as horizon_altitude_deg
from .horizon_import import ImportedHorizon as ImportedHorizon, read_horizon as read_horizon
from .observer import Conditions as Conditions, Observer as Observer, Practice as Practice
from .scales import (
    bortle_class as bortle_class,
    naked_eye_limit as naked_eye_limit,
    zenith_brightness as zenith_brightness,
)
from .star_limit import star_limit as star_limit
from .views import View as View, views_of as views_of
