"""The register of rules is whole: every id has its case, its sentences, its unit, its basis and its source.

The cases stand in the test modules beside this one, each in a mapping `CASES` from rule id to `RuleCase`.
"""

from __future__ import annotations

import importlib
import pkgutil
import re
from string import Formatter

import pytest

import tests.rules
from solver.brief.requirements import REQUIREMENTS
from solver.quantities import dimension_of
from solver.rules import RULES
from solver.rules.balance import RESOLUTION, Balance
from solver.rules.instances import Place
from solver.rules.record import STATES, Basis, Effect, Part
from solver.rules.sentence import SI_UNIT, binding_sentence, difference, sentence
from tests.rules.small import RuleCase, assert_case

IDS = tuple(RULES)
PLACEHOLDERS = {"need", "supply", "margin", "short", "place", "part"}
COUNTS = ("1", "set")
"""Units of whole things, which have no dimension."""


def cases() -> dict[str, list[RuleCase]]:
    """Every case of every test module of this folder, by the rule that it is about."""
    found: dict[str, list[RuleCase]] = {}
    for module in pkgutil.iter_modules(tests.rules.__path__):
        if module.name.startswith("test_") and module.name != __name__.rpartition(".")[2]:
            for key, case in getattr(importlib.import_module(f"tests.rules.{module.name}"), "CASES", {}).items():
                assert key.startswith(case.rule), f"{module.name}: the case {key} is about {case.rule}"
                found.setdefault(case.rule, []).append(case)
    return found


FOUND = cases()


def placeholders(template: str) -> set[str]:
    """Names that a sentence template asks to be filled in."""
    return {name for _, name, _, _ in Formatter().parse(template) if name is not None}


def test_no_rule_is_without_a_case():
    assert [rule for rule in RULES if rule not in FOUND] == []


def test_no_case_is_about_a_rule_that_is_not_there():
    assert [rule for rule in FOUND if rule not in RULES] == []


@pytest.mark.parametrize("rule_id", [rule for rule in IDS if rule in FOUND])
def test_its_case_passes_trips_and_says_so_in_a_whole_sentence(rule_id):
    for case in FOUND[rule_id]:
        assert re.fullmatch(r"[A-Z0-9].*[.)]", case.sentence), case.sentence
        assert_case(case)


@pytest.mark.parametrize("rule_id", IDS)
def test_it_is_called_as_the_register_says(rule_id):
    assert RULES[rule_id].id == rule_id
    assert re.fullmatch(r"[A-Z]+-\d\d[A-Z]?", rule_id), "a brief could not waive it"


@pytest.mark.parametrize("rule_id", IDS)
def test_it_has_title_source_basis_and_note_in_words(rule_id):
    rule = RULES[rule_id]
    assert rule.title == rule.title.strip() != ""
    assert rule.source == rule.source.strip() != ""
    assert isinstance(rule.basis, Basis)
    assert rule.note == "" or rule.note.endswith((".", ")")), rule.note


@pytest.mark.parametrize("rule_id", IDS)
def test_a_practice_without_a_document_says_so(rule_id):
    rule = RULES[rule_id]
    if rule.basis is Basis.PRACTICE:
        assert re.search(r"common practice|\d", rule.source), "neither a document nor `common practice, no source`"


@pytest.mark.parametrize("rule_id", IDS)
def test_its_unit_is_counted_and_shown_in_both_systems(rule_id):
    unit = RULES[rule_id].unit
    assert RESOLUTION[unit] > 0.0
    if unit in COUNTS:
        assert SI_UNIT[unit] == unit
    else:
        assert dimension_of(SI_UNIT[unit]) == dimension_of(unit)


@pytest.mark.parametrize("rule_id", IDS)
def test_its_sentences_are_sentences_with_known_placeholders(rule_id):
    words = RULES[rule_id].words
    for template in (words.fits, words.fails, words.binds):
        assert placeholders(template) <= PLACEHOLDERS, template
        assert re.fullmatch(r"[A-Z{].*\.", template), template
    assert words.fits != words.fails
    assert "margin" not in placeholders(words.fails), "a failing sentence says how much is short"
    assert "short" not in placeholders(words.fits) | placeholders(words.binds)


@pytest.mark.parametrize("rule_id", IDS)
def test_a_rule_that_names_its_part_has_parts(rule_id):
    rule = RULES[rule_id]
    named = set().union(*(placeholders(t) for t in (rule.words.fits, rule.words.fails, rule.words.binds)))
    if rule.parts == (Part(""),):
        assert "part" not in named


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("rule_id", IDS)
def test_its_sentences_are_filled_in_whole(rule_id, units):
    rule = RULES[rule_id]
    place = Place(rule_id, "a job", "spraying", "coldest", "a part")
    for need, supply in ((3.0, 4.0), (4.0, 3.0)):
        balance = Balance(place, rule.unit, need, supply)
        for text in (sentence(balance, units), binding_sentence(balance, units)):
            assert not re.search(r"[{}]|\bNone\b|  | ,| \.|delta_|\bnan\b", text), text
            assert text[:1] == text[:1].upper()
    assert difference(rule.unit) in RESOLUTION


@pytest.mark.parametrize("rule_id", IDS)
def test_what_it_says_of_requirements_is_about_requirements(rule_id):
    for name, effect in RULES[rule_id].effects.items():
        assert name in REQUIREMENTS
        assert isinstance(effect, Effect)


@pytest.mark.parametrize("rule_id", IDS)
def test_its_scope_names_states_of_the_day(rule_id):
    scope = RULES[rule_id].scope
    assert set(scope.states) <= {"", *STATES}
    assert set(scope.ends) <= {"", "coldest", "hottest"}
    assert scope.duties or (scope.states, scope.ends) == (("",), ("",))


def test_only_ownership_and_wiring_are_background():
    assert {rule for rule, record in RULES.items() if record.background} <= {"OWN-01", "OWN-02", "PWR-04"}
