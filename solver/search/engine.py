"""The engine: CP-SAT on the reduced rows. The only file that knows ortools.

Contents: `Limits`, `Outcome`, `solve_rows`.

Settings as measured on invented problems of this shape: presolve off, linearization level 1, one worker, a cutoff rather
than a hint. The proto is filled directly through the engine's own extension module: the modelling layer above it
imports pandas, which alone takes several times as long as solving a demo brief.
"""

from __future__ import annotations

from dataclasses import dataclass
from enum import Enum

import numpy as np
from ortools.sat.python import cp_model_helper as engine

from solver.errors import InternalError
from solver.program.matrix import Ints

_LOWEST = -(2**62)


class Status(Enum):
    """What the engine found out."""

    OPTIMAL = "optimal"
    FEASIBLE = "feasible"
    INFEASIBLE = "infeasible"
    UNKNOWN = "unknown"


@dataclass(frozen=True)
class Limits:
    """How much work a solve may take: deterministic units by default, seconds only when a person asks for them."""

    work: float = 600.0
    seconds: float | None = None
    seed: int = 1


@dataclass(frozen=True, eq=False)
class Outcome:
    """Status, the chosen column of each slot (positions within the given columns), and the proven lower bound."""

    status: Status
    chosen: Ints | None
    bound: int
    work: float


def _model(rows: Ints, rhs: Ints, sizes: list[int], cost: Ints | None, cutoff: int | None) -> engine.CpModelProto:
    model = engine.CpModelProto()
    count = sum(sizes)
    for _ in range(count):
        model.variables.add().domain.extend([0, 1])
    start = 0
    for size in sizes:
        model.constraints.add().exactly_one.literals.extend(range(start, start + size))
        start += size
    for row, limit in zip(rows, rhs.tolist(), strict=True):
        places = np.flatnonzero(row)
        linear = model.constraints.add().linear
        linear.vars.extend(places.tolist())
        linear.coeffs.extend(row[places].tolist())
        linear.domain.extend([_LOWEST, limit])
    if cost is not None:
        places = np.flatnonzero(cost)
        model.objective.vars.extend(places.tolist())
        model.objective.coeffs.extend(cost[places].tolist())
        if cutoff is not None:
            model.objective.domain.extend([_LOWEST, cutoff])
    return model


def _normal(rows: Ints, rhs: Ints, sizes: list[int]) -> tuple[Ints, Ints]:
    """Subtract each slot's smallest entry: exactly one option is taken, so this changes nothing and keeps numbers small."""
    rows, rhs, start = rows.copy(), rhs.copy(), 0
    for size in sizes:
        part = rows[:, start : start + size]
        least = part.min(axis=1)
        part -= least[:, None]
        rhs -= least
        start += size
    scale = np.gcd.reduce(rows, axis=1) if rows.size else np.ones(len(rows), np.int64)
    scale = np.maximum(scale, 1)
    return rows // scale[:, None], np.floor_divide(rhs, scale)


def solve_rows(
    rows: Ints, rhs: Ints, sizes: list[int], cost: Ints | None, cutoff: int | None = None, limits: Limits = Limits()
) -> Outcome:
    """Least cost over one option a slot with rows x <= rhs, or any rig if `cost` is None. Cutoff: only cost <= cutoff."""
    rows, rhs = _normal(rows, rhs, sizes)
    if (rhs < 0).any():
        return Outcome(Status.INFEASIBLE, None, 0, 0.0)
    parameters = engine.SatParameters()
    parameters.num_workers = 1
    parameters.cp_model_presolve = False
    parameters.linearization_level = 1
    parameters.cut_level = 0
    parameters.random_seed = limits.seed
    parameters.max_deterministic_time = limits.work
    if limits.seconds is not None:
        parameters.max_time_in_seconds = limits.seconds
    wrapper = engine.SolveWrapper()
    wrapper.set_parameters(parameters)
    response = wrapper.solve(_model(rows, rhs, sizes, cost, cutoff))  # type: ignore[no-untyped-call]
    status = _status(response.status)
    chosen = None
    if status in (Status.OPTIMAL, Status.FEASIBLE):
        chosen = np.flatnonzero(np.array(list(response.solution), np.int64))
        if len(chosen) != len(sizes):
            raise InternalError("the engine's answer does not take one option a slot")
    bound = 0
    if cost is not None and status is not Status.INFEASIBLE:
        bound = int(np.ceil(response.best_objective_bound - 1e-6)) if np.isfinite(response.best_objective_bound) else 0
    return Outcome(status, chosen, bound, float(response.deterministic_time))


def _status(found: engine.CpSolverStatus) -> Status:
    names = engine.CpSolverStatus
    table = {
        names.OPTIMAL: Status.OPTIMAL,
        names.FEASIBLE: Status.FEASIBLE,
        names.INFEASIBLE: Status.INFEASIBLE,
        names.UNKNOWN: Status.UNKNOWN,
    }
    if found not in table:
        raise InternalError(f"the engine refused the rows: {found}")
    return table[found]
