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
from .event import Event as Event, EventKind as EventKind
