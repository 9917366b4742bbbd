"""SAFE-, TOOL-, SPARE- and WINTER-: each thing is covered by any item that provides it, and missed when none does."""

from __future__ import annotations

import pytest

from solver.brief.models import Brief
from solver.rules import RULES
from solver.rules.cover import WANTED, Wanted
from solver.rules.instances import Setting
from solver.rules.record import Basis
from tests.rules.small import RuleCase, assert_case, assert_effects, brief, judge, none, reads_of, setting, table

FROST = brief({"air_temperature": {"coldest": "-10 degC"}})
MILD = brief({"air_temperature": {"coldest": "10 degC"}, "overnight": {"air": "5 degC"}})


def kit(wanted: Wanted, asked: Brief) -> Setting:
    """Two items to take or leave, of which the second provides the thing."""
    return setting(
        asked,
        table("other", {"tags": ("something-else",)}, none(), item_class="safety_item"),
        table("provider", {"tags": (wanted.tag, "second-tag")}, none(), item_class="tool"),
    )


def case_of(wanted: Wanted) -> RuleCase:
    """Taken and left."""
    where = kit(wanted, FROST)
    season = " in winter" if wanted.winter else ""
    return RuleCase(wanted.id, (where, {"provider": 0}), (where, {"provider": 1}), f"Missing{season}: {wanted.name}.")


CASES: dict[str, RuleCase] = {wanted.id: case_of(wanted) for wanted in WANTED}


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_passes_and_trips(case: RuleCase) -> None:
    assert_case(case)


@pytest.mark.parametrize("case", CASES.values(), ids=CASES)
def test_effects(case: RuleCase) -> None:
    assert_effects(case)


@pytest.mark.parametrize("rule_id, missing", [
    ("SAFE-01", "Missing: eyewash."),
    ("SAFE-09", "Missing in winter: eyewash that is proof against frost."),
    ("TOOL-06", "Missing: ladder."),
    ("SPARE-04", "Missing: set of filter screens."),
    ("WINTER-02", "Missing in winter: hose cover."),
])  # fmt: skip
def test_sentences_as_a_person_reads_them(rule_id: str, missing: str) -> None:
    assert CASES[rule_id].sentence == missing


@pytest.mark.parametrize("wanted", WANTED, ids=[wanted.id for wanted in WANTED])
def test_winter_kit_is_asked_for_only_in_winter(wanted: Wanted) -> None:
    assert len(judge(wanted.id, kit(wanted, MILD))) == (0 if wanted.winter else 1)


def test_the_brief_may_say_winter_itself() -> None:
    jackets = next(wanted for wanted in WANTED if wanted.id == "WINTER-01")
    assert judge("WINTER-01", kit(jackets, brief({"air_temperature": {"coldest": "-10 degC"}}, winter="false"))) == ()
    said = kit(jackets, brief({"air_temperature": {"coldest": "10 degC"}}, winter="true"))
    assert len(judge("WINTER-01", said)) == 1
    assert reads_of("WINTER-01", said) == frozenset()
    assert reads_of("WINTER-01", kit(jackets, FROST)) == {"coldest_air", "overnight_air"}


def test_a_cold_night_alone_is_winter() -> None:
    jackets = next(wanted for wanted in WANTED if wanted.id == "WINTER-01")
    night = brief({"air_temperature": {"coldest": "10 degC"}, "overnight": {"air": "-2 degC"}})
    assert len(judge("WINTER-01", kit(jackets, night))) == 1


def test_only_what_a_regulation_asks_cannot_be_waived() -> None:
    practice = {wanted.id for wanted in WANTED if RULES[wanted.id].basis is Basis.PRACTICE}
    assert {"SAFE-08", "SAFE-09"} <= practice
    assert not practice & {f"SAFE-0{number}" for number in range(1, 8)}
