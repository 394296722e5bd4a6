"""Stretches of time in which something holds."""

from dataclasses import dataclass

import numpy as np

from companion.arrays import BoolArray, FloatArray, RowArray


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
    """When the curve crosses between a step and the next, by a parabola; the end if it has none."""
    if before < 0:
        return float(times_s[0])
    if before + 1 >= len(times_s):
        return float(times_s[-1])
    first = min(max(before - 1, 0), len(times_s) - 4)
    near = slice(first, first + 4)
    step = times_s[before + 1] - times_s[before]
    curve = np.polynomial.Polynomial.fit(times_s[near] - times_s[before], values[near] - limit, 3)
    roots = curve.roots()
    real = roots[np.abs(roots.imag) < 1e-6].real
    inside = real[(real >= -1e-6) & (real <= step + 1e-6)]
    if not inside.size:
        rise = values[before + 1] - values[before]
        return float(times_s[before] + step * (limit - values[before]) / rise)
    return float(times_s[before] + inside[0])


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
