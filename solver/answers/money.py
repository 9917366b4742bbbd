"""Money a person decides by, from the picked rig and the brief's own figures.

Contents: `money_facts`.
"""

from __future__ import annotations

from solver.answers.ask import Asked
from solver.answers.facts import MoneyFacts
from solver.formulas.money import loan_payment
from solver.rules.balance import Rig


def money_facts(asked: Asked, rig: Rig) -> MoneyFacts:
    """Start-up total, loan and yearly cost of a rig.

    The start-up total is the need side of the budget rule: equipment with tax and freight, training, and the first
    material where the brief asks for it. The loan is the start-up total less the down payment.
    """
    money = asked.brief.money
    case = asked.setting.case(None, "", "")
    totals = asked.totals(rig)
    material = case.material_price if money.first_material else 0.0
    extra = totals.price * (money.tax + money.freight)
    start_up = totals.price + extra + money.training + material
    loan = start_up * (1.0 - money.down_payment)
    return MoneyFacts(
        start_up=start_up,
        equipment=totals.price,
        tax_and_freight=extra,
        training=money.training,
        first_material=material,
        loan=loan,
        loan_payment=float(loan_payment(loan, money.interest, money.loan_months)),
        loan_months=int(money.loan_months),
        yearly_cost=totals.yearly_cost,
    )
