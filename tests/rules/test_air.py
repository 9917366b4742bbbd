"""AIR-01 .. AIR-13: flows, pressures, receivers and dryers, with the figures worked out by hand.

In all of them 0.1 kg/s are sprayed at sea level and 30 degC, 50 %. So each side flows at 0.1 / 2400 m3/s = 0.6604 gpm;
the body is at its ceiling, 100 degF = 310.93 K; its air holds 0.5 x 4246 Pa of vapour (saturation at 30 degC: steam
tables). A compressor of 20 scfm delivers 20 x (101325 - 2123) / 100000 x 293.15 / 310.93 = 18.71 scfm of it.
"""

from __future__ import annotations

from typing import Any

import pytest

from solver.rules.instances import Setting
from tests.rules.small import (
    RuleCase,
    assert_case,
    assert_effects,
    assert_rows_agree,
    brief,
    judge,
    margins,
    none,
    setting,
    table,
)

GUN = {"purge": "air", "purge_air": "4 scfm", "cleaning_air": "10 scfm", "air_pressure": "90 psi"}
PUMP = {"air_per_flow": "2 scfm/gpm", "air_pressure": "80 psi"}
MIXER = {"drive": "air", "air_flow": "8 scfm", "air_pressure": "80 psi"}
COMPRESSOR = {
    "free_air": "20 scfm", "cut_in": "145 psi", "cut_out": "175 psi", "stages": 2, "unloaders": 1,
    "pressure_lubricated": 1, "oil_lubricated": 1, "alarm": "none", "receiver": "30 gal", "approach": "25 delta_degF",
    "duty_share": "70 %",
}  # fmt: skip
DRYER = {
    "kind": "refrigerated", "rated_flow": "25 scfm", "dew_point": "39 degF", "least_ambient": "45 degF",
    "largest_ambient": "105 degF", "pressure_drop": "4 psi",
}  # fmt: skip
HOSE = {"hose_length": "200 ft", "gun_air_bore": "0.375 in"}
NO_DRYER = {**none(), "dew_point": "100 degC", "largest_ambient": "1000 K"}


def users(
    mixer: Any, compressor: dict[str, Any] = COMPRESSOR, **changes: Any
) -> tuple[Setting, dict[str, int]]:
    """A gun, two feed pumps and this mixer on this compressor."""
    case = setting(
        brief(**changes),
        table("gun", GUN),
        table("feed_pump_a", PUMP),
        table("feed_pump_b", PUMP),
        table("drum_mixer", mixer),
        table("compressor", compressor),
        table("receiver", none()),
    )
    return case, {}


def dried(
    dryer: Any, compressor: dict[str, Any] = COMPRESSOR, **changes: Any
) -> tuple[Setting, dict[str, int]]:
    """A compressor with this dryer."""
    return setting(brief(**changes), table("compressor", compressor), table("air_dryer", dryer)), {}


def pressed(cut_in: str, bore: str = "0.375 in") -> tuple[Setting, dict[str, int]]:
    """Users, dryer and hose on a compressor with this cut-in."""
    case = setting(
        brief(),
        table("gun", GUN),
        table("hose", {**HOSE, "gun_air_bore": bore}),
        table("feed_pump_a", PUMP),
        table("air_dryer", DRYER),
        table("compressor", {**COMPRESSOR, "cut_in": cut_in}),
    )
    return case, {}


def bare(compressor: Any, receiver: Any = None) -> tuple[Setting, dict[str, int]]:
    """A compressor with an extra receiver, or none."""
    return setting(brief(), table("compressor", compressor), table("receiver", receiver or none())), {}


