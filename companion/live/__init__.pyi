from .evening import Evening as Evening
from .instruments import InstrumentRack as InstrumentRack
from .messages import Message as Message, Messages as Messages, Severity as Severity
from .mounts import WOODEN as WOODEN, MountDesk as MountDesk
from .night_plan import NightDesk as NightDesk
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
from .nights import (
    FamousLists as FamousLists,
    FileKind as FileKind,
    JournalBook as JournalBook,
    JournalView as JournalView,
)
from .order_wishes import OrderWishes as OrderWishes
from .queue import QueueItem as QueueItem, SortBy as SortBy
from .threads.catalogue_thread import Asker as Asker, Library as Library
from .threads.chart_thread import ChartService as ChartService
from .threads.ephemeris_thread import EphemerisService as EphemerisService
from .threads.journal_thread import JournalKeeper as JournalKeeper
from .threads.planner_thread import Planner as Planner
