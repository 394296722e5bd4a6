from .choices import Choices as Choices
from .keeper import JournalKeeper as JournalKeeper
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
