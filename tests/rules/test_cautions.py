"""Which cautions belong to which rig."""

from __future__ import annotations

from typing import Any

import pytest

from solver.brief.models import Brief
from solver.rules import RULES
from solver.rules.balance import balances, chosen
from solver.rules.cautions import CAUTIONS, cautions
from tests.rules.small import brief, full_rig, none, setting, table

ALWAYS = ["sizing-only", "isocyanates", "material-data"]
ON_A_RIG = ["overload", "securement", "hazardous-load"]
LIGHT = {"kind": "truck", "gvwr": "9990 lb"}


def shown(vehicle: dict[str, Any], *tables: Any, asked: Brief | None = None) -> list[str]:
    """Ids of the cautions for a rig of these slots."""
    case = setting(asked or brief(), table("vehicle", vehicle), *tables)
    rig = full_rig(case)
    return [caution.id for caution in cautions(case.brief, chosen(case, rig), balances(case, rig, {}))]


def test_without_a_rig_only_what_always_holds() -> None:
    assert [c.id for c in cautions(brief(), None, ())] == [*ALWAYS, "general-industry"]


def test_an_empty_light_truck() -> None:
    assert shown(LIGHT) == ALWAYS + ON_A_RIG


@pytest.mark.parametrize("slot, option, expected", [
    ("proportioner", {}, "high-pressure"),
    ("hose", {}, "hot-hose"),
    ("generator", {}, "mains-voltage"),
    ("generator", {}, "carbon-monoxide"),
    ("body_heater", {"kind": "fuel"}, "carbon-monoxide"),
    ("breathing_air", {"kind": "compressor-panel"}, "breathing-panel"),
])  # fmt: skip
def test_what_is_aboard_brings_its_caution(slot: str, option: dict[str, Any], expected: str) -> None:
    assert expected in shown(LIGHT, table(slot, option))
    assert expected not in shown(LIGHT, table(slot, none()))


def test_an_electric_heater_gives_off_no_monoxide() -> None:
    assert "carbon-monoxide" not in shown(LIGHT, table("body_heater", {"kind": "electric"}))


def test_shore_power_is_mains_voltage() -> None:
    assert "mains-voltage" in shown(LIGHT, asked=brief({"overnight": {"shore_power": "3 kW"}}))


@pytest.mark.parametrize("vehicle, tow, expected", [
    (("truck", "10000 lb"), None, []),
    (("truck", "10001 lb"), None, ["licence-commercial"]),
    (("truck", "26001 lb"), None, ["licence-commercial", "licence-group-b"]),
    (("trailer", "9990 lb"), "7100 lb", ["licence-commercial"]),
    (("trailer", "14000 lb"), "14000 lb", ["licence-commercial", "licence-group-a"]),
])  # fmt: skip
def test_licence_by_the_ratings(vehicle: tuple[str, str], tow: str | None, expected: list[str]) -> None:
    body = {"kind": vehicle[0], "gvwr": vehicle[1]}
    towing = table("tow_vehicle", {"gvwr": tow} if tow else none())
    assert [found for found in shown(body, towing) if found.startswith("licence")] == expected


def test_regulations_bring_the_general_industry_caution() -> None:
    case = setting(brief(), table("vehicle", LIGHT), table("kit", {"tags": ("eyewash",)}, item_class="safety_item"))
    rig = full_rig(case)
    found = cautions(case.brief, chosen(case, rig), balances(case, rig, {"SAFE-01": RULES["SAFE-01"]}))
    assert "general-industry" in [caution.id for caution in found]


def test_ids_are_unique_and_texts_are_sentences() -> None:
    assert len({record.id for record in CAUTIONS}) == len(CAUTIONS)
    for record in CAUTIONS:
        assert record.text[0].isupper()
        assert record.text.endswith(".")
        assert "  " not in record.text


def test_the_overload_caution_word_for_word() -> None:
    text = next(record.text for record in CAUTIONS if record.id == "overload")
    assert text == (
        "Weights are sums of catalog figures. Loads on each axle, on the hitch and from side to side are not checked "
        "until there is a floor plan. Weigh the loaded rig, axle by axle and at the hitch, before its first trip."
    )
