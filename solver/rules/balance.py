"""The balance of a rule on a given rig, worked out from its terms in floating point, without any engine.

Contents: `Rig`, `Balance`, `balances`, `RESOLUTION` (how finely a unit is counted), `in_unit`.

A rig fits if and only if every integer row holds (see `solver/program/`). The balance here is what is printed and what
re-checks every answer. A margin that is nothing but floating-point noise (a millionth of the resolution) is given as 0.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import isfinite

from solver.errors import InternalError
from solver.options.table import OneOption
from solver.quantities import to_unit
from solver.rules.instances import Instance, Place, Setting, instances
from solver.rules.record import RULES, Rule, Side

RESOLUTION: dict[str, float] = {
    "lb/min": 0.001, "psi": 0.1, "ft": 0.01, "W": 1.0, "kW": 0.001, "kVA": 0.001, "kWh": 0.001, "scfm": 0.001,
    "gal": 0.001, "lb": 0.01, "USD": 0.01, "ft2": 0.001, "delta_degF": 0.001, "degF": 0.001, "in": 0.001, "h": 0.001,
    "day": 0.001, "week": 0.001, "set": 0.001, "1": 1.0, "gpm": 0.0001,
}  # fmt: skip
"""Resolution of the integer rows, in the unit of the rule: coarse enough to stay exact, finer than any figure is known."""

Rig = Mapping[str, int]
"""Index of the chosen option of every slot."""


@dataclass(frozen=True)
class Balance:
    """What a rule comes to on a rig in one place. All figures in the rule's unit; margin = supply - need."""

    place: Place
    unit: str
    need: float
    supply: float
    applies: bool = True

    @property
    def margin(self) -> float:
        """Supply less need; noise counted as nothing."""
        step = RESOLUTION[self.unit] * 1e-5
        margin = self.supply - self.need
        return 0.0 if abs(margin) < step else margin

    @property
    def holds(self) -> bool:
        """Whether the rule holds here."""
        return not self.applies or self.margin >= 0.0

    @property
    def slack_share(self) -> float:
        """Margin as a share of the larger side: how tight the balance is."""
        size = max(abs(self.need), abs(self.supply))
        return self.margin / size if size else float("inf")


def in_unit(value: float, unit: str) -> float:
    """An SI value in the rule's unit; counts ("1", "set") are themselves."""
    return value if unit in ("1", "set") else float(to_unit(value, unit))


def chosen(setting: Setting, rig: Rig) -> dict[str, OneOption]:
    """The chosen option of every slot, to be read by terms."""
    return {name: table.one(rig[name]) for name, table in setting.slots.items()}


def term_value(setting: Setting, instance: Instance, side: Side, options: Mapping[str, OneOption]) -> float:
    """Sum of the terms on one side [SI]."""
    total = 0.0
    for term in instance.terms:
        if term.side is not side:
            continue
        if term.slot is None:
            total += float(term.of(None, instance.case))
        else:
            for name in setting.slots_of(term):
                total += float(term.of(options[name], instance.case))
    return total


def balance_of(setting: Setting, instance: Instance, options: Mapping[str, OneOption]) -> Balance:
    """The balance of one instance on the chosen options."""
    rule = instance.rule
    need = in_unit(term_value(setting, instance, Side.NEED, options), rule.unit)
    supply = in_unit(term_value(setting, instance, Side.SUPPLY, options), rule.unit)
    if not (isfinite(need) and (isfinite(supply) or supply > 0)):
        raise InternalError(f"{instance.place}: the balance is not a number")
    applies = True
    if instance.guard is not None:
        applies = bool(instance.guard.when(options[instance.guard.slot], instance.case) > 0.5)
    return Balance(instance.place, rule.unit, need, supply, applies)


def balances(setting: Setting, rig: Rig, rules: Mapping[str, Rule] = RULES) -> tuple[Balance, ...]:
    """Every balance of a rig, in the order of the rules."""
    options = chosen(setting, rig)
    return tuple(balance_of(setting, instance, options) for instance in instances(setting, rules))
