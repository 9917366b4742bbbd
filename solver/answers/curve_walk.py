"""Least cost at every value of a grid, with few questions to the engine.

Contents: `Walk`, `Point`.

All rows that move are compiled at every value first, and the numbers say which of them get easier from one value to the next.

- Where all do, or none does against it (a *run*), every rig that fits at a value fits at all looser ones. So a rig that is
  best at the loose end is best as far towards the tight end as it fits, and where none fits, none fits beyond. One question a
  step.
- Elsewhere the values are scanned. The rig that was best at the value before is kept over as many values as it fits, if a
  program that is milder than each of theirs has no rig of lower cost; over twice as many as last time, else over one.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from solver.answers.ask import Asked
from solver.answers.steps_facts import changes_from
from solver.answers.steps_rows import Moves, Rows, eases
from solver.answers.steps_search import Ground, least_changed, rig_within
from solver.program.matrix import Ints
from solver.rules.instances import Place
from solver.search.best import Question, cost_of_best

_LEAST_RUN = 3
"""Values that a run must have to be walked."""


@dataclass(frozen=True, eq=False)
class Point:
    """Least cost at a value in steps of the objective, and the columns of a rig; both None where no rig fits."""

    cost: int | None
    columns: Ints | None


_NOTHING = Point(None, None)


class Walk:
    """The grid of one way: its rows at every value, and the least cost found at each."""

    def __init__(self, moves: Moves, values: tuple[float, ...]):
        self.moves, self.values = moves, values
        self.asked: Asked = moves.asked
        self.solves = 0
        self.ground = Ground(self.asked.program, ~moves.touched)
        self.rows: list[Rows] = [moves.rows(value) for value in values]
        self.costs = [moves.cost(value) for value in values]
        offsets = self.asked.program.offsets
        pairs = list(zip(self.rows, self.rows[1:], strict=False))
        self.up = [eases(a, b, offsets) for a, b in pairs]
        self.down = [eases(b, a, offsets) for a, b in pairs]
        self.points: list[Point | None] = [None] * len(values)
        self._stride = 1

    @property
    def one_way(self) -> bool:
        """Whether all rows move one way over the whole grid."""
        return all(all(e.values()) for e in self.up) or all(all(e.values()) for e in self.down)

    def walked(self) -> list[Point]:
        """The least cost at every value."""
        for first, last, up in self._runs():
            if last - first + 1 >= _LEAST_RUN and not self.moves.costs_move:
                self._run(range(last, first - 1, -1) if up else range(first, last + 1))
        for k in range(len(self.values)):
            if self.points[k] is None:
                self._scan(k)
        return [point for point in self.points if point is not None]

    def _runs(self) -> list[tuple[int, int, bool]]:
        """(first, last, whether it gets easier upwards) of the longest runs, from below; neighbours share a value."""
        found = []
        k, last = 0, len(self.values) - 1
        while k < last:
            ends = []
            for pairs in (self.up, self.down):
                end = k
                while end < last and all(pairs[end].values()):
                    end += 1
                ends.append(end)
            end = max(ends)
            if end > k:
                found.append((k, end, ends[0] == end))
            k = max(end, k + 1)
        return found

    # --- a run, from its loose end ------------------------------------------------------------------------------------
    def _run(self, order: range) -> None:
        now: Point | None = None
        for k in order:
            point = self.points[k]
            if point is not None:
                now = point
            elif now is not None and (now.columns is None or self._fits(now.columns, k)):
                self.points[k] = now
            else:
                now = self.points[k] = self._solve(k, now)

    # --- a scan, from below -------------------------------------------------------------------------------------------
    def _scan(self, k: int) -> None:
        """Judge the value, and as many after it as the rig before it can be shown to be best at."""
        before = self.points[k - 1] if k else None
        if before is None or not self._keeps(before, k):
            self.points[k] = self._solve(k, before)
            return
        last = k
        while last - k + 1 < self._stride and self._keeps(before, last + 1):
            last += 1
        while self._better(before, k, last):
            self._stride = 1
            if last == k:
                self.points[k] = self._solve(k, before)
                return
            last = k
        self._stride = 2 * (last - k + 1)
        for i in range(k, last + 1):
            self.points[i] = self._at(before, i)

    def _keeps(self, before: Point, k: int) -> bool:
        """Whether a value is still to be judged, and the rig before it fits there (or there was none)."""
        if k >= len(self.values) or self.points[k] is not None:
            return False
        return before.columns is None or self._fits(before.columns, k)

    def _at(self, point: Point, k: int) -> Point:
        if point.columns is None:
            return point
        return Point(int(self.costs[k][point.columns].sum()), point.columns)

    def _better(self, before: Point, first: int, last: int) -> bool:
        """Whether some rig may cost less than the one before, at some value of the range."""
        rows, rhs = self._mildest(first, last)
        costs = self.costs[first : last + 1]
        cost: Ints = np.min(costs, axis=0) if self.moves.costs_move else costs[0]
        if before.columns is None:
            cutoff = int(np.maximum.reduceat(cost, self.asked.program.offsets[:-1]).sum())
        else:
            cutoff = max(int(c[before.columns].sum()) for c in costs) - 1
        self.solves += 1
        return rig_within(self.ground, rows, rhs, cost, cutoff) is not None

    def _mildest(self, first: int, last: int) -> tuple[Ints, Ints]:
        """Rows that every rig keeps which fits at any value of the range."""
        kept = []
        for place, (row, rhs) in self.rows[first].items():
            if all(place in self.rows[k] for k in range(first, last + 1)):
                kept.append(self._mildest_of(place, first, last, row, rhs))
        width = self.asked.program.rows.shape[1]
        rows = np.array([row for row, _ in kept]) if kept else np.zeros((0, width), np.int64)
        return rows, np.array([rhs for _, rhs in kept], np.int64)

    def _mildest_of(self, place: Place, first: int, last: int, row: Ints, rhs: int) -> tuple[Ints, int]:
        if all(self.down[k][place] for k in range(first, last)):
            return row, rhs
        if all(self.up[k][place] for k in range(first, last)):
            return self.rows[last][place]
        own = [self.rows[k][place] for k in range(first, last + 1)]
        least: Ints = np.min([row for row, _ in own], axis=0)
        return least, max(limit for _, limit in own)

    # --- one value ----------------------------------------------------------------------------------------------------
    def _fits(self, columns: Ints, k: int) -> bool:
        return self.asked.program.fits(columns, ~self.moves.touched) and all(
            int(row[columns].sum()) <= rhs for row, rhs in self.rows[k].values()
        )

    def _solve(self, k: int, like: Point | None) -> Point:
        """The least cost at a value, and a rig that differs as little as may be from the one before."""
        asked, moves = self.asked, self.moves
        now = moves.asked_at(self.values[k])
        self.solves += 1
        if like is None or like.columns is None:
            found = now.best()
            return Point(found.cost, found.columns) if found.columns is not None else _NOTHING
        cost = cost_of_best(Question(now.program, now.by))
        if cost is None:
            return _NOTHING
        rows, rhs = self._mildest(k, k)
        changes = changes_from(asked, asked.rig_of(like.columns))
        columns = least_changed(self.ground, rows, rhs, self.costs[k], cost, changes)
        return Point(cost, columns)
