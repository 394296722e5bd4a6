"""Stories played with a mouse alone, in windows of all sizes, bright and at a tenth.

Real threads, a real journal, the demo's sky, four targets waiting, as in ``test_stories.py``. What
the hint line has no room for is hit in the help. Nothing is ever typed.
"""

import os
import subprocess
import sys
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from PySide6.QtCore import QPointF
from pytestqt.qtbot import QtBot

from companion.journal import Outcome
from companion.window import RedApplication
from companion.window.host.panel import HostPanel
from companion.window.mount.panel import MountPanel
from companion.window.night.panel import NightPanel
from companion.window.place.horizon_sheet import HorizonSheet
from companion.window.place.panel import PlacePanel
from companion.window.road.panel import RoadPanel
from companion.window.sky.chart import Chart
from companion.window.sky.panel import SkyPanel
from window.hands import aim_of, pause
from window.mouse import click, hit, hit_row, wheel
from window.purity import lit, stained
from window.test_stories import BREATH_MS, Person

SIZES = ((1366, 768), (1920, 1080), (1024, 600), (800, 500), (600, 1000))
FOUND, NOT_SEEN, SKIPPED = Outcome.FOUND, Outcome.NOT_SEEN, Outcome.SKIPPED
Tell = Callable[[Person], None]


def tap(person: Person, *actions: str) -> None:
    """Hit one after the other, and let each have its effect."""
    for action in actions:
        hit(person.window, action)
        pause(BREATH_MS)
        person.wait(lambda: person.evening.queue._follow is None)


def outcomes(person: Person) -> dict[str, Outcome]:
    state = person.leave()
    return {e.name: e.outcome for e in state.queue if e.outcome is not Outcome.WAITING}


def tick(person: Person) -> None:
    tap(person, "found", "not_seen", "skip")
    assert outcomes(person) == {"Vega": FOUND, "Altair": NOT_SEEN, "M 31": SKIPPED}


def take_back(person: Person) -> None:
    tap(person, "found", "undo")
    person.wait(lambda: person.aim == "Vega")
    tap(person, "redo")
    assert outcomes(person) == {"Vega": FOUND}


def choose_a_row(person: Person) -> None:
    queue = aim_of(person.window).queue
    wheel(queue, -120)
    assert person.aim == "Vega"  # the wheel only looks
    at = queue._head_height() + 2.5 * queue._row_height()
    click(queue, QPointF(queue.width() / 2, at - queue._top * queue._row_height()))
    person.wait(lambda: person.aim == "M 31")
    tap(person, "found")
    assert outcomes(person) == {"M 31": FOUND}


def put_behind(person: Person) -> None:
    tap(person, "later")
    person.wait(lambda: person.aim == "Altair")
    tap(person, "undo")
    person.wait(lambda: person.evening.queue.items[0].target.name == "Vega")
    assert not outcomes(person)


def go_round(person: Person) -> None:
    seen = []
    for screen in person.window.stage.screens:
        tap(person, f"screen:{screen.word}")
        seen.append(person.window.stage.shown.word)
    assert seen == [screen.word for screen in person.window.stage.screens]
    tap(person, "screen:aim", "found")
    assert outcomes(person) == {"Vega": FOUND}


def choose_on_the_chart(person: Person) -> None:
    tap(person, "screen:sky")
    panel = person.window.stage.shown
    assert isinstance(panel, SkyPanel)
    chart = panel.view.chart
    person.wait(lambda: chart.sky is not None)
    pause(600)  # it settles
    before = person.aim
    click(chart, _spot_of_another(chart))
    person.wait(lambda: person.aim != before)
    tap(person, "found")
    assert list(outcomes(person).values()) == [FOUND]


def _spot_of_another(chart: Chart) -> QPointF:
    """Find where a click would choose something else than what is aimed at."""
    for x in range(20, chart.width() - 20, 12):
        for y in range(20, chart.height() - 20, 12):
            at = chart._pointed(QPointF(x, y))
            if at is not None and at.thing is not None and at.thing.key not in {"", "hip:91262"}:
                return QPointF(x, y)
    raise AssertionError("nothing on the chart can be chosen")


def add_from_the_list(person: Person) -> None:
    tap(person, "tonight")
    panel = person.window.stage.shown
    assert isinstance(panel, NightPanel)
    rows = panel.tonight.list
    person.wait(lambda: len(rows.rows) > 5)
    wheel(rows, -240)
    wheel(rows, 480)
    known = {item.target.name for item in person.evening.queue.items}
    at = next(at for at, row in enumerate(rows.rows) if row.name not in known)
    for _turn in range(40):
        if rows._first() <= at < rows._first() + 3:
            break
        wheel(rows, -40)
    name = rows.rows[at].name
    hit_row(rows, at)
    tap(person, "take")
    person.wait(lambda: name in {item.target.name for item in person.evening.queue.items})
    assert not outcomes(person)


