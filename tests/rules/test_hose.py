"""HOSE-01 .. HOSE-05: reach and warmth of the hose, worked out by hand.

The small hose: 60 m heated, 1 W/(m K) and 1 kJ/(m K), so 60 W/K and 60 kJ/K; sprayed at 50 degC in air of 0 degC.
"""

from __future__ import annotations

from math import exp
from typing import Any

import pytest

from solver.options.table import SlotOptions
from solver.rules.instances import Setting
from tests.rules.small import RuleCase, assert_case, assert_effects, brief, judge, margins, none, setting, table

HOSE = {"heated_length": "60 m", "hose_length": "63 m", "loss": "1 W/m/K", "heat_capacity": "1 kJ/m/K"}


def rig(hose: dict[str, Any], *others: SlotOptions, duty: dict[str, Any] | None = None, **changes: Any) -> Any:
    """The hose with other slots, for one duty with changes."""
    return setting(brief(duty or {}, **changes), table("hose", {**HOSE, **hose}), *others), {}


def heat(power: str, **figures: Any) -> SlotOptions:
    """A proportioner with this hose heat."""
    return table("proportioner", {"hose_heat": power, **figures})


def breathing(length: str) -> SlotOptions:
    return table("breathing_air", {"hose_length": length, "kind": "compressor-panel"})


CASES: dict[str, RuleCase] = {
    case.rule: case
    for case in (
        # 60 m = 196.85 ft of reach; 63 m = 206.69 ft; 55 m = 180.45 ft.
        RuleCase(
            "HOSE-01",
            rig({}),
            rig({"hose_length": "55 m"}),
            "Job: 196.85 ft of hose reach the work, 180.45 ft are aboard: 16.40 ft short.",
        ),
        RuleCase(
            "HOSE-02",
            rig({}, table("proportioner", {"longest_hose": "210 ft"})),
            rig({}, table("proportioner", {"longest_hose": "150 ft"})),
            "The heated hose is 196.85 ft long, the proportioner feeds up to 150.00 ft: 46.85 ft too long.",
        ),
        # 60 W/K x 50 K = 3 kW.
        RuleCase(
            "HOSE-03",
            rig({}, heat("3.2 kW")),
            rig({}, heat("2.5 kW")),
            "Job, spraying, coldest air: the hose loses 3.00 kW, the proportioner heats it with 2.50 kW: "
            "0.50 kW short.",
        ),
        # 60 W/K x 1,000 s / 60 kJ/K = 1, e = 0.36788: from 0 to 50 degC in 1,000 s takes 3 / (1 - e) = 4.746 kW.
        RuleCase(
            "HOSE-04",
            rig({}, heat("5 kW"), duty={"hours": {"warm-up": "1000 s"}}),
            rig({}, heat("4 kW"), duty={"hours": {"warm-up": "1000 s"}}),
            "Job, warm-up, coldest air: warming the hose in time takes 4.75 kW, the proportioner gives 4.00 kW: "
            "0.75 kW short.",
        ),
        RuleCase(
            "HOSE-05",
            rig({}, breathing("65 m")),
            rig({}, breathing("50 m")),
            "Job: 196.85 ft of breathing hose reach the work, 164.04 ft are aboard: 32.81 ft short.",
        ),
    )
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_passes_and_trips(case: RuleCase) -> None:
    assert_case(case)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_effects(case: RuleCase) -> None:
    assert_effects(case)


def warm_up_margin(case: Setting) -> float:
    return margins("HOSE-04", case)["job/warm-up/coldest/"]


def test_hose_heat_falls_with_the_square_of_the_voltage() -> None:
    """4 kW at 240 V are 4 x (208/240)^2 = 3.0044 kW at 208 V: just enough for 3 kW."""
    case, _ = rig({}, heat("4 kW", rated_voltage="240 V", voltage="208 V"))
    assert margins("HOSE-03", case)["job/spraying/coldest/"] == pytest.approx(4.0 * (208 / 240) ** 2 - 3.0)


def test_the_warm_up_starts_from_the_nights_air() -> None:
    """-20 degC at night, 0 degC by day: (50 - e x (-20)) x 60 / (1 - e) = 5.4442 kW."""
    duty = {"hours": {"warm-up": "1000 s"}, "overnight": {"air": "-20 degC"}}
    kept = exp(-1.0)
    needed = 0.060 * (50.0 + kept * 20.0) / (1.0 - kept)
    assert warm_up_margin(rig({}, heat("6 kW"), duty=duty)[0]) == pytest.approx(6.0 - needed)


@pytest.mark.parametrize(("inside", "start"), [(True, 10.0), (False, 0.0)])
def test_a_hose_carried_inside_a_warm_body_starts_warm(inside: bool, start: float) -> None:
    duty = {"hours": {"warm-up": "1000 s"}, "overnight": {"keep_warm": "10 degC", "hose_inside": inside}}
    needed = 0.060 * (50.0 - exp(-1.0) * start) / (1.0 - exp(-1.0))
    assert warm_up_margin(rig({}, heat("6 kW"), duty=duty)[0]) == pytest.approx(6.0 - needed)


def test_the_interlock_leaves_the_hose_half_of_the_warm_up() -> None:
    duty = {"hours": {"warm-up": "2000 s"}}
    plain = rig({}, heat("6 kW"), duty={"hours": {"warm-up": "1000 s"}})[0]
    locked = rig({}, heat("6 kW"), duty=duty, interlocks=["drum-heat-after-hose"])[0]
    assert warm_up_margin(locked) == pytest.approx(warm_up_margin(plain))


def test_the_warm_up_never_takes_less_than_holding() -> None:
    for hours in ("1000 s", "1 h", "4 h"):
        case, _ = rig({}, heat("9 kW"), duty={"hours": {"warm-up": hours}})
        assert warm_up_margin(case) <= margins("HOSE-03", case)["job/spraying/coldest/"]


def test_without_breathing_air_its_hose_is_not_judged() -> None:
    case, _ = rig({}, table("breathing_air", none()))
    assert [b.applies for b in judge("HOSE-05", case)] == [False]
