from .bright_stars import BrightSky as BrightSky
from .choices import Choices as Choices
from .demo import DEMO_INSTRUMENT as DEMO_INSTRUMENT, DEMO_KEYS as DEMO_KEYS, DEMO_UTC as DEMO_UTC
from .examination import (
    Examination as Examination,
    SightingsQuestion as SightingsQuestion,
    examined as examined,
)
from .snapshot import (
    AimFacts as AimFacts,
    AlignmentFacts as AlignmentFacts,
    CompassZone as CompassZone,
    DarkFacts as DarkFacts,
    HandlingFacts as HandlingFacts,
    Light as Light,
    NextSightingFacts as NextSightingFacts,
    NorthFacts as NorthFacts,
    PastSun as PastSun,
    PointedFacts as PointedFacts,
    Reading as Reading,
    RowFacts as RowFacts,
    SightingFacts as SightingFacts,
    Snapshot as Snapshot,
    StayFacts as StayFacts,
    Trend as Trend,
    Turn as Turn,
)
from .snapshot_builder import SnapshotBuilder as SnapshotBuilder
from .trusted_fit import TrustedFit as TrustedFit
