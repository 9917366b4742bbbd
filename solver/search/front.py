"""The exact front of several costs: every cost vector of a rig that no other rig equals or beats in all of them.

Contents: `front`, `Front`, `Point`, `Zones`.

Zones are the corners below which an unknown point of the front could still lie; known rigs cut them. A number of zones at a
time is put to the engine as one more slot, whose options are the zones: a row per cost says that the rig's cost is at most
that of the zone taken. So one question, in plain rows, is "is there a rig in any of these zones, and the one of least first
cost?". If there is none, the zones are done. If there is, all its completions by other bundles (see `front_fold`) are points
that cut zones too, and so are those of the rigs a swap or two away (see `front_near`), which leaves the engine little more
than the proof. It ends when no zone is left; then no point is missing.
References: K. Klamroth, R. Lacour, D. Vanderpooten, On the representation of the search region in multi-objective
optimization, EJOR 245, 2015 (from memory).
"""

from __future__ import annotations

import itertools
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from solver.errors import NotProven
from solver.program.matrix import Ints, Program
from solver.search.best import Question, best
from solver.search.bound import bound_of
from solver.search.engine import Status, solve_rows
from solver.search.front_fold import Folded, fold, undominated_points
from solver.search.front_near import Near
from solver.search.reduce import propagate

_TOGETHER = 48
"""Zones in one question."""
_SIDE = 2
"""Questions side by side, always as many, so that the work is the same everywhere."""


@dataclass(frozen=True, eq=False)
class Point:
    """A point of the front: its costs in the order asked for, and a rig that has them."""

    costs: tuple[int, ...]
    columns: Ints


@dataclass(frozen=True, eq=False)
class Front:
    """All points in the order of their costs, and how many questions it took."""

    points: tuple[Point, ...]
    solves: int


