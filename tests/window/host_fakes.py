"""A host's evening that is known already: fixed turns for the tests of the window."""

from datetime import datetime, timedelta

from PySide6.QtCore import Signal

from companion.about import Saying
from companion.finding import Instrument
from companion.instant import DEMO_UTC
from companion.live import HostModel, HostWishes, Showing
from companion.road import Program, Sheet, Stop
from companion.sky import Kind, Target
from window.facts import SATURN
from window.standing_in import StandIn, Told

RING = Target("ngc:NGC6720", "M 57", Kind.PLANETARY, 283.396, 33.029)
SAYINGS = (
    Saying(
        "", "a globe of gas with a ring of ice", "1,300 million kilometres away",
        "Once around the Sun takes it 29 years: how often in your life?",
        "Can you see the ring apart from the ball, and which of the two is brighter?",
        "The ring stands apart, open by 7.2°.", "",
    ),
    Saying(
        "Ring Nebula", "a planetary nebula: gas that a dying star has thrown off",
        "about 2,600 light years away",
        "The light that you see left it 2,600 years ago, long before there were printed books.",
        "Is it a point like the stars, or a little disc?", "A disc.",
        "Grey, not as in pictures: give your eye time, and look a little beside it.",
    ),
)  # fmt: skip


def turn(target: Target, saying: Saying, utc: datetime, *, caution: str = "") -> Stop:
    """Give one turn."""
    return Stop(
        target, utc, 90.0, 20.0, "" if caution else "in the east, two fists up",
        "" if caution else "Face east", "150 mm f/8, 6 mm", saying,
        "the W of Cassiopeia: Five stars as a W or an M.", "Albireo", 1.4,
        "adults stand, a child needs a step; hold it", caution,
    )  # fmt: skip


STOPS = (
    turn(SATURN, SAYINGS[0], DEMO_UTC),
    turn(RING, SAYINGS[1], DEMO_UTC + timedelta(minutes=12)),
)
SHEET = Sheet(
    DEMO_UTC, "the W of Cassiopeia", "cassiopeia-w", "Five stars as a W or an M.", (), (), (), ()
)
PROGRAM = Program(DEMO_UTC, 10.0, STOPS, (), SHEET, "")


class FakeHost(StandIn):
    """Nothing is worked out yet, until a test says so."""

    real = HostModel
    own = frozenset({"give", "turn_to"})
    changed = Signal()

    def __init__(self, told: Told) -> None:
        super().__init__(told)
        self.wishes = HostWishes()
        self.program: Program | None = None
        self.targets: tuple[Target, ...] = ()
        self.at: int | None = None
        self.working = False
        self.moved = False
        self.axis_m: float | None = None
        self.instrument: Instrument | None = None
        self.showing: Showing | None = None

    def stop(self, at: int) -> Stop | None:
        return STOPS[at]

    def found(self, key: str) -> bool:
        return key == RING.key

    def want(self, wishes: HostWishes) -> None:
        self.told.append(("want", wishes))
        self.wishes = wishes
        self.changed.emit()

    def give(self) -> None:
        """Have an evening."""
        self.program, self.targets = PROGRAM, tuple(stop.target for stop in STOPS)
        self.changed.emit()

    def turn_to(self, at: int, told: Stop | None, minutes_left: float = 10.0) -> None:
        """Show a target."""
        self.give()
        self.at = at
        self.showing = Showing(self.targets[at], at + 1, len(self.targets), minutes_left, told)
        self.changed.emit()
