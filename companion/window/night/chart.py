"""The night chart: altitude against the site's clock, drawn by pyqtgraph, lettered on top.

Imported when the screen of the night first comes up: it brings numpy and pyqtgraph.
"""

import numpy as np
import pyqtgraph as pg
from PySide6.QtCore import QEvent, QRectF, Qt
from PySide6.QtWidgets import QFrame, QGraphicsRectItem, QWidget

from companion.live import NightView
from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import Arranged, TypeScale
from companion.window.night.curves import MOST_CURVES, BodyLine, Inks, TargetCurve
from companion.window.night.front import NightFront, shade_tone
from companion.window.night.plot import HIGHEST_DEG, ChartFacts, TimeAxis
from companion.window.night.words import shades

_GROUND_LEVEL = 4  # the ground is shaded as the day is


class NightChart(Arranged):
    """Curves, twilight and horizon below; axes, names, now and the cursor on a layer above."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._facts: ChartFacts | None = None
        self._drawn_of: NightView | None = None
        self._curves: dict[str, TargetCurve] = {}
        self._bodies: list[BodyLine] = []
        self._shades: list[tuple[QGraphicsRectItem, int]] = []
        self._graphics = pg.GraphicsView(self, useOpenGL=False, background=None)
        self._graphics.setFrameShape(QFrame.Shape.NoFrame)
        self._graphics.setFocusPolicy(Qt.FocusPolicy.NoFocus)
        self._graphics.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        self._layout = pg.GraphicsLayout()
        self._layout.layout.setSpacing(0)
        self._graphics.setCentralItem(self._layout)
        self._box = self._layout.addViewBox(enableMouse=False, enableMenu=False, defaultPadding=0)
        self._ground = pg.PlotCurveItem(fillLevel=0.0, antialias=True)
        self._ground.setZValue(-2)
        self._box.addItem(self._ground, ignoreBounds=True)
        self.front = NightFront(self)

    @property
    def axis(self) -> TimeAxis | None:
        """The clock along the chart."""
        return self.front.axis

    def show_facts(self, facts: ChartFacts) -> None:
        """Draw what is new in them."""
        self._facts = facts
        if facts.view is not self._drawn_of:
            self._draw_night(facts.view)
        self._draw_targets(facts)
        self._draw_ground(facts)
        self._ink()
        self.arrange()
        self.front.show_facts(facts)

    # Drawing.

    def _draw_night(self, view: NightView) -> None:
        self._drawn_of = view
        for curve in self._curves.values():
            curve.remove(self._box)
        for line in self._bodies:
            line.remove(self._box)
        for item, _level in self._shades:
            self._box.removeItem(item)
        self._curves.clear()
        waiting = {plan.target.body for plan in view.plans if plan.target.body}
        bodies = [body for body in view.planets if body.body not in waiting]
        self._bodies = [
            BodyLine(self._box, view, body.altitude_deg) for body in (view.moon, *bodies)
        ]
        begins = view.begins_utc.timestamp()
        self._shades = [
            (self._shade(one.begins_s - begins, one.ends_s - one.begins_s), one.level)
            for one in shades(view)
            if one.level
        ]
        self._box.setRange(
            xRange=(0.0, view.ends_utc.timestamp() - begins),
            yRange=(0.0, HIGHEST_DEG),
            padding=0,
        )

    def _shade(self, left: float, width: float) -> QGraphicsRectItem:
        item = QGraphicsRectItem(left, 0.0, width, HIGHEST_DEG)
        item.setPen(Qt.PenStyle.NoPen)
        item.setZValue(-20)
        self._box.addItem(item, ignoreBounds=True)
        return item

    def _draw_targets(self, facts: ChartFacts) -> None:
        """Keep the curves of the first targets, and that of the chosen one."""
        keys = facts.keys[:MOST_CURVES]
        if facts.chosen is not None and facts.chosen not in keys:
            keys = (*keys, facts.chosen)
        for key in [key for key in self._curves if key not in keys]:
            self._curves.pop(key).remove(self._box)
        plans = {plan.target.key: plan for plan in facts.view.plans}
        for key in keys:
            if key not in self._curves and key in plans:
                self._curves[key] = TargetCurve(self._box, facts.view, plans[key])
        for key, curve in self._curves.items():
            stop = facts.stop(key)
            if stop is None:
                curve.plan_turn(None, None)
            else:
                curve.plan_turn(stop.start_utc.timestamp(), stop.end_utc.timestamp())

    def _draw_ground(self, facts: ChartFacts) -> None:
        """Draw the site's horizon as the chosen target meets it, else where it is lowest."""
        view = facts.view
        times = np.asarray(view.times_s) - view.begins_utc.timestamp()
        plan = None if facts.chosen is None else view.plan(facts.chosen)
        horizon = np.zeros_like(times) if plan is None else np.maximum(plan.curve.horizon_deg, 0.0)
        self._ground.setData(times, horizon)

    def _ink(self) -> None:
        """Take the tones of the present brightness."""
        facts = self._facts
        line, text = ink(self, Role.LINE), ink(self, Role.TEXT)
        inks = Inks(line, text, ink(self, Role.EMPHASIS), self.scale.hair)
        self._graphics.setBackgroundBrush(ink(self, Role.GROUND))
        for item, level in self._shades:
            item.setBrush(shade_tone(line, level))
        self._ground.setBrush(shade_tone(line, _GROUND_LEVEL))
        self._ground.setPen(pg.mkPen(line, width=self.scale.hair * 1.4))
        for at, body in enumerate(self._bodies):
            body.ink(inks, moon=at == 0)
        for key, curve in self._curves.items():
            curve.ink(inks, chosen=facts is not None and key == facts.chosen)

    # Where it stands.

    def set_scale(self, scale: TypeScale) -> None:
        """Take a new scale."""
        super().set_scale(scale)
        self._ink()

    def changeEvent(self, event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Draw all again in the new brightness."""
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            self._ink()

    def arrange(self) -> None:
        """Lay the parts out."""
        self._graphics.setGeometry(self.rect())
        self.front.setGeometry(self.rect())
        self.front.raise_()
        room: QRectF = self.front.room()
        self._layout.layout.setContentsMargins(
            room.left(), room.top(), self.width() - room.right(), self.height() - room.bottom()
        )
