"""The best rig of a program: proven, and the same one every time.

Contents: `Question`, `Found`, `best`, `cost_of_best`, `exists`, `closest`.

Order of preference: the objective, then the other cost, then slot and item order. The first two are solves; for the
third, the options of the slots in order are fixed a few slots at a time, the earliest possible option first.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from solver.errors import InternalError, NotProven
from solver.program.matrix import Ints, Mask, Program
from solver.search.core import core_of
from solver.search.engine import Limits, Outcome, Status, solve_rows
from solver.search.reduce import Reduced, reduce_program

TIE = {"price": "weight", "weight": "price", "yearly-cost": "price"}
_DIGITS = 2**24
"""Largest weight in a solve for the order of items: small enough for the engine's linear relaxation."""


@dataclass(frozen=True, eq=False)
class Question:
    """A program with some rows left out, some options forbidden, and upper limits on costs."""

    program: Program
    by: str = "price"
    rows: Mask | None = None
    allowed: Mask | None = None
    at_most: dict[str, int] = field(default_factory=dict)
    domination: bool = True
    limits: Limits = Limits()

    def row_mask(self) -> Mask:
        """Rows that count."""
        return np.ones(len(self.program.rhs), bool) if self.rows is None else self.rows


@dataclass(frozen=True, eq=False)
class Found:
    """The best rig: its columns (one a slot) or None, whether that is proven, its cost and the proven lower bound."""

    columns: Ints | None
    proven: bool
    cost: int | None
    bound: int | None
    solves: int


class _Room:
    """A reduced question, solved repeatedly with further rows on top."""

    def __init__(self, question: Question, reduced: Reduced):
        program = question.program
        self.columns, self.rows, self.rhs = reduced.columns, reduced.rows, reduced.rhs
        self.sizes = np.bincount(reduced.slots, minlength=len(program.offsets) - 1).tolist()
        self.costs = {by: program.costs[by][reduced.columns] for by in program.costs}
        self.limits = question.limits
        self.solves = 0

    def add(self, row: Ints, limit: int) -> None:
        """One more row: row x <= limit."""
        self.rows = np.vstack([self.rows, row[None, :]])
        self.rhs = np.append(self.rhs, limit)

    def solve(self, cost: Ints | None, cutoff: int | None = None) -> Outcome:
        """Solve with this cost."""
        self.solves += 1
        return solve_rows(self.rows, self.rhs, self.sizes, cost, cutoff, self.limits)


def _room(question: Question, live: tuple[str, ...]) -> _Room | None:
    """The reduced question; None when the reduction alone shows that no rig exists."""
    live = tuple(dict.fromkeys((*live, *question.at_most)))
    reduced = reduce_program(
        question.program, question.row_mask(), live, question.at_most, question.allowed, domination=question.domination
    )
    return _Room(question, reduced) if reduced.possible else None


def _through_core(question: Question) -> tuple[bool, Ints | None]:
    """(answered, columns of the best rig by cost or None), as far as the core of the program can tell."""
    if not question.domination or question.allowed is not None:
        return False, None
    rows = question.row_mask()
    core = core_of(question.program, rows, tuple(dict.fromkeys((question.by, *question.at_most))))
    if core is None:
        return False, None
    small = replace(question, program=core.program, rows=rows[core.rows])
    room = _room(small, (question.by,))
    if room is None:
        return True, None
    outcome = room.solve(room.costs[question.by])
    if outcome.status is Status.INFEASIBLE:
        return True, None
    if outcome.status is not Status.OPTIMAL or outcome.chosen is None:
        return False, None
    columns = core.whole(room.columns[outcome.chosen], question.by)
    good = question.program.fits(columns, rows) and all(
        question.program.cost(columns, by) <= most for by, most in question.at_most.items()
    )
    return good, columns if good else None


def exists(question: Question) -> bool:
    """Whether any rig keeps the rows and the limits on costs. An error if the limit of work ends before that is known."""
    answered, columns = _through_core(question)
    if answered:
        return columns is not None
    room = _room(question, (question.by,))
    if room is None:
        return False
    outcome = room.solve(None)
    if outcome.status is Status.UNKNOWN:
        raise NotProven("the limit of work ended before it was known whether a rig exists")
    return outcome.status is not Status.INFEASIBLE


