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
from .doubt import examine as examine
from .doubts import Doubt as Doubt, DoubtKind as DoubtKind
from .fit import fit as fit
from .next_sighting import NextSighting as NextSighting, next_sighting as next_sighting
from .pair import PairAngle as PairAngle, pair_angle as pair_angle
from .records import (
    CountedFrom as CountedFrom,
    Dial as Dial,
    Mount as Mount,
    Sighting as Sighting,
)
from .stars import (
    BrightStars as BrightStars,
    Fitting as Fitting,
    StarsAt as StarsAt,
    fitting_stars as fitting_stars,
)
