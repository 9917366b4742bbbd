"""WT-01 .. WT-09 on a rig whose weights are summed by hand.

Aboard: proportioner 500 lb, generator 1,500 lb with 20 gal of fuel, extra tank 50 lb with 10 gal, a ladder of 60 lb,
two sets of 1,150 lb. Fuel 30 gal x 7.07 lb/gal = 212.1 lb. Load 500 + 1,500 + 50 + 60 + 2,300 + 212.1 = 4,622.1 lb;
crew 2 x 200 lb.
"""

from __future__ import annotations

from typing import Any

import pytest

from solver.brief.models import Brief
from solver.rules.instances import Setting
from solver.rules.weight import CARRIED
from tests.rules.small import (
    RuleCase,
    assert_case,
    assert_effects,
    brief,
    judge,
    margins,
    material,
    none,
    setting,
    table,
)

TRUCK = {"item": "truck", "kind": "truck", "hitch": "none", "weight": "9000 lb"}
TRAILER = {"item": "trailer", "kind": "trailer", "hitch": "conventional", "weight": "4000 lb"}
GOOSENECK = {**TRAILER, "item": "gooseneck", "hitch": "gooseneck"}
TOW = {"item": "tow", "weight": "5400 lb", "takes_conventional": 1.0}


def rig(vehicle: dict[str, Any], tow: Any = None, asked: Brief | None = None) -> tuple[Setting, dict[str, int]]:
    """The load above on this vehicle behind this tow vehicle."""
    case = setting(
        asked or brief(),
        table("proportioner", {"weight": "500 lb"}),
        table("generator", {"weight": "1500 lb", "tank": "20 gal"}),
        table("fuel_tank", {"weight": "50 lb", "volume": "10 gal"}),
        table("vehicle", vehicle),
        table("tow_vehicle", tow or none()),
        table("ladder", {"weight": "60 lb"}),
        materials=(material(weight="1150 lb"),),
    )
    return case, {}


LICENCE = brief(limits={"combined_rating": "26000 lb", "trailer_rating": "10000 lb"})

