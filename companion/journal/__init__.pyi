from .beside import (
    ReadBack as ReadBack,
    folders_beside as folders_beside,
    keep_beside as keep_beside,
    kept_beside as kept_beside,
    read_back as read_back,
)
from .changes import (
    WHATEVER_STANDS as WHATEVER_STANDS,
    Change as Change,
    Mark as Mark,
    What as What,
    change_line as change_line,
    key_change as key_change,
    mark_change as mark_change,
    queue_change as queue_change,
    read_change as read_change,
    setting_change as setting_change,
    sight_change as sight_change,
    sightings_change as sightings_change,
)
from .database import put_aside as put_aside
from .errors import Fault as Fault, JournalError as JournalError
from .events import LONGEST_TEXT as LONGEST_TEXT, Did as Did, Event as Event, Flaw as Flaw
from .export import (
    csv_text as csv_text,
    json_lines as json_lines,
    night_text as night_text,
)
from .found_rows import readable_rows as readable_rows
from .history import (
    Night as Night,
    Tick as Tick,
    nights as nights,
    seen_keys as seen_keys,
    ticks as ticks,
)
from .home import (
    home_of as home_of,
    prepared_home as prepared_home,
    read_settings as read_settings,
)
from .journal import (
    FILE_NAME as FILE_NAME,
    Journal as Journal,
    Written as Written,
)
from .night_date import night_of as night_of
from .outcome import (
    Outcome as Outcome,
    outcome_of as outcome_of,
    outcome_text as outcome_text,
)
from .plain import Plain as Plain, from_plain as from_plain, to_plain as to_plain
from .rescue import (
    Rescued as Rescued,
    asides as asides,
    rescue as rescue,
    rescued_settings as rescued_settings,
)
from .settings import Settings as Settings
from .state import (
    EveningState as EveningState,
    QueueEntry as QueueEntry,
    SightingEntry as SightingEntry,
)
