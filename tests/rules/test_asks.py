"""ASK-01 .. ASK-04: features, and times for parts, upkeep and delivery."""

from __future__ import annotations

import pytest

from solver.brief.models import Brief
from solver.rules.instances import Setting
from tests.rules.small import RuleCase, assert_case, assert_effects, brief, judge, margins, none, setting, table

QUIET, LOUD = 0, 1
LIMITED = brief(limits={"parts_time": "5 day", "upkeep_time": "30 h", "delivery_time": "6 week"})


def rig(asked: Brief, generator: int, used: int = 0) -> tuple[Setting, dict[str, int]]:
    """A quiet generator or a loud one, a new truck or a used one, and a ladder."""
    case = setting(
        asked,
        table(
            "generator",
            {"item": "quiet-one", "tags": ("quiet",), "parts": "4 day", "upkeep_time": "12 h", "delivery": "6 week"},
            {"item": "loud-one", "parts": "9 day", "upkeep_time": "20 h", "delivery": "8 week"},
            none(),
        ),
        table(
            "vehicle",
            {"item": "new-one", "condition": "new", "parts": "3 day", "upkeep_time": "15 h", "delivery": "5 week"},
            {"item": "used-one", "condition": "used", "parts": "3 day", "upkeep_time": "15 h", "delivery": "1 week"},
        ),
        table("ladder", {"parts": "50 day", "upkeep_time": "0.5 h", "delivery": "1 week"}, none()),
    )
    return case, {"generator": generator, "vehicle": used}


ASKED = brief(asked={"generator": ["quiet"]})

CASES: dict[str, RuleCase] = {
    case.rule: case
    for case in (
        RuleCase("ASK-01", rig(ASKED, QUIET), rig(ASKED, LOUD), "Asked for and not there: generator: quiet."),
        RuleCase(
            "ASK-02",
            rig(LIMITED, QUIET),
            rig(LIMITED, LOUD),
            "Parts for the generator take 9 days, 5 days are allowed: 4 days too long.",
        ),
        RuleCase(  # 20 + 15 + 0.5 = 35.5 h
            "ASK-03",
            rig(LIMITED, QUIET),
            rig(LIMITED, LOUD),
            "Upkeep takes 35.5 h in a year, 30.0 h are allowed: 5.5 h too much.",
        ),
        RuleCase(
            "ASK-04",
            rig(LIMITED, QUIET),
            rig(LIMITED, LOUD),
            "Delivery for generator takes 8 weeks, 6 weeks are allowed: 2 weeks too long.",
        ),
    )
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_passes_and_trips(case: RuleCase) -> None:
    assert_case(case)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_effects(case: RuleCase) -> None:
    assert_effects(case)


def test_an_empty_slot_has_no_feature() -> None:
    assert [balance.holds for balance in judge("ASK-01", *rig(ASKED, 2))] == [False]


def test_condition_is_a_feature_too() -> None:
    asked = brief(asked={"vehicle": ["used"], "generator": ["quiet"]})
    found = {balance.place.part: balance.holds for balance in judge("ASK-01", *rig(asked, QUIET, used=1))}
    assert found == {"vehicle: used": True, "generator: quiet": True}
    assert [balance.holds for balance in judge("ASK-01", *rig(asked, QUIET, used=0))] == [False, True]


def test_what_is_owned_is_there_already() -> None:
    owned = brief(limits={"delivery_time": "6 week"}, owned=["loud-one"])
    assert all(balance.holds for balance in judge("ASK-04", *rig(owned, LOUD)))
    assert margins("ASK-04", *rig(owned, LOUD))["///generator"] == pytest.approx(6.0)


def test_the_small_kit_waits_for_no_parts() -> None:
    assert [balance.place.part for balance in judge("ASK-02", *rig(LIMITED, QUIET))] == ["generator", "vehicle"]


@pytest.mark.parametrize("rule", ["ASK-02", "ASK-03", "ASK-04"])
def test_no_limit_asks_for_nothing(rule: str) -> None:
    assert judge(rule, *rig(brief(), LOUD)) == ()
