"""The exact optimum of a night by constraint programming (OR-tools CP-SAT), and random nights."""

from dataclasses import dataclass
from itertools import pairwise
from typing import Any

import numpy as np
from ortools.sat.python import cp_model

from companion.night.order.route import NOT_THEN, RouteProblem

_WORKERS = 2
_SCALE = 100_000  # the solver counts in whole numbers
SLOTS_AN_HOUR = 120
_PIECE = 30  # slots in which an invented gain is constant


@dataclass(frozen=True)
class Optimum:
    value: float
    most: float  # nothing is more, proven; the value itself where that is proven
    proven: bool
    route: tuple[int, ...]
    starts: tuple[int, ...]


def random_night(seed: int, count: int = 14, hours: float = 3.0) -> RouteProblem:
    """Invent a queue: directions over the sky, arcs that rise and sink, windows, some in two."""
    luck = np.random.default_rng(seed)
    azimuth, altitude = luck.uniform(0.0, 360.0, count + 1), luck.uniform(12.0, 80.0, count + 1)
    along = np.abs((azimuth[:, None] - azimuth[None, 1:] + 180.0) % 360.0 - 180.0)
    up = np.abs(altitude[:, None] - altitude[None, 1:])
    slots = round(hours * SLOTS_AN_HOUR)
    service = luck.integers(10, 31, count)
    gain = luck.integers(1, 11, count)[:, None] * _arcs(luck, count, slots)
    for stop in range(count):
        gain[stop, ~_open(luck, slots, int(service[stop]))] = NOT_THEN
    best = np.maximum(gain.max(axis=1), 0.0)
    return RouteProblem(
        gain=gain,
        service=service.astype(np.intp),
        turn=np.ceil(2.0 + np.maximum(along, up) / 30.0).astype(np.intp)[None],
        stretch=slots,
        turn_price=best / SLOTS_AN_HOUR,
        wait_price=best / SLOTS_AN_HOUR / 10.0,
    )


def _arcs(luck: np.random.Generator, count: int, slots: int) -> Any:
    """Give gains between 0 and 1 that have one top each, in or beside the night; in pieces."""
    pieces = np.arange(slots) // _PIECE * _PIECE
    top, width = luck.uniform(-0.5, 1.5, count), luck.uniform(0.3, 1.2, count)
    away = (pieces[None, :] / slots - top[:, None]) / width[:, None]
    return np.maximum(1.0 - 0.6 * away**2, 0.05)


def _open(luck: np.random.Generator, slots: int, service: int) -> Any:
    """Give the slots in which a stop may begin."""
    at = np.arange(slots)
    opens = round(luck.uniform(-0.3, 0.8) * slots)
    closes = opens + round(luck.uniform(0.1, 0.7) * slots)
    may = (at >= opens) & (at + service <= min(closes, slots))
    if luck.random() < 0.2:  # a cloud bank, or a break, takes the middle out
        third = round((closes - opens) / 3.0)
        may &= (at + service <= opens + third) | (at >= closes - third)
    return may


def pieces_of(gain: Any) -> list[tuple[int, int, float]]:
    """Give first and last slot of each stretch of one gain, where a stop may begin."""
    edges = [0, *(np.flatnonzero(np.diff(gain)) + 1).tolist(), len(gain)]
    return [(a, b - 1, float(gain[a])) for a, b in pairwise(edges) if gain[a] >= 0.0]


def optimum(problem: RouteProblem, seconds: float = 20.0) -> Optimum:
    """Solve a problem whose turns do not change with time: the greatest total of all routes."""
    model, count = cp_model.CpModel(), len(problem)
    seen = [model.new_bool_var(f"seen{i}") for i in range(count)]
    start = [model.new_int_var(0, problem.slots, f"start{i}") for i in range(count)]
    wait = [model.new_int_var(0, problem.slots, f"wait{i}") for i in range(count)]
    arcs: list[tuple[int, int, Any]] = [(0, 0, model.new_bool_var("stays home"))]
    terms: list[Any] = []

    def follows(origin: int, stop: int, left: Any) -> Any:
        arc = model.new_bool_var(f"{origin} then {stop}")
        turn = int(problem.turn[0, origin + 1, stop])
        model.add(start[stop] - left - turn == wait[stop]).only_enforce_if(arc)
        terms.append(-round(_SCALE * turn * float(problem.turn_price[stop])) * arc)
        return arc

    for i in range(count):
        last = model.new_bool_var(f"last{i}")
        arcs += [(i + 1, i + 1, ~seen[i]), (0, i + 1, follows(-1, i, 0)), (i + 1, 0, last)]
        for j in range(count):
            if i != j:
                end = start[i] + int(problem.service[i])
                arcs.append((i + 1, j + 1, follows(i, j, end)))
        spans = []
        for first, until, gain in pieces_of(problem.gain[i]):
            span = model.new_bool_var(f"{i} from {first}")
            model.add(start[i] >= first).only_enforce_if(span)
            model.add(start[i] <= until).only_enforce_if(span)
            terms.append(round(_SCALE * gain) * span)
            spans.append(span)
        model.add(sum(spans) == seen[i])
        model.add(wait[i] == 0).only_enforce_if(~seen[i])
        terms.append(-round(_SCALE * float(problem.wait_price[i])) * wait[i])
    model.add_circuit(arcs)
    model.maximize(sum(terms))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = _WORKERS
    status = solver.solve(model)
    route = sorted(
        (i for i in range(count) if solver.value(seen[i])), key=lambda i: solver.value(start[i])
    )
    starts = [solver.value(start[i]) for i in route]
    return Optimum(
        value=problem.total(route, starts),
        most=solver.best_objective_bound / _SCALE,
        proven=status == cp_model.OPTIMAL,
        route=tuple(route),
        starts=tuple(starts),
    )
