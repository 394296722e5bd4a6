"""Every step of the scale of type, in pixels of capitals at 1366 by 768."""

import pytest
from PySide6.QtCore import QPointF
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QImage, QPainter
from PySide6.QtWidgets import QWidget
from pytestqt.qtbot import QtBot

from companion.window.kit.figure import FULL_POINTS
from companion.window.kit.lettering import Size
from companion.window.kit.palette import Role, ink
from companion.window.kit.symbols import draw_rule
from companion.window.kit.type_scale import TypeScale, font, load_fonts, scale_for

CAPITALS = {
    Size.CAPTION: 14.0, Size.SMALL: 14.0, Size.BODY: 17.5,
    Size.VALUE: 24.0, Size.TITLE: 33.0, Size.TURN: 46.0,
}  # fmt: skip


def capitals(made: QFont) -> float:
    return QFontMetricsF(made).capHeight()


@pytest.fixture
def small_laptop(qapp: object) -> TypeScale:
    load_fonts()
    return scale_for(1366, 768)


@pytest.mark.parametrize("size", list(Size))
def test_capitals_are_as_high_as_their_role_asks(size: Size, small_laptop: TypeScale) -> None:
    assert capitals(size.font(small_laptop)) == pytest.approx(CAPITALS[size], abs=0.6)


def test_the_two_numbers_rule(small_laptop: TypeScale) -> None:
    assert capitals(font(small_laptop.pixels(FULL_POINTS))) == pytest.approx(123.0, abs=1.0)


@pytest.mark.parametrize("size", list(Size))
def test_no_letter_is_thin(size: Size, small_laptop: TypeScale) -> None:
    assert size.font(small_laptop).weight() == QFont.Weight.Medium


def test_sizes_grow_with_the_window(small_laptop: TypeScale) -> None:
    whole = scale_for(1920, 1080)
    for size in Size:
        grown = capitals(size.font(whole)) / capitals(size.font(small_laptop))
        assert grown == pytest.approx(1920 / 1366, rel=0.03)


@pytest.mark.parametrize("at", [10.0, 10.4, 10.5])
def test_a_rule_lights_whole_pixels(qtbot: QtBot, at: float) -> None:
    widget = QWidget()
    qtbot.addWidget(widget)
    image = QImage(40, 30, QImage.Format.Format_RGB32)
    image.fill(0)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    draw_rule(painter, widget, QPointF(4, at), QPointF(36, at))
    draw_rule(painter, widget, QPointF(at, 2), QPointF(at, 28))
    painter.end()
    lit = {QColor(image.pixel(x, y)).red() for x in range(40) for y in range(30)}
    assert lit == {0, ink(widget, Role.LINE).red()}
