"""One side of a requirement's present value: where the least cost falls, how long it stays, how far the very rig holds.

Contents: `Alike` (the rigs of least cost), `Outward` (the values of one side, the nearest first).
"""

from __future__ import annotations

from collections.abc import Callable
from functools import cached_property

import numpy as np

from solver.answers.ask import Asked
from solver.answers.steps_rows import Moves, eases
from solver.answers.steps_search import Ground, cheapest_like, rig_within, rigs_of_cost
from solver.errors import InternalError
from solver.program.matrix import Ints
from solver.rules.instances import Place
from solver.search.witnesses import Witnesses


class Alike:
    """The best rig, its cost, and every other rig that fits and costs the same."""

    def __init__(self, asked: Asked, columns: Ints, cost: int):
        self.asked, self.first, self.cost = asked, columns, cost
        self._ground: tuple[Moves, Ground] | None = None

    @cached_property
    def _found(self) -> tuple[tuple[Ints, ...], bool]:
        program = self.asked.program
        return rigs_of_cost(program, program.costs[self.asked.by], self.cost, self.first)

    @property
    def rigs(self) -> tuple[Ints, ...]:
        """The rigs; the best one is the first."""
        return self._found[0]

    @property
    def complete(self) -> bool:
        """Whether these are all."""
        return self._found[1]

    def ground(self, moves: Moves) -> Ground:
        """What the rows that a way does not move leave within the least cost."""
        if self._ground is None or self._ground[0] is not moves:
            cost = None if moves.costs_move else moves.cost(0.0)
            self._ground = moves, Ground(self.asked.program, ~moves.touched, cost, self.cost)
        return self._ground[1]

    @cached_property
    def cheaper(self) -> Witnesses:
        """Rigs that cost less and break some row, as they are met."""
        by = self.asked.by
        return Witnesses(self.asked.question(at_most={by: self.cost - 1}))


