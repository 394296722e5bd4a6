"""The chart as a widget: four charts on one, that follow the sky and the keys."""

from dataclasses import replace
from typing import Final

import numpy as np
from PySide6.QtCore import QEvent, QPointF, Qt, Signal
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QWheelEvent
from PySide6.QtWidgets import QWidget

from companion.arrays import FloatArray
from companion.charts import (
    ChartKind,
    ChartView,
    Lens,
    Pointed,
    Scene,
    SkyFrame,
    eyepieces,
    lens_of,
    pointed_at,
)
from companion.finding import ViewFrame, Viewing, seen_vectors
from companion.window.kit.motion import Motion
from companion.window.kit.palette import Role, ink
from companion.window.kit.type_scale import Scaled
from companion.window.sky.chart_camera import Camera
from companion.window.sky.chart_ink import ChartInk
from companion.window.sky.chart_names import write_pointed
from companion.window.sky.chart_paint import Overlay, Picture, Press, paint_on_screen
from companion.window.sky.words import pointed_words

_UP: Final = np.array([0.0, 0.0, 1.0])
_FACING_ALTITUDE_DEG: Final = 36.0  # of the middle, so that the horizon lies low in the view
_VIEWINGS: Final = tuple(Viewing)
_WHEEL_STEP: Final = 120.0
_CLICK_GRID: Final = 0.75  # a click may move so far
_REACH_GRID: Final = 1.75  # how far from a symbol it is still meant
_AIR: Final = 1.2  # around what is to be seen whole


