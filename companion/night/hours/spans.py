"""Stretches of time in which something holds."""

from dataclasses import dataclass

import numpy as np

from companion.arrays import BoolArray, FloatArray, RowArray

_HALVINGS = 24  # of a step: five minutes come down to 20 µs


@dataclass(frozen=True, slots=True)
class Span:
    """From one offset to another, seconds; ``start_s <= end_s``."""

    start_s: float
    end_s: float

    @property
    def length_s(self) -> float:
        """Seconds from start to end."""
        return self.end_s - self.start_s


def runs(holds: BoolArray) -> list[tuple[int, int]]:
    """First and last index of each unbroken run of True; shape (t,) in."""
    padded = np.concatenate([[False], holds, [False]])
    edges = np.flatnonzero(padded[1:] != padded[:-1])
    return [(int(a), int(b) - 1) for a, b in zip(edges[::2], edges[1::2], strict=True)]


def run_around(holds: BoolArray, at: RowArray) -> tuple[RowArray, ...]:
    """First and last row of the run of True that holds each column's given row.

    Parameters
    ----------
    holds : ndarray
        Shape (t, n).
    at : ndarray
        A row for each column, where ``holds`` is True; shape (n,).
    """
    t, n = holds.shape
    rows = np.arange(t)[:, None]
    broken_before = np.where(~holds & (rows < at), rows, -1).max(axis=0, initial=-1)
    broken_after = np.where(~holds & (rows > at), rows, t).min(axis=0, initial=t)
    assert broken_before.shape == (n,)  # noqa: S101  # guards the broadcast above
    return broken_before.astype(np.intp) + 1, broken_after.astype(np.intp) - 1


def spans_above(times_s: FloatArray, values: FloatArray, limit: float) -> list[Span]:
    """Stretches in which a smooth curve is above a limit, its crossings interpolated.

    At either end of the times the stretch is cut.
    """
    return [
        Span(
            _crossing(times_s, values, limit, first - 1),
            _crossing(times_s, values, limit, last),
        )
        for first, last in runs(values > limit)
    ]


def spans_below(times_s: FloatArray, values: FloatArray, limit: float) -> list[Span]:
    """Stretches in which a smooth curve is below a limit."""
    return spans_above(times_s, -values, -limit)


def _crossing(times_s: FloatArray, values: FloatArray, limit: float, before: int) -> float:
    """When the curve crosses between a step and the next, by a cubic; the end if it has none.

    The cubic goes through four equal steps (Newton's forward differences); its root is bracketed.
    """
    if before < 0:
        return float(times_s[0])
    if before + 1 >= len(times_s):
        return float(times_s[-1])
    first = min(max(before - 1, 0), len(times_s) - 4)
    a, b, c, d = (float(value) - limit for value in values[first : first + 4])
    one, two, three = b - a, c - 2.0 * b + a, d - 3.0 * c + 3.0 * b - a
    low = float(before - first)
    high, rising = low + 1.0, (a, b, c, d)[before - first] <= 0.0
    for _ in range(_HALVINGS):
        x = (low + high) / 2.0
        above = a + x * (one + (x - 1.0) * (two / 2.0 + (x - 2.0) * three / 6.0)) > 0.0
        low, high = (low, x) if above is rising else (x, high)
    step = float(times_s[before + 1] - times_s[before])
    return float(times_s[first]) + step * (low + high) / 2.0


def linear_spans(times_s: FloatArray, values: FloatArray) -> list[Span]:
    """Stretches in which a curve with corners is above zero, its crossings by straight lines."""
    spans = []
    for first, last in runs(values > 0.0):
        start, end = float(times_s[first]), float(times_s[last])
        if first > 0:
            start = _straight(times_s, values, first - 1)
        if last + 1 < len(times_s):
            end = _straight(times_s, values, last)
        spans.append(Span(start, end))
    return spans


def _straight(times_s: FloatArray, values: FloatArray, before: int) -> float:
    share = values[before] / (values[before] - values[before + 1])
    return float(times_s[before] + share * (times_s[before + 1] - times_s[before]))
