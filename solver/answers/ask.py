"""The shared base of every answer: compile a brief, solve, re-check without the engine, name the rig.

Contents: `Asked` (a compiled brief), `ask`, `indices_of`, `lines_of`, `totals_of`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from functools import cached_property
from typing import TYPE_CHECKING, Any

import numpy as np

from solver.answers.facts import Line, Totals
from solver.brief.models import Brief
from solver.catalog import Catalog
from solver.errors import EntryError, InputError, InternalError
from solver.options.build import build_options
from solver.options.table import NONE
from solver.program.compile import compile_program
from solver.program.matrix import Ints, Mask, Program, TooLarge
from solver.program.objectives import cost_rows, objective_columns
from solver.rules import RULES
from solver.rules.balance import Balance, Rig, balance_of, chosen
from solver.rules.instances import Instance, Setting, instances
from solver.rules.record import Basis

if TYPE_CHECKING:
    from solver.search.best import Found, Question

Progress = Callable[[str, float], None]


@dataclass(frozen=True, eq=False)
class Asked:
    """A brief laid over a catalog: options, balances to judge, and the integer program."""

    catalog: Catalog
    brief: Brief
    setting: Setting
    instances: tuple[Instance, ...]
    by: str
    _kept: dict[str, Any] = field(default_factory=dict, repr=False)

    @cached_property
    def program(self) -> Program:
        """The integer program of all rules."""
        try:
            return compile_program(self.setting, self.instances, self.costs)
        except TooLarge as error:
            raise _placed(error, self.catalog) from None

    @cached_property
    def costs(self) -> dict[str, Ints]:
        """Integer costs of every option."""
        try:
            return cost_rows(self.setting, objective_columns(self.setting, self.instances))
        except TooLarge as error:
            raise _placed(error, self.catalog) from None

    @cached_property
    def offsets(self) -> dict[str, int]:
        """First column of every slot."""
        sizes = np.cumsum([0] + [len(table) for table in self.setting.slots.values()]).tolist()
        return dict(zip(self.setting.slots, sizes[:-1], strict=True))

    @cached_property
    def groups(self) -> tuple[str, ...]:
        """Ids of the rules that have a balance here, in the order of the register."""
        present = set(self.program.groups)
        return tuple(rule for rule in RULES if rule in present)

    @cached_property
    def droppable(self) -> tuple[str, ...]:
        """Rules that an explanation may drop."""
        return tuple(rule for rule in self.groups if rule not in self.program.background)

    @property
    def unit(self) -> float:
        """Integer steps of the objective in 1 USD, 1 kg or 1 USD a year."""
        return 1000.0 if self.by == "weight" else 100.0

    def reads_of(self, rule: str) -> frozenset[str]:
        """Requirements that the rule reads in this brief."""
        found: frozenset[str] = frozenset()
        for group, reads in zip(self.program.groups, self.program.reads, strict=True):
            if group == rule:
                found |= reads
        return found

    def rows_without(self, *rules: str, duty: str | None = None) -> Mask:
        """Rows that stay when these rules (or only one duty's instances of them) are dropped."""
        return np.array(
            [
                group not in rules or (duty is not None and instance.place.duty != duty)
                for group, instance in zip(self.program.groups, self.instances, strict=True)
            ]
        )

    def rows_of(self, rules: frozenset[str]) -> Mask:
        """Rows of these rules and of the background."""
        kept = rules | self.program.background
        return np.array([group in kept for group in self.program.groups])

    def question(
        self, by: str | None = None, rows: Mask | None = None, at_most: dict[str, int] | None = None
    ) -> Question:
        """A question to the engine room."""
        from solver.search.best import Question

        return Question(self.program, by or self.by, rows, at_most=at_most or {})

    def best(self, rows: Mask | None = None, by: str | None = None) -> Found:
        """The best rig, re-checked."""
        return self.settled(self.cheapest(rows, by), rows, by)

    def cheapest(self, rows: Mask | None = None, by: str | None = None) -> Found:
        """A best rig before ties are settled: enough for questions about its cost."""
        from solver.search.best import cheapest

        return cheapest(self.question(by, rows))

    def settled(self, found: Found, rows: Mask | None = None, by: str | None = None) -> Found:
        """The best rig of those that cost as little as this one, re-checked."""
        from solver.search.best import settled

        found = settled(self.question(by, rows), found)
        if found.columns is not None and rows is None:
            self.recheck(found.columns)
        return found

    def recheck(self, columns: Ints) -> tuple[Balance, ...]:
        """Every balance of the rig; an error if the rules themselves disagree with the engine."""
        if not self.program.fits(columns):
            raise InternalError("the engine's rig breaks an integer row")
        found = self.balances(self.rig_of(columns))
        for balance in found:
            if not balance.holds:
                raise InternalError(f"the engine's rig fails the re-check at {balance.place}")
        return found

    def rig_of(self, columns: Ints) -> dict[str, int]:
        """Option index of every slot from the program's columns."""
        return {name: int(columns[i]) - start for i, (name, start) in enumerate(self.offsets.items())}

    def columns_of(self, rig: Rig) -> Ints:
        """The program's columns of a rig."""
        return np.array([start + rig[name] for name, start in self.offsets.items()], dtype=np.int64)

    def balances(self, rig: Rig) -> tuple[Balance, ...]:
        """Every balance of a rig, without any engine. The last ones are kept."""
        key = tuple(rig.values())
        if self._kept.get("rig") != key:
            options = chosen(self.setting, rig)
            self._kept["rig"] = key
            self._kept["balances"] = tuple(balance_of(self.setting, instance, options) for instance in self.instances)
        found: tuple[Balance, ...] = self._kept["balances"]
        return found

    def line(self, slot: str, option: int) -> Line:
        """What an option puts into a slot. It is kept: long answers name the same ones many times."""
        lines: dict[tuple[str, int], Line] = self._kept.setdefault("lines", {})
        if (slot, option) not in lines:
            own = self.setting.slots[slot].one(option)
            paid = float(self.setting.case(None, "", "").paid(own))
            owned = own.item in self.brief.owned and paid == 0.0
            lines[slot, option] = Line(
                slot, own.slot.item_class, own.item, own.label, own.choice, own.count, paid, own.weight, owned=owned
            )
        return lines[slot, option]

    def lines(self, rig: Rig, empty: bool = False) -> tuple[Line, ...]:
        """The rig slot by slot; slots left empty only if asked for."""
        found = (self.line(name, rig[name]) for name in self.setting.slots)
        return tuple(line for line in found if empty or line.item != NONE)

    def totals(self, rig: Rig) -> Totals:
        """Price, weight and yearly cost, from the integer costs that were compared."""
        columns = self.columns_of(rig)
        costs = self.costs
        return Totals(
            int(costs["price"][columns].sum()) / 100.0,
            int(costs["weight"][columns].sum()) / 1000.0,
            int(costs["yearly-cost"][columns].sum()) / 100.0,
        )


def _placed(error: TooLarge, catalog: Catalog) -> InputError | TooLarge:
    """The error with file and line of the item it names, where they are known."""
    source = catalog.sources.get(error.item)
    return error if source is None else InputError([error.at(source.file, source.line)])


def ask(catalog: Catalog, brief: Brief, by: str | None = None) -> Asked:
    """Lay a brief over a catalog. The rules read; nothing is solved yet."""
    for rule in brief.waived:
        if rule not in RULES or RULES[rule].basis is not Basis.PRACTICE:
            raise EntryError(f'waived "{rule}"', "the id of a rule that is practice", "taking it out of `waived`")
    setting = Setting(brief, build_options(catalog), {item.id: item for item in catalog.classes["material"]})
    return Asked(catalog, brief, setting, instances(setting), by or brief.by)
