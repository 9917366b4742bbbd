"""What can be made least, as one integer per option: price (cents), weight (grams), yearly cost (cents a year).

Contents: `OBJECTIVES`, `objective_columns`, `FUEL_RULE`.

Yearly cost = capital recovery on what is paid + upkeep in money and hours + fuel for the stated days, the duties taking
equal shares of the year. The fuel is that of the fuel rule's own needs, so the two can never differ. What does not depend
on the rig (material, wages of spraying) is left out here and reported apart.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Callable, Mapping

import numpy as np
from numpy.typing import NDArray

from solver.formulas.money import capital_recovery
from solver.options.table import SlotOptions
from solver.program.matrix import BOUND, Ints, TooLarge
from solver.rules.case import Case
from solver.rules.instances import Instance, Setting
from solver.rules.record import Side, Term

Floats = NDArray[np.float64]
OBJECTIVES = ("price", "weight", "yearly-cost")
FUEL_RULE = "PWR-06"
MOST_COST = BOUND / 2**11
"""Largest cost of one option: two thousand slots of it still add up exactly."""


def _price(setting: Setting, table: SlotOptions) -> Floats:
    paid: Floats = setting.case(None, "", "").paid(table)
    return paid * 100.0


def _weight(setting: Setting, table: SlotOptions) -> Floats:
    return table.weight * 1000.0


FuelTerms = dict[str, list[tuple[Term, Case, float]]]


def _fuel_terms(setting: Setting, instances: tuple[Instance, ...]) -> FuelTerms:
    """Per slot, the needs of the fuel rule with their share of a mean day of the duties."""
    fuel = [instance for instance in instances if instance.rule.id == FUEL_RULE]
    count = Counter(instance.place.duty for instance in fuel)
    found: FuelTerms = {}
    for instance in fuel:
        share = 1.0 / (count[instance.place.duty] * len(count))
        for term in instance.terms:
            if term.side is Side.NEED:
                for name in setting.slots_of(term):
                    found.setdefault(name, []).append((term, instance.case, share))
    return found


def _fuel_volume(terms: FuelTerms, table: SlotOptions) -> Floats:
    """Fuel of this slot's options on a mean day of the duties [m3]."""
    total = np.zeros(len(table))
    for term, case, share in terms.get(table.slot.name, ()):
        total += np.asarray(term.of(table, case), float) * share
    return total


def _yearly_cost(setting: Setting, terms: FuelTerms, table: SlotOptions) -> Floats:
    money = setting.brief.money
    paid = setting.case(None, "", "").paid(table)
    capital = capital_recovery(paid, paid * money.resale, money.interest, money.years)
    upkeep = table.upkeep_cost + table.upkeep_time * money.labour_rate
    fuel = _fuel_volume(terms, table) * money.days_a_year * money.fuel_price
    return np.asarray(capital + upkeep + fuel, float) * 100.0


def objective_columns(
    setting: Setting, instances: tuple[Instance, ...]
) -> Mapping[str, Callable[[SlotOptions], Floats]]:
    """The cost functions of the program, by name."""
    terms = _fuel_terms(setting, instances)
    return {
        "price": lambda table: _price(setting, table),
        "weight": lambda table: _weight(setting, table),
        "yearly-cost": lambda table: _yearly_cost(setting, terms, table),
    }


def cost_rows(setting: Setting, functions: Mapping[str, Callable[[SlotOptions], Floats]]) -> dict[str, Ints]:
    """Integer costs over all columns, rounded to the nearest cent or gram once and for all."""
    return {
        by: np.concatenate([_counted(by, of(table), table) for table in setting.slots.values()])
        for by, of in functions.items()
    }


def _counted(by: str, values: Floats, table: SlotOptions) -> Ints:
    """Costs of a slot's options in whole numbers, so small that those of a rig add up exactly."""
    good = np.abs(values) <= MOST_COST
    if not good.all():
        item = table.items[int(np.flatnonzero(~good)[0])]
        raise TooLarge(f'the {by.replace("-", " ")} of the item "{item}"', item)
    return np.rint(values).astype(np.int64)
