"""RESP-01 .. RESP-07: respirators and their air."""

from __future__ import annotations

from typing import Any

import pytest

from solver.rules.instances import Setting
from tests.rules.small import RuleCase, assert_case, assert_effects, assert_rows_agree, brief, judge, setting, table

PUMP = {"kind": "ambient-pump", "respirators": 2, "monoxide_alarm": 1, "hose_length": "150 ft"}
PANEL = {
    "kind": "compressor-panel", "respirators": 2, "air_per_respirator": "5 scfm", "air_pressure": "90 psi",
    "monoxide_alarm": 0, "hose_length": "150 ft",
}  # fmt: skip
OILY = {"oil_lubricated": 1, "alarm": "none"}


def breathing(item: dict[str, Any], *tables: Any, **changes: Any) -> tuple[Setting, dict[str, int]]:
    """This breathing air with other slots; a sprayer and a helper."""
    crew = {"sprayers": 1, "helpers": 1, "respirator": "tight-fitting", **changes.pop("crew", {})}
    return setting(brief(*changes.pop("duties", ()), crew=crew, **changes), table("breathing_air", item), *tables), {}


def dried(dew_point: str, coldest: str = "10 degC") -> tuple[Setting, dict[str, int]]:
    """A panel behind a dryer, in air as cold as this."""
    duty = {"air_temperature": {"coldest": coldest, "hottest": "30 degC"}}
    return breathing(PANEL, table("air_dryer", {"kind": "refrigerated", "dew_point": dew_point}), duties=(duty,))


CASES: dict[str, RuleCase] = {
    case.rule: case
    for case in (
        RuleCase(
            "RESP-01",
            breathing(PUMP),
            breathing(PUMP, crew={"trimmers": 1}),
            "3 respirators are worn, 2 can be fed: 1 short.",
        ),
        # 170 L/min = 6.00 scfm for a loose-fitting respirator.
        RuleCase(
            "RESP-02",
            breathing(PANEL),
            breathing(PANEL, crew={"respirator": "loose-fitting"}),
            "Each respirator must get 6.00 scfm, the panel gives 5.00 scfm: 1.00 scfm short.",
        ),
        RuleCase(
            "RESP-03",
            breathing(PANEL, table("compressor", {**OILY, "alarm": "high-temperature"})),
            breathing(PANEL, table("compressor", OILY)),
            "The compressor that feeds the respirators holds oil and has no high-temperature or carbon monoxide alarm.",
        ),
        RuleCase(
            "RESP-04",
            breathing(PUMP),
            breathing(PANEL),
            "The respirators hang on the compressor; a pump of their own for ambient air is preferred.",
        ),
        RuleCase(
            "RESP-05",
            breathing(PUMP),
            breathing({**PUMP, "hose_length": "350 ft"}),
            "The breathing hose is 350.00 ft long, 300.00 ft are allowed: 50.00 ft too long.",
        ),
        # 38 degF at 100 psi is about -5 degF at 1 atm (tables of the trade); 10 degF below -20 degC is -14.0 degF.
        RuleCase(
            "RESP-06",
            dried("38 degF"),
            dried("38 degF", "-20 degC"),
            "Job, spraying, coldest air: the breathing air has its dew point at -4.3 degF, -14.0 degF is allowed: "
            "9.72 degF too wet.",
        ),
        RuleCase(
            "RESP-07",
            breathing(PUMP),
            breathing({**PUMP, "monoxide_alarm": 0}),
            "The breathing air is not watched for carbon monoxide.",
        ),
    )
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_passes_and_trips(case: RuleCase) -> None:
    assert_case(case)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_effects(case: RuleCase) -> None:
    assert_effects(case)


def test_the_brief_may_state_how_many_wear_one() -> None:
    case, rig = breathing(PUMP, crew={"trimmers": 1, "respirators": 2})
    assert all(b.holds for b in judge("RESP-01", case, rig))


def test_rules_of_the_panel_leave_a_pump_alone() -> None:
    for rule in ("RESP-02", "RESP-03", "RESP-06"):
        case, rig = breathing(PUMP, table("compressor", OILY), table("air_dryer", {"dew_point": "38 degF"}))
        assert [b.applies for b in judge(rule, case, rig)] == [False]
        assert_rows_agree(rule, case, rig)


def test_an_alarm_in_the_panel_will_do() -> None:
    case, rig = breathing({**PANEL, "monoxide_alarm": 1}, table("compressor", OILY))
    assert all(b.holds for b in judge("RESP-03", case, rig))


def test_grade_d_is_judged_at_one_atmosphere() -> None:
    case, rig = dried("38 degF")
    balance = judge("RESP-06", case, rig)[0]
    # Dew point tables of the trade: 38 degF at 100 psig is about -5 degF at atmospheric pressure.
    assert balance.need == pytest.approx(-5.0, abs=2.0)
    assert balance.supply == pytest.approx(50.0 - 10.0)
