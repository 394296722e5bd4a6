from .calendar import events_calendar as events_calendar
from .coming import (
    LONGEST as LONGEST,
    ComingRequest as ComingRequest,
    event_kinds_named as event_kinds_named,
    what_comes as what_comes,
)
from .event import Event as Event, EventKind as EventKind
