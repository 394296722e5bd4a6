"""Every screen and sheet, at every size: pure red, and no word runs into another."""

import sys
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import timedelta
from itertools import combinations

import pytest
from PySide6.QtCore import QPointF, QRectF, QSizeF, Qt
from PySide6.QtGui import QFontMetricsF, QPainter
from PySide6.QtWidgets import QWidget

from companion.instant import CompassZone, HandlingFacts
from companion.journal import Fault
from companion.live import Severity
from companion.sky import DRY_PAN
from companion.window import MainWindow, RedApplication
from companion.window.frame.sheet import Field
from companion.window.kit import lettering
from companion.window.kit.attention import Attention
from companion.window.kit.figure import Figure, width_of
from companion.window.kit.gauge import Gauge
from companion.window.kit.lettering import Words
from companion.window.sky import chart_names
from window.conftest import Windows
from window.facts import NORTH, READING, UTC_NOW, aim, snapshot
from window.fakes import FakeEvening, mounted
from window.gear_facts import BUMP_DOUBT, FITTED, STAR_DOUBT, STAYS, sighted
from window.mount.test_mount_words import POINTED
from window.purity import lit, stained

SIZES = [(1366, 768), (1920, 1080), (640, 400)]
LONG = "The journal's folder can't be written to. " * 4

Scene = Callable[[Windows, tuple[int, int]], MainWindow]


def scene(evening: Callable[[], FakeEvening], *actions: str, typed: str = "") -> Scene:
    def show(make: Windows, size: tuple[int, int]) -> MainWindow:
        window = make(evening(), size)
        for action in actions:
            window.do(action)
        if typed and window.sheets.up is not None:
            window.sheets.up.field.setText(typed)
            window.do("take")
        window.motion.settle()
        return window

    return show


def _messages() -> FakeEvening:
    evening = FakeEvening(snapshot(aim=aim(reading=READING, lead_s=30.0), preview=True))
    evening.messages.say(Severity.ERROR, LONG)
    return evening


def _damaged() -> FakeEvening:
    evening = FakeEvening()
    evening.upkeep.fault = Fault.DAMAGED
    evening.messages.say(Severity.ERROR, LONG, "journal")
    return evening


def _homeless() -> FakeEvening:
    evening = FakeEvening(rows=0)
    evening.latest, evening.needs_site = None, True
    return evening


def _south() -> FakeEvening:
    north = replace(
        NORTH,
        zone=CompassZone.CAUTION,
        polaris_altitude_deg=None,
        polaris_azimuth_deg=None,
        shadow_azimuth_deg=88.0,
    )
    return FakeEvening(snapshot(site=DRY_PAN, north=north))


def _sun() -> FakeEvening:
    return FakeEvening(snapshot(aim=aim(sun_danger=True, sun_distance_deg=9.0)))


def _uncovered() -> FakeEvening:
    evening = _sun()
    evening.uncover()
    return evening


def _below() -> FakeEvening:
    rises = UTC_NOW + timedelta(hours=3)
    return FakeEvening(snapshot(aim=aim(altitude_deg=-12.3, rises_utc=rises)))


def _empty() -> FakeEvening:
    return FakeEvening(snapshot(aim=None, rows=()), rows=0)


def _sure() -> FakeEvening:
    """Give an aim with the longest words that it has."""
    words = "in the 8×50 finder over 99%, in the 25 mm 71%, in the 9 mm 12%: start with the finder"
    reading = replace(READING, advice=words)
    evening = mounted()
    evening.latest = snapshot(
        aim=aim(reading=reading, handling=HandlingFacts(STAYS), lead_s=17.0), alignment=FITTED
    )
    return evening


def _looking() -> FakeEvening:
    evening = mounted()
    evening.latest = snapshot(pointed=POINTED, alignment=FITTED)
    return evening


def _doubted() -> FakeEvening:
    return mounted(replace(FITTED, doubts=(BUMP_DOUBT, STAR_DOUBT)))


def _many() -> FakeEvening:
    rows = tuple(sighted(at, "Alpha Centauri and so on", 0.1 * at) for at in range(1, 26))
    return mounted(replace(FITTED, sightings=rows))


SCENES: dict[str, Scene] = {
    "aim": scene(FakeEvening),
    "five hundred rows": scene(lambda: FakeEvening(rows=500)),
    "messages and band": scene(_messages),
    "damaged journal": scene(_damaged),
    "a new journal": scene(_damaged, "begin_anew"),
    "sun": scene(_sun),
    "uncovered": scene(_uncovered),
    "below": scene(_below),
    "empty": scene(_empty),
    "help": scene(FakeEvening, "help"),
    "search": scene(FakeEvening, "search"),
    "nothing typed right": scene(FakeEvening, "lead", typed="x" * 60),
    "north": scene(FakeEvening, "screen:north"),
    "south": scene(_south, "screen:north"),
    "deviation": scene(FakeEvening, "screen:north", "measure"),
    "place": scene(FakeEvening, "screen:place"),
    "latitude": scene(FakeEvening, "screen:place", "row_down", "take", typed="91"),
    "first start": scene(_homeless),
    "sure aim": scene(_sure, typed=""),
    "sighting": scene(mounted, "sight", typed="x"),
    "looking": scene(_looking, "look", typed="142"),
    "mount": scene(mounted, "screen:mount"),
    "mount in doubt": scene(_doubted, "screen:mount"),
    "many sightings": scene(_many, "screen:mount"),
    "sighting beside the mount": scene(mounted, "screen:mount", "sight"),
    "no mount": scene(FakeEvening, "screen:mount"),
    "no mount to describe": scene(FakeEvening, "screen:mount", "describe"),
    "description": scene(mounted, "screen:mount", "describe"),
    "mounts": scene(mounted, "screen:mount", "describe", "row_left"),
    "bad graduation": scene(
        mounted, "screen:mount", "describe", *["row_down"] * 4, "take", typed="600"
    ),
    "instrument": scene(mounted, "screen:mount", "instrument"),
    "level": scene(mounted, "screen:mount", "set_up"),
    "compass": scene(mounted, "screen:mount", "set_up", *["step_on"] * 4, typed="x"),
    "keys of the mount": scene(mounted, "screen:mount", "describe", "help"),
}


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", SCENES)
def test_pure_red(
    make_window: Windows, qapp: RedApplication, name: str, size: tuple[int, int]
) -> None:
    window = SCENES[name](make_window, size)
    for dimmer in (0, 99):
        qapp.brightness.move(dimmer)
        picture = window.grab()
        assert stained(picture) == 0
        assert lit(picture) > 1000


