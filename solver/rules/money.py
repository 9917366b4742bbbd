"""What it costs to start against what there is.

Contents: MONEY-01 budget. Loan payment and yearly cost are shown with the answers, they limit nothing.
"""

from __future__ import annotations

from typing import Any

from solver.rules.case import Case
from solver.rules.record import EVERY, ONCE, Basis, Effect, Rule, Words, declare, need, supply


def _paid(o: Any, c: Case) -> Any:
    return c.paid(o) * (1.0 + c.brief.money.tax + c.brief.money.freight)


def first_material(c: Case) -> float:
    """Price of the material aboard where the brief counts it as start-up money, else nothing [USD]."""
    return c.material_price if c.brief.money.first_material else 0.0


declare(Rule(
    id="MONEY-01",
    title="budget",
    unit="USD",
    basis=Basis.BRIEF,
    source="limit of the brief; prices from the catalog",
    scope=ONCE,
    words=Words(
        fits="The start-up total is {need} of a budget of {supply}: {margin} to spare.",
        fails="The start-up total is {need}, the budget is {supply}: {short} short.",
        binds="The budget decides.",
    ),
    terms=(
        need(EVERY, "price with tax and freight, nothing if owned", _paid),
        need(None, "training", lambda o, c: c.brief.money.training),
        need(None, "first material", lambda o, c: first_material(c)),
        supply(None, "budget", lambda o, c: c.limit("budget")),
    ),
    effects={"budget": Effect.EASES, "sets": Effect.TIGHTENS},
    when=lambda c: c.has_limit("budget"),
    note="Tax and freight are shares of every price but that of material and training. Interest, insurance and fees "
    "are left out: the unsafe side.",
))  # fmt: skip
