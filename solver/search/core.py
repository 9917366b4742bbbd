"""The core of a program: everything but its yes/no slots at the end, for which one ideal bundle stands.

Contents: `Core`, `core_of`.

Safety items, tools, spares and winter kit are yes/no slots. What they must provide is said in rows that touch no other
slot, and they meet the rest of the rig only in sums (weight, money, floor, upkeep). So for questions about cost:

- no rig can do better than the core with an ideal bundle, which in every shared row and cost takes the least that any
  bundle takes that keeps the private rows (a bound: such a bundle need not exist);
- a rig of the core completed by the bundle of least cost is a rig of the whole, if it keeps the shared rows.

Where the two meet, the small core has answered for the whole program; elsewhere the whole program is solved. Rows of a rule
that another row of the same rule implies on every rig (a milder state, a flatter tangent) are left out of the core.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from solver.program.matrix import Ints, Mask, Program
from solver.search.reduce import undominated

_TOGETHER = 10
"""Yes/no slots that may hang together by private rows; more are not enumerated."""


@dataclass(frozen=True, eq=False)
class Core:
    """The smaller program; its rows as rows of the old; old columns of its own; columns of the cheapest bundle by cost."""

    program: Program
    rows: Ints
    columns: Ints
    bundles: dict[str, Ints]
    meets: Mask
    """Rows of the old program that the yes/no slots take part in: there the core has only the least they take."""

    def whole(self, chosen: Ints, by: str) -> Ints:
        """Columns of the old program: the core's rig with the cheapest bundle."""
        own = chosen[chosen < len(self.columns)]
        return np.concatenate([self.columns[own], self.bundles[by]])


def _tail(program: Program) -> int:
    """First slot of the yes/no slots at the end."""
    wide = np.flatnonzero(np.diff(program.offsets) > 2)
    return int(wide[-1]) + 1 if len(wide) else 0


def tail_edge(program: Program) -> int:
    """First column of the yes/no slots at the end."""
    return int(program.offsets[_tail(program)])


def _groups(touched: Mask) -> list[list[int]]:
    """Slots (columns of the mask) that hang together by rows."""
    label = list(range(touched.shape[1]))
    for row in touched:
        own = np.flatnonzero(row).tolist()
        for slot in own[1:]:
            old, new = label[slot], label[own[0]]
            label = [new if x == old else x for x in label]
    return [[s for s in range(len(label)) if label[s] == name] for name in dict.fromkeys(label)]


def _picks(program: Program, slots: list[int], private: Ints) -> Ints:
    """Every choice (choices, slots) of these slots that keeps the private rows."""
    ranges = [range(*program.slices[s]) for s in slots]
    grid = np.stack([g.ravel() for g in np.meshgrid(*ranges, indexing="ij")], axis=1)
    own = np.concatenate([np.arange(*program.slices[s]) for s in slots])
    touching = private[(program.rows[np.ix_(private, own)] != 0).any(axis=1)] if len(private) else private
    sums = program.rows[touching][:, grid].sum(axis=2)
    good: Mask = (sums <= program.rhs[touching][:, None]).all(axis=0)
    return np.asarray(grid[good], np.int64)


def _implied(rows: Ints, rhs: Ints, starts: Ints, groups: list[str]) -> Mask:
    """Rows that another row of the same group implies on every rig."""
    gone = np.zeros(len(rhs), bool)
    places: dict[str, list[int]] = {}
    for i, group in enumerate(groups):
        places.setdefault(group, []).append(i)
    for own in places.values():
        if len(own) < 3:
            continue
        part, limit = rows[own], rhs[own]
        for k, i in enumerate(own):
            more = np.maximum.reduceat(part[k][None, :] - part, starts, axis=1).sum(axis=1)
            implying = (more <= limit[k] - limit) & ~gone[own]
            implying[k] = False
            gone[i] = implying.any()
    return gone


@dataclass(frozen=True, eq=False)
class _Base:
    """What the cores of a program share: its core columns with their slots, the rows kept, and the edge of the tail."""

    columns: Ints
    slots: Ints
    rows: Ints
    first: int
    edge: int


