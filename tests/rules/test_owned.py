"""OWN-01 and OWN-02: what is owned is kept, what is unwanted is left out."""

from __future__ import annotations

from typing import Any

import pytest

from solver.rules import RULES
from solver.rules.instances import Setting
from tests.rules.small import RuleCase, assert_case, assert_effects, brief, judge, none, setting, table


def rig(vehicle: int, cooler: int = 1, **changes: Any) -> tuple[Setting, dict[str, int]]:
    """A new truck or a used one; a loud cooler or none; two hydraulic feed pumps apart."""
    case = setting(
        brief(**changes),
        table("proportioner", {"item": "hydraulic-one", "drive": "hydraulic"}, {"item": "air-one", "drive": "air"}),
        table("feed_pump_a", {"item": "stick"}, {"item": "diaphragm"}),
        table("feed_pump_b", {"item": "stick"}, {"item": "diaphragm"}),
        table("body_cooler", {"item": "cooler", "tags": ("loud",)}, none()),
        table("vehicle", {"item": "new-one", "condition": "new"}, {"item": "used-one", "condition": "used"}),
    )
    return case, {"vehicle": vehicle, "body_cooler": cooler}


NEW, USED = 0, 1
CASES: dict[str, RuleCase] = {
    "OWN-01": RuleCase(
        "OWN-01",
        rig(USED, owned=["used-one"]),
        rig(NEW, owned=["used-one"]),
        "The owner has one for the slot vehicle that is to be kept, and this is another.",
    ),
    "OWN-02": RuleCase(
        "OWN-02",
        rig(NEW, unwanted={"features": ["used"]}),
        rig(USED, unwanted={"features": ["used"]}),
        "The brief leaves out what fills the slot vehicle.",
    ),
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_passes_and_trips(case: RuleCase) -> None:
    assert_case(case)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_effects(case: RuleCase) -> None:
    assert_effects(case)


@pytest.mark.parametrize("rule", CASES)
def test_ownership_is_background(rule: str) -> None:
    assert RULES[rule].background


def test_nothing_owned_and_nothing_unwanted_asks_for_nothing() -> None:
    case, chosen = rig(NEW)
    assert judge("OWN-01", case, chosen) == ()
    assert judge("OWN-02", case, chosen) == ()


def test_one_owned_pump_fills_side_a_alone() -> None:
    case, chosen = rig(NEW, owned=["diaphragm"])
    found = {balance.place.part: balance.holds for balance in judge("OWN-01", case, chosen)}
    assert found == {"feed pump a": False}


def test_of_two_owned_for_one_slot_either_will_do() -> None:
    for vehicle in (NEW, USED):
        case, chosen = rig(vehicle, owned=["new-one", "used-one"])
        assert all(balance.holds for balance in judge("OWN-01", case, chosen))


@pytest.mark.parametrize("unwanted", [
    {"items": ["cooler"]},
    {"classes": ["body_cooler"]},
    {"features": ["loud"]},
    {"items": ["cooler"], "classes": ["body_cooler"], "features": ["loud"]},
])  # fmt: skip
def test_items_classes_and_features_are_left_out(unwanted: dict[str, Any]) -> None:
    assert all(balance.holds for balance in judge("OWN-02", *rig(NEW, cooler=1, unwanted=unwanted)))
    assert [balance.holds for balance in judge("OWN-02", *rig(NEW, cooler=0, unwanted=unwanted))] == [False]


def test_a_drive_can_be_unwanted() -> None:
    case, chosen = rig(NEW, unwanted={"features": ["air"]})
    assert [balance.holds for balance in judge("OWN-02", case, {**chosen, "proportioner": 0})] == [True]
    assert [balance.holds for balance in judge("OWN-02", case, {**chosen, "proportioner": 1})] == [False]


def test_what_is_owned_is_never_unwanted() -> None:
    case, chosen = rig(USED, owned=["used-one"], unwanted={"features": ["used"]})
    assert all(balance.holds for rule in CASES for balance in judge(rule, case, chosen))
