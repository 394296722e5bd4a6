"""A road that is known already: fixed steps for the tests of the window."""

from datetime import timedelta

from PySide6.QtCore import Signal

from companion.instant import DEMO_UTC
from companion.live import Rehearsal, RehearsalView, RoadQuestion, RoadView
from companion.live.road import RoadModel
from companion.road import Road, Step, Tool
from companion.sky import LOON_BARRENS
from window.standing_in import StandIn, Told

STEPS = (
    Step(
        "first-star", "A first bright star: Vega", "hip:91262", Tool.EYE, 261.0, 69.5,
        ("Face west.", "Vega is seven fists above the horizon, the brightest there."),
        "It is bluish white and nothing near it is as bright.",
        "Not there? See whether a tree or a cloud stands in the way.",
    ),
    Step(
        "hand", "Measure with your hand", "", Tool.NOTHING, None, None, ("Stretch the arm.",),
        "Nine fists are a quarter of a circle.", "Not nine? Bend the arm less.",
    ),
    Step(
        "moon", "The Moon", "", Tool.EYE, None, None, ("The Moon is below the horizon.",), "", "",
        DEMO_UTC + timedelta(days=2), waits=True,
    ),
)  # fmt: skip


class FakeRehearsal(StandIn):
    """A round that never comes."""

    real = Rehearsal
    changed = Signal()

    def __init__(self, told: Told) -> None:
        super().__init__(told)
        self.view: RehearsalView | None = None
        self.failed = ""
        self.question = self.answer = self.sky = None


class FakeRoad(StandIn):
    """All is known already."""

    real = RoadModel
    changed = Signal()

    def __init__(self, told: Told) -> None:
        super().__init__(told)
        question = RoadQuestion(LOON_BARRENS, DEMO_UTC, None)
        self.view: RoadView | None = RoadView(question, Road(DEMO_UTC, STEPS, "", 0))
        self.rehearsal = FakeRehearsal(told)