class Chart(Scaled, QWidget):
    """Draws a sky; is told what to show, and tells when a person has moved it."""

    chosen = Signal(str)  # the key of what was clicked on
    touched = Signal(object)  # the direction of a click, while nothing is named
    moved = Signal()  # the middle, the span or the kind have changed

    def __init__(self, motion: Motion, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._press, self._camera = Press(), Camera(motion, self.update)
        self._drag: QPointF | None = None
        self._pressed: QPointF | None = None  # where, until it is drawn along
        self._stay = False  # what was clicked on stays under the pointer
        self._hover: QPointF | None = None
        self._viewing: Viewing | None = None  # None: as the instrument shows it
        self._follows = True
        self.sky: SkyFrame | None = None
        self.kind = ChartKind.WHOLE
        self.eyepiece = 0
        self.shown = Overlay()
        self.scene: Scene | None = None
        self.setAttribute(Qt.WidgetAttribute.WA_OpaquePaintEvent)
        self.setMouseTracking(True)
        self.setAccessibleName("Sky chart")

    # What it shows.

    def show_sky(self, sky: SkyFrame) -> None:
        """Take a new instant: the view stays on the target, or moves on with the sky."""
        before, self.sky = self.sky, sky
        if before is None:
            self.look(sweep=False)
        elif self._stay and _key(before) != _key(sky):
            self._stay = self._follows = False
            self._carry(before, sky)
        elif _key(before) != _key(sky) or (before.pointed is None) != (sky.pointed is None):
            self.look()
        elif before.site != sky.site:
            self.look(sweep=False)
        elif self.kind is not ChartKind.WHOLE:
            self._carry(before, sky)
        self.update()

    def _carry(self, before: SkyFrame, sky: SkyFrame) -> None:
        camera, wanted = self._camera, self._wanted()
        if self._follows and wanted is not None:
            ahead = sky.carry(camera.centre, before) if camera.moving else wanted
            camera.carry(ahead, wanted)
        else:
            camera.carry(sky.carry(camera.centre, before), sky.carry(camera.goal, before))

    def say(self, shown: Overlay) -> None:
        """Show other ways."""
        self.shown = shown
        self.update()

    def choose(self, kind: ChartKind) -> None:
        """Go to another chart; the eyepiece's key goes on to the next eyepiece."""
        again = kind is self.kind and kind is ChartKind.EYEPIECE
        self.eyepiece = self.eyepiece + 1 if again else self.eyepiece
        if self.sky is not None and kind is ChartKind.EYEPIECE and not eyepieces(self.sky):
            return
        self.kind, self._viewing = kind, None
        self.look(sweep=again)

    def turn(self) -> None:
        """Show the view the next way up: upright, turned, mirrored."""
        at = _VIEWINGS.index(self.lens.viewing)
        self._viewing = _VIEWINGS[(at + 1) % len(_VIEWINGS)]
        self.moved.emit()
        self.update()

    def look(self, *, sweep: bool = True, span: bool = True) -> None:
        """Look at what is followed: the place of the readings, the target, else towards noon."""
        self._follows = True
        self._go(self._resting(), self.lens.span_deg if span else None, sweep=sweep)

    def look_at(self, vector: FloatArray, reach_deg: float = 0.0) -> None:
        """Look at another direction and stay with it, at least so far around."""
        self._follows = False
        if self.kind is ChartKind.WHOLE:
            vector = _facing(vector)
        lens = self.lens
        span = min(max(lens.span_deg, 2.0 * _AIR * reach_deg), lens.spans_deg[1])
        self._go(vector, span if reach_deg else None, sweep=True)

    def _go(self, vector: FloatArray, span_deg: float | None, *, sweep: bool) -> None:
        if sweep:
            self._camera.go(vector, span_deg)
        else:
            self._camera.jump(vector, span_deg or self._camera.goal_span_deg)
        self.moved.emit()
        self.update()

    def _wanted(self) -> FloatArray | None:
        sky = self.sky
        if sky is None:
            return None
        if sky.pointed is not None:
            return sky.pointed
        return None if sky.target is None else sky.target.vector

    def _resting(self) -> FloatArray:
        wanted = self._wanted()
        if wanted is None:
            south = self.sky is not None and self.sky.site.latitude_deg < 0.0
            wanted = seen_vectors(0.0 if south else 180.0, _FACING_ALTITUDE_DEG)
        return _facing(wanted) if self.kind is ChartKind.WHOLE else wanted

    # Moving it.

    def pan(self, right: float, up: float) -> None:
        """Move the view by parts of its smaller side."""
        side = min(self.width(), self.height())
        view = self._view(self._camera.goal, self._camera.goal_span_deg)
        self._pan_to(view.direction(view.middle + np.array([right, -up]) * side))
        self._camera.go(self._camera.goal)

    def zoom(self, factor: float) -> None:
        """Widen the view by a factor, as far as this chart goes."""
        low, high = self.lens.spans_deg
        span = min(max(self._camera.goal_span_deg * factor, low), high)
        self._camera.go(self._camera.goal, span)
        self.moved.emit()

    def _pan_to(self, vector: FloatArray) -> None:
        self._follows = False
        if self.kind is ChartKind.WHOLE and vector[2] < 0.0:
            vector = np.array([vector[0], vector[1], 0.0]) / max(np.hypot(*vector[:2]), 1e-9)
        self._camera.goal = vector
        self.moved.emit()

    def mousePressEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Take hold of the sky."""
        self._drag = self._pressed = event.position()

    def mouseMoveEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Draw it along; without a button, tell what is under the pointer."""
        self._hover = event.position()
        if self._drag is None or self.sky is None:
            self.update()
            return
        if self._pressed is not None:
            if (event.position() - self._pressed).manhattanLength() < self.scale.grid(_CLICK_GRID):
                return  # a hand is never quite still
            self._pressed = None
        by, self._drag = event.position() - self._drag, event.position()
        view = self.view
        self._pan_to(view.direction(view.middle - np.array([by.x(), by.y()])))
        self._camera.jump(self._camera.goal, self._camera.goal_span_deg)
        self.update()

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Let go of it, or choose what was clicked on."""
        clicked, self._drag, self._pressed = self._pressed is not None, None, None
        if clicked and not self.shown.names:
            self.touched.emit(
                self.view.direction(np.array([event.position().x(), event.position().y()]))
            )
            return
        pointed = self._pointed(event.position()) if clicked else None
        if pointed is not None and pointed.thing is not None and pointed.thing.key:
            self._stay = self.sky is not None and _key(self.sky) != pointed.thing.key
            self.chosen.emit(pointed.thing.key)

    def leaveEvent(self, _event: QEvent) -> None:  # noqa: N802 - Qt's name
        """Nothing is pointed at any more."""
        self._hover = None
        self.update()

    def _pointed(self, at: QPointF) -> Pointed | None:
        if self.sky is None or self.scene is None:
            return None
        place = np.array([at.x(), at.y()])
        return pointed_at(
            self.sky, self.scene, self.view, place, float(self.scale.grid(_REACH_GRID))
        )

    def mouseDoubleClickEvent(self, event: QMouseEvent) -> None:  # noqa: N802 - Qt's name
        """Bring a place to the middle."""
        if self.sky is not None:
            at = np.array([event.position().x(), event.position().y()])
            self.look_at(self.view.direction(at))

    def wheelEvent(self, event: QWheelEvent) -> None:  # noqa: N802 - Qt's name
        """Zoom."""
        self.zoom(0.82 ** (event.angleDelta().y() / _WHEEL_STEP))

    # What it looks through.

    @property
    def lens(self) -> Lens:
        """What the chart looks through, as it is turned now."""
        if self.sky is None:
            return Lens(self.kind, "", 96.0, 0.0, Viewing.UPRIGHT, 6.0, 6.0)
        lens = lens_of(self.sky, self.kind, self.eyepiece)
        return lens if self._viewing is None else replace(lens, viewing=self._viewing)

    @property
    def view(self) -> ChartView:
        """The view as it is now."""
        return self._view(self._camera.centre, self._camera.span_deg)

    @property
    def centre(self) -> FloatArray:
        """Where it looks, or is going to."""
        return self._camera.goal

    def _view(self, centre: FloatArray, span_deg: float) -> ChartView:
        frame = ViewFrame(centre, _UP, self.lens.viewing)
        half = min(self.width(), self.height()) / 2.0
        scale = half / frame.radius(span_deg / 2.0)
        return ChartView(frame, float(self.width()), float(self.height()), scale)

    def paintEvent(self, _event: QPaintEvent) -> None:  # noqa: N802 - Qt's name
        """Paint the sky."""
        painter = QPainter(self)
        if self.sky is None:
            painter.fillRect(self.rect(), ink(self, Role.GROUND))
            return
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        tones = ChartInk.of(self, self.scale)
        picture = Picture(self.sky, self.view, self.lens, self.shown)
        self.scene = paint_on_screen(painter, tones, picture, self._press)
        if self._hover is not None and self._drag is None and self.shown.names:
            pointed = self._pointed(self._hover)
            if pointed is not None:
                write_pointed(painter, tones, pointed_words(pointed), float(self.height()))


def _key(sky: SkyFrame) -> str:
    return "" if sky.target is None else sky.target.key


def _facing(vector: FloatArray) -> FloatArray:
    """Turn towards a direction as one stands: it is in the view, and so is the horizon."""
    azimuth = float(np.degrees(np.arctan2(-vector[1], vector[0])))
    altitude = float(np.degrees(np.arcsin(np.clip(vector[2], -1.0, 1.0))))
    return seen_vectors(azimuth, max(_FACING_ALTITUDE_DEG, altitude - 38.0))
