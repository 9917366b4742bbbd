"""The linear relaxation of a large question, by column generation.

Contents: `Relaxed`, `Master`.

The relaxation takes shares of options instead of whole ones. Its best multipliers of the rows are sought with few columns:
GLOP solves the program of the columns known, its multipliers price all others (one product with the rows that count), and
the best few of each slot join, until none is better. A row may be broken at a price; where that is so at the end, the
question is asked again for the least breach alone, whose multipliers tell that no rig exists. Nothing here must be exact:
`fixing.py` works out in whole numbers what the multipliers exclude.
References: G. Dantzig, P. Wolfe, Decomposition principle for linear programs, Operations Research 8, 1960 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import Any

import numpy as np
from numpy.typing import NDArray
from ortools.linear_solver import pywraplp

from solver.errors import InternalError
from solver.program.matrix import Ints
from solver.search.sheet import Sheet

Floats = NDArray[np.float64]
_A_SLOT = 8
"""Columns of a slot that join in one round."""
_ROUNDS = 60
_BREACH = 1e-7
"""Sum of the breaches, in shares of what the rows can come to, that counts as none."""


@dataclass(frozen=True, eq=False)
class Relaxed:
    """Best multipliers found (in cost over the unit of the row), their bound, shares of columns, the multipliers against
    breaches if the rows cannot all be kept."""

    multipliers: Floats
    bound: float
    columns: Ints
    """Columns of the program with a share above nothing, ascending."""
    shares: Floats
    against: Floats | None


class Master:
    """The relaxation of a question and of its parts: columns stay for the next part."""

    def __init__(self, sheet: Sheet, slots: int, columns: int) -> None:
        self._low = sheet.low
        self.scale = np.maximum((sheet.high - sheet.low).sum(axis=1), 1).astype(float)
        self._solver: Any = pywraplp.Solver.CreateSolver("GLOP")
        if self._solver is None:
            raise InternalError("the engine has no linear solver")
        free = self._solver.infinity()
        self._free = free
        most = np.maximum.reduceat(np.abs(sheet.cost), sheet.starts).astype(float)
        self._money = max(1.0, float(most.max(initial=0.0))) / 1000.0
        """Units of cost in one unit of the linear program."""
        self._breach_price = max(1.0, float(most.sum())) / self._money
        spare = (sheet.rhs - sheet.low.sum(axis=1)) / self.scale
        self._one_each = [self._solver.Constraint(1.0, 1.0) for _ in range(slots)]
        self._rows = [self._solver.Constraint(-free, limit) for limit in spare.tolist()]
        self._goal = self._solver.Objective()
        self._goal.SetMinimization()
        self._breaches = [self._solver.NumVar(0.0, free, "") for _ in self._rows]
        for row, breach in zip(self._rows, self._breaches, strict=True):
            row.SetCoefficient(breach, -1.0)
            self._goal.SetCoefficient(breach, self._breach_price)
        self._known = np.full(columns, -1, np.int64)
        self._variables: list[Any] = []
        self._columns: list[int] = []
        self._costs: list[float] = []
        self._open: list[bool] = []
        self._settings = pywraplp.MPSolverParameters()
        self._settings.SetIntegerParam(self._settings.INCREMENTALITY, self._settings.INCREMENTALITY_ON)
        self._settings.SetIntegerParam(self._settings.PRESOLVE, self._settings.PRESOLVE_OFF)

    def relax(self, sheet: Sheet, cutoff: int | None) -> Relaxed:
        """The relaxation over these columns; ended early if the bound passes the cutoff. Without one, costs are nothing and
        only the breaches are made least."""
        self._begin(sheet)
        found, breach = self._generate(sheet, sheet.cost, cutoff)
        if breach <= _BREACH or (cutoff is not None and found.bound > cutoff + 1):
            return found
        if cutoff is None:
            return replace(found, against=found.multipliers)
        for variable in self._variables:
            self._goal.SetCoefficient(variable, 0.0)
        against, _ = self._generate(sheet, np.zeros(len(sheet), np.int64), 0)
        for variable, cost in zip(self._variables, self._costs, strict=True):
            self._goal.SetCoefficient(variable, cost)
        return replace(found, against=against.multipliers)

    def _begin(self, sheet: Sheet) -> None:
        """Shut the columns known that are not in the sheet, open the others; see that every slot has some."""
        inside = np.zeros(len(self._known), bool)
        inside[sheet.columns] = True
        here = inside[self._columns].tolist() if self._columns else []
        for k, (now, before) in enumerate(zip(here, self._open, strict=True)):
            if now != before:
                self._variables[k].SetBounds(0.0, self._free if now else 0.0)
        self._open = here
        spare = np.maximum(sheet.rhs - sheet.low.sum(axis=1), 1).astype(float)
        if self._columns:
            empty = np.setdiff1d(sheet.slots[sheet.starts], sheet.slots[self._known[sheet.columns] >= 0])
            first = _best(sheet, sheet.cost.astype(float), 2)
            self._add(sheet, self._new(sheet, first[np.isin(sheet.slots[first], empty)]), sheet.cost)
        else:
            hunger = np.zeros(len(sheet))
            for row, limit in zip(sheet.rows, spare.tolist(), strict=True):
                hunger += row / limit
            both = np.union1d(_best(sheet, sheet.cost.astype(float), 3), _best(sheet, hunger, 3))
            self._add(sheet, both, sheet.cost)

    def _add(self, sheet: Sheet, places: Ints, cost: Ints) -> None:
        """Let columns of the sheet, not known before, join at these costs."""
        slots = sheet.slots[places]
        order = np.searchsorted(sheet.slots[sheet.starts], slots)
        table = (sheet.rows[:, places] - self._low[:, order]) / self.scale[:, None]
        for k, j in enumerate(places.tolist()):
            variable = self._solver.NumVar(0.0, self._free, "")
            column = int(sheet.columns[j])
            self._known[column] = len(self._variables)
            self._variables.append(variable)
            self._columns.append(column)
            self._costs.append(float(sheet.cost[j]) / self._money)
            self._open.append(True)
            self._one_each[int(slots[k])].SetCoefficient(variable, 1.0)
            self._goal.SetCoefficient(variable, float(cost[j]) / self._money)
            own = table[:, k]
            used = np.flatnonzero(own)
            for i, entry in zip(used.tolist(), own[used].tolist(), strict=True):
                self._rows[i].SetCoefficient(variable, entry)

    def _new(self, sheet: Sheet, places: Ints) -> Ints:
        """Those places of the sheet whose columns are not known yet."""
        return places[self._known[sheet.columns[places]] < 0]

    def _generate(self, sheet: Sheet, cost: Ints, cutoff: int | None) -> tuple[Relaxed, float]:
        """Rounds of solving and pricing, and the sum of the breaches at the end."""
        best, top, breach = np.zeros(len(sheet.rhs)), -np.inf, 0.0
        columns, shares = np.zeros(0, np.int64), np.zeros(0)
        for k in range(_ROUNDS):
            if self._solver.Solve(self._settings) != pywraplp.Solver.OPTIMAL:
                break
            now = np.maximum([-row.dual_value() for row in self._rows], 0.0) * self._money / self.scale
            level = np.array([one.dual_value() for one in self._one_each]) * self._money
            reduced = cost.astype(float)
            for i in np.flatnonzero(now).tolist():
                reduced += now[i] * sheet.rows[i]
            least = np.minimum.reduceat(reduced, sheet.starts)
            bound = float(least.sum() - now @ sheet.rhs)
            if bound > top:
                best, top = now, bound
            if cutoff is not None and top > cutoff + 1:
                break
            edge = level[sheet.slots[sheet.starts]] + now @ self._low
            places = self._new(sheet, _better(sheet, reduced, edge - 1e-6 * self._money, least))
            if not len(places) or k == _ROUNDS - 1:
                columns, shares = self._taken()
                breach = sum(variable.solution_value() for variable in self._breaches)
                break
            self._add(sheet, places, cost)
        return Relaxed(best, top, columns, shares, None), breach

    def _taken(self) -> tuple[Ints, Floats]:
        """Columns with a share above nothing, ascending, and the shares."""
        own = [k for k, is_open in enumerate(self._open) if is_open]
        values = np.array([self._variables[k].solution_value() for k in own])
        columns = np.array([self._columns[k] for k in own], np.int64)
        order = np.argsort(columns)
        columns, values = columns[order], values[order]
        return columns[values > 1e-9], values[values > 1e-9]


def _best(sheet: Sheet, reduced: Floats, count: int) -> Ints:
    """Positions of the best few columns of every slot, ascending."""
    found = []
    for a, size in zip(sheet.starts.tolist(), sheet.sizes.tolist(), strict=True):
        part = reduced[a : a + size]
        found.append(a + (np.argpartition(part, count - 1)[:count] if size > count else np.arange(size)))
    return np.sort(np.concatenate(found)).astype(np.int64)


def _better(sheet: Sheet, reduced: Floats, edge: Floats, least: Floats) -> Ints:
    """Positions of the best few columns of each slot that lie below its edge."""
    found = [np.zeros(0, np.int64)]
    for k in np.flatnonzero(least < edge).tolist():
        a, size = int(sheet.starts[k]), int(sheet.sizes[k])
        part = reduced[a : a + size]
        own = np.argpartition(part, _A_SLOT - 1)[:_A_SLOT] if size > _A_SLOT else np.arange(size)
        found.append(a + np.sort(own[part[own] < edge[k]]))
    return np.concatenate(found).astype(np.int64)