ONE_STAGE = {**COMPRESSOR, "stages": 1}
CASES: dict[str, RuleCase] = {
    case.rule: case
    for case in (
        # Gun 4 + pumps 2 x 2 x 0.6604 x 0.5 = 1.32 + mixer 8 = 13.32 scfm, against 0.65 x 18.71 = 12.16 scfm.
        RuleCase(
            "AIR-01",
            users(none()),
            users(MIXER),
            "Job, spraying, hottest air: the users take 13.32 scfm on average, the compressor may give 12.16 scfm: "
            "1.16 scfm short.",
        ),
        # The maker allows 50 %: 0.5 x 18.71 = 9.35 scfm.
        RuleCase(
            "AIR-12",
            users(none(), {**COMPRESSOR, "duty_share": "50 %"}),
            users(MIXER, {**COMPRESSOR, "duty_share": "50 %"}),
            "Job, spraying, hottest air: the users take 13.32 scfm on average, the maker lets the compressor give "
            "9.35 scfm: 3.97 scfm short.",
        ),
        # 90 psi at the gun + 4.45 psi in 200 ft of 3/8 in line + 4 psi dryer + 5 psi filters = 103 psi.
        RuleCase(
            "AIR-02",
            pressed("145 psi"),
            pressed("95 psi"),
            "Job: the gun asks for 103 psi at the compressor, which starts again at 95 psi: 8 psi short.",
        ),
        RuleCase(
            "AIR-10",
            (setting(brief(), table("gun", GUN)), {}),
            (setting(brief(), table("gun", {**GUN, "purge_air": "7.5 scfm"})), {}),
            "The gun takes 7.50 scfm, its line is checked for 6.00 scfm only: 1.50 scfm more.",
        ),
        # Each scfm takes 1 ft3 x 100000 / (30 psi = 206843 Pa) = 0.4835 ft3 = 3.617 gal in a minute. All users:
        # 4 + 2 x 1.3208 + 8 = 14.64 scfm, 52.95 gal; 8 scfm of compressor deliver 7.482 scfm, 27.06 gal; 2 gal of tank.
        RuleCase(
            "AIR-03",
            users(MIXER),
            users(MIXER, {**COMPRESSOR, "free_air": "8 scfm", "receiver": "2 gal"}),
            "Job, spraying, hottest air: the peak takes 52.95 gal of receiver, compressor and receivers make up "
            "29.06 gal: 23.89 gal short.",
        ),
        RuleCase(
            "AIR-09",
            bare({**COMPRESSOR, "receiver": "12 gal"}, {"volume": "20 gal", "pressure": "200 psi"}),
            bare({**COMPRESSOR, "receiver": "12 gal"}),
            "12.00 gal of receiver are aboard, 30.00 gal are the least: 18.00 gal short.",
        ),
        RuleCase(
            "AIR-13",
            bare(COMPRESSOR, {"volume": "20 gal", "pressure": "200 psi"}),
            bare(COMPRESSOR, {"volume": "20 gal", "pressure": "150 psi"}),
            "The compressor goes up to 175 psi, the extra receiver bears 150 psi: 25 psi too much.",
        ),
        RuleCase("AIR-07", bare(COMPRESSOR), bare(ONE_STAGE), "The compressor lacks what it should have: two stages."),
        # 18.71 scfm = 0.01049 kg/s. From 125 degF (saturated at 159.7 psi absolute: 7.7 g/kg) to 38 degF (0.5 g/kg):
        # sensible 49 kJ/kg and latent 18 kJ/kg, and 1 kJ/kg for the denser air, make about 0.72 kW. The dryer:
        # 25 scfm are 0.01402 kg/s from 100 degF at 114.7 psi absolute (5.3 g/kg): 35 + 12 kJ/kg, about 0.66 kW.
        RuleCase(
            "AIR-04",
            dried({**DRYER, "rated_flow": "35 scfm"}),
            dried(DRYER),
            "Job, spraying, hottest air: drying the compressor's full flow takes 720 W, the dryer has 660 W: "
            "60 W short.",
        ),
        RuleCase(
            "AIR-05",
            dried(DRYER),
            dried({**DRYER, "largest_ambient": "95 degF"}),
            "Job, spraying, hottest air: the body is at 100.0 degF at most, the dryer bears 95.0 degF: "
            "5.00 degF too hot.",
        ),
        RuleCase(
            "AIR-11",
            dried(DRYER),
            dried({**DRYER, "least_ambient": "65 degF"}),
            "Job, spraying, coldest air: the dryer asks for 65.0 degF around it, the body is at 60.0 degF at least: "
            "5.00 degF too cold.",
        ),
        # The unheated line lies in outdoor air of 0 degC.
        RuleCase(
            "AIR-06",
            dried(DRYER),
            dried(DRYER, unheated_air_line=True),
            "Job, spraying, coldest air: the air is dry down to 39.0 degF, its coldest line is at 32.0 degF: "
            "7.00 degF too wet.",
        ),
        RuleCase("AIR-08", dried(DRYER), dried(NO_DRYER), "An air dryer is wanted aboard, none is there."),
    )
}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_passes_and_trips(case: RuleCase) -> None:
    assert_case(case)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_effects(case: RuleCase) -> None:
    assert_effects(case)