class Outward:
    """Values of one side, from the present value outwards, as far as a brief can have them."""

    def __init__(self, moves: Moves, alike: Alike, values: tuple[float, ...], upwards: bool, pool: list[Ints]):
        self.moves, self.alike, self.upwards, self.pool = moves, alike, upwards, pool
        self.asked, self._all = moves.asked, values
        self._kinds: dict[int, dict[Place, int]] = {}

    @cached_property
    def values(self) -> tuple[float, ...]:
        """The values, up to the last that a brief can have."""
        values = self._all
        while values and not self.moves.possible(values[-1]):
            values = values[:-1]
        return values

    @cached_property
    def _ground(self) -> Ground:
        return self.alike.ground(self.moves)

    def value(self, count: int) -> float:
        """The value that lies so many steps outwards; none: the present one."""
        if count:
            return self.values[count - 1]
        present = self.moves.way.present(self.asked.brief)
        if present is None:
            raise InternalError("a requirement without a value was judged")
        return present

    # --- rows over a range --------------------------------------------------------------------------------------------
    def kinds(self, far: int) -> dict[Place, int]:
        """Per place at a value: 1 if the row gets easier up to there, -1 if harder, 0 if neither is certain."""
        if far not in self._kinds:
            base, rows = self.moves.base, self.moves.rows(self.values[far])
            offsets = self.asked.program.offsets
            easier = eases(base, rows, offsets)
            harder = eases(rows, base, offsets)
            found = {}
            for place in rows:
                kind = self.moves.effect(place, self.upwards)
                sure = easier[place] if kind == 1 else place not in base or harder[place]
                found[place] = kind if sure and (place in base or kind < 0) else 0
            self._kinds[far] = found
        return self._kinds[far]

    def _mildest(self, near: int, far: int, loosely: bool = False) -> tuple[Ints, Ints]:
        """Rows that every rig keeps which fits at any value of the range; loosely: without those that may go either way."""
        rows = self.moves.rows(self.values[far])
        if near == far:
            return _stacked(list(rows.values()), self.asked.program.rows.shape[1])
        kinds = self.kinds(far)
        harder = [place for place, kind in kinds.items() if kind < 0]
        unsure = [place for place, kind in kinds.items() if kind == 0]
        kept = [rows[place] for place, kind in kinds.items() if kind > 0]
        kept += self.moves.rows(self.values[near], harder).values()
        if unsure and not loosely:
            all_rows = [self.moves.rows(value, unsure) for value in self.values[near : far + 1]]
            for place in unsure:
                own = [found[place] for found in all_rows if place in found]
                if len(own) == len(all_rows):
                    kept.append((np.min([row for row, _ in own], axis=0), max(rhs for _, rhs in own)))
        return _stacked(kept, self.asked.program.rows.shape[1])

    def _least_cost(self, near: int, far: int) -> Ints:
        if not self.moves.costs_move:
            return self.moves.cost(0.0)
        found: Ints = np.min([self.moves.cost(value) for value in self.values[near : far + 1]], axis=0)
        return found

    # --- where the least cost is lower --------------------------------------------------------------------------------
    @cached_property
    def cheaper(self) -> int | None:
        """The nearest value at which the least cost is lower, by its number; None where there is none."""
        return self._nearest(0, len(self.values) - 1) if self._all and self._possible else None

    @cached_property
    def _possible(self) -> bool:
        return self.moves.costs_move or self._possible_at_all()

    def _possible_at_all(self) -> bool:
        """Whether a rig costs less with all rows left out that may get easier; the rig is kept."""
        program = self.asked.program
        easing = [i for place, i in self.moves.index.items() if self.moves.effect(place, self.upwards) >= 0]
        if not easing:
            return False
        rows = np.ones(len(program.rhs), bool)
        rows[easing] = False
        return self.alike.cheaper.any_rig(rows, np.array(easing, np.int64)) is not None

    def _nearest(self, near: int, far: int) -> int | None:
        if near > far:
            return None
        for loosely in (True, False):
            if loosely and (near == far or 0 not in self.kinds(far).values()):
                continue
            columns = self._within(near, far, self.alike.cost - 1, loosely)
            if columns is None:
                return None
            if near == far:
                return near
            k = self._from(columns, near, far)
            if k is not None:
                closer = self._nearest(near, k - 1)
                return k if closer is None else closer
        middle = (near + far) // 2
        found = self._nearest(near, middle)
        return found if found is not None else self._nearest(middle + 1, far)

    def _within(self, near: int, far: int, cutoff: int, loosely: bool) -> Ints | None:
        """A rig within the cutoff that may fit somewhere in the range; None if none does."""
        program, moves = self.asked.program, self.moves
        rows, rhs = self._mildest(near, far, loosely)
        cost = self._least_cost(near, far)
        for columns in self.pool:
            good = int(cost[columns].sum()) <= cutoff and (rows[:, columns].sum(axis=1) <= rhs).all()
            if good and program.fits(columns, ~moves.touched):
                return columns
        broken = moves.own if cutoff < self.alike.cost and not moves.costs_move else None
        found = rig_within(self._ground, rows, rhs, cost, cutoff, broken)
        if found is not None and not moves.costs_move:
            self.pool.append(found)
        return found

    def _from(self, columns: Ints, near: int, far: int) -> int | None:
        """The nearest value of the range at which a cheaper rig fits, where the rows that get easier decide; else None."""
        kinds = self.kinds(far)
        base = self.moves.base
        easier = [p for p, kind in kinds.items() if kind > 0 and int(base[p][0][columns].sum()) > base[p][1]]
        low, high = near, far
        while low < high:
            middle = (low + high) // 2
            if self.moves.fits(columns, self.values[middle], easier):
                high = middle
            else:
                low = middle + 1
        cost = int(self.moves.cost(self.values[low])[columns].sum())
        good = cost < self.alike.cost and self.moves.fits(columns, self.values[low])
        return low if good else None

    def cheapest(self, k: int, changes: Ints) -> tuple[Ints, int]:
        """The best rig at a value where one is cheaper, and its cost; of several, the one with the least changes."""
        rows, rhs = self._mildest(k, k)
        cost = self.moves.cost(self.values[k])
        columns = cheapest_like(self._ground, rows, rhs, cost, self.alike.cost - 1, changes)
        if columns is None:
            raise InternalError("a cheaper rig was found where there is none")
        return columns, int(cost[columns].sum())

    # --- how long the cost stays, and the very rig --------------------------------------------------------------------
    def room(self) -> tuple[int, bool]:
        """Number of values outwards over which the least cost stays the same, and whether it is lower just beyond."""
        reach = self._same()
        if not self._all or not self._may_fall() or not self._possible:
            return reach, False
        lower = self.cheaper if "cheaper" in self.__dict__ else self._nearest(0, min(reach, len(self.values) - 1))
        if lower is not None and lower <= reach:
            return lower, True
        return reach, False

    def _may_fall(self) -> bool:
        """Whether the least cost may fall on this side: some row may get easier, or the costs themselves move."""
        return self.moves.costs_move or any(self.moves.effect(p, self.upwards) >= 0 for p in self.moves.base)

    def _same(self) -> int:
        """Number of values outwards over which some rig costs no more than now."""
        k = self.holding() if not self.moves.costs_move else 0
        known = list(self.alike.rigs) if k < len(self.values) else []
        while k < len(self.values):
            cost = self.moves.cost(self.values[k])
            rows, rhs = self._mildest(k, k)
            good = [c for c in known if (rows[:, c].sum(axis=1) <= rhs).all() and int(cost[c].sum()) <= self.alike.cost]
            if not good:
                if self.alike.complete and not self._may_fall():
                    return k
                found = rig_within(self._ground, rows, rhs, cost, self.alike.cost)
                if found is None:
                    return k
                known.append(found)
                good = [found]
            k = k + 1 if self.moves.costs_move else max(k + 1, max(self._last(c, k) for c in good))
        return k

    def holding(self) -> int:
        """Number of values outwards over which the very rig fits."""
        return self._holding

    @cached_property
    def _holding(self) -> int:
        return self._last(self.alike.first, 0) if self.values else 0

    def _last(self, columns: Ints, start: int) -> int:
        """Number of values outwards up to which a rig fits, if it fits up to number `start`."""
        if start >= len(self.values):
            return start
        far = len(self.values) - 1
        harder, unsure = self._watched(columns, far)
        return self._counted(start, far + 1, lambda k: self.values[k], columns, harder, unsure)

    def _counted(
        self, low: int, high: int, value: Callable[[int], float], columns: Ints, harder: list[Place], unsure: list[Place]
    ) -> int:
        """Number from `low` to `high` of the first value at which a rig does not fit; `high` if it fits at all before.

        Bisected for the rows that only get harder, then one by one up to there for those that may go either way.
        """
        first, last = low, high
        while first < last and harder:
            middle = (first + last) // 2
            if self.moves.fits(columns, value(middle), harder):
                first = middle + 1
            else:
                last = middle
        k = low if unsure else last
        while k < last and self.moves.fits(columns, value(k), unsure):
            k += 1
        return k

    def _watched(self, columns: Ints, far: int) -> tuple[list[Place], list[Place]]:
        """Places that decide how far a rig fits: those it breaks at the far end, and those whose way is not certain."""
        rows = self.moves.rows(self.values[far])
        kinds = self.kinds(far)
        broken = [p for p, (row, rhs) in rows.items() if int(row[columns].sum()) > rhs and kinds[p] < 0]
        return broken, [p for p in rows if kinds[p] == 0]

    def holds(self) -> float:
        """Last value, to the resolution, up to which the very rig fits."""
        k = self.holding()
        last = self.value(k)
        if k == len(self.values):
            return last
        between = self._between(last, self.values[k])
        possible = 0
        while possible < len(between) and self.moves.brief(between[possible]) is not None:
            possible += 1
        harder, unsure = self._watched(self.alike.first, k)
        count = self._counted(0, possible, lambda at: between[at], self.alike.first, harder, unsure)
        return between[count - 1] if count else last

    def _between(self, last: float, beyond: float) -> tuple[float, ...]:
        """Values at the resolution strictly between two values, from the first towards the second."""
        requirement = self.moves.way.requirement
        fine = requirement.resolution
        low, high = sorted((last, beyond))
        first = int(np.floor((low - requirement.least) / fine + 1e-6)) + 1
        count = int(np.ceil((high - requirement.least) / fine - 1e-6))
        found = tuple(round(requirement.least + k * fine, 9) for k in range(first, count))
        return found if self.upwards else found[::-1]


def _stacked(rows: list[tuple[Ints, int]], width: int) -> tuple[Ints, Ints]:
    if not rows:
        return np.zeros((0, width), np.int64), np.zeros(0, np.int64)
    return np.array([row for row, _ in rows]), np.array([rhs for _, rhs in rows], np.int64)
