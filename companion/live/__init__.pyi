from .asker import Asker as Asker, Library as Library
from .choices import Choices as Choices
from .demo import DEMO_NAMES as DEMO_NAMES, DEMO_UTC as DEMO_UTC
from .evening import Evening as Evening
from .keeper import JournalKeeper as JournalKeeper
from .messages import Message as Message, Messages as Messages, Severity as Severity
from .queue import QueueItem as QueueItem, SortBy as SortBy
from .service import EphemerisService as EphemerisService
from .snapshot import (
    AimFacts as AimFacts,
    AlignmentFacts as AlignmentFacts,
    CompassZone as CompassZone,
    DarkFacts as DarkFacts,
    Light as Light,
    NorthFacts as NorthFacts,
    Reading as Reading,
    RowFacts as RowFacts,
    Snapshot as Snapshot,
    Trend as Trend,
    Turn as Turn,
)
from .snapshot_builder import SnapshotBuilder as SnapshotBuilder
