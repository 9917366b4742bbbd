"""A rig under rows that a requirement has moved: any one within a cost, and all that cost the same.

Contents: `Ground` (what the rows that stay leave), `rig_within` (any), `cheapest_like` and `least_changed` (the cheapest,
with few changes), `rig_of` (any rig of a whole program), `rigs_of_cost` (all that cost the same).

The program with the moved rows is another one than that which was reduced and kept, so the options are narrowed afresh: by
propagation, once for the rows that stay and again with those that moved, by the bound that the limit on cost allows, and by
domination among what is left.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from solver.errors import InternalError, NotProven
from solver.program.matrix import Ints, Mask, Program
from solver.search.bound import bound_of
from solver.search.engine import Status, solve_rows
from solver.search.reduce import broken_row, propagate, without_dominated

ALIKE = 48
"""Rigs of the same cost that are listed at most."""
_TRIES = 400
"""Steps towards the bound where it is asked for once and used often."""


@dataclass(frozen=True, eq=False)
class _Left:
    """Options that may still matter, with their slots, and the rows that still decide."""

    columns: Ints
    slots: Ints
    rows: Ints
    rhs: Ints

    def only(self, keep: Mask) -> _Left | None:
        """Without some options, propagated; None if no rig is left."""
        rows, slots, columns = self.rows[:, keep], self.slots[keep], self.columns[keep]
        stay, deciding, possible = propagate(rows, self.rhs, slots)
        if not possible:
            return None
        return _Left(columns[stay], slots[stay], rows[np.ix_(deciding, stay)], self.rhs[deciding])

    def with_row(self, row: Ints, limit: int) -> _Left:
        """With one more row over its options."""
        return _Left(self.columns, self.slots, np.concatenate([self.rows, row[None, :]]), np.append(self.rhs, limit))


class Ground:
    """What the rows that stay leave of the options, within a limit on cost: worked out once for all values of a way."""

    def __init__(self, program: Program, active: Mask, cost: Ints | None = None, cutoff: int | None = None):
        """Rows of the program in the mask count. Where costs stay, `cost` and the largest cutoff of the questions to come."""
        self.program = program
        everything = np.arange(program.rows.shape[1], dtype=np.int64)
        rows, rhs = program.rows[active], program.rhs[active]
        if cost is not None and cutoff is not None:
            rows, rhs = np.concatenate([rows, cost[None, :]]), np.append(rhs, cutoff)
        self.left = _Left(everything, program.slot_of, rows, rhs).only(np.ones(len(everything), bool))
        """None if no rig is left."""

    @property
    def slots(self) -> int:
        """Number of slots."""
        return len(self.program.offsets) - 1

    def with_rows(self, rows: Ints, rhs: Ints) -> _Left | None:
        """With further rows (k, n) over all options of the program."""
        left = self.left
        if left is None:
            return None
        return _Left(
            left.columns, left.slots, np.concatenate([left.rows, rows[:, left.columns]]), np.concatenate([left.rhs, rhs])
        )


def _narrowed(left: _Left | None, cost: Ints, cutoff: int, tries: int) -> _Left | None:
    """What is left of the options within the cutoff; None if no rig is."""
    if left is None:
        return None
    left = left.with_row(cost[left.columns], cutoff).only(np.ones(len(left.columns), bool))
    if left is None:
        return None
    bound = bound_of(left.rows, left.rhs, cost[left.columns], left.slots, cutoff, tries)
    if bound.excluded:
        return None
    return left if bound.possible.all() else left.only(bound.possible)


def _undominated(left: _Left, cost: Ints) -> _Left:
    """Without options that another of their slot beats or equals in every row that is left and in cost."""
    stay = without_dominated(left.rows, left.slots, cost[left.columns][None, :], 1)
    return _Left(left.columns[stay], left.slots[stay], left.rows[:, stay], left.rhs)


def rig_within(
    ground: Ground, rows: Ints, rhs: Ints, cost: Ints, cutoff: int, broken: Ints | None = None
) -> Ints | None:
    """Columns of some rig that keeps the ground's rows and these further rows, at a cost of at most `cutoff`.

    Parameters
    ----------
    ground : Ground
        Rows of the program that count; its own costs take no part.
    rows, rhs : (k, n) int64, (k,) int64
        Further rows.
    cost : (n,) int64
        Cost of each option.
    cutoff : int
        Most that the rig may cost.
    broken : (b,) int64, optional
        Rows of the program of which any such rig must break one, as the best that keeps them costs more.

    Returns
    -------
    columns or None
        None where no rig exists, proven. NotProven if the limit of work ends before that is known.
    """
    left = ground.with_rows(rows, rhs)
    if left is not None and broken is not None:
        left = left.with_row(*broken_row(ground.program, broken, left.columns))
    left = _narrowed(left, cost, cutoff, 120)
    if left is None:
        return None
    if broken is not None:
        again = left.with_row(*broken_row(ground.program, broken, left.columns)).only(np.ones(len(left.columns), bool))
        if again is None:
            return None
        left = again
    left = _undominated(left, cost)
    sizes = np.bincount(left.slots, minlength=ground.slots).tolist()
    outcome = solve_rows(left.rows, left.rhs, sizes, None)
    if outcome.status is Status.UNKNOWN:
        raise NotProven("the limit of work ended before it was known whether a rig exists")
    return None if outcome.chosen is None else left.columns[outcome.chosen]


def rig_of(program: Program) -> Ints | None:
    """Columns of some rig that keeps all rows; None if there is none. For a program that is asked about once: options are
    compared with each other only after those that cannot be taken are gone.

    NotProven if the limit of work ends before that is known.
    """
    left = Ground(program, np.ones(len(program.rhs), bool)).left
    if left is None:
        return None
    left = _undominated(left, np.zeros(program.rows.shape[1], np.int64))
    outcome = solve_rows(left.rows, left.rhs, np.bincount(left.slots, minlength=len(program.offsets) - 1).tolist(), None)
    if outcome.status is Status.UNKNOWN:
        raise NotProven("the limit of work ended before it was known whether a rig exists")
    return None if outcome.chosen is None else left.columns[outcome.chosen]


def rigs_of_cost(program: Program, cost: Ints, cutoff: int, first: Ints) -> tuple[tuple[Ints, ...], bool]:
    """Every rig that keeps all rows at a cost of at most `cutoff`, `first` (one of them) at the head; whether that is all.

    Options that another dominates count too: once a requirement moves, it may be they that fit.
    """
    found = _one_swap_on(program, cost, cutoff, [first], first)
    left = _narrowed(Ground(program, np.ones(len(program.rhs), bool)).left, cost, cutoff, _TRIES)
    if left is None:
        return (first,), True
    sizes = np.bincount(left.slots, minlength=len(program.offsets) - 1).tolist()
    told = 0
    while len(found) <= ALIKE:
        for rig in found[told:]:
            left = left.with_row(np.isin(left.columns, rig).astype(np.int64), len(sizes) - 1)
        told = len(found)
        outcome = solve_rows(left.rows, left.rhs, sizes, None)
        if outcome.status is Status.INFEASIBLE:
            return tuple(found), True
        if outcome.chosen is None:
            break
        found = _one_swap_on(program, cost, cutoff, found, left.columns[outcome.chosen])
    return tuple(found), False


def _one_swap_on(program: Program, cost: Ints, cutoff: int, found: list[Ints], new: Ints) -> list[Ints]:
    """The rigs found with a new one and all that single swaps lead to from it, within the cutoff. Most are rewirings."""
    known = {rig.tobytes() for rig in found}
    queue = [new]
    out = list(found) if new.tobytes() in known else [*found, new]
    known.add(new.tobytes())
    slot_of = program.slot_of
    while queue and len(out) <= ALIKE:
        rig = queue.pop(0)
        price = int(cost[rig].sum()) - cost[rig][slot_of] + cost
        near = np.flatnonzero((price <= cutoff) & ~np.isin(np.arange(len(cost)), rig))
        sums = program.rows[:, rig].sum(axis=1)
        own = program.rows[:, rig][:, slot_of[near]]
        good = (sums[:, None] - own + program.rows[:, near] <= program.rhs[:, None]).all(axis=0)
        for column in near[good].tolist():
            other = rig.copy()
            other[slot_of[column]] = column
            if other.tobytes() not in known:
                known.add(other.tobytes())
                out.append(other)
                queue.append(other)
    return out


def cheapest_like(ground: Ground, rows: Ints, rhs: Ints, cost: Ints, cutoff: int, changes: Ints) -> Ints | None:
    """Columns of a rig of least cost within the cutoff; of several, one of least sum of `changes`.

    None where no rig is within the cutoff.
    """
    left = _narrowed(ground.with_rows(rows, rhs), cost, cutoff, 120)
    if left is None:
        return None
    few = _undominated(left, cost)
    chosen = _least(few, cost[few.columns], ground.slots)
    if chosen is None:
        return None
    return _least_changed(left, ground.slots, cost, int(cost[few.columns[chosen]].sum()), changes)


def least_changed(ground: Ground, rows: Ints, rhs: Ints, cost: Ints, cutoff: int, changes: Ints) -> Ints:
    """Columns of a rig within the cutoff, which some rig is known to meet, of least sum of `changes`."""
    return _least_changed(ground.with_rows(rows, rhs), ground.slots, cost, cutoff, changes)


def _least_changed(left: _Left | None, slots: int, cost: Ints, cutoff: int, changes: Ints) -> Ints:
    left = _narrowed(left, cost, cutoff, 120)
    chosen = None if left is None else _least(left, changes[left.columns], slots)
    if left is None or chosen is None:
        raise InternalError("a rig was found that its own cost excludes")
    return left.columns[chosen]


def _least(left: _Left, cost: Ints, slots: int) -> Ints | None:
    outcome = solve_rows(left.rows, left.rhs, np.bincount(left.slots, minlength=slots).tolist(), cost)
    if outcome.status is Status.INFEASIBLE:
        return None
    if outcome.status is not Status.OPTIMAL or outcome.chosen is None:
        raise NotProven("the limit of work ended before the best rig was proven")
    return outcome.chosen
