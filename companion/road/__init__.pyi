from .aims import AIMS as AIMS, Aim as Aim, Tool as Tool
from .counting import Counted as Counted, counted as counted
from .learned import (
    BOX_NIGHTS as BOX_NIGHTS,
    Learned as Learned,
    Standing as Standing,
    standings as standings,
)
from .road import Road as Road, RoadRequest as RoadRequest, Step as Step, road as road
