"""SAFE-, TOOL-, SPARE- and WINTER-: each thing is covered by any item that provides it, and missed when none does."""

from __future__ import annotations

import pytest

from solver.brief.models import Brief
from solver.rules import RULES
from solver.rules.cover import KITS, KitList, Wanted
from solver.rules.instances import Setting
from solver.rules.record import Basis
from tests.rules.small import RuleCase, assert_case, assert_effects, brief, judge, none, reads_of, setting, table

FROST = brief({"air_temperature": {"coldest": "-10 degC"}})
MILD = brief({"air_temperature": {"coldest": "10 degC"}, "overnight": {"air": "5 degC"}})
EACH = [(kit, wanted) for kit in KITS for wanted in kit.things]


def shelf(kit: KitList, asked: Brief, wanted: Wanted | None = None) -> Setting:
    """Items to take or leave: one that is of no use, one for the thing that is asked about, one for all others."""
    wanted = wanted or kit.things[0]
    rest = tuple(other.tag for other in kit.things if other is not wanted)
    return setting(
        asked,
        table("other", {"tags": ("something-else",)}, none(), item_class="safety_item"),
        table("provider", {"tags": (wanted.tag, "second-tag")}, none(), item_class="tool"),
        table("rest", {"tags": rest or ("something-else",)}, none(), item_class="spare_part"),
    )


def case_of(kit: KitList, wanted: Wanted) -> RuleCase:
    """Taken and left."""
    where = shelf(kit, FROST, wanted)
    season = " in winter" if kit.winter else ""
    return RuleCase(kit.id, (where, {"provider": 0}), (where, {"provider": 1}), f"Missing{season}: {wanted.name}.")


CASES: dict[str, RuleCase] = {kit.id: case_of(kit, kit.things[0]) for kit in KITS}


@pytest.mark.parametrize("kit, wanted", EACH, ids=[f"{kit.id} {wanted.tag}" for kit, wanted in EACH])
def test_passes_and_trips(kit: KitList, wanted: Wanted) -> None:
    assert_case(case_of(kit, wanted))


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_effects(case: RuleCase) -> None:
    assert_effects(case)


@pytest.mark.parametrize("rule_id, number, missing", [
    ("SAFE-01", 0, "Missing: eyewash."),
    ("SAFE-03", 0, "Missing in winter: eyewash that is proof against frost."),
    ("TOOL-01", 5, "Missing: ladder."),
    ("SPARE-01", 3, "Missing: filter screens."),
    ("WINTER-01", 1, "Missing in winter: hose cover."),
])  # fmt: skip
def test_sentences_as_a_person_reads_them(rule_id: str, number: int, missing: str) -> None:
    kit = next(kit for kit in KITS if kit.id == rule_id)
    assert case_of(kit, kit.things[number]).sentence == missing


@pytest.mark.parametrize("kit", KITS, ids=[kit.id for kit in KITS])
def test_winter_kit_is_asked_for_only_in_winter(kit: KitList) -> None:
    assert len(judge(kit.id, shelf(kit, MILD))) == (0 if kit.winter else len(kit.things))


def test_the_brief_may_say_winter_itself() -> None:
    kit = next(kit for kit in KITS if kit.id == "WINTER-01")
    assert judge("WINTER-01", shelf(kit, brief({"air_temperature": {"coldest": "-10 degC"}}, winter="false"))) == ()
    said = shelf(kit, brief({"air_temperature": {"coldest": "10 degC"}}, winter="true"))
    assert len(judge("WINTER-01", said)) == 3
    assert reads_of("WINTER-01", said) == frozenset()
    assert reads_of("WINTER-01", shelf(kit, FROST)) == {"coldest_air", "overnight_air"}


def test_a_cold_night_alone_is_winter() -> None:
    kit = next(kit for kit in KITS if kit.id == "WINTER-01")
    night = brief({"air_temperature": {"coldest": "10 degC"}, "overnight": {"air": "-2 degC"}})
    assert len(judge("WINTER-01", shelf(kit, night))) == 3


def test_only_what_a_regulation_asks_cannot_be_waived() -> None:
    practice = {kit.id for kit in KITS if RULES[kit.id].basis is Basis.PRACTICE}
    assert practice == {"SAFE-02", "SAFE-03", "TOOL-01", "SPARE-01", "WINTER-01"}
