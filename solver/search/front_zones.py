"""Zones in which an unknown point of a front could still lie, and whether a rig is in any of them.

Contents: `Zones`, `Table`, `most_of`, `rig_within`.

A zone is a corner: the rigs that cost no more than it, of each cost. A number of zones at a time is put to the engine as one
more slot, whose options are the zones: a row per cost says that the rig's cost is at most that of the zone taken. So one
question, in plain rows, is "is there a rig in any of these zones, and the one of least first cost?".
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass

import numpy as np

from solver.errors import NotProven
from solver.program.matrix import Ints
from solver.search.bound import bound_of
from solver.search.engine import Status, solve_rows
from solver.search.front_points import corners, inside, undominated_points
from solver.search.reduce import propagate

SIDE = 2
"""Questions side by side, always as many, so that the work is the same everywhere."""
_TOGETHER = 48
"""Zones in one question."""
_DENOMINATOR, _LARGEST = 2**20, 2**61
"""Multipliers are whole numbers over the first; sums stay below the second."""


class Zones:
    """The open zones (k, d), each the corner of costs up to which a rig is looked for."""

    def __init__(self, least: Ints, most: Ints):
        """No rig costs less than `least` or more than `most`, of each cost alone."""
        self.least, self.most = least, most
        self.closed = np.zeros((0, len(least)), np.int64)
        self.open = most[None, :]

    def cut(self, points: Ints) -> None:
        """What is left open by the points known (k, d), none of which equals or beats another."""
        own = corners(points, self.least, self.most)
        self.open = own[~inside(own, self.closed)]

    def take(self) -> list[Ints]:
        """Some of the open zones in neighbouring lots, in the order of the first cost; they stay open."""
        edges = [len(self.open) * k // SIDE for k in range(SIDE + 1)]
        return [self.open[a : min(b, a + _TOGETHER)] for a, b in itertools.pairwise(edges) if b > a]

    def close(self, lot: Ints) -> None:
        """These zones hold nothing."""
        self.closed = np.concatenate([self.closed, lot])
        gone = {zone.tobytes() for zone in lot}
        self.open = self.open[[zone.tobytes() not in gone for zone in self.open]]


@dataclass(frozen=True, eq=False)
class Table:
    """rows (m, n), rhs (m,), costs (d, n), slots (n,), the columns sorted by slot: one column a slot makes a rig."""

    rows: Ints
    rhs: Ints
    slots: Ints
    costs: Ints


def most_of(table: Table) -> Ints:
    """Upper limits (d,) of what a rig costs: of each cost the dearest options, or what a row leaves room for.

    For any multiplier m >= 0 of a row R no rig costs more than the sum over slots of max(c - m R), plus m rhs. Tried are the
    multipliers at which a slot's widest steps in cost and in the row weigh the same.
    """
    starts = np.flatnonzero(np.append(True, table.slots[1:] != table.slots[:-1]))
    rows = table.rows[(table.rows > 0).any(axis=1)]
    rhs = table.rhs[(table.rows > 0).any(axis=1)]
    wide = np.maximum.reduceat(rows, starts, axis=1) - np.minimum.reduceat(rows, starts, axis=1)
    found = []
    for cost in table.costs:
        dearest = np.maximum.reduceat(cost, starts)
        limit = int(dearest.sum())
        steps = dearest - np.minimum.reduceat(cost, starts)
        for row, room, widths in zip(rows, rhs.tolist(), wide, strict=True):
            for step, width in set(zip(steps[widths > 0].tolist(), widths[widths > 0].tolist(), strict=True)):
                multiplier = step * _DENOMINATOR // width
                if multiplier * (int(widths.sum()) + abs(room)) + limit * _DENOMINATOR < _LARGEST:
                    over = np.maximum.reduceat(cost * _DENOMINATOR - multiplier * row, starts)
                    limit = min(limit, (int(over.sum()) + multiplier * room) // _DENOMINATOR)
        found.append(limit)
    return np.array(found, np.int64)


def rig_within(table: Table, lot: Ints) -> Ints | None:
    """A rig of least first cost in any of these zones (k, d), as columns of the table; None if there is none.

    Raises
    ------
    NotProven
        The limit of work ended before it was known.
    """
    count = len(lot)
    added = np.zeros((len(table.rhs), count), np.int64)
    rows = np.concatenate([np.concatenate([table.rows, added], axis=1),
                           np.concatenate([table.costs, -lot.T], axis=1)])  # fmt: skip
    rhs = np.append(table.rhs, np.zeros(len(table.costs), np.int64))
    slots = np.append(table.slots, np.full(count, table.slots.max() + 1))
    cost = np.append(table.costs[0], np.zeros(count, np.int64))
    places = np.arange(len(slots))
    for _ in range(2):
        stay, deciding, possible = propagate(rows, rhs, slots)
        if not possible:
            return None
        rows, rhs, slots = rows[np.ix_(deciding, stay)], rhs[deciding], slots[stay]
        cost, places = cost[stay], places[stay]
        left = _undominated(np.concatenate([rows, cost[None, :]]), slots)
        rows, slots, cost, places = rows[:, left], slots[left], cost[left], places[left]
        bound = bound_of(rows, rhs, cost, slots, int(lot[:, 0].max()))
        if bound.excluded:
            return None
        if bound.possible.all():
            break
        rows, slots, cost, places = (rows[:, bound.possible], slots[bound.possible], cost[bound.possible],
                                     places[bound.possible])  # fmt: skip
    sizes = np.bincount(slots).tolist()
    outcome = solve_rows(rows, rhs, sizes, cost, int(lot[:, 0].max()))
    if outcome.status is Status.INFEASIBLE:
        return None
    if outcome.chosen is None:
        raise NotProven("the limit of work ended before the front was complete")
    found = places[outcome.chosen]
    return np.asarray(found[found < len(table.slots)])


def _undominated(table: Ints, slots: Ints) -> Ints:
    """Columns of the table that no other of their slot equals or beats in all its rows."""
    edges = np.flatnonzero(np.concatenate([[True], slots[1:] != slots[:-1], [True]])).tolist()
    found = []
    for a, b in itertools.pairwise(edges):
        part = table[:, a:b]
        varied = part[(part != part[:, :1]).any(axis=1)]
        found.append(a + undominated_points(varied.T) if len(varied) else np.array([a]))
    return np.concatenate(found)
