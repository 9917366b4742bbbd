"""The rows that one requirement moves, at any of its values, and whether a change of value makes them easier.

Contents: `Way` (a requirement and where it is changed), `Moves` (its rows at a value), `Rows`, `eases`, `sides`.

Rows are compiled value by value and kept, only those that the requirement can move. Figures are in the requirement's unit
here; SI begins at `with_value`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, field

import numpy as np

from solver.answers.ask import Asked
from solver.answers.changed import changed_brief
from solver.answers.changed_rows import Laying, compile_moved
from solver.brief.models import Brief
from solver.brief.requirements import Direction, Requirement, moved_by, si, value_of, with_value
from solver.errors import EntryError, OutsideRange
from solver.program.matrix import Ints, Mask
from solver.program.objectives import FUEL_RULE, cost_rows, objective_columns
from solver.quantities import to_unit
from solver.rules import RULES
from solver.rules.case import Case
from solver.rules.instances import Instance, Place, Setting
from solver.rules.record import Effect

NEAR = 1e-6
"""Share of a step within which two values of a requirement are the same."""
Rows = dict[Place, tuple[Ints, int]]
"""Row and right-hand side by place."""


@dataclass(frozen=True)
class Way:
    """A requirement and the duties in which it is changed: one, or several at once; none for a requirement of the brief."""

    requirement: Requirement
    duties: tuple[str, ...] = ()
    eased: bool = False
    """Whether only those of several duties are changed that are harder to meet than the new value."""

    def present(self, brief: Brief) -> float | None:
        """The present value in the requirement's unit; in several duties the one hardest to meet. None where not set."""
        names: tuple[str | None, ...] = self.duties or (None,)
        found = [value_of(brief, self.requirement, name) for name in names]
        values = [round(float(to_unit(value, self.requirement.unit)), 9) for value in found if value is not None]
        if len(values) < len(found):
            return None
        return min(values) if self.requirement.easier is Direction.HIGHER else max(values)

    def brief_at(self, brief: Brief, value: float) -> Brief:
        """The brief at a value; the brief itself where nothing is changed by it."""
        names = self.duties
        if self.eased:
            names = tuple(name for name in names if self._sets(Way(self.requirement, (name,)).present(brief), value))
            if not names:
                return brief
        return with_value(brief, self.requirement, si(self.requirement, value), names or None)

    def _sets(self, own: float | None, value: float) -> bool:
        if own is None or self.requirement.easier is Direction.EITHER:
            return True
        return own > value if self.requirement.easier is Direction.LOWER else own < value


def sides(requirement: Requirement, present: float) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """Figures of the grid below and above the present value, the nearest first."""
    near = requirement.step * NEAR
    below = tuple(v for v in reversed(requirement.grid()) if v < present - near)
    return below, tuple(v for v in requirement.grid() if v > present + near)


@dataclass(frozen=True, eq=False)
class _At:
    """What is laid and compiled at one value: instances by rule, rows by place."""

    setting: Setting
    cases: dict[tuple[str, str, str], Case] = field(default_factory=dict)
    laid: dict[str, dict[Place, Instance]] = field(default_factory=dict)
    rows: Rows = field(default_factory=dict)


