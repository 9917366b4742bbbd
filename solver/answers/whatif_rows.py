"""The briefs of a what-if laid over the catalog, with every row worked out once for all cells that agree in what it reads.

Contents: `Laid` (lays cells), `ROWS` (the numbers of a cell's rows, in what `Asked` keeps).

A rule is laid and compiled anew only where a requirement moved that it reads: the ones its record declares and those that
its rows were seen to read. Cells that agree in these share its instances and rows; so may their balances be shared. What a
cell is given equals `ask` of its brief bit for bit.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np

from solver.answers.ask import Asked
from solver.answers.changed import YEARLY
from solver.answers.changed_rows import compile_moved
from solver.answers.whatif_facts import Values
from solver.answers.whatif_pool import joint_of
from solver.answers.whatif_values import Axis
from solver.brief.models import Brief
from solver.brief.requirements import moved_by
from solver.program.matrix import Ints, Program
from solver.program.objectives import FUEL_RULE, cost_rows, objective_columns
from solver.rules import RULES
from solver.rules.case import Case
from solver.rules.instances import Instance, Place, Setting, rule_instances
from solver.rules.record import Rule

ROWS = "what-if rows"
_MOST_ROWS = 20_000
"""Rows kept at most; beyond that all are forgotten and worked out again where they are needed."""


@dataclass(frozen=True, eq=False)
class Row:
    """An instance with its row; the number is its own in the whole study."""

    number: int
    instance: Instance
    row: Ints
    rhs: int
    reads: frozenset[str]


class Laid:
    """Lays the briefs of cells; `rows` holds every row by its number."""

    def __init__(self, base: Asked, axes: tuple[Axis, ...]) -> None:
        self._base = base
        self._moved = [
            frozenset().union(*(moved_by(base.brief, axis.requirement, name) for name in axis.duties or (None,)))
            for axis in axes
        ]
        program = base.program
        self._own: dict[str, list[Row]] = {}
        self.rows: dict[int, Row] = {}
        for i, instance in enumerate(base.instances):
            row = Row(i, instance, program.rows[i], int(program.rhs[i]), program.reads[i])
            self._own.setdefault(instance.rule.id, []).append(row)
            self.rows[i] = row
        self._places = {row.instance.place: row for row in self.rows.values()}
        self._next = len(self.rows)
        self._names = {
            rule.id: frozenset(rule.effects).union(*(row.reads for row in self._own.get(rule.id, ())))
            for rule in RULES.values()
        }
        self._known: dict[str, dict[Values, list[Row]]] = {}
        self._joint: dict[tuple[int, ...], int] = {}
        self._costs: dict[tuple[int, ...], dict[str, Ints]] = {}
        base._kept[ROWS] = np.arange(len(self.rows))

    def full(self) -> bool:
        """Whether so many rows are kept that it is better to begin anew."""
        return len(self.rows) > _MOST_ROWS

    def asked(self, brief: Brief, moved: frozenset[str], values: Values) -> Asked:
        """The brief of a cell laid over the catalog; an error of the rules where a formula does not reach so far."""
        if not moved:
            return self._base
        self._widen(moved)
        setting = Setting(brief, self._base.setting.slots, self._base.setting.materials)
        found = self._found(setting, moved, values)
        base = self._base
        costs = self._costs_of(setting, found)
        program = Program(
            np.stack([row.row for row in found]),
            np.array([row.rhs for row in found], np.int64),
            base.program.offsets,
            costs,
            tuple(row.instance.place for row in found),
            tuple(row.instance.rule.id for row in found),
            frozenset(row.instance.rule.id for row in found if row.instance.rule.background),
            tuple(row.reads for row in found),
        )
        asked = Asked(base.catalog, brief, setting, tuple(row.instance for row in found), base.by)
        asked.__dict__["costs"] = costs
        asked.__dict__["program"] = program
        asked._kept[ROWS] = np.array([row.number for row in found])
        return asked

    def joint(self, cells: Sequence[Asked]) -> tuple[Ints, Program]:
        """The joint program of cells of one kind, which every rig of any of them keeps, and its rows by number."""
        program = joint_of([cell.program for cell in cells])
        table = np.stack([cell._kept[ROWS] for cell in cells])
        numbers: Ints = table[0].copy()
        for place in np.flatnonzero((table != numbers).any(axis=0)).tolist():
            members = tuple(np.unique(table[:, place]).tolist())
            if members not in self._joint:
                row, rhs = program.rows[place], int(program.rhs[place])
                self.rows[self._next] = Row(self._next, self.rows[members[0]].instance, row, rhs, frozenset())
                self._joint[members] = self._next
                self._next += 1
            numbers[place] = self._joint[members]
        return numbers, program

    def _widen(self, moved: frozenset[str]) -> None:
        """What moves only where several requirements change together is laid to each of them."""
        beyond = moved.difference(*self._moved)
        if beyond:
            self._moved = [own | beyond for own in self._moved]
            self._known.clear()

    def _key(self, rule: Rule, values: Values) -> Values:
        """The values that the rule may read; None where it reads none."""
        if rule.id not in self._own:
            return values
        names = self._names[rule.id]
        return tuple(value if own & names else None for own, value in zip(self._moved, values, strict=True))

    def _found(self, setting: Setting, moved: frozenset[str], values: Values) -> list[Row]:
        waived = frozenset(setting.brief.waived)
        rules = [rule for rule in RULES.values() if rule.id not in waived]
        cases: dict[tuple[str, str, str], Case] = {}
        fresh: list[Instance] = []
        parts: dict[str, list[Row | Instance]] = {}
        for rule in rules:
            key = self._key(rule, values)
            if all(value is None for value in key):
                parts[rule.id] = list(self._own.get(rule.id, ()))
            elif (known := self._known.get(rule.id, {}).get(key)) is not None:
                parts[rule.id] = list(known)
            else:
                parts[rule.id] = [self._kept(new, moved) for new in rule_instances(rule, setting, cases)]
                fresh += [part for part in parts[rule.id] if isinstance(part, Instance)]
        compiled = self._compiled(setting, fresh, moved)
        for rule in rules:
            rows = [part if isinstance(part, Row) else compiled[part.place] for part in parts[rule.id]]
            self._note(rule, self._key(rule, values), rows)
            parts[rule.id] = list(rows)
        return [row for rule in rules for row in parts[rule.id] if isinstance(row, Row)]

    def _kept(self, new: Instance, moved: frozenset[str]) -> Row | Instance:
        """The row of the brief as it is, where it reads nothing that moved."""
        row = self._places.get(new.place)
        return new if row is None or row.reads & moved else row

    def _compiled(self, setting: Setting, fresh: list[Instance], moved: frozenset[str]) -> dict[Place, Row]:
        found: dict[Place, Row] = {}
        for instance, (row, rhs, reads) in zip(fresh, compile_moved(self._base, setting, fresh, moved), strict=True):
            found[instance.place] = Row(self._next, instance, row, rhs, reads)
            self.rows[self._next] = found[instance.place]
            self._next += 1
        return found

    def _note(self, rule: Rule, key: Values, rows: list[Row]) -> None:
        """Keep the rows of a rule; where one reads more than was known, what was kept of the rule is forgotten."""
        reads: frozenset[str] = frozenset().union(*(row.reads for row in rows))
        if not reads <= self._names[rule.id]:
            self._names[rule.id] |= reads
            self._known.pop(rule.id, None)
            return
        self._known.setdefault(rule.id, {})[key] = rows

    def _costs_of(self, setting: Setting, found: list[Row]) -> dict[str, Ints]:
        """Costs of the options; only the fuel in the yearly cost can move."""
        fuel = tuple(row.number for row in found if row.instance.rule.id == FUEL_RULE)
        if fuel == tuple(row.number for row in self._own.get(FUEL_RULE, ())):
            return dict(self._base.costs)
        if fuel not in self._costs:
            functions = objective_columns(setting, tuple(row.instance for row in found))
            self._costs[fuel] = {**self._base.costs, **cost_rows(setting, {YEARLY: functions[YEARLY]})}
        return dict(self._costs[fuel])
