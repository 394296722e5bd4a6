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
from window.sky_fakes import CONJUNCTION, EVENING, TELESCOPE, sky_of

from companion.charts import ChartKind, SkyFrame
from companion.sky import DRY_PAN, load_catalogue
from companion.window import MainWindow, RedApplication
from companion.window.aim.words import NOTHING
from companion.window.forms.prompt_sheet import PromptSheet
from companion.window.sky.chart_legend import ENTRIES
from companion.window.sky.view import SkyView
from companion.window.sky.words import (
    Walk,
)


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


def test_the_ways_by_eye_go_round(make_window: Windows) -> None:
    window, view = up(make_window)
    ways = sky_of().paths.ways
    assert len(ways) > 1
    texts = [view.side.texts[0].text]
    for _ in ways:
        press(window, "p")
        texts.append(view.side.texts[0].text)
    assert texts[: len(ways)] == [way.sentence for way in ways]
    assert view.chart.shown.way is None
    press(window, "p")
    assert view.side.texts[0].text == ways[0].sentence
    assert view.chart.shown.way is ways[0]


def test_in_the_wide_chart_the_whole_way_is_in_view(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "W", "p", "p")
    window.motion.settle()
    shown = view.chart.shown.way
    assert shown is not None
    for star in shown.stars:
        assert view.chart.view.holds(view.chart.view.places(star))


def test_one_key_hops_on_and_the_chart_follows(make_window: Windows) -> None:
    window, view = up(make_window)
    hops = sky_of().paths.hops
    for hop in hops:
        press(window, "h")
        window.motion.settle()
        assert view.chart.kind is ChartKind.FINDER
        assert off_deg(view, hop.start) < 1e-6
        assert view.chart.view.holds(view.chart.view.places(hop.end))
        assert view.side.texts[0].text.startswith(hop.sentence)
    steps = [view.walk.step]
    for key in ("H", "h", "h"):
        press(window, key)
        steps.append(view.walk.step)
    last = len(hops) - 1
    assert steps == [last, last - 1, last, None]
    window.motion.settle()
    target = sky_of().target
    assert target is not None
    assert off_deg(view, target.vector) < 1e-6


def test_another_route_when_the_first_fails(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "h", "X")
    second = sky_of().paths.second
    assert "SECOND ROUTE, STEP 1" in view.side.captions[0].text
    assert view.side.texts[0].text == second[0].sentence
    press(window, "X")
    assert view.side.texts[0].text == sky_of().paths.hops[0].sentence


def test_orientation_is_said_and_turned_by_key(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "F")
    assert "The view is turned upside down." in view.side.chart.text
    press(window, "M")
    assert "mirrored, upright; the instrument's is not" in view.side.chart.text
    press(window, "M", "M")
    assert "The view is turned upside down." in view.side.chart.text


def test_borders_grid_and_legend_by_key(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "B")
    assert window.evening.charts.borders  # type: ignore[attr-defined]
    press(window, "G")
    assert "No sighting" in view.side.attention.notice.head
    shown = []
    for _ in range(2):
        press(window, "K")
        shown.append((view.legend.isVisible(), view.side.isVisible()))
    assert shown == [(True, False), (False, True)]
    assert len(ENTRIES) > 20


def test_a_new_target_starts_anew(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "h")
    window.evening.charts.tell(sky_of("ngc:NGC6205"))  # type: ignore[attr-defined]
    window.motion.settle()
    assert view.walk == Walk()
    target = sky_of("ngc:NGC6205").target
    assert target is not None
    assert off_deg(view, target.vector) < 1e-6


def test_readings_take_the_chart_to_where_they_point(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "F")
    sky = sky_of("hip:62956", pointed_deg=(90.0, 41.0))
    window.evening.charts.tell(sky)  # type: ignore[attr-defined]
    window.motion.settle()
    assert sky.pointed is not None
    assert off_deg(view, sky.pointed) < 1e-6
    assert view.side.name.text == "Where the tube points"


def test_near_the_sun_no_instrument_is_shown(make_window: Windows) -> None:
    window, view = up(make_window)
    press(window, "F")
    sky = sky_of("body:venus", CONJUNCTION)
    window.evening.charts.tell(sky)  # type: ignore[attr-defined]
    assert view.chart.kind is ChartKind.WHOLE
    assert view.side.attention.notice.caution
    assert "blinds" in view.side.attention.notice.text
    press(window, "F", "E", "h")
    assert view.chart.kind is ChartKind.WHOLE
    assert not sky.paths.ways
    assert not sky.paths.hops


def test_found_and_not_seen_work_from_the_chart(make_window: Windows) -> None:
    window, _view = up(make_window)
    press(window, " ", "n")
    told = window.evening.told  # type: ignore[attr-defined]
    assert [call[0] for call in told if call[0] == "mark"] == ["mark", "mark"]


def test_without_a_target_it_says_how_to_choose_one(make_window: Windows) -> None:
    _window, view = up(make_window, lambda: sky_of(""))
    assert "Press /" in view.side.attention.notice.head
    south = sky_of("", site=DRY_PAN)
    _window, view = up(make_window, lambda: south)
    assert view.chart.centre[0] > 0.0  # towards the north, where the Sun passes there


def test_without_a_place_there_is_no_sky(make_window: Windows) -> None:
    evening = FakeEvening(rows=0)
    evening.needs_site, evening.charts.sky = True, lambda: sky_of("")
    window = make_window(evening)
    press(window, "Esc")
    window.go_to("sky")
    (view,) = window.stage.shown.findChildren(SkyView)
    seen = [(evening.charts.live, view.side.attention.notice.head)]
    evening.sites.choose(DRY_PAN)
    press(window, "3")
    seen.append((evening.charts.live, view.side.attention.notice.head))
    assert seen[0] == (False, "No place is known yet.")
    assert seen[1][0]
    assert seen[1][1].startswith("Press /")


def test_a_round_starts_from_a_group_that_is_known(make_window: Windows) -> None:
    window, _view = up(make_window)
    evening = cast("FakeEvening", window.evening)
    press(window, "r")
    sheet = window.sheets.up
    assert isinstance(sheet, PromptSheet)
    sheet.field.setText("no such group")
    window.do("take")
    assert window.sheets.up is sheet  # the error stands in its place, what was typed is kept
    assert sheet.field.text() == "no such group"
    sheet.field.setText("dipper")
    window.do("take")
    assert ("start a round", "Big Dipper") in evening.told


def test_the_note_of_a_key_goes_with_the_next(make_window: Windows) -> None:
    window, view = up(make_window, lambda: sky_of(instrument=TELESCOPE))
    press(window, "G")
    assert view.side.attention.notice != NOTHING
    press(window, "W")
    assert view.side.attention.notice == NOTHING
