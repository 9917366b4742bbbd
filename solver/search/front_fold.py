"""A program with its yes/no slots folded into one slot of bundles, for questions in which several costs are live.

Contents: `Folded`, `fold`.

A bundle is a choice in every folded slot that keeps the rows which those slots have to themselves. Of bundles only those
stay that no other one equals or beats in every shared row and every live cost, so that no point of a front is lost.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from solver.program.matrix import Ints, Mask, Program
from solver.search.front_points import undominated_points
from solver.search.reduce import undominated
from solver.search.rivals_insist import parts_of

_BUNDLES = 4000
"""Bundles at most; slots that would make more stay slots of their own."""


@dataclass(frozen=True, eq=False)
class Folded:
    """rows (m, n), rhs (m,), slots (n,), costs (d, n); columns of the program of every column (n, slots folded or 1).

    `bundles` masks the columns that are bundles: the last ones, a slot of their own; without folded slots one of nothing.
    """

    rows: Ints
    rhs: Ints
    slots: Ints
    costs: Ints
    columns: tuple[Ints, ...]
    bundles: Mask

    def whole(self, chosen: Ints) -> Ints:
        """The program's columns of a choice of columns here, by slot."""
        return np.sort(np.concatenate([self.columns[j] for j in chosen.tolist()]))


def _bundles(program: Program, costs: Ints) -> tuple[tuple[int, ...], Ints, Mask]:
    """Slots folded, their bundles as columns (bundles, slots), and rows that all bundles keep by themselves."""
    parts = parts_of(program)
    sizes = np.diff(program.offsets)
    touched = np.add.reduceat((program.rows != 0).astype(np.int64), program.offsets[:-1], axis=1) > 0
    done = np.zeros(len(program.rhs), bool)
    slots: list[int] = []
    found = np.zeros((1, 0), np.int64)
    for group, choices in zip(parts.slots, parts.choices, strict=True):
        if not all(sizes[s] <= 2 for s in group):
            continue
        inside = ~touched[:, [s for s in range(len(sizes)) if s not in group]].any(axis=1)
        inside &= (program.rows[:, choices].sum(axis=2) <= program.rhs[:, None]).all(axis=1)
        own = _beyond(program, costs, choices, ~(done | inside))
        grown = np.concatenate([np.repeat(found, len(own), axis=0), np.tile(own, (len(found), 1))], axis=1)
        grown = _beyond(program, costs, grown, ~(done | inside))
        if len(grown) <= _BUNDLES:
            found, done = grown, done | inside
            slots.extend(group)
    return tuple(slots), found, done


def _beyond(program: Program, costs: Ints, choices: Ints, rows: Mask) -> Ints:
    """Of the choices those that no other one equals or beats in the rows and costs."""
    sums = np.unique(program.rows[rows][:, choices].sum(axis=2), axis=0)
    sums = sums[(sums != sums[:, :1]).any(axis=1)]
    return choices[undominated_points(np.concatenate([costs[:, choices].sum(axis=2), sums]).T)]


def fold(program: Program, names: Sequence[str], domination: bool = True) -> Folded:
    """The folded program with these costs live.

    All options beside one bundle of nothing, if not `domination` or where every slot would be folded.
    """
    costs = np.stack([program.costs[name] for name in names])
    if domination:
        slots, bundles, done = _bundles(program, costs)
        single = undominated(program, tuple(names), None, 1)
        single = single[~np.isin(program.slot_of[single], slots)]
        if not len(single):
            return fold(program, names, domination=False)
    else:
        bundles, done = np.zeros((1, 0), np.int64), np.zeros(len(program.rhs), bool)
        single = np.arange(program.rows.shape[1], dtype=np.int64)
    rows = np.concatenate([program.rows[:, single], program.rows[:, bundles].sum(axis=2)], axis=1)
    own = np.concatenate([costs[:, single], costs[:, bundles].sum(axis=2)], axis=1)
    number = np.append(program.slot_of[single], np.full(len(bundles), len(program.offsets)))
    _, place = np.unique(number, return_inverse=True)
    return Folded(rows[~done], program.rhs[~done], place.astype(np.int64), own,
                  (*single[:, None], *bundles), np.arange(len(number)) >= len(single))  # fmt: skip
