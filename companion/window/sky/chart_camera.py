"""Where a chart looks and how wide: it runs smoothly after what is asked of it."""

from math import exp
from time import monotonic

import numpy as np

from companion.arrays import FloatArray
from companion.window.kit.motion import Glide

_TIME_S = 0.085  # in which the way that is left shrinks to 37 %
_NEAR = 2e-4  # of the span: then it is there


class Camera(Glide):
    """A direction and a span that chase their goals; a held key only moves the goal on."""

    centre: FloatArray = np.array([1.0, 0.0, 0.0])
    span_deg: float = 60.0
    goal: FloatArray = centre
    goal_span_deg: float = span_deg
    _last_s: float | None = None

    def jump(self, centre: FloatArray, span_deg: float) -> None:
        """Be there at once."""
        self.centre = self.goal = centre
        self.span_deg = self.goal_span_deg = span_deg
        self._last_s = None

    def go(self, centre: FloatArray, span_deg: float | None = None) -> None:
        """Move towards a direction, and to a span if one is given."""
        self.goal = centre
        self.goal_span_deg = self.goal_span_deg if span_deg is None else span_deg
        if self._last_s is None:
            self._last_s = monotonic()
        self._driver.wake(self)

    def carry(self, centre: FloatArray, goal: FloatArray) -> None:
        """Move on with the sky, without a sweep."""
        self.centre, self.goal = centre, goal

    @property
    def moving(self) -> bool:
        """Whether it is on its way."""
        return self._last_s is not None

    def settle(self) -> None:
        """Be where it goes."""
        self.jump(self.goal, self.goal_span_deg)
        self._painted()

    def step(self, now_s: float) -> bool:
        """Move on by one frame; False once there."""
        if self._last_s is None:
            return False
        share = 1.0 - exp(-max(now_s - self._last_s, 1e-3) / _TIME_S)
        self._last_s = now_s
        self.centre = _between(self.centre, self.goal, share)
        ratio = self.goal_span_deg / self.span_deg
        self.span_deg *= ratio**share
        left_deg = float(np.degrees(np.linalg.norm(self.goal - self.centre)))
        if left_deg < _NEAR * self.span_deg and abs(ratio - 1.0) < 1e-3:
            self.jump(self.goal, self.goal_span_deg)
        self._painted()
        return self._last_s is not None


def _between(start: FloatArray, end: FloatArray, share: float) -> FloatArray:
    """Give the direction that divides a great circle; of opposite ones, the end."""
    chord = float(np.linalg.norm(end - start))
    angle = float(2.0 * np.arcsin(min(chord / 2.0, 1.0)))
    if angle < 1e-9 or angle > np.pi - 1e-6:
        return end
    part = np.sin((1.0 - share) * angle) * start + np.sin(share * angle) * end
    return np.asarray(part / np.linalg.norm(part))
