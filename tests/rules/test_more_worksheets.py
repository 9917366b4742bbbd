"""A balance worked through: its entries slot by slot, the calls behind each, and what is left out."""

from __future__ import annotations

import pytest

from solver.formulas.record import recording
from solver.rules import RULES
from solver.rules.air_users import volume_of
from solver.rules.balance import chosen
from solver.rules.instances import instances
from solver.rules.record import SPRAYING, Side
from solver.rules.worksheet import worksheet
from tests.rules.small import brief, full_rig, none, setting, table


def _sheet(rule, case, rig=None):
    instance = instances(case, {rule: RULES[rule]})[0]
    return worksheet(case, instance, chosen(case, full_rig(case, rig)))


MONEY = setting(
    brief(
        limits={"budget": "5000 USD"},
        money={"training": "300 USD", "first_material": False, "tax": "0 %", "freight": "0 %"},
    ),
    table("gun", {"item": "gun-1", "price": "900 USD"}),
    table("receiver", {"item": "tank-1", "price": "0.5 USD"}, none()),
)


def test_terms_of_every_slot_and_those_of_the_brief_alone():
    """900 + 0.50 + 300 of training, no material, against 5,000."""
    sheet = _sheet("MONEY-01", MONEY)
    paid = "price with tax and freight, nothing if owned"
    assert [(e.side, e.what, e.slot, e.item, e.value) for e in sheet.entries] == [
        (Side.NEED, paid, "gun", "gun-1", 900.0),
        (Side.NEED, paid, "receiver", "tank-1", 0.5),
        (Side.NEED, "training", "", "", 300.0),
        (Side.NEED, "first material", "", "", 0.0),
        (Side.SUPPLY, "budget", "", "", 5000.0),
    ]
    assert [entry.what for entry in sheet.shown] == [paid, paid, "training", "budget"]
    assert (sheet.balance.need, sheet.balance.supply, sheet.rule) == (1200.5, 5000.0, RULES["MONEY-01"])


def test_an_empty_slot_has_no_item():
    sheet = _sheet("MONEY-01", MONEY, {"receiver": 1})
    assert [(e.slot, e.item, e.value) for e in sheet.entries][:2] == [("gun", "gun-1", 900.0), ("receiver", "", 0.0)]
    assert [entry.slot for entry in sheet.shown] == ["gun", "", ""]


def test_formulas_behind_a_term_stand_beside_it():
    """60 m of hose at 1 W/(m K) lose 60 x (323.15 - 273.15) = 3 kW; the machine's hose heat is at its own voltage."""
    case = setting(
        brief(),
        table("hose", {"loss": "1 W/m/K", "heated_length": "60 m", "hose_length": "63 m"}),
        table("proportioner", {"hose_heat": "4 kW", "voltage": "240 V", "rated_voltage": "240 V"}),
    )
    loss, heat = _sheet("HOSE-03", case).entries
    assert (loss.value, heat.value) == (pytest.approx(3.0), pytest.approx(4.0))
    assert [(call.name, call.result, call.unit, call.depth) for call in loss.calls] == [
        ("hose_loss", pytest.approx(3000.0), "W", 0)
    ]
    assert loss.calls[0].arguments == {
        "loss": 1.0, "length": pytest.approx(60.0), "temperature_difference": pytest.approx(50.0),
    }  # fmt: skip
    assert [call.name for call in heat.calls] == ["heater_power"]


def test_a_flow_from_the_receiver_stands_under_its_own_name():
    """A volume is flow times time: exchanged they would give the same figure under each other's names."""
    asked = brief()
    case = setting(asked, table("gun", {})).case(asked.duties[0], SPRAYING, "coldest")
    with recording() as calls:
        volume_of(case, 0.01)
    call = next(call for call in calls if call.name == "receiver_flow_volume")
    assert call.arguments["flow"] == 0.01
    assert call.arguments["time"] != 0.01
