"""Leaving out options that cannot matter, before any search.

Contents: `live_rows`, `Reduced`, `reduce_program`.

Step 1 (`unary`): a row that touches one slot only is a filter on that slot; the options that break it go, and the row
with them. Step 2 (`slack`): a row that no remaining rig can break goes. Step 3 (`domination`): an option goes if another
of its slot is at least as good in every remaining row and every live cost, and better in a cost or earlier in order.

When this is sound:

| use | sound | why |
|---|---|---|
| one best rig with ties by cost, other cost, order | yes | swapping in the dominating option keeps every row and never worsens the order of preference |
| rows dropped (binding, conflicts) | yes | fewer rows only make domination easier to meet |
| a cutoff on a live cost | yes | the cost is among the compared columns |
| a requirement changed, options forbidden or forced | recompute | the columns or the dominating option are no longer there |
| rigs that must differ in a slot (rivals) | no | there an option stays unless at least k others dominate it: `keep` |
| exact front of several costs | yes, with all costs live | each is a compared column |
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from solver.program.matrix import Ints, Mask, Program


@dataclass(frozen=True, eq=False)
class Reduced:
    """What is left: the columns of the full program that stay, by slot, and the rows that still decide something."""

    columns: Ints
    rows: Mask
    possible: bool
    """False when a slot has no option left or a row can never be kept."""


def unary(program: Program, rows: Mask, allowed: Mask) -> tuple[Mask, Mask]:
    """Filter options by the rows that touch one slot; returns (rows left, options left)."""
    rows, allowed = rows.copy(), allowed.copy()
    touched = np.stack([(program.rows[:, a:b] != 0).any(axis=1) for a, b in program.slices], axis=1)
    single = rows & (touched.sum(axis=1) <= 1)
    for i in np.flatnonzero(single):
        where = np.flatnonzero(touched[i])
        if len(where):
            a, b = program.slices[int(where[0])]
            allowed[a:b] &= program.rows[i, a:b] <= program.rhs[i]
        elif program.rhs[i] < 0:
            allowed[:] = False
        rows[i] = False
    return rows, allowed


def bounds(program: Program, allowed: Mask) -> tuple[Ints, Ints]:
    """Smallest and largest sum of every row over the remaining options, as the sums of the slots' extremes."""
    low = np.zeros(len(program.rhs), np.int64)
    high = np.zeros(len(program.rhs), np.int64)
    for a, b in program.slices:
        part = program.rows[:, a:b][:, allowed[a:b]]
        low += part.min(axis=1)
        high += part.max(axis=1)
    return low, high


def propagate(program: Program, rows: Mask, allowed: Mask) -> tuple[Mask, Mask, bool]:
    """Take out options that break a row even with the best of all other slots, until nothing moves."""
    while True:
        if any(not allowed[a:b].any() for a, b in program.slices):
            return rows, allowed, False
        low, high = bounds(program, allowed)
        if (low[rows] > program.rhs[rows]).any():
            return rows, allowed, False
        rows = rows & (high > program.rhs)
        before = int(allowed.sum())
        active = np.flatnonzero(rows)
        for a, b in program.slices:
            block = program.rows[active, a:b]
            least = block[:, allowed[a:b]].min(axis=1)
            spare = program.rhs[active] - (low[active] - least)
            allowed[a:b] &= (block <= spare[:, None]).all(axis=0)
        if int(allowed.sum()) == before:
            return rows, allowed, True


def dominated(table: Ints, costs: Sequence[Ints], keep: int = 1) -> Mask:
    """Which options of one slot are dominated by at least `keep` others. table: (rows, k); costs: each (k,)."""
    k = table.shape[1]
    if k <= 1:
        return np.zeros(k, bool)
    columns = np.ascontiguousarray(np.concatenate([table, np.stack(list(costs))]).T)
    price = np.stack(list(costs)).T
    out = np.zeros(k, bool)
    order = np.arange(k)
    for j in range(k):
        no_worse = (columns <= columns[j]).all(axis=1)
        better = (price < price[j]).any(axis=1) | (order < j)
        no_worse &= better
        no_worse[j] = False
        if keep == 1:
            out[j] = no_worse.any()
        else:
            out[j] = int(no_worse.sum()) >= keep
    return out


def reduce_program(
    program: Program, rows: Mask, allowed: Mask, live: Sequence[str], keep: int = 1, domination: bool = True
) -> Reduced:
    """The columns and rows that still matter; `live` names the costs that decide, in any order."""
    rows, allowed = unary(program, rows, allowed)
    rows, allowed, possible = propagate(program, rows, allowed)
    if not possible:
        return Reduced(np.flatnonzero(allowed), rows, False)
    if domination:
        active = np.flatnonzero(rows)
        for a, b in program.slices:
            here = np.flatnonzero(allowed[a:b]) + a
            table = program.rows[np.ix_(active, here)]
            gone = dominated(table, [program.costs[by][here] for by in live], keep)
            allowed[here[gone]] = False
        _, high = bounds(program, allowed)
        rows = rows & (high > program.rhs)
    return Reduced(np.flatnonzero(allowed), rows, True)
