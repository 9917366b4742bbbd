"""The parts of the page as plain records that the templates lay out: list, bars, what binds, money.

Contents: `ListRow`, `list_rows`, `KitGroup`, `kit_groups`, `Bar`, `bars`, `BindingRow`, `binding_rows`, `MoneyRow`,
`start_rows`, `year_rows`, `foot_rows`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from solver.answers.facts import Binding, Line, MoneyFacts, Picked
from solver.answers.sheet import SheetFacts
from solver.report.pick_text import titled
from solver.report.sheet.figures import Figure, Text, dollars, fig, key, pounds_of, typeset
from solver.report.sheet.reasons import reason_words
from solver.report.sheet.shares import Share
from solver.report.sheet.subjects import KIT_TITLES, is_kit, slot_words
from solver.rules import RULES
from solver.rules.sentence import binding_sentence


# --- the list ---------------------------------------------------------------------------------------------------------
@dataclass(frozen=True)
class ListRow:
    """One line of the shopping list."""

    slot: str
    label: str
    choice: str
    item: str
    why: str
    price: Figure | str
    weight: Figure


def list_rows(picked: Picked, facts: SheetFacts, units: str, kit: bool = False) -> tuple[ListRow, ...]:
    """The main lines of the list, or the kit."""
    return tuple(
        _row(i, line, facts, picked.by, units) for i, line in enumerate(picked.rig) if is_kit(line.item_class) == kit
    )


def _row(i: int, line: Line, facts: SheetFacts, by: str, units: str) -> ListRow:
    price = dollars(f"pick.rig.{i}.price", line.price)
    return ListRow(
        slot_words(line.slot, line.item_class),
        typeset(line.label),
        line.choice,
        line.item,
        reason_words(facts.reasons[i], by, units),
        Figure(price.of, price.value, "owned") if line.owned else price,
        pounds_of(f"pick.rig.{i}.weight_lb", line.weight, units),
    )


@dataclass(frozen=True)
class KitGroup:
    """One class of the rest of the start-up list."""

    title: str
    rows: tuple[ListRow, ...]


def kit_groups(picked: Picked, facts: SheetFacts, units: str) -> tuple[KitGroup, ...]:
    """Safety, tools, spare parts and winter kit, as far as the rig has them."""
    rows = list_rows(picked, facts, units, kit=True)
    return tuple(
        KitGroup(title, kept)
        for name, title in KIT_TITLES
        if (kept := tuple(row for row in rows if row.slot == name.replace("_", " ")))
    )


# --- bars -------------------------------------------------------------------------------------------------------------
@dataclass(frozen=True)
class Bar:
    """One bar: what, its figure, its length in percent of the longest, its share of the whole in words."""

    what: str
    figure: Figure
    length: float
    share: str


def bars(shares: Sequence[Share], of: str, units: str) -> tuple[Bar, ...]:
    """Bars of parts of a whole, largest first as they come."""
    whole = sum(share.value for share in shares) or 1.0
    longest = max((share.value for share in shares), default=1.0)
    return tuple(
        Bar(
            share.what,
            dollars(f"{of}.{k}.value", share.value)
            if share.unit == "USD"
            else fig(f"{of}.{k}.value", share.value, share.unit, units),
            round(100.0 * share.value / longest, 2),
            f"{share.value / whole:.0%}",
        )
        for k, share in enumerate(shares)
    )


# --- what binds -------------------------------------------------------------------------------------------------------
@dataclass(frozen=True)
class BindingRow:
    """One binding rule: what dropping it would save, what it forces, which duty asks for it, what it reads."""

    rule: str
    title: str
    basis: str
    saving: Figure
    words: str
    duties: Text
    reads: str


def saving_of(of: str, value: float, by: str, units: str) -> Figure:
    """A saving in the unit of the objective."""
    return pounds_of(of, value, units) if by == "weight" else dollars(of, value)


def binding_rows(picked: Picked, units: str, of: str = "pick.binding") -> tuple[BindingRow, ...]:
    """Every binding rule, the largest saving first."""
    return tuple(_binding(f"{of}.{k}", entry, picked.by, units) for k, entry in enumerate(picked.binding))


def _binding(of: str, entry: Binding, by: str, units: str) -> BindingRow:
    rule = RULES[entry.rule]
    duties: list[str | Figure] = []
    if len(entry.by_duty) > 1:
        told = {duty: saving for duty, saving in entry.by_duty.items() if saving > 0}
        for k, (duty, saving) in enumerate(told.items()):
            before = "Dropped in one duty only: " if k == 0 else "; "
            duties += [f"{before}{duty} ", saving_of(f"{of}.by_duty.{key(duty)}", saving, by, units)]
        duties.append("." if told else f"Needed by any one of the duties {', '.join(entry.by_duty)}.")
    return BindingRow(
        rule.id,
        titled(rule),
        rule.basis.value,
        saving_of(f"{of}.saving", entry.saving, by, units),
        typeset(binding_sentence(entry.balance, units)) if entry.balance is not None else "",
        tuple(duties),
        ", ".join(name.replace("_", " ") for name in entry.reads),
    )


# --- money ------------------------------------------------------------------------------------------------------------
@dataclass(frozen=True)
class MoneyRow:
    """One line of a money table; `strong` where it is a sum."""

    what: Text
    figure: Figure | str
    strong: bool = False


def _usd(name: str, m: MoneyFacts, digits: int = 0) -> Figure:
    return dollars(f"pick.money.{name}", getattr(m, name), digits)


def start_rows(m: MoneyFacts, data: dict[str, Any]) -> tuple[MoneyRow, ...]:
    """What it takes to start."""
    money = data["pick"]["money"]
    weeks = Figure("pick.money.delivery_weeks", money["delivery_weeks"], f"{money['delivery_weeks']:.3g} weeks")
    months = Figure("pick.money.loan_months", money["loan_months"], f"{money['loan_months']:g} months")
    first = _usd("first_material", m)
    return (
        MoneyRow(("equipment, vehicle, safety, tools, spares",), _usd("equipment", m)),
        MoneyRow(("tax and freight",), _usd("tax_and_freight", m)),
        MoneyRow(("training",), _usd("training", m)),
        MoneyRow(("first material",), first if m.first_material else Figure(first.of, first.value, "not asked for")),
        MoneyRow(("start-up total",), _usd("start_up", m), strong=True),
        MoneyRow(("of it own money, the down payment",), _usd("own_money", m)),
        MoneyRow(("loan payment a month, ", months, " on ", _usd("loan", m)), _usd("loan_payment", m)),
        MoneyRow(("cash until the last delivery, after ", weeks), _usd("cash_until_delivery", m)),
    )


def year_rows(m: MoneyFacts) -> tuple[MoneyRow, ...]:
    """What a year of the brief's days takes, the rig alone."""
    return (
        MoneyRow(("capital recovery and upkeep",), _usd("fixed_yearly_cost", m)),
        MoneyRow(("fuel",), _usd("fuel_a_year", m)),
        MoneyRow(("yearly cost of the rig",), _usd("yearly_cost", m), strong=True),
    )


def foot_rows(m: MoneyFacts) -> tuple[MoneyRow, ...]:
    """What a board foot takes and brings."""

    def cents(name: str) -> Figure:
        value = getattr(m, name)
        digits = 2 if name == "foam_price" else 4
        return Figure(f"pick.money.{name}", round(value, digits) + 0.0, f"{'-' if value < 0 else ''}${abs(value):.3f}")

    return (
        MoneyRow(("material",), cents("material_per_board_foot")),
        MoneyRow(("crew, at the brief's rate for an hour",), cents("labour_per_board_foot")),
        MoneyRow(("fuel",), cents("fuel_per_board_foot")),
        MoneyRow(("all costs, the rig's year included",), cents("cost_per_board_foot"), strong=True),
        MoneyRow(("price of the foam",), cents("foam_price")),
        MoneyRow(("left of the price after material, crew and fuel",), cents("contribution_per_board_foot")),
    )
