"""Plain helpers for the tests of large questions: a proof gone through in Python's integers, HiGHS, parts of a program.

Contents: `walk`, `Walked`, `by_highs`, `large_program`, `best_rig`, `part_of`.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from functools import cache

import highspy
import numpy as np

from solver.answers.ask import ask
from solver.program.matrix import Program
from solver.program.proof import ByEngine, Closed, Narrowed, Proof, Split
from solver.search.best import Question, best
from tests.bench.large import large_catalog
from tests.highs import highs_of


@dataclass
class Walked:
    """What a proof was made of, and the open options of every part that the engine closed."""

    closed: int = 0
    splits: int = 0
    shut: int = 0
    engine: list[list[set[int]]] = field(default_factory=list)


def _terms(program, by, multipliers, scale, column):
    cost = int(program.costs[by][column])
    return scale * cost + sum(m * int(program.rows[row, column]) for row, m in multipliers)


def walk(program: Program, proof: Proof) -> Walked:
    """Go through every node by the definitions in `solver/program/proof.py`; an AssertionError where one does not hold."""
    found = Walked()
    slots = range(len(program.offsets) - 1)

    def bound(part, open_):
        assert all(m > 0 and isinstance(m, int) for _, m in part.multipliers) and part.scale >= 0
        assert [row for row, _ in part.multipliers] == sorted({row for row, _ in part.multipliers})
        own = [{j: _terms(program, proof.by, part.multipliers, part.scale, j) for j in open_[s]} for s in slots]
        least = [min(values.values()) for values in own]
        total = sum(least) - sum(m * int(program.rhs[row]) for row, m in part.multipliers)
        return own, least, total

    def part_holds(part, open_):
        while isinstance(part, Narrowed):
            own, least, total = bound(part, open_)
            over = part.scale * (proof.least - 1)
            left = [{j for j, value in own[s].items() if total - least[s] + value <= over} for s in slots]
            found.shut += sum(map(len, open_)) - sum(map(len, left))
            open_, part = left, part.rest
            if not all(open_):
                assert part is None
                return
        if isinstance(part, ByEngine):
            found.engine.append(open_)
        elif isinstance(part, Closed):
            assert bound(part, open_)[2] > part.scale * (proof.least - 1)
            found.closed += 1
        else:
            assert isinstance(part, Split)
            found.splits += 1
            assert len(part.groups) == len(part.parts) > 1
            assert set().union(*part.groups) >= open_[part.slot]
            for group, inner in zip(part.groups, part.parts, strict=True):
                part_holds(inner, [open_[s] & set(group) if s == part.slot else set(open_[s]) for s in slots])

    part_holds(proof.root, [set(range(a, b)) for a, b in program.slices])
    return found


def by_highs(program: Program, by: str) -> int | None:
    """Least cost by HiGHS on the same rows, None if there is no rig."""
    exact = {"primal_feasibility_tolerance": 1e-9, "mip_feasibility_tolerance": 1e-9}
    solver = highs_of(program, by, mip_abs_gap=0.1, **exact)
    solver.run()
    status = solver.getModelStatus()
    if status == highspy.HighsModelStatus.kInfeasible:
        return None
    assert status == highspy.HighsModelStatus.kOptimal, status
    return round(solver.getInfo().objective_function_value)


@cache
def large_program(options: int, seed: int) -> Program:
    """The program of a generated catalog and its brief."""
    catalog, brief = large_catalog(options, seed)
    return ask(catalog, brief).program


@cache
def best_rig(options: int, seed: int) -> tuple[int, ...]:
    """Columns of the best rig of that program, found the small way."""
    return tuple(best(Question(large_program(options, seed))).columns.tolist())


def part_of(
    program: Program, rng: np.random.Generator, share: float, step: int = 1, slack: float = 0.0, rig: tuple[int, ...] = ()
) -> Program:
    """Some options of every slot, at random, and those of a rig; costs in steps so large that ties come about; some
    right-hand sides tightened by up to a share of the row's span."""
    keep = rng.random(program.rows.shape[1]) < share
    keep[list(rig)] = True
    for a, b in program.slices:
        if b - a <= 2 or not keep[a:b].any():
            keep[a:b] = True
    rows, slots = program.rows[:, keep], program.slot_of[keep]
    starts = np.flatnonzero(np.append(True, slots[1:] != slots[:-1]))
    span = (np.maximum.reduceat(rows, starts, axis=1) - np.minimum.reduceat(rows, starts, axis=1)).sum(axis=1)
    tighter = np.where(rng.random(len(span)) < 0.2, slack * rng.random(len(span)), 0.0) * span
    return Program(
        rows, program.rhs - tighter.astype(np.int64), np.append(starts, len(slots)).astype(np.int64),
        {by: cost[keep] // step * step for by, cost in program.costs.items()}, program.labels, program.groups,
        program.background, program.reads,
    )  # fmt: skip