CASES: dict[str, RuleCase] = {
    case.rule: case
    for case in (
        RuleCase(  # 4,622.1 + 400 = 5,022.1 lb
            "WT-01",
            rig({**TRUCK, "payload": "5100 lb"}),
            rig({**TRUCK, "payload": "5000 lb"}),
            "Everything aboard weighs 5,022 lb, but the vehicle may carry 5,000 lb: 22 lb too much.",
        ),
        RuleCase(  # 5,022.1 + 9,000 = 14,022.1 lb
            "WT-02",
            rig({**TRUCK, "gvwr": "14500 lb"}),
            rig({**TRUCK, "gvwr": "14000 lb"}),
            "The loaded vehicle weighs 14,022 lb, its gross rating is 14,000 lb: 22 lb too much.",
        ),
        RuleCase(  # 4,622.1 + 4,000 = 8,622.1 lb
            "WT-03",
            rig(TRAILER, {**TOW, "tow_rating": "9000 lb"}),
            rig(TRAILER, {**TOW, "tow_rating": "8600 lb"}),
            "The loaded trailer weighs 8,622 lb, but the tow vehicle may tow 8,600 lb: 22 lb too much.",
        ),
        RuleCase(
            "WT-04",
            rig({**TRAILER, "gvwr": "9990 lb"}, {**TOW, "gvwr": "14000 lb"}, LICENCE),
            rig({**TRAILER, "gvwr": "14000 lb"}, {**TOW, "gvwr": "14000 lb"}, LICENCE),
            "The gross ratings of the trailer with its tow vehicle come to 28,000 lb, the licence allows 26,000 lb: "
            "2,000 lb too much.",
        ),
        RuleCase(  # 8,622.1 + 5,400 + 400 = 14,422.1 lb
            "WT-05",
            rig(TRAILER, {**TOW, "gcwr": "15000 lb"}),
            rig(TRAILER, {**TOW, "gcwr": "14400 lb"}),
            "Trailer, tow vehicle and crew weigh 14,422 lb, the combined rating is 14,400 lb: 22 lb too much.",
        ),
        RuleCase(  # 0.15 x 8,622.1 + 400 = 1,693.3 lb
            "WT-06",
            rig(TRAILER, {**TOW, "payload": "1700 lb"}),
            rig(TRAILER, {**TOW, "payload": "1600 lb"}),
            "Hitch load and crew come to 1,693 lb, but the tow vehicle may carry 1,600 lb: 93 lb too much.",
        ),
        RuleCase(
            "WT-07",
            rig(TRAILER, TOW),
            rig(TRAILER),
            "The trailer has a conventional hitch and no tow vehicle here that takes it.",
        ),
        RuleCase(  # 1,693.3 + 5,400 = 7,093.3 lb
            "WT-08",
            rig(TRAILER, {**TOW, "gvwr": "7100 lb"}),
            rig(TRAILER, {**TOW, "gvwr": "7000 lb"}),
            "Tow vehicle, hitch load and crew weigh 7,093 lb, its gross rating is 7,000 lb: 93 lb too much.",
        ),
        RuleCase(
            "WT-09",
            rig({**TRAILER, "gvwr": "9990 lb"}, TOW, LICENCE),
            rig({**TRAILER, "gvwr": "14000 lb"}, TOW, LICENCE),
            "The trailer is rated 14,000 lb, the licence allows 10,000 lb: 4,000 lb too much.",
        ),
    )
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_passes_and_trips(case: RuleCase) -> None:
    assert_case(case)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_effects(case: RuleCase) -> None:
    assert_effects(case)


def test_neither_vehicle_is_carried() -> None:
    assert "vehicle" not in CARRIED
    assert "tow_vehicle" not in CARRIED


def test_the_crew_rides_in_the_truck_but_not_in_the_trailer() -> None:
    truck, _ = rig({**TRUCK, "payload": "6000 lb"})
    trailer, _ = rig({**TRAILER, "payload": "6000 lb"}, TOW)
    assert margins("WT-01", truck)["///"] == pytest.approx(6000 - 5022.1)
    assert margins("WT-01", trailer)["///"] == pytest.approx(6000 - 4622.1)


def test_a_gooseneck_puts_a_quarter_on_the_hitch() -> None:
    case, _ = rig(GOOSENECK, {**TOW, "payload": "3000 lb", "gvwr": "9000 lb", "takes_gooseneck": 1.0})
    on_hitch = 0.25 * 8622.1
    assert margins("WT-06", case) == {"///gooseneck hitch": pytest.approx(3000 - 400 - on_hitch)}
    assert margins("WT-08", case) == {"///gooseneck hitch": pytest.approx(9000 - 5400 - 400 - on_hitch)}


def test_a_gooseneck_needs_a_tow_vehicle_that_takes_it() -> None:
    case, _ = rig(GOOSENECK, TOW)
    assert [balance.holds for balance in judge("WT-07", case)] == [True, False]


@pytest.mark.parametrize("rule", ["WT-03", "WT-05", "WT-06", "WT-08", "WT-09"])
def test_towing_is_not_judged_for_a_truck(rule: str) -> None:
    case, _ = rig({**TRUCK, "gvwr": "30000 lb"}, None, LICENCE)
    assert not any(balance.applies for balance in judge(rule, case))


def test_the_licence_of_a_truck_counts_the_truck_alone() -> None:
    case, _ = rig({**TRUCK, "gvwr": "25950 lb"}, {**TOW, "gvwr": "7000 lb"}, LICENCE)
    assert margins("WT-04", case) == {"///truck": pytest.approx(50.0)}


@pytest.mark.parametrize("rule", ["WT-04", "WT-09"])
def test_no_limit_asks_for_nothing(rule: str) -> None:
    case, _ = rig({**TRUCK, "gvwr": "30000 lb"})
    assert judge(rule, case) == ()
