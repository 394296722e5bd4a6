"""The curves of the night chart as pyqtgraph items: which part of each is dim, bright, bold."""

from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import Qt
from PySide6.QtGui import QColor, QPen

from companion.arrays import FloatArray
from companion.live import NightView

if TYPE_CHECKING:
    from companion.night import NightPlan


MOST_CURVES = 60  # more would be a thicket; the chosen one is always among them


@dataclass(frozen=True, slots=True)
class Inks:
    """The tones at the present brightness, and the finest line."""

    line: QColor
    text: QColor
    emphasis: QColor
    hair: float


class TargetCurve:
    """One target: dim over its whole way, brighter in its windows, bold at its planned turn."""

    def __init__(self, box: pg.ViewBox, view: NightView, plan: "NightPlan") -> None:
        self.plan = plan
        times = np.asarray(view.times_s) - view.begins_utc.timestamp()
        altitude = plan.curve.altitude_deg
        begins = view.begins_utc.timestamp()
        self._whole = _item(box, times, np.where(altitude >= 0.0, altitude, np.nan), 0)
        parts = [
            _between(times, altitude, first.timestamp() - begins, last.timestamp() - begins)
            for first, last in plan.windows
        ]
        gap = np.array([[np.nan], [np.nan]])
        joined = np.concatenate([piece for part in parts for piece in (part, gap)] or [gap], axis=1)
        self._open = _item(box, joined[0], joined[1], 1)
        self._turn = _item(box, np.array([]), np.array([]), 2)
        self._times, self._begins = times, begins

    def plan_turn(self, begins_s: float | None, ends_s: float | None) -> None:
        """Show the planned turn, in seconds since 1970; None takes it away."""
        if begins_s is None or ends_s is None:
            self._turn.setData(np.array([]), np.array([]))
            return
        altitude = self.plan.curve.altitude_deg
        part = _between(self._times, altitude, begins_s - self._begins, ends_s - self._begins)
        self._turn.setData(part[0], part[1])

    def ink(self, inks: Inks, *, chosen: bool) -> None:
        """Draw it as the chosen one, or as one of the others."""
        hair = inks.hair
        self._whole.setPen(
            _pen(inks.text if chosen else inks.line, hair * (1.2 if chosen else 0.8))
        )
        self._open.setPen(_pen(inks.emphasis, hair * 2.6) if chosen else _pen(inks.text, hair))
        bold = inks.emphasis if chosen else inks.text
        self._turn.setPen(_pen(bold, hair * (6.0 if chosen else 4.0)))
        for item, height in ((self._whole, 0), (self._open, 1), (self._turn, 2)):
            item.setZValue(height + (10 if chosen else 0))

    def remove(self, box: pg.ViewBox) -> None:
        """Take it out of the chart."""
        for item in (self._whole, self._open, self._turn):
            box.removeItem(item)


class BodyLine:
    """Moon or planet: a broken line behind the targets."""

    def __init__(self, box: pg.ViewBox, view: NightView, altitude_deg: tuple[float, ...]) -> None:
        times = np.asarray(view.times_s) - view.begins_utc.timestamp()
        altitude = np.asarray(altitude_deg)
        self._item = _item(box, times, np.where(altitude >= 0.0, altitude, np.nan), -1)

    def ink(self, inks: Inks, *, moon: bool) -> None:
        """Draw the Moon with dashes, planets with dots."""
        pen = _pen(inks.text, inks.hair * (1.4 if moon else 1.0))
        pen.setDashPattern([7.0, 4.0] if moon else [1.0, 5.0])
        pen.setCapStyle(Qt.PenCapStyle.RoundCap)
        self._item.setPen(pen)

    def remove(self, box: pg.ViewBox) -> None:
        """Take it out of the chart."""
        box.removeItem(self._item)


def _pen(colour: QColor, width: float) -> QPen:
    pen = QPen(colour, width)
    pen.setCosmetic(True)
    pen.setCapStyle(Qt.PenCapStyle.FlatCap)
    pen.setJoinStyle(Qt.PenJoinStyle.RoundJoin)
    return pen


def _item(box: pg.ViewBox, x: FloatArray, y: FloatArray, height: float) -> pg.PlotCurveItem:
    item = pg.PlotCurveItem(x, y, connect="finite", antialias=True)
    item.setZValue(height)
    box.addItem(item, ignoreBounds=True)
    return item


def _between(times: FloatArray, values: FloatArray, first: float, last: float) -> FloatArray:
    """Cut a piece out of a curve, with its ends between the steps; shape (2, n)."""
    inside = times[(times > first) & (times < last)]
    at = np.concatenate([[first], inside, [last]])
    return np.vstack([at, np.interp(at, times, values)])