def test_average_counts_the_trigger_share_only_where_output_draws() -> None:
    whole = margins("AIR-01", users(none())[0])["job/spraying/hottest/"]
    open_all_day = margins("AIR-01", users(none(), margins={"trigger_share": "100 %"})[0])["job/spraying/hottest/"]
    assert whole - open_all_day == pytest.approx(2 * 2 * 0.6604 * 0.5, abs=1e-3)


def test_cleaning_draws_the_blow_gun_alone() -> None:
    balance = next(b for b in judge("AIR-01", users(MIXER)[0]) if b.place.state == "cleaning")
    assert balance.need == pytest.approx(10 * 0.5)


def test_altitude_takes_delivery() -> None:
    low = judge("AIR-01", users(none())[0])[0].supply
    mountain = setting(brief({"altitude": "6000 ft"}), *users(none())[0].slots.values())
    # 81,200 Pa at 6,000 ft (US Standard Atmosphere): (81200 - 2123) / (101325 - 2123) of the sea level's delivery.
    assert judge("AIR-01", mountain)[0].supply / low == pytest.approx(0.797, abs=2e-3)


def test_panel_and_desiccant_purge_draw_air() -> None:
    panel = {"kind": "compressor-panel", "respirators": 2, "air_per_respirator": "5 scfm", "air_pressure": "90 psi"}
    dryer = {**DRYER, "kind": "desiccant", "purge_share": "15 %"}
    case = setting(
        brief(crew={"sprayers": 1, "helpers": 1}),
        table("breathing_air", panel),
        table("air_dryer", dryer),
        table("compressor", COMPRESSOR),
    )
    assert judge("AIR-01", case)[0].need == pytest.approx(2 * 5 + 0.15 * 25)


def test_air_driven_proportioner_draws_by_output() -> None:
    driven = {"drive": "air", "air_per_output": "2.1 scfm/(lb/min)", "air_pressure": "90 psi"}
    case = setting(brief({"output": "10 lb/min"}), table("proportioner", driven), table("compressor", COMPRESSOR))
    assert judge("AIR-01", case)[0].need == pytest.approx(2.1 * 10 * 0.5)


def test_every_user_has_its_own_pressure() -> None:
    case, _ = pressed("145 psi")
    assert {b.place.part for b in judge("AIR-02", case)} == {"gun", "feed pump A"}
    assert margins("AIR-02", case)["job///feed pump A"] == pytest.approx(145 - 80 - 4 - 5)


def test_who_takes_no_air_asks_for_no_pressure() -> None:
    compressor = table("compressor", {**COMPRESSOR, "cut_in": "70 psi"})
    case = setting(brief(), table("drum_mixer", MIXER, {"drive": "electric"}, none()), compressor)
    assert [b.holds for b in judge("AIR-02", case)] == [False]
    for other in (1, 2):
        assert [b.applies for b in judge("AIR-02", case, {"drum_mixer": other})] == [False]
        assert_rows_agree("AIR-02", case, {"drum_mixer": other})


def test_a_narrow_line_costs_pressure() -> None:
    wide, narrow = (judge("AIR-02", pressed("145 psi", bore)[0])[0].need for bore in ("0.375 in", "0.25 in"))
    # Turbulent drop goes with about the fifth power of the bore.
    assert 5.0 < (narrow - 99) / (wide - 99) < 1.5**5


def test_without_a_dryer_its_limits_are_not_judged() -> None:
    for rule in ("AIR-04", "AIR-05", "AIR-06", "AIR-11"):
        case, rig = dried(NO_DRYER)
        assert [b.applies for b in judge(rule, case, rig)] == [False]
        assert_rows_agree(rule, case, rig)


def test_an_oil_free_compressor_needs_no_oil_pump() -> None:
    free = {**COMPRESSOR, "pressure_lubricated": 0, "oil_lubricated": 0}
    plain = {**COMPRESSOR, "pressure_lubricated": 0}
    assert all(b.holds for b in judge("AIR-07", bare(free)[0]))
    assert [b.place.part for b in judge("AIR-07", bare(plain)[0]) if not b.holds] == ["an oil pump (or no oil)"]
