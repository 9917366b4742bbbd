"""MONEY-01, the start-up total added up by hand."""

from __future__ import annotations

from typing import Any

import pytest

from solver.rules.instances import Setting
from tests.rules.small import RuleCase, assert_case, assert_effects, brief, judge, margins, material, setting, table

SHARES = {"tax": "7 %", "freight": "3 %", "training": "1500 USD", "first_material": True}


def rig(budget: str | None, **changes: Any) -> tuple[Setting, dict[str, int]]:
    """A proportioner of $30,000, a ladder of $200 and a truck of $60,000 that the owner has."""
    limits = {"budget": budget} if budget else {}
    case = setting(
        brief(limits=limits, owned=["truck"], money={**SHARES, **changes}),
        table("proportioner", {"price": "30000 USD"}),
        table("vehicle", {"item": "truck", "price": "60000 USD"}),
        table("ladder", {"price": "200 USD"}),
        materials=(material(price="2500 USD", weight="1150 lb"),),
    )
    return case, {}


CASES: dict[str, RuleCase] = {
    # 30,200 x 1.10 = 33,220, training 1,500, two sets at 2,500: 39,720
    "MONEY-01": RuleCase(
        "MONEY-01",
        rig("40000 USD"),
        rig("39000 USD"),
        "The start-up total is $39,720, the budget is $39,000: $720 short.",
    )
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_passes_and_trips(case: RuleCase) -> None:
    assert_case(case)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_effects(case: RuleCase) -> None:
    assert_effects(case)


def test_first_material_counts_only_if_asked() -> None:
    assert margins("MONEY-01", *rig("40000 USD"))["///"] == pytest.approx(280.0)
    assert margins("MONEY-01", *rig("40000 USD", first_material=False))["///"] == pytest.approx(5280.0)


def test_no_budget_asks_for_nothing() -> None:
    assert judge("MONEY-01", *rig(None)) == ()
