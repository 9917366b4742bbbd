"""The engine: CP-SAT on the reduced rows. This file and `linear.py` alone know ortools.

Contents: `Limits`, `Outcome`, `solve_rows`; `limited` (a person's own limit over all solves of an answer), `stop_all`,
`solve_directly`.

Settings as measured on invented problems of this shape: presolve off, linearization level 1, one worker, a cutoff rather
than a hint. The proto is filled directly through the engine's own extension module: the modelling layer above it
imports pandas, which alone takes several times as long as solving a demo brief.

The engine's own catching of Ctrl-C is off: it would end one solve and forget the interrupt. Instead the main thread waits
for its solves in a way that signals can reach, and `stop_all` ends those of every thread.
"""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from enum import Enum
from typing import Any

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


class _Room:
    """What is common to all solves of this process: the person's limit, the solves that run, whether to stop."""

    work: float | None = None
    deadline: float | None = None
    stopped = False
    directly = False
    running: set[engine.SolveWrapper] = set()  # noqa: RUF012 (one room, never copied)


@contextmanager
def limited(seconds: float | None = None, work: float | None = None) -> Iterator[None]:
    """Within this, all solves together end after so many seconds, and each after so much work.

    Only a limit of seconds makes an answer depend on the machine; work is counted in the engine's deterministic units.
    """
    before = _Room.work, _Room.deadline
    _Room.work = work
    _Room.deadline = None if seconds is None else time.monotonic() + seconds
    try:
        yield
    finally:
        _Room.work, _Room.deadline = before


def stop_all() -> None:
    """End every solve that runs, and let no further one begin: each raises KeyboardInterrupt instead."""
    _Room.stopped = True
    for wrapper in tuple(_Room.running):
        wrapper.stop_search()


def solve_directly() -> None:
    """From now on the main thread solves itself: for a process that another one ends, and that need not hear signals."""
    _Room.directly = True


def _model(rows: Ints, rhs: Ints, sizes: list[int], cost: Ints | None, cutoff: int | None) -> engine.CpModelProto:
    model = engine.CpModelProto()
    count = sum(sizes)
    for _ in range(count):
        model.variables.add().domain.extend([0, 1])
    start = 0
    for size in sizes:
        model.constraints.add().exactly_one.literals.extend(range(start, start + size))
        start += size
    held, places = np.nonzero(rows)
    columns, figures = places.tolist(), rows[held, places].tolist()
    ends = np.searchsorted(held, np.arange(1, len(rows) + 1)).tolist()
    start = 0
    for end, limit in zip(ends, rhs.tolist(), strict=True):
        linear = model.constraints.add().linear
        linear.vars.extend(columns[start:end])
        linear.coeffs.extend(figures[start:end])
        linear.domain.extend([_LOWEST, limit])
        start = end
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
    parameters.catch_sigint_signal = False
    parameters.max_deterministic_time = limits.work if _Room.work is None else min(limits.work, _Room.work)
    ends = [] if limits.seconds is None else [limits.seconds]
    if _Room.deadline is not None:
        ends.append(_Room.deadline - time.monotonic())
    if ends:
        if min(ends) <= 0.0:
            return Outcome(Status.UNKNOWN, None, 0, 0.0)
        parameters.max_time_in_seconds = min(ends)
    wrapper = engine.SolveWrapper()
    wrapper.set_parameters(parameters)
    response = _response(wrapper, _model(rows, rhs, sizes, cost, cutoff))
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


def _response(wrapper: engine.SolveWrapper, model: engine.CpModelProto) -> Any:
    """What the engine answers, so that an interrupt reaches the program at once."""
    if _Room.stopped:
        raise KeyboardInterrupt
    _Room.running.add(wrapper)
    try:
        if _Room.directly or threading.current_thread() is not threading.main_thread():
            response = wrapper.solve(model)  # type: ignore[no-untyped-call]
        else:
            response = _beside(wrapper, model)
    finally:
        _Room.running.discard(wrapper)
    if _Room.stopped:
        raise KeyboardInterrupt
    return response


def _beside(wrapper: engine.SolveWrapper, model: engine.CpModelProto) -> Any:
    """Solve in a thread of its own while the main one, which alone hears signals, waits."""
    found: list[Any] = []
    worker = threading.Thread(target=lambda: found.append(wrapper.solve(model)), daemon=True)  # type: ignore[no-untyped-call]
    worker.start()
    try:
        worker.join()
    except BaseException:
        wrapper.stop_search()
        raise
    if not found:
        raise InternalError("the engine ended without a word")
    return found[0]


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
