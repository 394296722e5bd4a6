"""Smooth motion of needles: one driver for the whole window, asleep while nothing moves."""

from collections.abc import Callable
from math import pi, sin
from time import monotonic
from weakref import WeakSet

from PySide6.QtCore import QObject, Qt, QTimer

_FRAME_MS = 16
_SWEEP_S = 0.7  # a whole sweep, however far
_JUMP = 8.0  # tolerances: what is taken over in one frame


class Glide:
    """A drawn angle or share that follows its true value.

    Changes below ``tolerance`` (half a pixel, say) wait until they have added up to it, a few
    tolerances are taken over in one frame, greater ones are swept.
    """

    def __init__(self, driver: "Motion", painted: Callable[[], None], period: float = 0.0) -> None:
        self._driver = driver
        self._painted = painted
        self._period = period
        self._from = self._span = 0.0
        self._started_s: float | None = None
        self.shown: float | None = None
        self.tolerance = 0.1

    def follow(self, value: float | None) -> None:
        """Go to ``value``; None takes the needle away."""
        if value is None or self.shown is None:
            changed = value is not self.shown
            self.shown, self._started_s = value, None
            if changed:
                self._painted()
            return
        goal = self._from + self._span if self._started_s is not None else self.shown
        way = abs(self._way(goal, value))
        if way < self.tolerance:
            return
        if self._started_s is None and way < _JUMP * self.tolerance:
            self.shown = value
            self._painted()
            return
        self._from, self._span = self.shown, self._way(self.shown, value)
        self._started_s = monotonic()
        self._driver.wake(self)

    def settle(self) -> None:
        """End a sweep at once."""
        if self._started_s is not None:
            self.shown, self._started_s = self._from + self._span, None
            self._painted()

    def step(self, now_s: float) -> bool:
        """Move on by one frame; False once at rest."""
        if self._started_s is None:
            return False
        share = min((now_s - self._started_s) / _SWEEP_S, 1.0)
        self.shown = self._from + self._span * (share - sin(2 * pi * share) / (2 * pi))
        if share >= 1.0:
            self._started_s = None
        self._painted()
        return share < 1.0

    def _way(self, start: float, end: float) -> float:
        way = end - start
        if self._period:
            way = (way + self._period / 2) % self._period - self._period / 2
        return way


class Motion(QObject):
    """Moves all glides of a window by one timer that stops when they are at rest."""

    def __init__(self, parent: QObject | None = None) -> None:
        super().__init__(parent)
        self._moving: WeakSet[Glide] = WeakSet()
        self._timer = QTimer(self)
        self._timer.setTimerType(Qt.TimerType.PreciseTimer)
        self._timer.setInterval(_FRAME_MS)
        self._timer.timeout.connect(self._frame)

    def wake(self, glide: Glide) -> None:
        """Have a glide moved frame by frame until it rests."""
        self._moving.add(glide)
        if not self._timer.isActive():
            self._timer.start()

    def settle(self) -> None:
        """End all sweeps at once."""
        for glide in list(self._moving):
            glide.settle()
        self._moving.clear()
        self._timer.stop()

    def _frame(self) -> None:
        now_s = monotonic()
        for glide in list(self._moving):
            if not glide.step(now_s):
                self._moving.discard(glide)
        if not self._moving:
            self._timer.stop()
