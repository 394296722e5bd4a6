"""What the signs of the charts mean, drawn with the same strokes as on the charts."""

from collections.abc import Callable
from typing import Final

from PySide6.QtCore import QLineF, QPointF, QRectF, Qt
from PySide6.QtGui import QBrush, QPainter, QPaintEvent
from PySide6.QtWidgets import QWidget

from companion.sky import Kind
from companion.window.kit.lettering import Size, letter, write
from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import Scaled
from companion.window.sky.chart_ink import ChartInk
from companion.window.sky.chart_signs import (
    draw_arrow_head,
    draw_daylight,
    draw_double,
    draw_phase,
    draw_planet,
    draw_pointing,
    draw_reticle,
    draw_sign,
    draw_variable,
)

_Draw = Callable[[QPainter, ChartInk, QPointF], None]
_CLOSEST: Final = 1.0  # rows, in heights of their type


def _dot(painter: QPainter, tones: ChartInk, at: QPointF, radius: float) -> None:
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QBrush(tones.tone(Role.EMPHASIS)))
    painter.drawEllipse(at, radius, radius)


def _stars(painter: QPainter, tones: ChartInk, at: QPointF) -> None:
    for step, radius in ((-2.2, 5.0), (-0.6, 3.2), (0.8, 1.9), (2.0, 1.0)):
        _dot(painter, tones, at + QPointF(tones.scale.grid(1) * step, 0), radius * tones.scale.hair)


def _double(painter: QPainter, tones: ChartInk, at: QPointF) -> None:
    _dot(painter, tones, at, 3.0 * tones.scale.hair)
    draw_double(painter, tones, at, (3.0 * tones.scale.hair, 1.0), (0.0, 60.0))


def _variable(painter: QPainter, tones: ChartInk, at: QPointF) -> None:
    _dot(painter, tones, at, 2.4 * tones.scale.hair)
    draw_variable(painter, tones, at, 2.4 * tones.scale.hair)


def _sign(kind: Kind, minor: float = 1.0) -> _Draw:
    def draw(painter: QPainter, tones: ChartInk, at: QPointF) -> None:
        size = tones.scale.grid(1.3)
        draw_sign(painter, tones, kind, at, (size, size * minor, 65.0))

    return draw


def _moon(painter: QPainter, tones: ChartInk, at: QPointF) -> None:
    draw_phase(painter, tones.tone(Role.EMPHASIS), at, tones.scale.grid(1.2), (0.35, 70.0))


def _sun(painter: QPainter, tones: ChartInk, at: QPointF) -> None:
    draw_daylight(painter, tones, at, tones.scale.grid(1.1))


def _planet(painter: QPainter, tones: ChartInk, at: QPointF) -> None:
    draw_planet(painter, tones, at, 3.4 * tones.scale.hair)


def _target(painter: QPainter, tones: ChartInk, at: QPointF) -> None:
    draw_reticle(painter, tones, at, tones.scale.grid(0.5))


def _pointed(painter: QPainter, tones: ChartInk, at: QPointF) -> None:
    draw_pointing(painter, tones, at)


def _line(role: Role, width: float, dashes: tuple[float, ...], *, head: bool = False) -> _Draw:
    def draw(painter: QPainter, tones: ChartInk, at: QPointF) -> None:
        reach = QPointF(tones.scale.grid(2.6), 0)
        painter.setPen(tones.pen(role, width, dashes))
        painter.drawLine(QLineF(at - reach, at + reach))
        if head:
            painter.setPen(Qt.PenStyle.NoPen)
            painter.setBrush(QBrush(tones.tone(role)))
            draw_arrow_head(painter, at + reach, 90.0, tones.scale.grid(1.5))

    return draw


def _circle(role: Role, dashes: tuple[float, ...]) -> _Draw:
    def draw(painter: QPainter, tones: ChartInk, at: QPointF) -> None:
        painter.setBrush(Qt.BrushStyle.NoBrush)
        painter.setPen(tones.pen(role, 1.0, dashes))
        size = tones.scale.grid(1.3)
        painter.drawEllipse(at, size, size)

    return draw


ENTRIES: Final[tuple[tuple[str, _Draw], ...]] = (
    ("stars, bright to faint", _stars),
    ("double star: to the fainter one", _double),
    ("star that changes brightness", _variable),
    ("galaxy", _sign(Kind.GALAXY, 0.45)),
    ("open cluster", _sign(Kind.OPEN_CLUSTER)),
    ("globular cluster", _sign(Kind.GLOBULAR)),
    ("nebula", _sign(Kind.NEBULA, 0.8)),
    ("cluster with nebula", _sign(Kind.CLUSTER_NEBULA)),
    ("planetary nebula: an old star's gas", _sign(Kind.PLANETARY)),
    ("remnant of an exploded star", _sign(Kind.REMNANT)),
    ("dark cloud before the stars", _sign(Kind.DARK_NEBULA, 0.8)),
    ("planet", _planet),
    ("Moon, lit as you see it", _moon),
    ("Sun", _sun),
    ("what you aim at", _target),
    ("where the typed readings point", _pointed),
    ("what finder or eyepiece shows", _circle(Role.TEXT, ())),
    ("19 of 20 aims land inside", _circle(Role.TEXT, (1.5, 4.0))),
    ("way to it by eye", _line(Role.EMPHASIS, 1.5, (4.0, 4.0), head=True)),
    ("way by finder: this step", _line(Role.EMPHASIS, 1.8, (), head=True)),
    ("way by finder: the other steps", _line(Role.TEXT, 1.0, (2.0, 5.0))),
    ("star group's figure, dials' grid", _line(Role.LINE, 1.0, ())),
    ("path of Sun, Moon and planets", _line(Role.LINE, 1.0, (6.0, 6.0))),
    ("where it moves among the stars", _line(Role.TEXT, 1.0, ())),
    ("border of a constellation", _line(Role.LINE, 1.0, (1.0, 5.0))),
)


class ChartLegend(Scaled, QWidget):
    """All signs, in one column or two."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setAccessibleName("Legend: " + ", ".join(text for text, _draw in ENTRIES))

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Draw sign by sign."""
        painter = QPainter(self)
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.fillRect(self.rect(), ink(self, Role.GROUND))
        tones, grid = ChartInk.of(self, self.scale), self.scale.grid
        metrics = letter(painter, self, Size.SMALL, Role.TEXT)
        top, high = grid(3), self.height() - grid(5)
        columns = 1
        while len(ENTRIES) / columns * metrics.height() * _CLOSEST > high and columns < 3:
            columns += 1
        rows = -(-len(ENTRIES) // columns)
        pitch = min(high / rows, metrics.height() * 1.5)
        wide = (self.width() - grid(4)) / columns
        for at, (text, draw) in enumerate(ENTRIES):
            column, row = divmod(at, rows)
            line = QRectF(grid(2) + column * wide, top + row * pitch, wide, pitch)
            draw(painter, tones, QPointF(line.left() + grid(4), line.center().y()))
            letter(painter, self, Size.SMALL, Role.TEXT)
            write(painter, line.adjusted(grid(9), 0, 0, 0), text)
