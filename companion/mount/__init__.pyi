from .aim import Aim as Aim
from .alignment import Alignment as Alignment, Parameter as Parameter, Residual as Residual
from .dial import (
    Shown as Shown,
    angle_of as angle_of,
    checked_reading as checked_reading,
    is_on_dial as is_on_dial,
    parse_reading as parse_reading,
    reading_of as reading_of,
    shown as shown,
    shown_step_deg as shown_step_deg,
)
from .fit import fit as fit
from .records import (
    CountedFrom as CountedFrom,
    Dial as Dial,
    Mount as Mount,
    Sighting as Sighting,
)