def cost_of_best(question: Question) -> int | None:
    """Least cost alone, proven, without settling ties; None if nothing fits."""
    answered, columns = _through_core(question)
    if answered:
        return None if columns is None else question.program.cost(columns, question.by)
    room = _room(question, (question.by,))
    if room is None:
        return None
    outcome = room.solve(room.costs[question.by])
    if outcome.status is Status.INFEASIBLE:
        return None
    if outcome.status is not Status.OPTIMAL or outcome.chosen is None:
        raise NotProven("the limit of work ended before the best rig was proven")
    return int(room.costs[question.by][outcome.chosen].sum())


def best(question: Question) -> Found:
    """The best rig by cost, then by the other cost, then by slot and item order."""
    tie = TIE[question.by]
    room = _room(question, (question.by, tie))
    if room is None:
        return Found(None, True, None, None, 0)
    first = room.solve(room.costs[question.by])
    if first.chosen is None:
        return Found(None, first.status is Status.INFEASIBLE, None, None, room.solves)
    cost = int(room.costs[question.by][first.chosen].sum())
    if first.status is not Status.OPTIMAL:
        return Found(room.columns[first.chosen], False, cost, first.bound, room.solves)
    room.add(room.costs[question.by], cost)
    second = room.solve(room.costs[tie], cutoff=int(room.costs[tie][first.chosen].sum()))
    if second.status is not Status.OPTIMAL or second.chosen is None:
        return Found(room.columns[first.chosen], False, cost, cost, room.solves)
    room.add(room.costs[tie], int(room.costs[tie][second.chosen].sum()))
    chosen = _earliest(room, second.chosen)
    return Found(room.columns[chosen], True, cost, cost, room.solves)


def closest(question: Question, rows: list[int]) -> tuple[int, Ints] | None:
    """Of these rows, the one that rigs keeping the question's rows miss by most at their closest, and that rig.

    The rows are outside the question's own. If each can be kept alone (they clash only together), the first is given with
    a rig that breaks some of them. None if no rig keeps the question's rows.
    """
    program = question.program
    room = _room(replace(question, domination=False), (question.by,))
    if room is None:
        return None
    worst: tuple[float, int, Ints] | None = None
    for i in rows:
        row = program.rows[i, room.columns]
        outcome = room.solve(row)
        if outcome.chosen is None:
            return None
        missed = int(row[outcome.chosen].sum()) - int(program.rhs[i])
        share = missed / max(1, int(np.abs(row[outcome.chosen]).sum()))
        if worst is None or share > worst[0]:
            worst = (share, i, room.columns[outcome.chosen])
    return None if worst is None else worst[1:]


def _earliest(room: _Room, chosen: Ints) -> Ints:
    """Among the rigs left, the one whose options come first, slot by slot."""
    edges = np.concatenate([[0], np.cumsum(room.sizes)])
    rank = np.concatenate([np.arange(size) for size in room.sizes]).astype(np.int64)
    slot = np.repeat(np.arange(len(room.sizes)), room.sizes)
    fixed = 0
    while fixed < len(room.sizes):
        weight, end = 1, fixed
        while end < len(room.sizes) and weight * max(1, room.sizes[end]) <= _DIGITS:
            weight *= max(1, room.sizes[end])
            end += 1
        order = np.zeros(len(rank), np.int64)
        for s in range(fixed, end):
            weight //= max(1, room.sizes[s])
            order[edges[s] : edges[s + 1]] = rank[edges[s] : edges[s + 1]] * weight
        here = int(order[chosen].sum())
        if here:
            outcome = room.solve(order, cutoff=here)
            if outcome.status is not Status.OPTIMAL or outcome.chosen is None:
                raise InternalError("the order of items could not be settled within the limit of work")
            chosen = outcome.chosen
        in_group = (slot >= fixed) & (slot < end)
        keep = ~in_group
        keep[chosen] = True
        room.add(np.where(keep, 0, 1).astype(np.int64), 0)
        fixed = end
    return chosen
