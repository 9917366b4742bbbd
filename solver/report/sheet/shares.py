"""Where the money and where the weight goes: sums over groups of slots, largest first.

Contents: `Share`, `money_shares` (parts of the start-up total), `weight_shares` (parts of the loaded vehicle's weight).
"""

from __future__ import annotations

from dataclasses import dataclass

from solver.answers.facts import Picked
from solver.answers.sheet import SheetFacts
from solver.report.as_data import number
from solver.report.sheet.subjects import group_of
from solver.rules.record import Side
from solver.rules.worksheet import Worksheet


@dataclass(frozen=True)
class Share:
    """One part of a whole: what, how much, in which unit."""

    what: str
    value: float
    unit: str


def _largest_first(found: dict[str, float], unit: str) -> tuple[Share, ...]:
    kept = [Share(what, number(value, 2), unit) for what, value in found.items() if round(value, 2) > 0.0]
    return tuple(sorted(kept, key=lambda share: -share.value))


def money_shares(picked: Picked) -> tuple[Share, ...]:
    """Parts of the start-up total [USD]."""
    if picked.money is None:
        return ()
    found: dict[str, float] = {}
    for line in picked.rig:
        group = group_of(line.slot)
        found[group] = found.get(group, 0.0) + line.price
    money = picked.money
    found |= {"tax and freight": money.tax_and_freight, "training": money.training, "first material": money.first_material}
    return _largest_first(found, "USD")


def weight_shares(facts: SheetFacts) -> tuple[Share, ...]:
    """Parts of the loaded vehicle's weight [lb], from the working of its gross weight (WT-02)."""
    sheet = gross_weight(facts)
    found: dict[str, float] = {}
    for entry in sheet.entries if sheet else ():
        if entry.side is Side.NEED:
            group = _group(entry.what, entry.slot)
            found[group] = found.get(group, 0.0) + entry.value
    return _largest_first(found, "lb")


def gross_weight(facts: SheetFacts) -> Worksheet | None:
    """The working of the loaded vehicle's weight."""
    return next((sheet for sheet in facts.worksheets if sheet.rule.id == "WT-02"), None)


def _group(what: str, slot: str) -> str:
    if what == "full drums":
        return "material in full drums"
    if what.startswith("fuel"):
        return "fuel"
    if what.startswith("crew"):
        return "crew"
    return "empty vehicle" if slot == "vehicle" else group_of(slot)
