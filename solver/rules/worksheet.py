"""The working of one balance on one rig, step by step, from the same terms that made its row.

Contents: `Step`, `Entry`, `Worksheet`, `worksheet`.

A term is run on the one chosen option while formula calls are recorded; the figures, formulas and sources on the sheet are
those of the calls themselves.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from solver.formulas.record import FormulaCall, recording
from solver.options.table import NONE, OneOption
from solver.rules.balance import Balance, balance_of, in_unit
from solver.rules.instances import Instance, Setting
from solver.rules.record import Rule, Side


@dataclass(frozen=True)
class Entry:
    """One term on one slot: what it is, its item, its share of the balance [rule's unit], and the calls behind it."""

    side: Side
    what: str
    slot: str
    item: str
    value: float
    calls: tuple[FormulaCall, ...]


@dataclass(frozen=True)
class Worksheet:
    """One balance worked through."""

    rule: Rule
    balance: Balance
    entries: tuple[Entry, ...]

    @property
    def shown(self) -> tuple[Entry, ...]:
        """Entries that are not nothing: empty slots and items that play no part are left out."""
        return tuple(entry for entry in self.entries if abs(entry.value) > 1e-12)


def worksheet(setting: Setting, instance: Instance, options: Mapping[str, OneOption]) -> Worksheet:
    """The worksheet of one instance on the chosen options. The case is taken anew, so that its own steps are recorded."""
    fresh = setting.case(instance.case.duty_or_none, instance.case.state, instance.case.end)
    entries = []
    for term in instance.terms:
        for name in setting.slots_of(term) if term.slot is not None else ("",):
            option = options[name] if name else None
            with recording() as calls:
                value = float(term.of(option, fresh))
            item = "" if option is None or option.item == NONE else option.item
            entries.append(Entry(term.side, term.what, name, item, _share(value, instance.rule.unit), tuple(calls)))
    return Worksheet(instance.rule, balance_of(setting, instance, options), tuple(entries))


def _share(value: float, unit: str) -> float:
    return in_unit(value, unit)
