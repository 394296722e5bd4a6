from .aurora import (
    AURORA_ADVICE as AURORA_ADVICE,
    AuroraLook as AuroraLook,
    aurora_look as aurora_look,
    parse_kp as parse_kp,
)
from .calendar import events_calendar as events_calendar
from .coming import (
    LONGEST as LONGEST,
    ComingRequest as ComingRequest,
    event_kinds_named as event_kinds_named,
    what_comes as what_comes,
)
from .days import Day as Day, days_of as days_of
from .elements.kept import KeptElements as KeptElements, mover_of as mover_of
from .elements.reader import (
    ReadElements as ReadElements,
    read_elements as read_elements,
    read_elements_file as read_elements_file,
)
from .elements.record import Elements as Elements, Family as Family, Refused as Refused
from .event import Event as Event, EventKind as EventKind
from .kp_file import (
    KP_HOLDS as KP_HOLDS,
    KpRow as KpRow,
    kp_at as kp_at,
    read_kp as read_kp,
    read_kp_file as read_kp_file,
)
