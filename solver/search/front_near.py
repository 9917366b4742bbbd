"""Rigs near to known ones: cheap finds that spare the exact front most of its questions, and prove nothing.

Contents: `Near`.

What is kept here are cores: choices in all slots but the bundles (see `front_fold`), of which no other one known equals or
beats the costs. From each, every single swap is tried, and for two costs every pair of swaps, against all rows with the
least that any bundle takes. What keeps the rows and is better than the cores known is a core to swap from in its turn.
"""

from __future__ import annotations

import numpy as np

from solver.program.matrix import Ints
from solver.search.front_fold import Folded
from solver.search.front_points import inside, undominated_points

_AT_ONCE = 6
"""Rows looked at together."""


class Near:
    """The cores known so far, and those not yet swapped from."""

    def __init__(self, folded: Folded):
        core = ~folded.bundles
        self.places = np.flatnonzero(core)
        self.rows, self.costs = folded.rows[:, core], folded.costs[:, core]
        self.slots = np.unique(folded.slots[core], return_inverse=True)[1].astype(np.int64)
        self.rhs = folded.rhs - folded.rows[:, folded.bundles].min(axis=1)
        self.known: dict[tuple[int, ...], Ints] = {}
        """By their costs, and in the order of these."""
        self._points = np.zeros((0, len(self.costs)), np.int64)

    def spread(self, core: Ints) -> list[Ints]:
        """This core (as columns of the folded program), and those new ones found from it that none beats."""
        first = np.searchsorted(self.places, core)
        before = set(self.known)
        if len(self._beyond(self.costs[:, first].sum(axis=1)[None, :])):
            self._enter([first])
        waiting = self._better(first)
        while waiting:
            chosen = waiting.pop(0)
            if self._costs(chosen) in self.known:
                waiting += self._better(chosen)
        return [core, *(self.places[new] for costs, new in self.known.items() if costs not in before)]

    def points(self) -> Ints:
        """Costs (k, d) of the cores known, in their order."""
        return self._points

    def _costs(self, chosen: Ints) -> tuple[int, ...]:
        return tuple(self.costs[:, chosen].sum(axis=1).tolist())

    def _enter(self, cores: list[Ints]) -> None:
        """Keep these cores, which none beats, and the known ones as far as none of these beats them."""
        new = {self._costs(core): core for core in cores}
        points = np.array(list(new), np.int64)
        beaten = inside(-self._points, -points)
        kept = [key for key, gone in zip(map(tuple, self._points.tolist()), beaten.tolist(), strict=True) if not gone]
        self.known = dict(sorted([*((key, self.known[key]) for key in kept), *new.items()]))
        self._points = np.array(list(self.known), np.int64)

    def _better(self, chosen: Ints) -> list[Ints]:
        """Cores a swap or two away that the known ones do not beat; they are known from now on."""
        now = chosen[self.slots]
        moved = self.rows - self.rows[:, now]
        spare = self.rhs - self.rows[:, chosen].sum(axis=1)
        starts = np.flatnonzero(np.append(True, self.slots[1:] != self.slots[:-1]))
        gain = np.minimum.reduceat(moved, starts, axis=1).min(axis=1)
        own = np.flatnonzero((moved <= (spare - gain)[:, None]).all(axis=0) & (now != np.arange(len(now))))
        base = self.costs[:, chosen].sum(axis=1)
        change = self.costs[:, own] - self.costs[:, now[own]]
        alone = np.arange(len(own))
        first, second = alone, np.full(len(own), -1)
        if len(base) == 2:
            i, j = np.triu_indices(len(own), 1)
            apart = self.slots[own[i]] != self.slots[own[j]]
            first, second = np.append(first, i[apart]), np.append(second, j[apart])
        costs = base[:, None] + change[:, first] + np.where(second >= 0, change[:, second], 0)
        new = self._beyond(costs.T)
        first, second, costs = first[new], second[new], costs[:, new]
        fits = self._keeps(moved[:, own], spare, first, second)
        first, second, costs = first[fits], second[fits], costs[:, fits]
        found = []
        for k in undominated_points(costs.T).tolist():
            core = chosen.copy()
            for one in (first[k], second[k]):
                if one >= 0:
                    core[self.slots[own[one]]] = own[one]
            found.append(core)
        if found:
            self._enter(found)
        return found

    def _beyond(self, costs: Ints) -> Ints:
        """Places of the costs (k, d) that no known core equals or beats."""
        if costs.shape[1] == 2 and len(self._points):
            at = np.searchsorted(self._points[:, 0], costs[:, 0], side="right") - 1
            return np.flatnonzero((at < 0) | (costs[:, 1] < self._points[at, 1]))
        return np.flatnonzero(~inside(-costs, -self._points))

    def _keeps(self, moved: Ints, spare: Ints, first: Ints, second: Ints) -> Ints:
        """Places of the pairs of swaps (the second -1: none) that keep all rows, the rows that more swaps break first."""
        moved = np.append(moved, np.zeros((len(moved), 1), np.int64), axis=1)
        deciding = np.flatnonzero(2 * moved.max(axis=1) > spare)
        deciding = deciding[np.argsort(-(moved[deciding] > spare[deciding, None]).sum(axis=1), kind="stable")]
        left = np.arange(len(first))
        for a in range(0, len(deciding), _AT_ONCE):
            rows = deciding[a : a + _AT_ONCE]
            part = moved[rows]
            left = left[(part[:, first[left]] + part[:, second[left]] <= spare[rows, None]).all(axis=0)]
        return left
