from .aim import Aim as Aim
from .alignment import Alignment as Alignment, Residual as Residual
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
from .doubt import examine as examine, trusted as trusted
from .doubts import Doubt as Doubt, DoubtKind as DoubtKind, Fitting as Fitting
from .fit import fit as fit
from .mount_check import AXIS_HEIGHTS_M as AXIS_HEIGHTS_M, checked_mount as checked_mount
from .mount_file import (
    mount_text as mount_text,
    parse_mount as parse_mount,
    read_mount as read_mount,
    write_mount as write_mount,
)
from .next_sighting import NextSighting as NextSighting, next_sighting as next_sighting
from .outliers import Outlier as Outlier, leave_one_out as leave_one_out
from .pair import PairAngle as PairAngle, pair_angle as pair_angle
from .play import OneSide as OneSide, Play as Play, play_of as play_of, with_play as with_play
from .reach import (
    BlindSpot as BlindSpot,
    DialTurn as DialTurn,
    blind_spot as blind_spot,
    dial_turn as dial_turn,
    may_turn as may_turn,
    reach_words as reach_words,
)
from .records import (
    LEVELLED as LEVELLED,
    PLAIN_MOUNT as PLAIN_MOUNT,
    CountedFrom as CountedFrom,
    Dial as Dial,
    Mount as Mount,
    Parameter as Parameter,
    Sighting as Sighting,
)
from .set_up import (
    NorthLook as NorthLook,
    SetUpKind as SetUpKind,
    SetUpStep as SetUpStep,
    compass_sighting as compass_sighting,
    compass_sigma_deg as compass_sigma_deg,
    level_sighting as level_sighting,
    levelled_sighting as levelled_sighting,
    set_up_steps as set_up_steps,
    shadow_sighting as shadow_sighting,
)
from .sightings_csv import (
    SightingRow as SightingRow,
    SightingTable as SightingTable,
    parse_sightings as parse_sightings,
)
from .stars import (
    BrightStars as BrightStars,
    StarsAt as StarsAt,
)
from .sun_way import (
    Corner as Corner,
    Swing as Swing,
    nearest_sun_deg as nearest_sun_deg,
    way_round as way_round,
)
from .words import (
    CONTRADICTED as CONTRADICTED,
    field_words as field_words,
    parameter_words as parameter_words,
    trust_words as trust_words,
    undetermined_words as undetermined_words,
)
