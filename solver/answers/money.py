"""Money a person decides by, from a rig and the brief's own figures. One function for every answer that shows a rig.

Contents: `money_facts`.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable
from typing import NamedTuple

from solver.answers.ask import Asked
from solver.answers.facts import MoneyFacts
from solver.formulas.earning import break_even_board_feet, days_to_spray, full_cost_per_board_foot, labour_cost
from solver.formulas.foam import board_feet_made
from solver.formulas.money import cash_until_delivery, loan_payment
from solver.options.table import OneOption
from solver.program.objectives import FUEL_RULE
from solver.quantities import factor_of
from solver.rules.balance import Rig, chosen, term_value
from solver.rules.case import Case
from solver.rules.record import Side

_MONTH = factor_of("month")


class _Day(NamedTuple):
    """A mean day of the duties: board feet, material [USD], labour [USD]."""

    board_feet: float
    material: float
    labour: float


def money_facts(asked: Asked, rig: Rig) -> MoneyFacts:
    """Start-up, loan, cash until delivery, yearly cost, cost of a board foot and break-even of a rig.

    The start-up total is the need side of the budget rule: equipment with tax and freight, training, and the first
    material where the brief asks for it. The loan is the start-up total less the down payment and runs from the order.
    Fixed is what does not depend on the days worked: capital recovery and upkeep. A board foot takes its material, its
    share of the crew's hours from warm-up to cleaning at the brief's rate for an hour, and its share of the day's fuel. That
    crew and fuel follow the board feet is common practice, no source; travel, rent and insurance are left out: the unsafe
    side.
    """
    money = asked.brief.money
    case = asked.setting.case(None, "", "")
    options = chosen(asked.setting, rig)
    totals = asked.totals(rig)
    material = case.material_price if money.first_material else 0.0
    extra = totals.price * (money.tax + money.freight)
    start_up = totals.price + extra + money.training + material
    loan = start_up * (1.0 - money.down_payment)
    payment = float(loan_payment(loan, money.interest, money.loan_months))
    wait = _wait(case, options.values())
    day = _mean_day(asked)
    fuel = _fuel_of_a_day(asked, options) * money.fuel_price
    fixed = max(0.0, totals.yearly_cost - fuel * money.days_a_year)  # cents are rounded option by option
    each = (day.material + day.labour + fuel) / day.board_feet
    even = float(break_even_board_feet(fixed, money.foam_price, each)) if money.foam_price > each else None
    days = None if even is None else float(days_to_spray(even, day.board_feet))
    feet = day.board_feet * money.days_a_year
    return MoneyFacts(
        start_up=start_up,
        equipment=totals.price,
        tax_and_freight=extra,
        training=money.training,
        first_material=material,
        own_money=start_up - loan,
        loan=loan,
        loan_payment=payment,
        loan_months=int(money.loan_months),
        delivery_time=wait,
        cash_until_delivery=float(cash_until_delivery(start_up - loan, payment, wait / _MONTH, money.loan_months)),
        yearly_cost=totals.yearly_cost,
        fixed_yearly_cost=fixed,
        fuel_a_year=fuel * money.days_a_year,
        board_feet_a_year=feet,
        days_a_year=float(money.days_a_year),
        material_per_board_foot=day.material / day.board_feet,
        labour_per_board_foot=day.labour / day.board_feet,
        fuel_per_board_foot=fuel / day.board_feet,
        cost_per_board_foot=float(full_cost_per_board_foot(fixed, feet, each)),
        foam_price=money.foam_price,
        contribution_per_board_foot=money.foam_price - each,
        break_even_board_feet=even,
        break_even_days=days,
        break_even_share=None if days is None else days / money.days_a_year,
    )


def _wait(case: Case, options: Iterable[OneOption]) -> float:
    """Longest wait for delivery of anything bought [s]; what is owned is there."""
    return max((o.delivery for o in options if o.item not in case.owned_in(o.slot.name, o.slot.item_class)), default=0.0)


def _mean_day(asked: Asked) -> _Day:
    """The duties take equal shares of the year. Does not depend on the rig."""
    rate, days = asked.brief.money.labour_rate, []
    for duty in asked.brief.duties:
        case = asked.setting.case(duty, "", "")
        liquid, material = case.material_used, case.material
        hours = duty.warm_up_time + duty.spraying_time + duty.cleaning_time
        days.append(
            _Day(
                float(board_feet_made(liquid, material.foam_density, material.field_yield)),
                liquid / case.set_mass * material.price,
                float(labour_cost(case.people, hours, rate)),
            )
        )
    return _Day(*(sum(figures) / len(days) for figures in zip(*days, strict=True)))


def _fuel_of_a_day(asked: Asked, options: dict[str, OneOption]) -> float:
    """Fuel of a mean day of the duties, as the yearly cost counts it: the need side of the fuel rule [m3]."""
    fuel = [instance for instance in asked.instances if instance.rule.id == FUEL_RULE]
    count = Counter(instance.place.duty for instance in fuel)
    return sum(
        term_value(asked.setting, instance, Side.NEED, options) / (count[instance.place.duty] * len(count))
        for instance in fuel
    )