class Moves:
    """What a way moves: which rows of the program, and those rows at a value."""

    def __init__(self, asked: Asked, way: Way):
        self.asked, self.way = asked, way
        self.moved: frozenset[str] = frozenset()
        for name in way.duties or (None,):
            self.moved |= moved_by(asked.brief, way.requirement, name)
        program = asked.program
        self.touched: Mask = np.array(
            [
                bool(reads & self.moved) and (not way.duties or not i.place.duty or i.place.duty in way.duties)
                for i, reads in zip(asked.instances, program.reads, strict=True)
            ],
            bool,
        )
        self.own: Ints = np.flatnonzero(self.touched)
        self.base: Rows = {asked.instances[i].place: (program.rows[i], int(program.rhs[i])) for i in self.own.tolist()}
        self.index = {asked.instances[i].place: i for i in self.own.tolist()}
        present = {instance.rule.id for instance in asked.instances}
        own = {place.rule for place in self.base}
        waived = frozenset(asked.brief.waived)
        self._known = {instance.place for instance in asked.instances} - self.base.keys()
        self._rules = {
            rule.id: rule
            for rule in RULES.values()
            if rule.id not in waived and (rule.id in own or rule.id not in present or self.moved & rule.effects.keys())
        }
        self._laying = Laying(asked, self.moved, way.duties or None)
        self.costs_move = asked.by == "yearly-cost" and FUEL_RULE in own
        self._briefs: dict[float, Brief | None] = {}
        self._laid: dict[float, _At] = {}
        self._costs: dict[float, Ints] = {}

    def brief(self, value: float) -> Brief | None:
        """The brief at a value; None where its file could not say so."""
        if value not in self._briefs:
            try:
                self._briefs[value] = self.way.brief_at(self.asked.brief, value)
            except EntryError:
                self._briefs[value] = None
        return self._briefs[value]

    def _at(self, value: float) -> _At:
        if value not in self._laid:
            brief = self.brief(value)
            if brief is None:
                raise EntryError(f"{self.way.requirement.title} {value:g}", "a value that a brief can have")
            self._laid[value] = _At(self.asked.setting.under(brief))
        return self._laid[value]

    def _instances(self, value: float, rule: str) -> dict[Place, Instance]:
        """Instances of a rule at a value, those left out that the way does not move."""
        at = self._at(value)
        if rule not in at.laid:
            found = self._laying.instances(self._rules[rule], at.setting, at.cases, self._known)
            at.laid[rule] = {i.place: i for i in found}
        return at.laid[rule]

    def rows(self, value: float, only: Iterable[Place] | None = None) -> Rows:
        """The rows that move (or those of some places), as they are at a value. OutsideRange where a formula ends."""
        at = self._at(value)
        rules = self._rules if only is None else dict.fromkeys(place.rule for place in only)
        laid = {place: i for rule in rules for place, i in self._instances(value, rule).items()}
        wanted = list(laid) if only is None else [place for place in only if place in laid]
        fresh = [laid[place] for place in wanted if place not in at.rows]
        if fresh:
            found = compile_moved(self.asked, at.setting, fresh, self.moved)
            for instance, (row, rhs, _) in zip(fresh, found, strict=True):
                at.rows[instance.place] = (row, rhs)
        return {place: at.rows[place] for place in wanted}

    def asked_at(self, value: float) -> Asked:
        """The whole question at a value."""
        return changed_brief(self.asked, self._at(value).setting.brief, self.moved, self.way.duties or None)

    def possible(self, value: float) -> bool:
        """Whether a brief can have this value and every formula holds there."""
        if self.brief(value) is None:
            return False
        try:
            self.rows(value)
        except OutsideRange:
            return False
        return True

    def cost(self, value: float) -> Ints:
        """Costs of the options at a value."""
        asked = self.asked
        if not self.costs_move:
            return asked.costs[asked.by]
        if value not in self._costs:
            setting, fuel = self._at(value).setting, self._instances(value, FUEL_RULE)
            kept = tuple(i for i in asked.instances if i.rule.id == FUEL_RULE and i.place in self._known)
            functions = objective_columns(setting, _in_order(asked, (*kept, *fuel.values())))
            self._costs[value] = cost_rows(setting, {asked.by: functions[asked.by]})[asked.by]
        return self._costs[value]

    def fits(self, columns: Ints, value: float, only: Iterable[Place] | None = None) -> bool:
        """Whether a rig keeps the rows that move (or those of some places) at a value; the others stay as they are."""
        return all(int(row[columns].sum()) <= rhs for row, rhs in self.rows(value, only).values())

    def effect(self, place: Place, upwards: bool) -> int:
        """What moving the requirement does to the rule of a place by its record: 1 eases, -1 tightens, 0 either."""
        rule = RULES[place.rule]
        found = {rule.effects.get(name, Effect.BOTH) for name in self.moved & self._reads(place)}
        if found == {Effect.EASES}:
            return 1 if upwards else -1
        if found == {Effect.TIGHTENS}:
            return -1 if upwards else 1
        return 0

    def _reads(self, place: Place) -> frozenset[str]:
        """Requirements that a row reads; those of its rule's record where the row is not in the brief as it is."""
        i = self.index.get(place)
        return self.asked.program.reads[i] if i is not None else frozenset(RULES[place.rule].effects)


def _in_order(asked: Asked, fuel: tuple[Instance, ...]) -> tuple[Instance, ...]:
    """Instances of the fuel rule in the order of the duties, as the whole brief would have them: sums of floats need it."""
    order = {duty.name: k for k, duty in enumerate(asked.brief.duties)}
    return tuple(sorted(fuel, key=lambda instance: order[instance.place.duty]))


def eases(before: Rows, after: Rows, offsets: Ints) -> dict[Place, bool]:
    """Per place of `after`, whether every rig that keeps its row before keeps it after, judged on the numbers of all options.

    A rig's sum grows at most by the sum of the slots' largest growths. Options with which no rig can break the row afterwards
    are left out. A place that is new eases only if no rig can break it.
    """
    places = list(after)
    if not places:
        return {}
    starts, sizes = offsets[:-1], np.diff(offsets)
    rows = np.array([after[place][0] for place in places])
    rhs = np.array([after[place][1] for place in places], np.int64)
    most = np.maximum.reduceat(rows, starts, axis=1)
    harmless = rows + np.repeat(most.sum(axis=1)[:, None] - most, sizes, axis=1) <= rhs[:, None]
    good: Mask = np.asarray(np.logical_and.reduceat(harmless, starts, axis=1).any(axis=1))
    judged = [k for k, place in enumerate(places) if not good[k] and place in before]
    if judged:
        old = np.array([before[places[k]][0] for k in judged])
        spare = rhs[judged] - np.array([before[places[k]][1] for k in judged], np.int64)
        growth = np.where(harmless[judged], np.iinfo(np.int64).min // 2**12, rows[judged] - old)
        good[judged] = np.maximum.reduceat(growth, starts, axis=1).sum(axis=1) <= spare
    return dict(zip(places, good.tolist(), strict=True))
