"""The best rig of a program: proven, and the same one every time.

Contents: `Question`, `Found`, `best` (`cheapest`, then `settled`), `cost_of_best`, `exists`, `any_rig`, `hopeless`,
`closest`, `live_costs`.

Order of preference: the objective, then the other cost, then slot and item order. The first two are solves; for the
third, the options of the slots in order are fixed a few slots at a time, the earliest possible option first.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

import numpy as np

from solver.errors import NotProven
from solver.program.matrix import Ints, Mask, Program
from solver.search.bound import bound_of
from solver.search.core import Core, core_of, tail_edge
from solver.search.engine import Limits, Outcome, Status, solve_rows
from solver.search.reduce import Reduced, propagate, reduce_program, without_dominated

TIE = {"price": "weight", "weight": "price", "yearly-cost": "price"}
LARGE = 3000
"""Options of a program from which on its questions go the way of `large.py`: relaxation first, no options compared."""
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
    broken: Ints | None = None
    """Rows left out of which any rig within `at_most` must break one, since with them the best costs more."""

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


def is_large(program: Program) -> bool:
    """Whether the questions about a program go the way of `large.py`."""
    return bool(program.rows.shape[1] >= LARGE)


def live_costs(by: str) -> tuple[str, ...]:
    """Costs that decide where nothing but the objective is limited: it and the other cost for ties."""
    return (by, TIE[by])


def _live(question: Question) -> tuple[str, ...]:
    """Costs that decide: the objective, the other cost for ties, and those that are limited. Mostly the same two, so that
    one domination serves most questions."""
    return tuple(dict.fromkeys((*live_costs(question.by), *question.at_most)))


def _room(question: Question, narrow: bool = True, again: bool = True) -> _Room | None:
    """The reduced question, narrowed by the bound if asked; None when that alone shows that no rig exists.

    Without `again` it is only good for that: what is left is not compared once more.
    """
    reduced = reduce_program(
        question.program, question.row_mask(), _live(question), question.at_most, question.allowed,
        domination=question.domination, broken=question.broken, again=again,
    )  # fmt: skip
    if not reduced.possible:
        return None
    cutoff = question.at_most.get(question.by)
    if narrow and cutoff is not None and question.domination:
        narrowed = _narrowed(reduced, question.program.costs[question.by], cutoff)
        if narrowed is None:
            return None
        reduced = narrowed
    return _Room(question, reduced)


def _narrowed(reduced: Reduced, cost: Ints, cutoff: int) -> Reduced | None:
    """Without the options that no rig within the cutoff can have; None if there is no such rig."""
    bound = bound_of(reduced.rows, reduced.rhs, cost[reduced.columns], reduced.slots, cutoff)
    if bound.excluded:
        return None
    if bound.possible.all():
        return reduced
    keep = bound.possible
    rows, slots, columns = reduced.rows[:, keep], reduced.slots[keep], reduced.columns[keep]
    stay, deciding, possible = propagate(rows, reduced.rhs, slots)
    if not possible:
        return None
    return Reduced(columns[stay], slots[stay], rows[np.ix_(deciding, stay)], reduced.rhs[deciding], True)


def _core_room(question: Question, again: bool = True) -> tuple[Core, _Room | None] | None:
    """The core of the program with its reduced question (None: no rig exists); None where there is no core."""
    if not question.domination or question.allowed is not None:
        return None
    rows = question.row_mask()
    core = core_of(question.program, rows, _live(question))
    if core is None:
        return None
    broken = None
    if question.broken is not None and not core.meets[question.broken].any():
        broken = np.flatnonzero(np.isin(core.rows, question.broken))
    small = replace(question, program=core.program, rows=rows[core.rows], broken=broken)
    return core, _room(small, narrow=False, again=again)


def _through_core(question: Question, any_will_do: bool = False) -> tuple[bool, Ints | None, int]:
    """(answered, columns of the best rig by cost or None, lower bound), as far as the core of the program can tell.

    Where it cannot, the columns are those of the core's rig with its cheapest bundle, which breaks some row or is not
    proven to be the best. With `any_will_do` the rig need not be the best. The core only loosens the question, so its bound
    holds for the whole.
    """
    pair = _core_room(question)
    if pair is None:
        return False, None, 0
    core, room = pair
    if room is None:
        return True, None, 0
    outcome = room.solve(None if any_will_do else room.costs[question.by])
    if outcome.status is Status.INFEASIBLE:
        return True, None, 0
    if outcome.chosen is None:
        return False, None, outcome.bound
    columns = core.whole(room.columns[outcome.chosen], question.by)
    good = _keeps(question, columns)
    return good and (any_will_do or outcome.status is Status.OPTIMAL), columns, outcome.bound


def hopeless(question: Question) -> bool:
    """Whether the reduction alone shows that no rig exists; quick, and False where that needs a search."""
    if is_large(question.program):
        from solver.search.large import hopeless_of_large

        return hopeless_of_large(question)
    pair = _core_room(question, again=False)
    return (pair[1] if pair is not None else _room(question, narrow=False, again=False)) is None


def _completed(question: Question, columns: Ints) -> Ints | None:
    """The cheapest rig that differs from this one in yes/no slots only; None if there is none."""
    allowed = np.zeros(question.program.rows.shape[1], bool)
    allowed[columns] = True
    allowed[tail_edge(question.program) :] = True
    room = _room(replace(question, allowed=allowed, broken=None, domination=False))
    outcome = room.solve(room.costs[question.by]) if room is not None else None
    if room is None or outcome is None or outcome.chosen is None:
        return columns if _keeps(question, columns) else None
    return room.columns[outcome.chosen]


def _keeps(question: Question, columns: Ints) -> bool:
    """Whether a rig keeps the rows and all limits on costs."""
    program = question.program
    return program.fits(columns, question.row_mask()) and all(
        program.cost(columns, by) <= most for by, most in question.at_most.items()
    )


def exists(question: Question) -> bool:
    """Whether any rig keeps the rows and the limits on costs. An error if the limit of work ends before that is known."""
    return any_rig(question) is not None


def any_rig(question: Question) -> Ints | None:
    """Columns of some rig that keeps the rows and the limits on costs, None if there is none.

    NotProven if the limit of work ends before that is known.
    """
    if is_large(question.program):
        from solver.search.large import any_of_large

        return any_of_large(question)
    answered, columns, _ = _through_core(question, any_will_do=True)
    if answered:
        return columns
    known = None if columns is None else _completed(question, columns)
    if known is not None:
        return known
    room = _room(question)
    if room is None:
        return None
    outcome = room.solve(None)
    if outcome.status is Status.UNKNOWN:
        raise NotProven("the limit of work ended before it was known whether a rig exists")
    return None if outcome.chosen is None else room.columns[outcome.chosen]


def cost_of_best(question: Question) -> int | None:
    """Least cost alone, proven, without settling ties; None if nothing fits."""
    found = cheapest(question)
    if not found.proven:
        raise NotProven("the limit of work ended before the best rig was proven")
    return found.cost


def best(question: Question) -> Found:
    """The best rig by cost, then by the other cost, then by slot and item order."""
    return settled(question, cheapest(question))


def cheapest(question: Question) -> Found:
    """A best rig by cost alone, before ties are settled: always the same one, but not yet the one to show."""
    if is_large(question.program):
        from solver.search.large import cheapest_of_large

        return cheapest_of_large(question)
    answered, columns, least = _through_core(question)
    if answered:
        cost = None if columns is None else question.program.cost(columns, question.by)
        return Found(columns, True, cost, cost, 1)
    known = None if columns is None else _completed(question, columns)
    cost = None if known is None else question.program.cost(known, question.by)
    if cost is not None:
        question = replace(question, at_most={**question.at_most, question.by: cost - 1})
    room = _room(question)
    outcome = room.solve(room.costs[question.by]) if room is not None else None
    if room is None or outcome is None or outcome.status is Status.INFEASIBLE:
        return Found(known, True, cost, cost, 2)
    if outcome.chosen is None:
        return Found(known, False, cost, None if cost is None else min(cost, max(least, outcome.bound)), 2)
    columns = room.columns[outcome.chosen]
    cost = question.program.cost(columns, question.by)
    return Found(columns, outcome.status is Status.OPTIMAL, cost, max(least, outcome.bound), 2)


def settled(question: Question, found: Found) -> Found:
    """Of the rigs that cost as little as the one found, the best by the other cost, then by order."""
    if found.columns is None or not found.proven:
        return found
    return _settled(question, found.columns)


def _settled(question: Question, columns: Ints) -> Found:
    """Of the rigs that cost as little as this one, the best by the other cost, then by order.

    This one itself, not proven, where the limit of work ends before ties in cost are settled.
    """
    tie, cost = TIE[question.by], question.program.cost(columns, question.by)
    if is_large(question.program):
        from solver.search.large import narrowed_to_ties

        try:
            question = narrowed_to_ties(question, columns)
        except NotProven:
            return Found(columns, False, cost, cost, 2)
    at_most = {**question.at_most, question.by: cost}
    room = _room(replace(question, at_most=at_most))
    second = room.solve(room.costs[tie]) if room is not None else None
    if room is None or second is None or second.status is not Status.OPTIMAL or second.chosen is None:
        return Found(columns, False, cost, cost, 2)
    room.add(room.costs[tie], int(room.costs[tie][second.chosen].sum()))
    chosen = second.chosen if _alone(room, second.chosen) else _earliest(room, second.chosen)
    if chosen is None:
        return Found(columns, False, cost, cost, room.solves + 1)
    return Found(room.columns[chosen], True, cost, cost, room.solves + 1)


def _alone(room: _Room, chosen: Ints) -> bool:
    """Whether no other rig is left besides this one."""
    row = np.zeros(len(room.columns), np.int64)
    row[chosen] = 1
    rows, rhs = room.rows, room.rhs
    room.add(row, len(room.sizes) - 1)
    alone = room.solve(None).status is Status.INFEASIBLE
    room.rows, room.rhs = rows, rhs
    return alone


def closest(question: Question, rows: list[int]) -> tuple[int, Ints] | None:
    """Of these rows, the one that rigs keeping the question's rows miss by most at their closest, and that rig.

    The rows are outside the question's own. If each can be kept alone (they clash only together), the first is given with
    a rig that breaks some of them. None if no rig keeps the question's rows.
    """
    program, active = question.program, question.row_mask()
    columns = np.arange(program.rows.shape[1]) if question.allowed is None else np.flatnonzero(question.allowed)
    stay, deciding, possible = propagate(program.rows[np.ix_(active, columns)], program.rhs[active], program.slot_of[columns])
    if not possible:
        return None
    columns = columns[stay]
    kept, limits = program.rows[np.ix_(active, columns)][deciding], program.rhs[active][deciding]
    slots = program.slot_of[columns]
    worst: tuple[float, int, Ints] | None = None
    known: list[Ints] = []
    for i in rows:
        row = program.rows[i]
        if worst is not None and worst[0] > 0 and any(int(row[rig].sum()) <= int(program.rhs[i]) for rig in known):
            continue  # it can be kept, and another cannot
        few = without_dominated(kept, slots, row[columns][None, :], 1)
        sizes = np.bincount(slots[few], minlength=len(program.offsets) - 1).tolist()
        outcome = solve_rows(kept[:, few], limits, sizes, row[columns[few]], limits=question.limits)
        if outcome.chosen is None:
            return None
        rig = columns[few][outcome.chosen]
        known.append(rig)
        missed = int(row[rig].sum()) - int(program.rhs[i])
        share = missed / max(1, int(np.abs(row[rig]).sum()))
        if worst is None or share > worst[0]:
            worst = (share, i, rig)
    return None if worst is None else worst[1:]


def _earliest(room: _Room, chosen: Ints) -> Ints | None:
    """Among the rigs left, the one whose options come first, slot by slot; None if the limit of work ends before."""
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
                return None
            chosen = outcome.chosen
        in_group = (slot >= fixed) & (slot < end)
        keep = ~in_group
        keep[chosen] = True
        room.add(np.where(keep, 0, 1).astype(np.int64), 0)
        fixed = end
    return chosen
