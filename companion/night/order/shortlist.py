"""Of a long list, what can be seen in one evening: the best of every half hour.

An order weighs every target against every other; of thousands only those are ordered that give
most for their time in some part of the evening, several times as many as find a place. Memory is
bounded whatever the length of the list.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

import numpy as np

from companion.arrays import FloatArray
from companion.night.hours.grid import NightGrid
from companion.night.hours.plan import NightPlan
from companion.night.order.problem import SLOT_S, free_of, gains, service_of
from companion.night.order.session import Session, Wish
from companion.night.order.words import Loss, why_unfit
from companion.night.progress import Progress, go_on
from companion.sky import Target

MOST = 150  # targets that are ordered
_BLOCK = 256  # planned at a time
_STEP_S, _STEPS_A_PART = 300.0, 6  # parts of half an hour
_OUTRANKED = "others show better, or are worth more, all the time it is up"

Plans = Callable[[Sequence[Target]], Sequence[NightPlan]]


@dataclass(frozen=True, slots=True)
class LeftOut:
    """A wish by its row in the list that is not ordered, and why."""

    row: int
    code: Loss
    words: str


def shortlist(
    plans_of: Plans,
    grid: NightGrid,
    wishes: Sequence[Wish],
    session: Session,
    progress: Progress | None = None,
) -> tuple[list[int], list[LeftOut]]:
    """Choose the wishes to be ordered.

    Parameters
    ----------
    plans_of : callable
        Plans the night of some targets.
    grid : NightGrid
        The night.
    wishes : sequence of Wish
        The whole list.
    session : Session
        The evening.
    progress : callable, optional
        Takes the part that is done; gives False to stop.

    Returns
    -------
    tuple of list
        Rows of at most ``MOST`` wishes, ascending, and the others.

    Raises
    ------
    Cancelled
        If ``progress`` says so.
    """
    rows: list[int] = []
    rates = np.zeros((0, _parts(grid, session)))
    left_out: list[LeftOut] = []
    for first in range(0, len(wishes), _BLOCK):
        go_on(progress, first / len(wishes))
        block = wishes[first : first + _BLOCK]
        plans = plans_of([wish.target for wish in block])
        found = []
        for row, (wish, plan) in enumerate(zip(block, plans, strict=True), start=first):
            rate = _rates(grid, wish, plan, session)
            if isinstance(rate, tuple):
                left_out.append(LeftOut(row, *rate))
            else:
                rows.append(row)
                found.append(rate)
        rates = np.concatenate([rates, np.array(found).reshape(-1, rates.shape[1])])
        kept = _best_of_parts(rates)
        outranked = sorted(set(range(len(rows))) - set(kept))
        left_out += [LeftOut(rows[at], Loss.OUTRANKED, _OUTRANKED) for at in outranked]
        rows, rates = [rows[at] for at in kept], rates[kept]
    return rows, sorted(left_out, key=lambda one: one.row)


def _parts(grid: NightGrid, session: Session) -> int:
    """Give how many parts the evening has."""
    length_s = grid.offset_s(session.end_utc) - grid.offset_s(session.start_utc)
    return max(int(np.ceil(length_s / (_STEP_S * _STEPS_A_PART))), 1)


def _rates(
    grid: NightGrid, wish: Wish, plan: NightPlan, session: Session
) -> FloatArray | tuple[Loss, str]:
    """Give what a wish gains for its time in each part of the evening, or why it has none."""
    start, end = grid.offset_s(session.start_utc), grid.offset_s(session.end_utc)
    takes_s = service_of(wish, session) * SLOT_S
    free = free_of(grid, plan, session)
    unfit = why_unfit(grid, plan, free, (start, end), takes_s)
    if unfit is not None:
        return unfit
    steps = np.arange(_parts(grid, session) * _STEPS_A_PART, dtype=np.float64)
    starts = np.asarray(start + steps * _STEP_S)
    gain = np.where(starts + takes_s <= end, gains(grid, plan, free, starts, takes_s), 0.0)
    rate = gain * wish.value / (takes_s + session.setup_minutes * 60.0)
    return np.asarray(rate.reshape(-1, _STEPS_A_PART).max(axis=1))


def _best_of_parts(rates: FloatArray) -> list[int]:
    """Give the rows that are among the best in some part; ascending, ``MOST`` at most."""
    count, parts = rates.shape
    if count <= MOST:
        return list(range(count))
    by_rate = np.argsort(-rates, axis=0, kind="stable")
    kept: set[int] = set()
    for rank in range(count):
        for part in range(parts):
            row = int(by_rate[rank, part])
            if rates[row, part] > 0.0:
                kept.add(row)
            if len(kept) >= MOST:
                return sorted(kept)
    return sorted(kept)