def _base(program: Program, live: tuple[str, ...]) -> _Base | None:
    first = _tail(program)
    if len(program.offsets) - 1 - first < 3 or first == 0:
        return None
    edge = int(program.offsets[first])
    columns = undominated(program, live, None, 1)
    columns = columns[columns < edge]
    slots = program.slot_of[columns]
    kept = np.flatnonzero(~_private(program))
    rows = program.rows[np.ix_(kept, columns)]
    tail = program.rows[kept][:, edge:]
    mixed = (tail != 0).any(axis=1)
    starts = np.flatnonzero(np.append(True, slots[1:] != slots[:-1])).astype(np.int64)
    gone = np.zeros(len(kept), bool)
    own = np.flatnonzero(~mixed)
    gone[own] = _implied(rows[own], program.rhs[kept[own]], starts, [program.groups[i] for i in kept[own].tolist()])
    return _Base(columns, slots, kept[~gone], first, edge)


def _private(program: Program) -> Mask:
    """Rows that touch the yes/no slots and no other."""
    edge = int(program.offsets[_tail(program)])
    return np.array((program.rows[:, edge:] != 0).any(axis=1) & ~(program.rows[:, :edge] != 0).any(axis=1), bool)


def _core(program: Program, base: _Base, private: Ints, live: tuple[str, ...]) -> Core | None:
    touched = np.stack(
        [(program.rows[private][:, a:b] != 0).any(axis=1) for a, b in program.slices[base.first :]], axis=1
    )
    groups = _groups(touched)
    if max(len(group) for group in groups) > _TOGETHER:
        return None
    picks = [_picks(program, [base.first + s for s in group], private) for group in groups]
    if any(not len(found) for found in picks):
        return None
    kept = base.rows
    mixed = np.flatnonzero((program.rows[kept, base.edge :] != 0).any(axis=1))
    tail = np.ascontiguousarray(program.rows[kept[mixed]])
    ideal = np.zeros(len(kept), np.int64)
    ideal[mixed] = np.sum([tail[:, found].sum(axis=2).min(axis=1) for found in picks], axis=0)
    bundles = {by: np.concatenate([found[np.argmin(cost[found].sum(axis=1))] for found in picks])
               for by, cost in program.costs.items()}  # fmt: skip
    slots = np.append(base.slots, base.first)
    starts = np.flatnonzero(np.append(True, slots[1:] != slots[:-1]))
    small = Program(
        np.concatenate([program.rows[np.ix_(kept, base.columns)], ideal[:, None]], axis=1),
        program.rhs[kept],
        np.append(starts, len(slots)).astype(np.int64),
        {by: np.append(cost[base.columns], cost[bundles[by]].sum()) for by, cost in program.costs.items()},
        tuple(program.labels[i] for i in kept.tolist()),
        tuple(program.groups[i] for i in kept.tolist()),
        program.background,
    )
    small.memo[live, 1] = np.arange(len(slots), dtype=np.int64)  # undominated in the whole program already
    meets = (program.rows[:, base.edge :] != 0).any(axis=1)
    return Core(small, kept, base.columns, {by: np.sort(found) for by, found in bundles.items()}, meets)


def core_of(program: Program, active: Mask, live: tuple[str, ...]) -> Core | None:
    """The core for questions with these active rows; None where there is none. Kept with the program.

    Of the active rows only those that touch the yes/no slots alone make a difference to it.
    """
    memo = program.cores
    if "private" not in memo:
        memo["private"] = _private(program)
    if ("base", live) not in memo:
        memo["base", live] = _base(program, live)
    base, private = memo["base", live], memo["private"]
    if not isinstance(base, _Base) or not isinstance(private, np.ndarray):
        return None
    own = active & private
    key = (live, own.tobytes())
    if key not in memo:
        memo[key] = _core(program, base, np.flatnonzero(own), live)
    found = memo[key]
    return found if isinstance(found, Core) else None
