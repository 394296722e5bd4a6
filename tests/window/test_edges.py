"""Right-hand columns begin on a few edges of one grid of twelve columns, whatever the screen."""

from collections.abc import Callable
from itertools import pairwise
from typing import Any

import pytest
from PySide6.QtCore import QPoint
from PySide6.QtWidgets import QWidget

from companion.window import MainWindow
from companion.window.kit.type_scale import scale_for
from window.conftest import Windows
from window.fakes import mounted

SIZES = [(1366, 768), (1920, 1080)]
HALF, WORDS, SIDE = 6, 5, 9
# Whose left edge it is, how far its words stand from that edge in margins, and on which column.
COLUMNS: dict[str, tuple[Callable[[Any], QWidget], str, int]] = {
    "north": (lambda panel: panel.captions[0], "", HALF),
    "sky": (lambda panel: panel.view.side.name, "", SIDE),
    "aim": (lambda panel: panel.queue, "gutter", SIDE),
    "journal": (lambda panel: panel.ticks, "margin", WORDS),
    "road": (lambda panel: panel.list, "margin", HALF),
}


def left_of(window: MainWindow, widget: QWidget) -> int:
    return widget.mapTo(window, QPoint(0, 0)).x()


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("screen", COLUMNS)
def test_words_at_the_right_begin_on_a_column(
    make_window: Windows, screen: str, size: tuple[int, int]
) -> None:
    window = make_window(mounted(), size)
    window.go_to(screen)
    window.grab()
    part, before, column = COLUMNS[screen]
    widget = part(window.stage.shown)
    scale = scale_for(*size)
    stands_off = getattr(scale, before) if before else 0
    assert left_of(window, widget) + stands_off == pytest.approx(
        scale.column(size[0], column), abs=1.0
    )


@pytest.mark.parametrize("page", ["describe", "instrument"])
def test_the_choice_stands_left_of_the_fields(make_window: Windows, page: str) -> None:
    window = make_window(mounted(), SIZES[0])
    window.go_to("mount")
    window.do(page)
    shown = getattr(window.stage.shown, page)
    scale = scale_for(*SIZES[0])
    assert left_of(window, shown.choices) < left_of(window, shown.fields)
    edge = left_of(window, shown.fields) + scale.gutter  # the mark of a row hangs out so far
    assert edge == pytest.approx(scale.column(SIZES[0][0], WORDS), abs=1.0)


def test_twelve_columns_fill_the_width_between_the_margins() -> None:
    scale = scale_for(*SIZES[0])
    edges = [scale.column(SIZES[0][0], number) for number in range(13)]
    assert edges[0] == scale.margin == 34
    assert edges[12] - scale.gutter == pytest.approx(SIZES[0][0] - scale.margin, abs=1.0)
    widths = {second - first for first, second in pairwise(edges)}
    assert max(widths) - min(widths) <= 1
