"""Every chart at every size: pure red, and no word runs into another."""

from dataclasses import replace
from itertools import combinations
from typing import Any

import pytest
from PySide6.QtCore import QRectF
from PySide6.QtWidgets import QWidget
from window.conftest import Windows
from window.fakes import FakeEvening
from window.purity import lit, stained
from window.sky_fakes import CONJUNCTION, NOON, TELESCOPE, sky_of
from window.test_looks import SIZES, _blocks, _covered, _in_window, written

from companion.charts import SkyFrame
from companion.finding import Finder
from companion.sky import DRY_PAN, LOON_BARRENS, Site, load_catalogue
from companion.window import MainWindow, RedApplication
from companion.window.sky import view
from companion.window.sky.chart import Chart

__all__ = ["view", "written"]  # a fixture; the charts, imported before it looks for writers

POLE = Site("the Pole", 90.0, 0.0)


def finder(field_deg: float) -> Any:
    return replace(TELESCOPE, finder=Finder("finder", field_deg, 8.0, 50.0))


def hazy() -> SkyFrame:
    return sky_of("body:venus", CONJUNCTION)


SKIES: dict[str, tuple[Any, tuple[str, ...]]] = {
    "whole": (sky_of, ()),
    "wide": (sky_of, ("chart_wide", "way")),
    "finder": (sky_of, ("chart_finder",)),
    "hop": (sky_of, ("hop",)),
    "eyepiece": (sky_of, ("chart_eyepiece",)),
    "narrower eyepiece": (sky_of, ("chart_eyepiece", "chart_eyepiece", "turn_view")),
    "double": (lambda: sky_of("hip:95947"), ("chart_eyepiece",)),
    "legend": (sky_of, ("legend",)),
    "no target": (lambda: sky_of(""), ()),
    "no target, finder": (lambda: sky_of(""), ("chart_finder",)),
    "by day": (lambda: sky_of("hip:91262", NOON), ("chart_wide",)),
    "near the Sun": (hazy, ("chart_finder",)),
    "the Sun": (lambda: sky_of("body:sun", NOON), ("chart_eyepiece", "hop")),
    "below": (lambda: sky_of("hip:60718"), ()),
    "south": (lambda: sky_of("hip:60718", site=DRY_PAN), ("chart_wide",)),
    "pole": (lambda: sky_of("hip:11767", site=POLE), ("chart_finder",)),
    "pole, whole sky": (lambda: sky_of("", site=POLE), ()),
    "tiny finder": (lambda: sky_of(instrument=finder(0.1)), ("chart_finder",)),
    "vast finder": (lambda: sky_of(instrument=finder(60.0)), ("chart_finder",)),
    "pointed": (lambda: sky_of(pointed_deg=(200.0, 40.0)), ("chart_finder",)),
    "off the chart": (sky_of, ("chart_finder", *("pan_left",) * 12)),
}


def show(make: Windows, name: str, size: tuple[int, int]) -> MainWindow:
    sky, actions = SKIES[name]
    evening = FakeEvening()
    evening.charts.sky = sky
    target = sky().target
    wanted = None if target is None else load_catalogue().target(target.key)
    evening.choices = replace(evening.choices, target=wanted)
    window = make(evening, size)
    window.go_to("sky")
    for action in actions:
        window.do(action)
    window.motion.settle()
    return window


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("name", SKIES)
def test_charts_are_pure_and_their_words_apart(
    make_window: Windows,
    qapp: RedApplication,
    written: list[tuple[str, QWidget, QRectF]],
    name: str,
    size: tuple[int, int],
) -> None:
    window = show(make_window, name, size)
    written.clear()
    picture = window.grab()
    assert stained(picture) == 0
    assert lit(picture) > 1000
    stand = [
        (text, _in_window(window, widget, box))
        for text, widget, box in (*written, *_blocks(window))
        if not _covered(window, widget)
    ]
    assert len(stand) > 5
    if name in {"whole", "wide"}:
        names = [text for text, widget, _box in written if isinstance(widget, Chart)]
        assert len(names) > 8
    inside = QRectF(window.rect())
    for text, box in stand:
        assert inside.contains(box.adjusted(1, 1, -1, -1)), (text, box)
    for (one, first), (other, second) in combinations(stand, 2):
        shared = first & second
        assert shared.width() < 1.5 or shared.height() < 1.5, (one, other, first, second)
    qapp.brightness.move(99)
    assert stained(window.grab()) == 0


def test_the_site_has_its_own_horizon(make_window: Windows) -> None:
    wall = replace(LOON_BARRENS, horizon=((0.0, 30.0), (90.0, 0.0), (270.0, 0.0)))
    evening = FakeEvening()
    evening.charts.sky = lambda: sky_of(site=wall)
    window = make_window(evening)
    window.go_to("sky")
    window.motion.settle()
    assert stained(window.grab()) == 0
