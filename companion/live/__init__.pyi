from .clock import EveningClock as EveningClock
from .coming import Coming as Coming
from .coming_questions import (
    AuroraQuestion as AuroraQuestion,
    ComingQuestion as ComingQuestion,
    ComingView as ComingView,
    FileQuestion as FileQuestion,
    FileRead as FileRead,
    Reach as Reach,
    ReadingsQuestion as ReadingsQuestion,
)
from .current_choices import CurrentChoices as CurrentChoices
from .evening import Evening as Evening
from .guide_round import GuideRound as GuideRound
from .host import HostModel as HostModel
from .host_questions import HostWishes as HostWishes, Showing as Showing
from .inputs import (
    LiveInput as LiveInput,
    LiveInputs as LiveInputs,
    LivePosition as LivePosition,
    LiveReadings as LiveReadings,
)
from .instruments import Instruments as Instruments
from .kp_now import KpNow as KpNow, KpSaid as KpSaid
from .machine_clock import MachineClock as MachineClock
from .messages import Message as Message, Messages as Messages, Severity as Severity
from .mounts import WOODEN as WOODEN, Mounts as Mounts
from .night_model import NightModel as NightModel
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
    OfferQuestion as OfferQuestion,
    OfferView as OfferView,
    OrderQuestion as OrderQuestion,
    OrderView as OrderView,
    Seen as Seen,
    Side as Side,
    Wanted as Wanted,
)
from .nights import (
    FamousLists as FamousLists,
    FileKind as FileKind,
    Nights as Nights,
)
from .offers import Offers as Offers
from .order_wishes import OrderWishes as OrderWishes
from .places import Place as Place, demo_places as demo_places
from .queue import Queue as Queue
from .queue_items import QueueItem as QueueItem, SortBy as SortBy
from .rehearsal import ELSEWHERE as ELSEWHERE, Rehearsal as Rehearsal
from .road import RoadModel as RoadModel, count_stars as count_stars
from .road_questions import (
    AskedSky as AskedSky,
    RehearsalView as RehearsalView,
    RoadQuestion as RoadQuestion,
    RoadView as RoadView,
    SkyCount as SkyCount,
)
from .sites import Sites as Sites
from .threads.about_thread import AboutThread as AboutThread
from .threads.catalogue_thread import CatalogueThread as CatalogueThread, Library as Library
from .threads.chart_thread import ChartThread as ChartThread
from .threads.ephemeris_thread import EphemerisThread as EphemerisThread
from .threads.journal_thread import JournalThread as JournalThread
from .threads.planner_thread import PlannerThread as PlannerThread
from .upkeep import JournalUpkeep as JournalUpkeep
