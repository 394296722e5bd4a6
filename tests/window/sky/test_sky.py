"""What keys and new skies do to the charts, and what stands beside them."""

from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import cast

import numpy as np
import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtGui import QWheelEvent
from PySide6.QtTest import QTest
from window.conftest import Windows
from window.fakes import FakeEvening
from window.hands import press
from window.sky_fakes import EVENING, sky_of

from companion.charts import ChartKind, SkyFrame
from companion.sky import load_catalogue
from companion.window import MainWindow, RedApplication
from companion.window.sky.view import SkyView


def up(make: Windows, sky: Callable[[], SkyFrame] = sky_of) -> tuple[MainWindow, SkyView]:
    evening = FakeEvening()
    evening.charts.sky = sky
    target = sky().target
    wanted = None if target is None else load_catalogue().target(target.key)
    evening.choices = replace(evening.choices, target=wanted)
    window = make(evening)
    press(window, "3")
    window.motion.settle()
    (view,) = window.stage.shown.findChildren(SkyView)
    return window, view


def off_deg(view: SkyView, vector: np.ndarray) -> float:
    return float(np.degrees(np.linalg.norm(view.chart.centre - vector)))


def test_the_sky_is_computed_only_while_somebody_looks(make_window: Windows) -> None:
    evening = FakeEvening()
    window = make_window(evening)
    seen = [evening.charts.live]
    for key in ("3", "1"):
        press(window, key)
        seen.append(evening.charts.live)
    assert seen == [False, True, False]


