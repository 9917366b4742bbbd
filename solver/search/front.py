"""The exact front of several costs: every cost vector of a rig that no other rig equals or beats in all of them.

Contents: `front`, `Front`, `Point`.

A rig is a core (a choice in all slots but the yes/no slots of the kit) and a bundle (a choice in those, see `front_fold`).
First the front of the cores, as if each bundle took the least of every row that any bundle takes: zones are the corners below
which an unknown core could still lie; known ones cut them, the engine finds more or shows that there is none
(`front_zones`), and cores a swap or two away from a known one are found without it (`front_near`).

Then every known core with every bundle. A rig in a zone that these leave open has a core that some known core equals or
beats. With the rig's bundle that known core would lie in the zone too; so the two do not fit, else they would be known and no
zone there. Hence only zones that hold a known core with a bundle that does not fit can hold a rig, one with such a bundle:
those are put to the engine, the others are done. Mostly a few hundred cores make many thousand points.

It ends when no zone is left; then no point is missing.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass
from functools import partial

import numpy as np

from solver.errors import NotProven
from solver.program.matrix import Ints, Mask, Program
from solver.search.best import Question, best
from solver.search.front_fold import Folded, fold
from solver.search.front_near import Near
from solver.search.front_points import beaten, inside, undominated_points
from solver.search.front_zones import SIDE, Table, Zones, most_of, rig_within

Told = Callable[[int, int], None]


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


class _Search:
    """The cores and the rigs known so far; `points` (k, d) are the costs of the rigs that none known beats."""

    def __init__(self, folded: Folded, told: Told):
        self.folded, self.near, self._told = folded, Near(folded), told
        self.bundles = np.flatnonzero(folded.bundles)
        own, costs = folded.rows[:, self.bundles], folded.costs[:, self.bundles]
        self._varied = (own != own[:, :1]).any(axis=1)
        self._alike, self._own = own[~self._varied, 0], own[self._varied]
        """What all bundles take of some rows, and what each takes of the others."""
        first = np.arange(len(self.bundles))
        beats = (costs[:, :, None] <= costs[:, None, :]).all(axis=0)
        self._beats = (beats & (~beats.T | (first[:, None] < first))).astype(np.float32)
        """Which bundle (by row) equals or beats which other one in the costs; of equal ones the first."""
        self.points = np.zeros((0, len(folded.costs)), np.int64)
        self.rigs: list[Ints] = []
        self.cores = np.zeros((0, len(np.unique(folded.slots)) - 1), np.int64)
        self.fits = np.zeros((0, len(self.bundles)), bool)
        """Which bundle keeps the rows with which core."""
        self.solves = 0

    def enter(self, points: Ints, rigs: Callable[[int], Ints]) -> None:
        """Know these points (k, d) too, as far as none known equals or beats them; `rigs` gives the columns of each."""
        count = len(self.points)
        both = np.concatenate([self.points, points])
        kept = undominated_points(both)
        self.points = both[kept]
        self.rigs = [self.rigs[k] if k < count else rigs(k - count) for k in kept.tolist()]

    def learn(self, cores: list[Ints]) -> None:
        """Know these cores, those near to them, and all of them with every bundle that keeps the rows."""
        table = np.stack([near for core in cores for near in self.near.spread(core)])
        costs = self.folded.costs[:, table].sum(axis=2).T
        fits = np.stack([self._fitting(core) for core in table])
        self.cores, self.fits = np.concatenate([self.cores, table]), np.concatenate([self.fits, fits])
        own = fits & (fits.astype(np.float32) @ self._beats == 0.0)
        core, bundle = np.nonzero(own)
        points = costs[core] + self.folded.costs[:, self.bundles[bundle]].T
        self.enter(points, lambda k: self.folded.whole(np.append(table[core[k]], self.bundles[bundle[k]])))

    def _fitting(self, core: Ints) -> Mask:
        spare = self.folded.rhs - self.folded.rows[:, core].sum(axis=1)
        if (self._alike > spare[~self._varied]).any():
            return np.zeros(len(self.bundles), bool)
        return np.asarray((self._own <= spare[self._varied, None]).all(axis=0))

    def complete_cores(self, most: Ints, pool: ThreadPoolExecutor) -> None:
        """Know all cores that no other one equals or beats, of those that cost no more than `most`."""
        table = Table(self.near.rows, self.near.rhs, self.near.slots, self.near.costs)
        starts = np.flatnonzero(np.append(True, table.slots[1:] != table.slots[:-1]))
        zones = Zones(np.minimum.reduceat(table.costs, starts, axis=1).sum(axis=1), most)
        while len(zones.open):
            found = self._asked(zones, pool, lambda lot: rig_within(table, lot))
            if found:
                self.learn([self.near.places[core] for core in found])
                zones.cut(self.near.points())
            self._told(len(self.rigs), len(zones.open))

    def complete_rigs(self, least: Ints, most: Ints, pool: ThreadPoolExecutor) -> None:
        """Know all rigs that no other one equals or beats, all cores being known."""
        zones = Zones(least, most)
        points, bundles = self._left_by_doubts(zones)
        while len(zones.open):
            found = self._asked(zones, pool, partial(self._rig_within, points, bundles))
            if found:
                self.learn([rig[~self.folded.bundles[rig]] for rig in found])
                points, bundles = self._left_by_doubts(zones)
            self._told(len(self.rigs), len(zones.open))

    def _left_by_doubts(self, zones: Zones) -> tuple[Ints, Ints]:
        """Leave open what holds a known core with a bundle that does not fit; costs (k, d) and bundles of such pairs."""
        core, bundle = np.nonzero(~self.fits)
        costs = self.folded.costs
        points = costs[:, self.cores[core]].sum(axis=2).T + costs[:, self.bundles[bundle]].T
        left = (points <= zones.most).all(axis=1)
        points, bundle = points[left], bundle[left]
        left = ~beaten(points, self.points)
        points, bundle = points[left], bundle[left]
        zones.cut(self.points)
        zones.open = zones.open[beaten(zones.open, points)]
        return points, self.bundles[bundle]

    def _rig_within(self, points: Ints, bundles: Ints, lot: Ints) -> Ints | None:
        """A rig in one of these zones with the bundle of a point that lies in one of them; None if there is none."""
        folded = self.folded
        kept = np.append(np.flatnonzero(~folded.bundles), np.unique(bundles[inside(points, lot)]))
        table = Table(folded.rows[:, kept], folded.rhs, folded.slots[kept], folded.costs[:, kept])
        found = rig_within(table, lot)
        return None if found is None else kept[found]

    def _asked(self, zones: Zones, pool: ThreadPoolExecutor, ask: Callable[[Ints], Ints | None]) -> list[Ints]:
        """What some of the open zones hold; those that hold nothing are closed."""
        lots = zones.take()
        self.solves += len(lots)
        found = list(pool.map(ask, lots))
        for lot, rig in zip(lots, found, strict=True):
            if rig is None:
                zones.close(lot)
        return [rig for rig in found if rig is not None]


def front(
    program: Program,
    names: Sequence[str] = ("price", "weight"),
    domination: bool = True,
    told: Told | None = None,
) -> Front | None:
    """The exact front of these costs; None if no rig keeps the rows.

    Parameters
    ----------
    program : Program
    names : sequence of str
        Two or three costs of the program.
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
    known = [found.columns for found in ends if found.columns is not None]
    if len(known) < len(ends):
        return None
    folded = fold(program, names, domination)
    least = np.array([found.cost for found in ends], np.int64)
    most = most_of(Table(folded.rows, folded.rhs, folded.slots, folded.costs))
    search = _Search(folded, told or (lambda rigs, zones: None))
    search.enter(np.array([[program.cost(rig, name) for name in names] for rig in known], np.int64), known.__getitem__)
    with ThreadPoolExecutor(SIDE) as pool:
        search.complete_cores(most - folded.costs[:, search.bundles].min(axis=1), pool)
        search.complete_rigs(least, most, pool)
    order = np.lexsort(search.points.T[::-1]).tolist()
    return Front(tuple(Point(tuple(search.points[k].tolist()), search.rigs[k]) for k in order), len(ends) + search.solves)