def take_the_order(person: Person) -> None:
    tap(person, "screen:night", "order")
    panel = person.window.stage.shown
    assert isinstance(panel, NightPanel)
    person.wait(lambda: len(panel.order.list.rows) >= 4)
    tap(person, "take")
    person.wait(lambda: person.evening.night.accepted is not None)
    assert not outcomes(person)


def describe_a_mount(person: Person) -> None:
    tap(person, "screen:mount", "describe")
    panel = person.window.stage.shown
    assert isinstance(panel, MountPanel)
    if not panel.describe.choices.isVisible():
        tap(person, "row_right")
    click(panel.describe.choices, QPointF(60, panel.describe.choices.pitch() / 2))
    person.wait(lambda: person.evening.choices.mount is not None)
    tap(person, "back", "screen:aim", "sight")
    sheet = person.window.sheets.up
    assert sheet is not None
    tap(person, "close")
    assert not sheet.isVisible()
    assert not outcomes(person)


def draw_a_horizon(person: Person) -> None:
    tap(person, "screen:place", "draw_horizon")
    sheet = person.window.sheets.up
    assert isinstance(sheet, HorizonSheet)
    click(sheet.drawing, sheet.drawing.room().center())
    tap(person, "take")
    person.wait(lambda: bool(person.evening.choices.site.horizon))
    assert isinstance(person.window.stage.shown, PlacePanel)
    assert not outcomes(person)


def rehearse(person: Person) -> None:
    tap(person, "screen:road")
    panel = person.window.stage.shown
    assert isinstance(panel, RoadPanel)
    person.wait(lambda: bool(panel.list.rows))
    tap(person, "rehearse")
    page = panel.rehearsal
    assert page is not None
    person.wait(lambda: len(page.list.rows) >= 2)
    assert page.rect().contains(page.list.geometry().bottomLeft())  # the last answer, too
    hit_row(page.list, 1)
    person.wait(lambda: page._rehearsal.answer is not None)
    tap(person, "back")
    assert not outcomes(person)


def lead_an_evening(person: Person) -> None:
    tap(person, "screen:host", "take")
    panel = person.window.stage.shown
    assert isinstance(panel, HostPanel)
    person.wait(lambda: person.evening.host.program is not None)
    tap(person, "next")
    person.wait(lambda: person.evening.host.at == 0)
    assert not outcomes(person)


def dim_and_look_at_the_past(person: Person) -> None:
    step = person.window._brightness.step
    tap(person, "dimmer")
    assert person.window._brightness.step > step
    tap(person, "brighter", "white_light", "help", "close", "preview", "close", "fast")
    assert not outcomes(person)


STORIES: tuple[Tell, ...] = (
    tick,
    take_back,
    choose_a_row,
    put_behind,
    go_round,
    choose_on_the_chart,
    add_from_the_list,
    take_the_order,
    describe_a_mount,
    draw_a_horizon,
    rehearse,
    lead_an_evening,
    dim_and_look_at_the_past,
)
# Each story in two or three of the sizes, so that every size sees many of them; long ones in two.
LONG = {go_round, choose_on_the_chart, add_from_the_list, take_the_order, lead_an_evening}
PLAYED = [
    (tell, SIZES[(at + shift) % len(SIZES)], shift == 2)
    for at, tell in enumerate(STORIES)
    for shift in ((0, 2) if tell in LONG else (0, 2, 3))
]


def test_there_are_thirty_stories_and_each_size_has_some() -> None:
    assert len(PLAYED) >= 30
    assert min(sum(size == one for _tell, size, _dim in PLAYED) for one in SIZES) >= 6


@pytest.fixture
def people(tmp_path: Path, qapp: RedApplication, qtbot: QtBot) -> Iterator[Callable[..., Person]]:
    made: list[Person] = []

    def make(size: tuple[int, int]) -> Person:
        qapp.brightness.move(-99)
        made.append(Person(tmp_path, qapp, size))
        qtbot.addWidget(made[-1].window)
        return made[-1]

    yield make
    for person in made:
        person.evening.close()
    qapp.brightness.move(-99)


@pytest.mark.parametrize(
    ("tell", "size", "dim"),
    PLAYED,
    ids=lambda one: getattr(one, "__name__", str(one)),
)
def test_a_story_is_played_by_mouse(
    people: Callable[..., Person],
    qapp: RedApplication,
    tell: Tell,
    size: tuple[int, int],
    dim: bool,
) -> None:
    person = people(size)
    if dim:
        qapp.brightness.move(12)
    tell(person)
    picture = person.window.grab()
    assert stained(picture) == 0
    assert lit(picture) > 500


def test_on_a_screen_of_twice_the_pixels_stories_are_the_same() -> None:
    """Qt takes its factor when a program starts: these run in one of their own."""
    told = "tick and 1366 or choose_on_the_chart and 1366 or lead_an_evening and 1920"
    done = subprocess.run(
        [sys.executable, "-m", "pytest", "-q", "-p", "no:cacheprovider", __file__, "-k", told],
        env={**os.environ, "QT_SCALE_FACTOR": "2"},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stdout[-2000:]
    assert done.stdout.startswith("... ")