@pytest.fixture
def written(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, QWidget, QRectF]]:
    """Where the ink of every line stands, whoever wrote it."""
    kept: list[tuple[str, QWidget, QRectF]] = []
    write = lettering.write

    def record(
        painter: QPainter, box: QRectF, text: str, align: Qt.AlignmentFlag = lettering._LEFT
    ) -> float:
        width = write(painter, box, text, align)
        widget = painter.device()
        metrics = QFontMetricsF(painter.font())
        ink = QRectF(0, 0, width, metrics.capHeight())
        ink.moveCenter(box.center())
        if align & Qt.AlignmentFlag.AlignLeft:
            ink.moveLeft(box.left())
        elif align & Qt.AlignmentFlag.AlignRight:
            ink.moveRight(box.right())
        if isinstance(widget, QWidget) and text.strip():
            kept.append((text, widget, ink))
        return width

    write_name = chart_names.write_name

    def record_name(painter: QPainter, corner: QPointF, word: chart_names.LaidOut) -> None:
        write_name(painter, corner, word)
        ink = QRectF(0, 0, word.width - 2.0, QFontMetricsF(painter.font()).capHeight())
        ink.moveCenter(QRectF(corner, QSizeF(word.width, word.height)).center())
        widget = painter.device()
        if isinstance(widget, QWidget):
            kept.append((word.text.text(), widget, ink))

    for name, module in list(sys.modules.items()):
        if name.startswith("companion.window") and getattr(module, "write", None) is write:
            monkeypatch.setattr(module, "write", record)
    monkeypatch.setattr(chart_names, "write_name", record_name)
    return kept


def _in_window(window: MainWindow, widget: QWidget, box: QRectF) -> QRectF:
    return box.translated(widget.mapTo(window, widget.rect().topLeft()).toPointF())


def _blocks(window: MainWindow) -> Iterator[tuple[str, QWidget, QRectF]]:
    """Give what stands in the window beside written lines."""
    for widget in window.findChildren(QWidget):
        if not widget.isVisible():
            continue
        box = QRectF(widget.rect())
        if isinstance(widget, Figure):
            shown = widget.text or "88.8"
            box.setWidth(min(box.width(), width_of(shown, widget.pixels)))
        elif isinstance(widget, Attention):
            box.setHeight(widget.height_for(widget.width()))
        elif isinstance(widget, Words):
            if not widget._wrap or not widget.text:
                continue
        elif not isinstance(widget, Gauge | Field):
            continue
        yield type(widget).__name__, widget, box


def _covered(window: MainWindow, widget: QWidget) -> bool:
    """Tell what lies under a sheet that covers its screen."""
    sheet = window.sheets.up
    if sheet is None or sheet.isAncestorOf(widget) or sheet is widget:
        return False
    return sheet.x() == 0 and window.stage.isAncestorOf(widget)


def check_words(window: MainWindow, written: list[tuple[str, QWidget, QRectF]]) -> None:
    """Hold that nothing written runs into anything else, or out of the window."""
    written.clear()
    window.grab()
    stand = [
        (text, widget, _in_window(window, widget, box))
        for text, widget, box in (*written, *_blocks(window))
        if not _covered(window, widget)
    ]
    assert len(stand) > 5
    inside = QRectF(window.rect())
    for text, _widget, box in stand:
        assert inside.contains(box.adjusted(1, 1, -1, -1)), (text, box)
    for (one, its, first), (other, others, second) in combinations(stand, 2):
        if its is others and type(its).__name__ in {one, other}:
            continue  # what an instrument writes into its own drawing
        shared = first & second
        assert shared.width() < 1.5 or shared.height() < 1.5, (one, other, first, second)


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", SCENES)
def test_no_word_runs_into_another(
    make_window: Windows,
    written: list[tuple[str, QWidget, QRectF]],
    name: str,
    size: tuple[int, int],
) -> None:
    window = SCENES[name](make_window, size)
    check_words(window, written)


def test_overlaps_would_be_seen(
    make_window: Windows, written: list[tuple[str, QWidget, QRectF]]
) -> None:
    window = make_window()
    face = window.stage.shown.findChildren(Words)
    written.clear()
    face[1].move(face[0].pos())
    window.grab()
    boxes = [_in_window(window, w, box) for text, w, box in written if w in face[:2]]
    assert (boxes[0] & boxes[1]).height() > 1.5
