"""The exact optimum of a night by constraint programming (OR-tools CP-SAT), and random nights."""

from dataclasses import dataclass
from typing import Any

import numpy as np
from ortools.sat.python import cp_model

from companion.night.order.route import RouteProblem

_WORKERS = 2


@dataclass(frozen=True)
class Optimum:
    value: float
    proven: bool


def random_night(seed: int, count: int = 14, hours: float = 3.0) -> RouteProblem:
    """Invent a queue: directions over the sky, windows that open and close, some in two parts."""
    luck = np.random.default_rng(seed)
    azimuth, altitude = luck.uniform(0.0, 360.0, count + 1), luck.uniform(12.0, 80.0, count + 1)
    along = np.abs((azimuth[:, None] - azimuth[None, 1:] + 180.0) % 360.0 - 180.0)
    up = np.abs(altitude[:, None] - altitude[None, 1:])
    turn_s = np.round(60.0 + np.maximum(along, up))
    night_s = hours * 3600.0
    return RouteProblem(
        values=luck.integers(1, 11, count).astype(np.float64),
        service_s=np.round(luck.uniform(300.0, 900.0, count)),
        windows=tuple(_windows(luck, night_s) for _ in range(count)),
        turn_s=turn_s[None],
        low_s=np.zeros((1, count)),
        bin_s=night_s,
        start_s=0.0,
        end_s=night_s,
    )


def _windows(luck: np.random.Generator, night_s: float) -> tuple[tuple[float, float], ...]:
    opens = float(np.round(luck.uniform(-0.3, 0.8) * night_s))
    closes = opens + float(np.round(luck.uniform(0.1, 0.7) * night_s))
    if luck.random() < 0.2:  # a cloud bank, or a break, takes the middle out
        third = float(np.round((closes - opens) / 3.0))
        return (opens, opens + third), (closes - third, closes)
    return ((opens, closes),)


def optimum(problem: RouteProblem, seconds: float = 20.0) -> Optimum:
    """Solve a problem whose turns do not change with time: the most value of all orders."""
    model = cp_model.CpModel()
    count = len(problem)
    seen = [model.new_bool_var(f"seen{i}") for i in range(count)]
    start = [
        model.new_int_var(int(problem.start_s), int(problem.end_s), f"start{i}")
        for i in range(count)
    ]
    arcs: list[tuple[int, int, Any]] = [(0, 0, model.new_bool_var("stays home"))]
    for i in range(count):
        arcs.append((i + 1, i + 1, ~seen[i]))
        first, last = model.new_bool_var(f"first{i}"), model.new_bool_var(f"last{i}")
        arcs += [(0, i + 1, first), (i + 1, 0, last)]
        to_first = int(problem.start_s + problem.turn_s[0, 0, i])
        model.add(start[i] >= to_first).only_enforce_if(first)
        for j in range(count):
            if i != j:
                follows = model.new_bool_var(f"{i} then {j}")
                arcs.append((i + 1, j + 1, follows))
                way = int(problem.service_s[i] + problem.turn_s[0, i + 1, j])
                model.add(start[j] >= start[i] + way).only_enforce_if(follows)
        spans = [model.new_bool_var(f"{i} in {number}") for number in range(len(problem.starts[i]))]
        for span, (early, late) in zip(spans, problem.starts[i], strict=True):
            model.add(start[i] >= int(early)).only_enforce_if(span)
            model.add(start[i] <= int(late)).only_enforce_if(span)
        model.add(sum(spans) == seen[i])
    model.add_circuit(arcs)
    model.maximize(sum(int(problem.values[i]) * seen[i] for i in range(count)))
    solver = cp_model.CpSolver()
    solver.parameters.max_time_in_seconds = seconds
    solver.parameters.num_workers = _WORKERS
    status = solver.solve(model)
    return Optimum(solver.objective_value, proven=status == cp_model.OPTIMAL)
