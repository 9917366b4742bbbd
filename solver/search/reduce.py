"""Leaving out options and rows that cannot matter, before any search.

Contents: `Reduced`, `reduce_program`, `dominated`, `without_dominated`, `undominated`, `propagate`, `broken_row`,
`starts_of`.

Step 1, domination: an option goes if another of its slot is at least as good in every row and every live cost, and better
in a cost or earlier in order. Rows that touch one slot only are compared as kept or broken: by how much does not matter.
It is done once for all rows of a program and kept. Step 2, propagation: an option goes if it breaks a row even with the
best of all other slots; a row goes if no rig that is left can break it; until nothing moves. Step 3: domination once more
among what is left.

When this is sound:

| use | sound | why |
|---|---|---|
| one best rig, ties by other cost and order | yes | the dominating option keeps every row and never worsens the order |
| rows dropped (binding, conflicts) | yes | fewer rows only make domination easier to meet |
| a cutoff on a live cost | yes | the cost is among the compared columns |
| a requirement changed | recompute | the rows are others: it is another program |
| options forbidden or forced | recompute | the dominating option may be the forbidden one; done afresh among those allowed |
| rigs that must differ in a slot (rivals) | no | there an option stays unless at least `keep` others dominate it |
| exact front of several costs | yes, with all costs live | each is a compared column |
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping
from dataclasses import dataclass

import numpy as np

from solver.program.matrix import Ints, Mask, Program

_ALL_PAIRS = 48
"""Up to this many options of a slot are compared all at once; more of them one against all."""
_MOST_COMPARED = 1000
"""Options of a slot that are compared at most."""


@dataclass(frozen=True, eq=False)
class Reduced:
    """What is left: columns of the full program by slot, and the rows (with limits on costs) that still decide."""

    columns: Ints
    slots: Ints
    rows: Ints
    rhs: Ints
    possible: bool
    """False when a slot has no option left or a row can never be kept."""


def dominated(table: Ints, costs: Ints, keep: int = 1) -> Mask:
    """Which options of one slot are dominated by at least `keep` others. table: (rows, k); costs: (live costs, k)."""
    k = table.shape[1]
    columns = np.concatenate([table, costs]).T
    price = costs.T
    earlier = np.arange(k)
    if k <= _ALL_PAIRS:
        no_worse = (columns[:, None, :] <= columns[None, :, :]).all(axis=2)
        better = (price[:, None, :] < price[None, :, :]).any(axis=2) | (earlier[:, None] < earlier[None, :])
        by = no_worse & better
        np.fill_diagonal(by, False)
        return np.asarray(by.sum(axis=0) >= keep)
    out = np.zeros(k, bool)
    for j in range(k):
        here = (columns <= columns[j]).all(axis=1)
        here &= (price < price[j]).any(axis=1) | (earlier < j)
        here[j] = False
        out[j] = int(here.sum()) >= keep
    return out


def starts_of(slots: Ints) -> Ints:
    """First position of every slot; columns sorted by slot."""
    return np.flatnonzero(np.concatenate([[True], slots[1:] != slots[:-1]])).astype(np.int64)


def _judged(program: Program, columns: Ints) -> tuple[Ints, Ints]:
    """Rows as they are compared (single-slot rows as kept or broken), without repeats; and the slot of each column."""
    rows, slots = program.rows[:, columns], program.slot_of[columns]
    touched = np.add.reduceat((rows != 0).astype(np.int64), starts_of(slots), axis=1) > 0
    single = touched.sum(axis=1) == 1
    flags = rows[single] > program.rhs[single][:, None]
    flags = flags[flags.any(axis=1) & ~flags.all(axis=1)] if len(flags) else flags
    different = list({flag.tobytes(): k for k, flag in enumerate(flags)}.values())
    return np.concatenate([rows[~single], flags[different].astype(np.int64)]), slots


def without_dominated(rows: Ints, slots: Ints, costs: Ints, keep: int) -> Mask:
    """Mask of columns that stay.

    In slots of more than a thousand options nothing is left out, which is always sound: comparing them all takes longer than
    going on with them.
    """
    stay = np.ones(len(slots), bool)
    edges = [*starts_of(slots).tolist(), len(slots)]
    for a, b in itertools.pairwise(edges):
        if 1 < b - a <= _MOST_COMPARED:
            part = rows[:, a:b]
            varied = part[(part != part[:, :1]).any(axis=1)]
            stay[a:b] = ~dominated(varied, costs[:, a:b], keep)
    return stay


def undominated(program: Program, live: tuple[str, ...], allowed: Mask | None, keep: int) -> Ints:
    """Columns that no other of their slot dominates in all rows of the program; kept for the next time."""
    key = (live, keep)
    if allowed is None and key in program.memo:
        return program.memo[key]
    columns = np.flatnonzero(allowed) if allowed is not None else np.arange(program.rows.shape[1], dtype=np.int64)
    if len(columns):
        rows, slots = _judged(program, columns)
        costs = np.stack([program.costs[by][columns] for by in live])
        columns = columns[without_dominated(rows, slots, costs, keep)]
    if allowed is None:
        program.memo[key] = columns
    return columns


def propagate(rows: Ints, rhs: Ints, slots: Ints) -> tuple[Mask, Mask, bool]:
    """Options and rows that stay, by bounds over slots; False if some row can never be kept."""
    stay, active = np.ones(len(slots), bool), np.ones(len(rhs), bool)
    part, own, limit = rows, slots, rhs
    while True:
        starts = starts_of(own)
        least = np.minimum.reduceat(part, starts, axis=1)
        low = least.sum(axis=1)
        if (low > limit).any():
            return stay, active, False
        deciding = np.maximum.reduceat(part, starts, axis=1).sum(axis=1) > limit
        spare = ((limit - low)[:, None] + least)[deciding]
        order = np.searchsorted(starts, np.arange(len(own)), side="right") - 1
        part, limit = part[deciding], limit[deciding]
        good = (part <= spare[:, order]).all(axis=0)
        active[np.flatnonzero(active)[~deciding]] = False
        if good.all():
            return stay, active, True
        if not np.logical_or.reduceat(good, starts).all():
            return stay, active, False
        stay[np.flatnonzero(stay)[~good]] = False
        part, own = part[:, good], own[good]


def broken_row(program: Program, broken: Ints, columns: Ints) -> tuple[Ints, int]:
    """A row that every rig of these columns keeps which breaks at least one of the broken rows.

    If row i touches n slots, let e[i, j] = n R[i, j] - rhs[i] in those and 0 elsewhere: a rig that breaks the row has a sum
    of e[i] of at least n, hence of at least 1. So the sum of E[j] = largest e[i, j] is at least 1. Where all rows touch one
    slot each, or there is only one row, nothing is lost by it.
    """
    starts = starts_of(program.slot_of[columns])
    order = np.searchsorted(starts, np.arange(len(columns)), side="right") - 1
    rows, rhs = program.rows[np.ix_(broken, columns)], program.rhs[broken]
    can = np.maximum.reduceat(rows, starts, axis=1).sum(axis=1) > rhs
    if not can.any():
        return np.zeros(len(columns), np.int64), -1
    rows, rhs = rows[can], rhs[can]
    touched = np.add.reduceat((rows != 0).astype(np.int64), starts, axis=1) > 0
    count = touched.sum(axis=1)
    excess = np.where(touched[:, order], count[:, None] * rows - rhs[:, None], 0)
    return -excess.max(axis=0), -1


@dataclass(frozen=True, eq=False)
class _Filters:
    """Rows that touch one slot: which they are, and which of the given columns break each."""

    single: Mask
    breaks: Mask


def _filters(program: Program, columns: Ints) -> _Filters:
    slots = program.slot_of[columns]
    starts = starts_of(slots)
    rows = program.rows[:, columns]
    touched = np.add.reduceat((rows != 0).astype(np.int64), starts, axis=1) > 0
    single = touched.sum(axis=1) == 1
    order = np.searchsorted(starts, np.arange(len(columns)), side="right") - 1
    breaks = (rows[single] > program.rhs[single][:, None]) & touched[single][:, order]
    return _Filters(single, breaks)


def reduce_program(
    program: Program,
    active: Mask,
    live: tuple[str, ...],
    at_most: Mapping[str, int],
    allowed: Mask | None = None,
    keep: int = 1,
    domination: bool = True,
    broken: Ints | None = None,
    again: bool = True,
) -> Reduced:
    """What still matters of the active rows and the limits on costs; `live` names the costs that decide.

    `broken` names rows outside the active ones of which a rig within the limits must break one, since with them the best
    costs more. It is a consequence, not a further condition: a dominating swap stays within the limits and so breaks one
    too. So it may narrow the options but takes no part in the domination. Without `again` the options that are left are not
    compared once more: enough where only `possible` is asked for.
    """
    if domination:
        columns = undominated(program, live, allowed, keep)
    else:
        columns = np.arange(program.rows.shape[1]) if allowed is None else np.flatnonzero(allowed)
    key = ("filters", live, keep, domination)
    filters = program.cores.get(key) if allowed is None else None
    if not isinstance(filters, _Filters):
        filters = _filters(program, columns)
        if allowed is None:
            program.cores[key] = filters
    stays = ~filters.breaks[active[filters.single]].any(axis=0)
    if broken is not None and len(broken) and filters.single[broken].all():
        own = filters.breaks[np.isin(np.flatnonzero(filters.single), broken)]
        if not own[:, stays].any():
            nothing = np.zeros(0, np.int64)
            return Reduced(nothing, nothing, program.rows[:0, :0], nothing, False)
    columns = columns[stays]
    slots = program.slot_of[columns]
    kept = np.flatnonzero(active & ~filters.single)
    rows = np.concatenate([program.rows[np.ix_(kept, columns)],
                           *(program.costs[by][columns][None, :] for by in at_most)])  # fmt: skip
    rhs = np.concatenate([program.rhs[kept], np.array(list(at_most.values()), np.int64)])
    if not len(columns) or len(starts_of(slots)) < len(program.offsets) - 1:
        return Reduced(columns, slots, rows, rhs, False)
    extra = 0
    if broken is not None and len(broken):
        row, limit = broken_row(program, broken, columns)
        rows, rhs, extra = np.concatenate([rows, row[None, :]]), np.append(rhs, limit), 1
    stay, deciding, possible = propagate(rows, rhs, slots)
    compared = deciding[: len(deciding) - extra]
    columns, slots, rhs = columns[stay], slots[stay], rhs[deciding]
    rows = rows[np.ix_(deciding, stay)]
    if possible and domination and again:
        costs = np.stack([program.costs[by][columns] for by in live])
        left = without_dominated(rows[: int(compared.sum())], slots, costs, keep)
        columns, slots, rows = columns[left], slots[left], rows[:, left]
    return Reduced(columns, slots, rows, rhs, possible)
