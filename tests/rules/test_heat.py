"""HEAT-01 .. HEAT-08: heat in the liquid, the drums and the body, worked out by hand.

The small material has 2 kJ/(kg K) and 500 kg in a set: 1,000 kJ/K. The small duty sprays 0.1 kg/s for 5 h with the gun
open half of the time: 900 kg, so two sets (four drums) are opened, 2,000 kJ/K, sprayed at 50 degC and fed from 15 degC.
"""

from __future__ import annotations

from math import exp
from typing import Any

import pytest

from solver.options.table import SlotOptions
from solver.rules.instances import Setting
from tests.rules.small import RuleCase, assert_case, assert_effects, brief, judge, margins, none, setting, table

KWH = 3600.0
"""kJ in a kWh."""
ROUND = {"heater_efficiency": "100 %", "body_floor": "10 degC", "drum_target": "25 degC",
         "evening_temperature": "10 degC"}  # fmt: skip


def rig(*tables: SlotOptions, duty: dict[str, Any] | None = None, **changes: Any) -> Any:
    """A rig of the first options, for one duty with changes, with round margins."""
    changes["margins"] = {**ROUND, **changes.get("margins", {})}
    return setting(brief(duty or {}, **changes), *tables), {}


def heaters(power: str, **figures: Any) -> SlotOptions:
    return table("proportioner", {"heater_power": power, **figures})


def drums(power: str = "2 kW", count: int = 4) -> SlotOptions:
    """Heaters on this many drums, `power` all together."""
    return table("drum_heater", {"power": power, "heated_drums": count, "skin_temperature": "120 degF"})


def returns(flow: str) -> SlotOptions:
    return table("circulation_set", {"flow": flow})


def body(ua: str = "100 W/K", heat_capacity: str = "360 kJ/K") -> SlotOptions:
    """A body without change of air."""
    return table("vehicle", {"ua": ua, "heat_capacity": heat_capacity})


def heater(heat: str, kind: str = "electric", **figures: Any) -> SlotOptions:
    return table("body_heater", {"kind": kind, "heat": heat, "power": heat, **figures})


def machines() -> tuple[SlotOptions, ...]:
    """4 kW at the compressor's shaft, 90 % of it heat: 3.6 kW; 0.5, 1.0 and 0.4 kW from the others: 5.5 kW in all."""
    return (
        table("compressor", {"motor_power": "4 kW", "heat_share": 0.9}),
        table("proportioner", {"body_heat": "0.5 kW"}),
        table("generator", {"body_heat": "1.0 kW"}),
        table("air_dryer", {"power": "0.4 kW"}),
    )


def drum_rig(*tables: SlotOptions, **changes: Any) -> Any:
    """Drums kept at 10 degC at night; 3,600 s of warm-up."""
    return rig(body(), *tables, duty={"overnight": {"keep_warm": "10 degC"}}, **changes)


COOL = {"margins": {"body_ceiling": "40 degC"}}
LOSS = 16.0 * 4 / 2e6 * 3600.0
KEPT = (1.0 - exp(-LOSS)) / LOSS
"""Share of the drum heaters' energy that four bare drums still hold after an hour: 0.9448."""