class Zones:
    """The open zones (k, d), each the corner of costs up to which a rig is looked for."""

    def __init__(self, corner: Ints, least: Ints):
        self.least = least
        self.open = corner[None, :]

    def cut(self, point: Ints) -> bool:
        """Take out of every zone what is no better than the point; False if it lies in none, hence a known one is as good."""
        hit = (point <= self.open).all(axis=1)
        if not hit.any():
            return False
        pieces = []
        for axis in range(len(point)):
            piece = self.open[hit].copy()
            piece[:, axis] = point[axis] - 1
            pieces.append(piece[(piece >= self.least).all(axis=1)])
        kept, new = self.open[~hit], np.concatenate(pieces)
        if len(new):
            new = -np.unique(-new[undominated_points(-new)], axis=0)
            inside = np.array([bool((kept >= zone).all(axis=1).any()) for zone in new])
            new = new[~inside]
        self.open = np.concatenate([kept, new])
        return True

    def take(self) -> list[Ints]:
        """Some of the open zones in neighbouring lots, in the order of the first cost; they stay open."""
        self.open = self.open[np.lexsort(self.open.T[::-1])]
        edges = [len(self.open) * k // _SIDE for k in range(_SIDE + 1)]
        return [self.open[a : min(b, a + _TOGETHER)] for a, b in itertools.pairwise(edges) if b > a]

    def close(self, lot: Ints) -> None:
        """These zones hold nothing."""
        gone = {zone.tobytes() for zone in lot}
        self.open = self.open[[zone.tobytes() not in gone for zone in self.open]]


class _Search:
    def __init__(self, program: Program, folded: Folded):
        self.program, self.folded, self.near = program, folded, Near(folded)
        self.known: dict[tuple[int, ...], Ints] = {}

    def completions(self, rest: Ints) -> Ints:
        """Every rig (k, slots) of a choice in all slots but the bundles, which are put in so that all rows are kept."""
        bundles = np.flatnonzero(self.folded.bundles)
        if not len(bundles):
            return rest[None, :]
        spare = self.folded.rhs - self.folded.rows[:, rest].sum(axis=1)
        fits = bundles[(self.folded.rows[:, bundles] <= spare[:, None]).all(axis=0)]
        return np.concatenate([np.tile(rest, (len(fits), 1)), fits[:, None]], axis=1)

    def learn(self, chosen: Ints, zones: Zones) -> None:
        """Enter a rig, those near to it, and the completions of all."""
        rigs = [self.completions(core) for core in self.near.spread(chosen[~self.folded.bundles[chosen]])]
        lots = [np.concatenate(rigs)] if len(self.folded.costs) == 2 else rigs
        for lot in lots:
            costs = self.folded.costs[:, lot].sum(axis=2).T
            for k in undominated_points(costs).tolist():
                if zones.cut(costs[k]):
                    self.known[tuple(costs[k].tolist())] = self.folded.whole(lot[k])

    def in_zones(self, lot: Ints) -> Ints | None:
        """A rig of least first cost in any of the zones, as columns of the folded program; None if there is none."""
        folded, count = self.folded, len(lot)
        added = np.zeros((len(folded.rhs), count), np.int64)
        rows = np.concatenate([np.concatenate([folded.rows, added], axis=1),
                               np.concatenate([folded.costs, -lot.T], axis=1)])  # fmt: skip
        rhs = np.append(folded.rhs, np.zeros(len(folded.costs), np.int64))
        slots = np.append(folded.slots, np.full(count, folded.slots.max() + 1))
        cost = np.append(folded.costs[0], np.zeros(count, np.int64))
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
        return np.asarray(found[found < len(folded.slots)])


def _undominated(table: Ints, slots: Ints) -> Ints:
    """Columns of the table that no other of their slot equals or beats in all its rows."""
    edges = np.flatnonzero(np.concatenate([[True], slots[1:] != slots[:-1], [True]])).tolist()
    found = []
    for a, b in itertools.pairwise(edges):
        part = table[:, a:b]
        varied = part[(part != part[:, :1]).any(axis=1)]
        found.append(a + undominated_points(varied.T) if len(varied) else np.array([a]))
    return np.concatenate(found)


def front(
    program: Program,
    names: Sequence[str] = ("price", "weight"),
    domination: bool = True,
    told: Callable[[int, int], None] | None = None,
) -> Front | None:
    """The exact front of these costs; None if no rig keeps the rows.

    Parameters
    ----------
    program : Program
    names : sequence of str
        Two costs or more of the program.
    domination : bool
        Whether options and bundles that cannot matter are left out first.
    told : callable, optional
        Told the number of rigs known and of zones open, now and then.

    Raises
    ------
    NotProven
        The limit of work ended before the front was complete.
    """
    ends = [best(Question(program, name, domination=domination)) for name in names]
    if not all(found.proven for found in ends):
        raise NotProven("the limit of work ended before the ends of the front were proven")
    if any(found.columns is None for found in ends):
        return None
    folded = fold(program, names, domination)
    search = _Search(program, folded)
    most = np.array([sum(int(row[folded.slots == s].max()) for s in range(int(folded.slots.max()) + 1))
                     for row in folded.costs], np.int64)  # fmt: skip
    zones = Zones(most, np.array([found.cost for found in ends], np.int64))
    for found in ends:
        if found.columns is not None:
            costs = np.array([program.cost(found.columns, name) for name in names], np.int64)
            search.known[tuple(costs.tolist())] = found.columns
            zones.cut(costs)
    solves = len(ends)
    with ThreadPoolExecutor(_SIDE) as pool:
        while len(zones.open):
            lots = zones.take()
            rigs = list(pool.map(search.in_zones, lots))
            solves += len(lots)
            for lot, rig in zip(lots, rigs, strict=True):
                if rig is None:
                    zones.close(lot)
                else:
                    search.learn(rig, zones)
            if told is not None:
                told(len(search.known), len(zones.open))
    keys = sorted(search.known)
    kept = undominated_points(np.array(keys, np.int64))
    return Front(tuple(Point(keys[k], search.known[keys[k]]) for k in kept.tolist()), solves)