def test_the_window_starts_without_numpy_of_the_charts() -> None:
    import subprocess
    import sys

    code = (
        "import sys, companion.window.frame.shell, companion.window.sky.panel;"
        "import companion.live.evening;"
        "print([m for m in ('numpy', 'pyqtgraph', 'skyfield') if m in sys.modules])"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert done.stdout.strip() == "[]"


@pytest.mark.parametrize(
    ("keys", "kind"),
    [
        ((), ChartKind.WHOLE),
        (("W",), ChartKind.WIDE),
        (("F",), ChartKind.FINDER),
        (("E",), ChartKind.EYEPIECE),
        (("v", "v"), ChartKind.FINDER),
        (("V",), ChartKind.EYEPIECE),
        (("E", "A"), ChartKind.WHOLE),
    ],
)
def test_one_key_for_every_chart(
    make_window: Windows, keys: tuple[str, ...], kind: ChartKind
) -> None:
    window, view = up(make_window)
    press(window, *keys)
    assert view.chart.kind is kind


def test_the_eyepieces_follow_each_other(make_window: Windows) -> None:
    window, view = up(make_window)
    names = []
    for _ in range(3):
        press(window, "E")
        names.append(view.chart.lens.name)
    assert names == ["25 mm", "9 mm", "25 mm"]


def test_without_an_eyepiece_it_says_what_to_do(make_window: Windows) -> None:
    window, view = up(make_window, lambda: sky_of(instrument=None))
    press(window, "E")
    assert view.chart.kind is ChartKind.WHOLE
    assert "Choose a telescope" in view.side.attention.notice.text


def test_the_target_stays_in_the_middle_while_the_sky_turns(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "F")
    window.motion.settle()
    later = sky_of(utc=EVENING + timedelta(minutes=10))
    window.evening.charts.tell(later)  # type: ignore[attr-defined]
    assert later.target is not None
    assert off_deg(view, later.target.vector) < 1e-9


def test_a_panned_view_goes_on_with_the_sky(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "F", "Right")
    window.motion.settle()
    assert not view.chart._follows
    before, later = sky_of(), sky_of(utc=EVENING + timedelta(minutes=10))
    assert before.target is not None
    assert later.target is not None
    away = off_deg(view, before.target.vector)
    assert away > 0.5
    window.evening.charts.tell(later)  # type: ignore[attr-defined]
    assert off_deg(view, later.target.vector) == pytest.approx(away, abs=0.01)
    press(window, "c")
    window.motion.settle()
    assert off_deg(view, later.target.vector) < 1e-9


def test_the_whole_sky_stands_still_over_the_ground(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "Left")
    window.motion.settle()
    before = view.chart.centre
    window.evening.charts.tell(sky_of(utc=EVENING + timedelta(minutes=10)))  # type: ignore[attr-defined]
    assert np.allclose(view.chart.centre, before)


@pytest.mark.parametrize(("key", "wider"), [("+", False), ("=", False), ("-", True)])
def test_zoom_by_key_has_ends(make_window: Windows, key: str, wider: bool) -> None:
    window, view = up(make_window)
    press(window, "W", "c")
    window.motion.settle()
    span, brightness = view.chart.view.reach_deg, RedApplication.instance()
    press(window, key)
    window.motion.settle()
    assert (view.chart.view.reach_deg > span) is wider
    assert brightness is not None
    press(window, *[key] * 40)
    window.motion.settle()
    low, high = view.chart.lens.spans_deg
    assert low <= view.chart._camera.span_deg <= high


@pytest.mark.parametrize(("key", "minutes"), [("Shift+Right", 10), ("Shift+Left", -10)])
def test_the_sky_turns_by_ten_minutes(make_window: Windows, key: str, minutes: int) -> None:
    window, _view = up(make_window)
    press(window, key)
    told = cast("FakeEvening", window.evening).told
    assert ("step", timedelta(minutes=minutes)) in told


def test_a_click_chooses_what_is_under_it_and_moves_nothing(make_window: Windows) -> None:
    window, view = up(make_window)
    asked: list[str] = []
    view.chart.chosen.connect(asked.append)
    press(window, "W")
    window.motion.settle()
    view.chart.grab()
    scene, sky = view.chart.scene, view.chart.sky
    assert scene is not None
    assert sky is not None
    row = int(next(row for row in scene.stars.rows if row in sky.index.star_names))
    place = scene.stars.places[scene.stars.rows.tolist().index(row)]
    before, at = view.chart.centre, QPoint(round(place[0]), round(place[1]))
    QTest.mousePress(view.chart, Qt.MouseButton.LeftButton, pos=at)
    QTest.mouseRelease(view.chart, Qt.MouseButton.LeftButton, pos=at)
    key = f"hip:{int(sky.index.hip[row])}"
    assert asked == [key]
    vector = sky.stars[row].astype(float)
    assert sky.target is not None
    chosen = replace(sky, target=replace(sky.target, key=key, vector=vector))
    view.show_sky(chosen)
    window.motion.settle()
    assert np.allclose(view.chart.centre, before, atol=1e-6)


def test_hovering_names_what_is_there_and_says_where(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "W")
    window.motion.settle()
    bare = view.chart.grab().toImage()
    place = view.chart.view.places(view.chart.centre)
    QTest.mouseMove(view.chart, QPoint(round(place[0]), round(place[1])))
    assert view.chart.grab().toImage() != bare


def test_mouse_drags_wheel_zooms_double_click_centres(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "F")
    window.motion.settle()
    chart = view.chart
    before, middle = chart.view, chart.rect().center()
    grabbed = before.direction(np.array([middle.x(), middle.y()], float))
    QTest.mousePress(chart, Qt.MouseButton.LeftButton, pos=middle)
    QTest.mouseMove(chart, middle + QPoint(80, 30))
    QTest.mouseRelease(chart, Qt.MouseButton.LeftButton, pos=middle + QPoint(80, 30))
    assert chart.view.places(grabbed) == pytest.approx([middle.x() + 80, middle.y() + 30], abs=2)
    span = chart._camera.goal_span_deg
    chart.wheelEvent(
        QWheelEvent(
            QPointF(middle),
            QPointF(middle),
            QPoint(),
            QPoint(0, 120),
            Qt.MouseButton.NoButton,
            Qt.KeyboardModifier.NoModifier,
            Qt.ScrollPhase.NoScrollPhase,
            False,
        )
    )
    assert chart._camera.goal_span_deg < span
    window.motion.settle()
    wanted = chart.view.direction(np.array([100.0, 100.0]))
    QTest.mouseDClick(chart, Qt.MouseButton.LeftButton, pos=QPoint(100, 100))
    window.motion.settle()
    assert off_deg(view, wanted) < 0.01


def test_a_held_key_keeps_moving_and_then_rests(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "W", *["Right"] * 5)
    camera = view.chart._camera
    assert camera.moving
    now = 1e9
    camera._last_s = now
    for frame in range(200):
        if not camera.step(now + 0.016 * frame):
            break
    assert np.allclose(camera.centre, camera.goal)
    assert not camera.moving