CASES: dict[str, RuleCase] = {
    case.rule: case
    for case in (
        # From 10 to 50 degC: 0.1 x 2,000 x 40 = 8 kW.
        RuleCase(
            "HEAT-01",
            rig(heaters("9 kW"), table("drum_heater", none())),
            rig(heaters("7 kW"), table("drum_heater", none())),
            "Job, spraying, coldest air: heating the flow takes 8.00 kW, heaters and warm drums give 7.00 kW: "
            "1.00 kW short.",
        ),
        # From 10 to 15 degC: 2,000 kJ/K x 5 K = 10 MJ = 2.78 kWh. Drum heaters 2 kW for an hour, 0.9448 of it kept
        # = 1.89 kWh. Return hoses at 1e-5 m3/s x 1,200 kg/m3 x 2 kJ/(kg K) x (50 - 15) K = 0.84 kW for an hour.
        RuleCase(
            "HEAT-02",
            drum_rig(drums(), returns("2e-5 m3/s"), heaters("3 kW")),
            drum_rig(drums(), returns("1e-5 m3/s"), heaters("3 kW")),
            "Job, warm-up, coldest air: warming the drums takes 2.78 kWh; drum heaters and return hoses give 2.73 kWh: "
            "0.05 kWh short.",
        ),
        # From 10 to 25 degC: 30 MJ = 8.33 kWh. Drum heaters 1.89 kWh (6 kW: 5.81), return hoses
        # 6e-5 x 1,200 x 2 x 25 K = 3.60 kWh, the proportioner's heaters 3 kWh: together 4.89 (8.81).
        RuleCase(
            "HEAT-08",
            drum_rig(drums("6 kW"), returns("6e-5 m3/s"), heaters("3 kW")),
            drum_rig(drums(), returns("12e-5 m3/s"), heaters("3 kW")),
            "Job, warm-up, coldest air: bringing heated drums to their target takes 8.33 kWh; their heaters and "
            "proportioner's heaters give 4.89 kWh: 3.44 kWh short.",
        ),
        # Spraying: 100 W/K x (10 - -20) K = 3 kW; machines 0.5 x 3.6 + 1.9 = 3.7 kW. Warm-up from the 5 degC of the
        # night: 100 x 3,600 / 360e3 = 1, e = 0.36788: 100 (30 - 25 e) / (1 - e) = 3.291 kW, machines at rest.
        RuleCase(
            "HEAT-03",
            rig(body(), heater("3.5 kW"), *machines(), duty={
                "air_temperature": {"coldest": "-20 degC"}, "overnight": {"keep_warm": "5 degC"}}),
            rig(body(), heater("3.0 kW"), *machines(), duty={
                "air_temperature": {"coldest": "-20 degC"}, "overnight": {"keep_warm": "5 degC"}}),
            "Job, warm-up, coldest air: keeping the body warm takes 3.29 kW, heater and machines give 3.00 kW: "
            "0.29 kW short.",
        ),
        # Machines 5.5 kW; walls 100 W/K x (40 - 30) K = 1 kW, cooler 5 kW or 3 kW.
        RuleCase(
            "HEAT-04",
            rig(body(), *machines(), table("body_cooler", {"heat": "5 kW"}), table("ventilation_fan", none()), **COOL),
            rig(body(), *machines(), table("body_cooler", {"heat": "3 kW"}), table("ventilation_fan", none()), **COOL),
            "Job, spraying, hottest air: the machines give off 5.50 kW, walls, cooler and fan carry 4.00 kW out: "
            "1.50 kW short.",
        ),
        # 100 W/K x (15 - -10) K = 2.5 kW.
        RuleCase(
            "HEAT-05",
            rig(body(), heater("3 kW"), duty={"overnight": {"air": "-10 degC", "keep_warm": "15 degC"}}),
            rig(body(), heater("2 kW"), duty={"overnight": {"air": "-10 degC", "keep_warm": "15 degC"}}),
            "Job, overnight: keeping the body warm takes 2.50 kW, its heater gives 2.00 kW: 0.50 kW short.",
        ),
        RuleCase(
            "HEAT-07",
            rig(drums()),
            rig(table("drum_heater", {"skin_temperature": "160 degF"})),
            "The drum's skin gets 160.0 degF hot under its heater, 150.0 degF is the most: 10.00 degF too hot.",
        ),
    )
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_passes_and_trips(case: RuleCase) -> None:
    assert_case(case)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_effects(case: RuleCase) -> None:
    assert_effects(case)


# --- flow -------------------------------------------------------------------------------------------------------------
def flow_margin(case: Setting) -> float:
    return margins("HEAT-01", case)["job/spraying/coldest/"]


def test_heaters_of_240_volts_on_208_give_three_quarters() -> None:
    case, _ = rig(heaters("12 kW", rated_voltage="240 V", voltage="208 V"))
    assert flow_margin(case) == pytest.approx(12.0 * (208 / 240) ** 2 - 8.0)


@pytest.mark.parametrize(("count", "saved"), [(2, 0.0), (4, 3.0), (6, 3.0)])
def test_warm_drums_save_heat_only_where_all_drums_of_the_day_are_heated(count: int, saved: float) -> None:
    """From 25 instead of 10 degC: 0.1 x 2,000 x 15 = 3 kW less; four drums are opened."""
    assert flow_margin(rig(heaters("9 kW"), drums(count=count))[0]) == pytest.approx(1.0 + saved)


def test_warm_air_leaves_nothing_to_save() -> None:
    """At 30 degC the drums are warmer than their target: 0.1 x 2,000 x 20 = 4 kW are needed all the same."""
    duty = {"air_temperature": {"coldest": "30 degC"}}
    for heated in (drums(), table("drum_heater", none())):
        assert flow_margin(rig(heaters("9 kW"), heated, duty=duty)[0]) == pytest.approx(5.0)
    assert judge("HEAT-08", rig(body(), heaters("9 kW"), drums(), duty=duty)[0]) == ()


# --- drums ------------------------------------------------------------------------------------------------------------
def drum_margins(*tables: SlotOptions, **changes: Any) -> tuple[float, float]:
    """Margins of HEAT-02 [kWh]: by the return hoses, by the proportioner's heaters."""
    found = margins("HEAT-02", drum_rig(*tables, **changes)[0])
    start = "job/warm-up/coldest/"
    return found[f"{start}return hoses"], found[f"{start}proportioner's heaters"]


def test_circulation_gives_the_smaller_of_two_heats() -> None:
    """2.78 kWh are lacking. Return hoses 3e-5 m3/s: 2.52 kW for an hour; heaters 3 kW."""
    lacking = 10e3 / KWH
    assert drum_margins(returns("3e-5 m3/s"), heaters("3 kW"), table("drum_heater", none())) == pytest.approx(
        (2.52 - lacking, 3.0 - lacking)
    )


def test_without_a_circulation_set_the_heaters_do_not_reach_the_drums() -> None:
    by_hoses, _ = drum_margins(table("circulation_set", none()), heaters("9 kW"), drums())
    assert by_hoses == pytest.approx(2.0 * KEPT - 10e3 / KWH)


@pytest.mark.parametrize(("count", "share"), [(2, 0.0), (4, 1.0), (8, 0.5)])
def test_drum_heat_counts_on_the_drums_opened_that_day(count: int, share: float) -> None:
    by_hoses, _ = drum_margins(table("circulation_set", none()), drums("4 kW", count))
    assert by_hoses == pytest.approx(4.0 * share * KEPT - 10e3 / KWH)


def test_sets_brought_during_the_day_come_warm() -> None:
    """One set aboard, one brought: 500 kg lack 5 MJ, and two heated drums are enough."""
    case, _ = rig(
        body(), table("circulation_set", none()), drums("2 kW", 2), materials=[{"material": "foam", "sets": 1}],
        duty={"overnight": {"keep_warm": "10 degC"}, "resupply": 1},
    )  # fmt: skip
    assert margins("HEAT-02", case)["job/warm-up/coldest/return hoses"] == pytest.approx(2.0 * KEPT - 5e3 / KWH)


def test_drum_heaters_help_all_night_on_shore_power() -> None:
    """Four bare drums lose with 64 W/K; in 15 h 2 kW leave 2 x (2,000 / 64 kJ/W) (1 - e^-1.728) = 51.4 MJ in them."""
    night = {"overnight": {"keep_warm": "10 degC", "shore_power": "4 kW"}}
    case, _ = rig(body(), table("circulation_set", none()), drums(), duty=night)
    kept = 2.0 * 31250.0 * (1.0 - exp(-54000.0 / 31250.0))
    assert margins("HEAT-02", case)["job/warm-up/coldest/return hoses"] == pytest.approx((kept - 10e3) / KWH)


def test_drum_heaters_wait_for_the_hose_under_the_interlock() -> None:
    by_hoses, _ = drum_margins(
        table("circulation_set", none()), drums("4 kW"), interlocks=["drum-heat-after-hose"]
    )
    kept = (1.0 - exp(-LOSS / 2)) / LOSS
    assert by_hoses == pytest.approx(4.0 * kept - 10e3 / KWH)


def test_drums_that_come_warm_out_of_the_night_lack_nothing() -> None:
    """In 14 h of 15 degC from 25 degC: 100 W/K x 50,400 s / 2.36e6 J/K = 2.1356: 15 + 10 e^-2.1356 = 16.18 degC."""
    duty = {"overnight": {"air": "15 degC"}}
    case, _ = rig(body(), duty=duty, margins={"evening_temperature": "25 degC"})
    over = 2000.0 * 10.0 * exp(-100.0 * 50400.0 / 2.36e6) / KWH
    found = margins("HEAT-02", case)
    assert found["job/warm-up/coldest/return hoses"] == pytest.approx(over)


def test_drum_heaters_that_do_not_cover_the_day_need_not_reach_the_target() -> None:
    assert not any(b.applies for b in judge("HEAT-08", drum_rig(drums(count=2), heaters("3 kW"))[0]))
    assert not any(b.applies for b in judge("HEAT-08", drum_rig(table("drum_heater", none()), heaters("3 kW"))[0]))


# --- body -------------------------------------------------------------------------------------------------------------
def test_an_electric_heater_loses_with_the_voltage_and_a_fuel_fired_one_does_not() -> None:
    night = {"overnight": {"air": "-10 degC", "keep_warm": "15 degC"}}
    for kind, heat in (("electric", 4.0 * (208 / 240) ** 2), ("fuel", 4.0)):
        case, _ = rig(body(), heater("4 kW", kind, rated_voltage="240 V", voltage="208 V"), duty=night)
        assert margins("HEAT-05", case)["job/overnight/coldest/"] == pytest.approx(heat - 2.5)


def test_a_body_without_keep_warm_needs_no_heater_at_night() -> None:
    assert judge("HEAT-05", rig(body(), table("body_heater", none()))[0]) == ()


def test_machines_warm_the_body_while_spraying_alone() -> None:
    """The dryer's heat is not counted on. At 0 degC:
    spraying 100 W/K x 10 K = 1 kW against 0.5 x 3.6 + 1.5 = 3.3 kW of the machines."""
    case, _ = rig(body(), table("body_heater", none()), *machines(), duty={"overnight": {"keep_warm": "10 degC"}})
    found = margins("HEAT-03", case)
    assert found["job/spraying/coldest/"] == pytest.approx(3.3 - 1.0)
    assert found["job/warm-up/coldest/"] == pytest.approx(-1.0)


def test_a_mild_morning_asks_for_no_heater() -> None:
    duty = {"air_temperature": {"coldest": "20 degC"}, "overnight": {"air": "8 degC"}}
    case, _ = rig(body(), table("body_heater", none()), duty=duty)
    assert all(margin > 0.0 for margin in margins("HEAT-03", case).values())


def test_a_fan_carries_less_in_thin_air_and_nothing_where_it_is_hotter_outside() -> None:
    """1 m3/s x 1.158 kg/m3 x 1,006 J/(kg K) x 10 K = 11.6 kW at sea level, 30 degC, 50 %; 0.83 of it at 5,000 ft."""
    fan = table("ventilation_fan", {"flow": "1 m3/s"})
    low, high, hot = (
        margins("HEAT-04", rig(fan, duty=duty, **COOL)[0])["job/spraying/hottest/"]
        for duty in ({}, {"altitude": "5000 ft"}, {"air_temperature": {"hottest": "45 degC"}})
    )
    assert low == pytest.approx(11.6, abs=0.1)
    assert high / low == pytest.approx(0.83, abs=0.005)
    assert hot == 0.0


def test_walls_let_heat_in_where_it_is_hotter_outside() -> None:
    case, _ = rig(body(), duty={"air_temperature": {"hottest": "45 degC"}}, **COOL)
    assert margins("HEAT-04", case)["job/spraying/hottest/"] == pytest.approx(-0.5)
