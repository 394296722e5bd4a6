from .changes import (
    WHATEVER_STANDS as WHATEVER_STANDS,
    Change as Change,
    Mark as Mark,
    What as What,
    go_change as go_change,
    keep_change as keep_change,
    key_change as key_change,
    learn_change as learn_change,
    mark_change as mark_change,
    note_change as note_change,
    queue_change as queue_change,
    setting_change as setting_change,
    sight_change as sight_change,
    sightings_change as sightings_change,
)
from .errors import Fault as Fault, JournalError as JournalError
from .events import LONGEST_TEXT as LONGEST_TEXT, Did as Did, Event as Event, Flaw as Flaw
from .export import (
    csv_text as csv_text,
    json_lines as json_lines,
    night_text as night_text,
)
from .held import (
    Held as Held,
    Lifetime as Lifetime,
    Night as Night,
    SeenTarget as SeenTarget,
)
from .history import (
    Entry as Entry,
    Remark as Remark,
    Tick as Tick,
    entries as entries,
    flaws as flaws,
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
from .kept import (
    KeptJournal as KeptJournal,
    Left as Left,
    settings_to_start_with as settings_to_start_with,
)
from .lessons import Lesson as Lesson, lessons as lessons
from .lifetime import (
    LifetimeReader as LifetimeReader,
    entries_of as entries_of,
    lifetime as lifetime,
    seen_keys as seen_keys,
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
    RemarkEntry as RemarkEntry,
    SightingEntry as SightingEntry,
)
