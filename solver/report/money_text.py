"""Money a person decides by, in words and as plain data: the same block under every answer that shows a rig.

Contents: `money_lines` (text), `money_data` (JSON), `cents`, `even_words`.
"""

from __future__ import annotations

from collections.abc import Callable
from math import ceil
from typing import Any

from solver.answers.facts import MoneyFacts
from solver.quantities import factor_of
from solver.report.layout import Table, paragraph
from solver.rules.sentence import figure

_WEEK = factor_of("week")

FIGURES: dict[str, Callable[[MoneyFacts], float | None]] = {
    "start_up": lambda m: m.start_up,
    "equipment": lambda m: m.equipment,
    "tax_and_freight": lambda m: m.tax_and_freight,
    "training": lambda m: m.training,
    "first_material": lambda m: m.first_material,
    "own_money": lambda m: m.own_money,
    "loan": lambda m: m.loan,
    "loan_payment": lambda m: m.loan_payment,
    "loan_months": lambda m: m.loan_months,
    "delivery_weeks": lambda m: m.delivery_time / _WEEK,
    "cash_until_delivery": lambda m: m.cash_until_delivery,
    "yearly_cost": lambda m: m.yearly_cost,
    "fixed_yearly_cost": lambda m: m.fixed_yearly_cost,
    "fuel_a_year": lambda m: m.fuel_a_year,
    "days_a_year": lambda m: m.days_a_year,
    "board_feet_a_year": lambda m: m.board_feet_a_year,
    "foam_price": lambda m: m.foam_price,
    "material_per_board_foot": lambda m: m.material_per_board_foot,
    "labour_per_board_foot": lambda m: m.labour_per_board_foot,
    "fuel_per_board_foot": lambda m: m.fuel_per_board_foot,
    "cost_per_board_foot": lambda m: m.cost_per_board_foot,
    "contribution_per_board_foot": lambda m: m.contribution_per_board_foot,
    "break_even_board_feet": lambda m: m.break_even_board_feet,
    "break_even_days": lambda m: m.break_even_days,
    "break_even_share": lambda m: m.break_even_share,
}
"""Every figure by its key in JSON and frames. Sums are USD, those of a board foot USD/board_feet; `loan_payment` is a
month's; a share is 0 to 1. Break-even figures are empty where the rig never breaks even."""


def money_data(money: MoneyFacts) -> dict[str, Any]:
    """All figures, keys as in `FIGURES`."""
    found = {key: of(money) for key, of in FIGURES.items()}
    return {key: None if value is None else round(float(value), _digits(key)) + 0.0 for key, value in found.items()}


def _digits(key: str) -> int:
    return 4 if key.endswith(("_per_board_foot", "_share")) else 2


def cents(value: float) -> str:
    """Money of a board foot, to the tenth of a cent.

    >>> cents(0.7193), cents(-0.05)
    ('$0.719', '-$0.050')
    """
    return f"{'-' if value < 0 else ''}${abs(value):.3f}"


def money_lines(money: MoneyFacts, width: int) -> list[str]:
    """Two small tables: what it takes to start, and what a board foot must bring; then the break-even in a sentence."""
    return [*_start(money).lines(width), "", *_running(money).lines(width), "", *paragraph(even_words(money), width)]


def _start(m: MoneyFacts) -> Table:
    weeks = m.delivery_time / _WEEK
    rows = [
        ("equipment, vehicle, safety, tools, spares", _usd(m.equipment)),
        ("tax and freight", _usd(m.tax_and_freight)),
        ("training", _usd(m.training)),
        ("first material", _usd(m.first_material) if m.first_material else "not asked for"),
        ("start-up total", _usd(m.start_up)),
        ("of it own money, the down payment", _usd(m.own_money)),
        (f"loan payment a month ({m.loan_months} months on {_usd(m.loan)})", _usd(m.loan_payment)),
        (f"cash until delivery (last of it after {weeks:.3g} weeks)", _usd(m.cash_until_delivery)),
    ]
    return Table(("to start", "USD"), rows, "<>")


def _running(m: MoneyFacts) -> Table:
    days, feet = m.days_a_year, m.board_feet_a_year
    fixed, fuel = m.fixed_yearly_cost, m.fuel_a_year
    rows = [
        ("capital recovery and upkeep", _usd(fixed), cents(fixed / feet)),
        ("fuel", _usd(fuel), cents(m.fuel_per_board_foot)),
        ("yearly cost of the rig", _usd(m.yearly_cost), cents(m.yearly_cost / feet)),
        ("material", _usd(m.material_per_board_foot * feet), cents(m.material_per_board_foot)),
        ("crew, at the brief's rate for an hour", _usd(m.labour_per_board_foot * feet), cents(m.labour_per_board_foot)),
        ("all costs", _usd(m.cost_per_board_foot * feet), cents(m.cost_per_board_foot)),
        ("price of the foam", _usd(m.foam_price * feet), cents(m.foam_price)),
    ]
    return Table((f"{days:g} days, {feet:,.0f} board feet a year", "USD a year", "a board foot"), rows, "<>>")


def even_words(m: MoneyFacts) -> str:
    """Where the rig breaks even, or that it does not; and what is left out."""
    share, days, feet = m.break_even_share, m.break_even_days, m.break_even_board_feet
    left_out = "Travel, rent, insurance and idle wages are left out. Common practice, no source."
    if share is None or days is None or feet is None:
        each = m.foam_price - m.contribution_per_board_foot
        return (
            f"It does not break even at this price: material, crew and fuel take {cents(each)} of a board foot that "
            f"brings {cents(m.foam_price)}. {left_out}"
        )
    count = ceil(days - 1e-9)
    words = (
        f"Breaks even at {feet:,.0f} board feet a year, {count:,} day{'' if count == 1 else 's'} of spraying"
        f" ({share:.0%} of the brief's {m.days_a_year:g}): a board foot brings {cents(m.contribution_per_board_foot)} "
        "over material, crew and fuel."
    )
    if share > 1.0:
        words += " That is more than the brief's year: at these days the rig loses money."
    return f"{words} {left_out}"


def _usd(value: float) -> str:
    return figure(value, "USD")
