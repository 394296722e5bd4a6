#!/usr/bin/env python3
"""Draw the program's sign in the usual sizes into ``resources/icons/``, pure red on black.

``python packaging/build_icons.py``. The sign is the altitude dial, the tube raised, and a star in
the field; small ones have heavier lines and no graduation.
"""

import os
import sys
from dataclasses import dataclass
from math import cos, degrees, radians, sin
from pathlib import Path

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")

from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QColor, QGuiApplication, QImage, QPainter, QPen

TO = Path(__file__).resolve().parent.parent / "resources" / "icons"
SIZES_PX = (16, 22, 24, 32, 48, 64, 128, 256, 512)  # of the freedesktop.org icon theme
_STAR_DEG = 50.0  # where the tube points
_PIVOT = QPointF(0.17, 0.83)  # all lengths are shares of the side
_DIAL = 0.66
_BRIGHT, _QUIET = QColor(255, 0, 0), QColor(140, 0, 0)
_GRADUATED_FROM_PX = 48
_TICKS_DEG = (0.7, 12.0, 24.0, 78.0, 89.3)


@dataclass(frozen=True, slots=True)
class Weights:
    """Width of the dial, width and length of the tube, radius of the field: shares of the side."""

    dial: float
    tube: float
    length: float
    field: float


def weights(size_px: int) -> Weights:
    """Give what still reads at a size: the fewer pixels, the heavier."""
    if size_px < 32:
        return Weights(dial=0.09, tube=0.15, length=0.34, field=0.20)
    if size_px < 64:
        return Weights(dial=0.06, tube=0.13, length=0.39, field=0.17)
    return Weights(dial=0.04, tube=0.11, length=0.43, field=0.15)


def at(angle_deg: float, radius: float) -> QPointF:
    """Give the point at an altitude and a distance from the pivot."""
    angle = radians(angle_deg)
    return _PIVOT + QPointF(radius * cos(angle), -radius * sin(angle))


def draw(size_px: int) -> QImage:
    """Draw the sign; its black ground has round corners."""
    image = QImage(size_px, size_px, QImage.Format.Format_ARGB32)
    image.fill(Qt.GlobalColor.transparent)
    painter = QPainter(image)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.scale(size_px, size_px)
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(QColor(0, 0, 0))
    painter.drawRoundedRect(QRectF(0, 0, 1, 1), 0.18, 0.18)
    of = weights(size_px)
    _draw_dial(painter, of, graduated=size_px >= _GRADUATED_FROM_PX)
    _draw_tube_and_field(painter, of)
    painter.end()
    return image


def _draw_dial(painter: QPainter, of: Weights, *, graduated: bool) -> None:
    """Draw the quarter circle, open where the field stands, and its graduation."""
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(_QUIET, of.dial, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    box = QRectF(_PIVOT.x() - _DIAL, _PIVOT.y() - _DIAL, 2 * _DIAL, 2 * _DIAL)
    half_gap_deg = degrees((of.field + 1.1 * of.dial) / _DIAL)
    for low_deg, high_deg in ((0.0, _STAR_DEG - half_gap_deg), (_STAR_DEG + half_gap_deg, 90.0)):
        painter.drawArc(box, round(low_deg * 16), round((high_deg - low_deg) * 16))
    if graduated:
        painter.setPen(QPen(_QUIET, 0.7 * of.dial))
        for angle_deg in _TICKS_DEG:
            painter.drawLine(at(angle_deg, _DIAL - 1.9 * of.dial), at(angle_deg, _DIAL))


def _draw_tube_and_field(painter: QPainter, of: Weights) -> None:
    painter.setPen(QPen(_BRIGHT, of.tube, Qt.PenStyle.SolidLine, Qt.PenCapStyle.FlatCap))
    painter.drawLine(_PIVOT, at(_STAR_DEG, of.length))
    painter.setPen(Qt.PenStyle.NoPen)
    painter.setBrush(_BRIGHT)
    painter.drawEllipse(_PIVOT, of.tube / 2, of.tube / 2)
    centre = at(_STAR_DEG, _DIAL)
    painter.drawEllipse(centre, of.field * 0.42, of.field * 0.42)
    painter.setBrush(Qt.BrushStyle.NoBrush)
    painter.setPen(QPen(_BRIGHT, of.dial * 0.8))
    painter.drawEllipse(centre, of.field, of.field)


def main() -> int:
    """Write a file a size."""
    _application = QGuiApplication(sys.argv[:1])
    TO.mkdir(parents=True, exist_ok=True)
    for size_px in SIZES_PX:
        draw(size_px).save(str(TO / f"companion-{size_px}.png"))
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
