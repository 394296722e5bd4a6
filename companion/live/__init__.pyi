from .asker import Asker as Asker, Library as Library
from .bright_stars import BrightSky as BrightSky
from .chart import (
    SkyBody as SkyBody,
    SkyFrame as SkyFrame,
    SkyHop as SkyHop,
    SkyIndex as SkyIndex,
    SkyPaths as SkyPaths,
    SkyTarget as SkyTarget,
    SkyWay as SkyWay,
)
from .chart_facts import (
    InField as InField,
    apart_deg as apart_deg,
    around as around,
    crossing_s as crossing_s,
    double_of as double_of,
    in_field as in_field,
)
from .chart_maker import SkyFrameMaker as SkyFrameMaker
from .chart_pages import page_frames as page_frames
from .chart_scene import Scene as Scene, scene_of as scene_of
from .chart_service import ChartService as ChartService
from .chart_things import Label as Label
from .chart_view import (
    CIRCLE_SHARE as CIRCLE_SHARE,
    ChartKind as ChartKind,
    ChartView as ChartView,
    Lens as Lens,
    eyepieces as eyepieces,
    lens_of as lens_of,
)
from .choices import Choices as Choices
from .demo import (
    DEMO_INSTRUMENT as DEMO_INSTRUMENT,
    DEMO_KEYS as DEMO_KEYS,
    DEMO_UTC as DEMO_UTC,
)
from .evening import Evening as Evening
from .group_round import GroupRound as GroupRound, group_round as group_round
from .instrument_rack import InstrumentRack as InstrumentRack
from .journal_book import (
    FamousLists as FamousLists,
    FileKind as FileKind,
    JournalBook as JournalBook,
    JournalView as JournalView,
)
from .keeper import JournalKeeper as JournalKeeper
from .messages import Message as Message, Messages as Messages, Severity as Severity
from .mount_desk import WOODEN as WOODEN, MountDesk as MountDesk
from .night_desk import NightDesk as NightDesk
from .night_questions import (
    Around as Around,
    BodyCurve as BodyCurve,
    Ease as Ease,
    ExportQuestion as ExportQuestion,
    ExportView as ExportView,
    ImportQuestion as ImportQuestion,
    ImportView as ImportView,
    Kinds as Kinds,
    ListQuestion as ListQuestion,
    ListView as ListView,
    NightQuestion as NightQuestion,
    NightView as NightView,
    OrderQuestion as OrderQuestion,
    OrderView as OrderView,
    Seen as Seen,
    Side as Side,
    Wanted as Wanted,
)
from .order_wishes import OrderWishes as OrderWishes
from .planner import Planner as Planner
from .queue import QueueItem as QueueItem, SortBy as SortBy
from .service import EphemerisService as EphemerisService
from .snapshot import (
    AimFacts as AimFacts,
    AlignmentFacts as AlignmentFacts,
    CompassZone as CompassZone,
    DarkFacts as DarkFacts,
    DoubtFacts as DoubtFacts,
    FittingFacts as FittingFacts,
    HandlingFacts as HandlingFacts,
    Light as Light,
    NextSightingFacts as NextSightingFacts,
    NorthFacts as NorthFacts,
    ParameterFacts as ParameterFacts,
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
