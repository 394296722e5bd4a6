from .aims import AIMS as AIMS, Aim as Aim, Tool as Tool, tool_of as tool_of
from .answer import Road as Road, Step as Step
from .counting import Counted as Counted, counted as counted
from .fist import Fist as Fist, measured_fist as measured_fist
from .learned import (
    BOX_NIGHTS as BOX_NIGHTS,
    Learned as Learned,
    Standing as Standing,
    missed_in_practice as missed_in_practice,
    standings as standings,
)
from .program import (
    next_in_the_open as next_in_the_open,
    program as program,
    stop_now as stop_now,
    visitors_sheet as visitors_sheet,
)
from .rehearsal import Question as Question, Rehearsal as Rehearsal, rehearse as rehearse
from .road import RoadRequest as RoadRequest, road as road
from .stops import (
    HostRequest as HostRequest,
    Program as Program,
    Sheet as Sheet,
    SheetLead as SheetLead,
    Stop as Stop,
)
