"""What can only help must not hurt: more items, fewer rules, looser requirements. What binds, binds by what is said."""

from __future__ import annotations

import random
from functools import cache

import pytest

from solver.answers.ask import Asked, ask
from solver.answers.clashes import conflict
from solver.brief import Brief
from solver.brief.requirements import REQUIREMENTS
from solver.rules import RULES
from solver.rules.instances import instances
from solver.rules.record import Effect
from solver.search.best import exists
from tests.demo.demo import BRIEFS, COSTS, IMPOSSIBLE, POSSIBLE, answer, asked, brief, least_cost, stock
from tests.demo.effects import raised
from tests.laws.smaller import kept_by, nested_parts

NEVER = float("inf")


def with_rules(of: Asked, rules: frozenset[str]) -> Asked:
    """The same brief under these rules alone, compiled anew."""
    kept = {rule: record for rule, record in RULES.items() if rule in rules and rule not in of.brief.waived}
    return Asked(of.catalog, of.brief, of.setting, instances(of.setting, kept), of.by)


# --- items ------------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("seed", range(2))
@pytest.mark.parametrize("name", POSSIBLE)
def test_an_added_item_never_raises_the_least_cost(name, seed):
    growing = [ask(part, brief(name)) for part in nested_parts(seed, (0.4, 0.6, 0.8), kept_by(brief(name)))]
    for by in COSTS:
        costs = [least_cost(of, by) for of in growing]
        assert costs == sorted(costs, reverse=True)
        assert costs[-1] < NEVER


def test_the_parts_of_the_catalog_are_parts_in_earnest():
    """Leaving out items matters somewhere, so that the law above is put to the test."""
    seen = {least_cost(ask(part, brief("owned_truck")), "price") for part in nested_parts(0, (0.4, 0.6, 0.8), frozenset(
        kept_by(brief("owned_truck"))))}  # fmt: skip
    assert len(seen) > 1


# --- rules ------------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", POSSIBLE)
def test_a_rule_left_out_never_raises_the_least_cost_and_saves_only_if_it_binds(name):
    of, by = asked(name), asked(name).by
    whole = least_cost(of, by)
    binding = {entry.rule for entry in answer(name, by).binding}
    others = [rule for rule in of.droppable if rule not in binding]
    for rule in random.Random(name).sample(others, min(8, len(others))):
        assert least_cost(of, by, of.rows_without(rule)) == whole, f"{rule} binds and was not named"


@pytest.mark.parametrize("name", POSSIBLE)
def test_a_binding_rule_saves_exactly_what_is_said(name):
    """The rule is not even compiled."""
    said = answer(name, asked(name).by)
    of = asked(name)
    whole = least_cost(of, of.by)
    assert said.binding
    for entry in random.Random(name).sample(said.binding, min(5, len(said.binding))):
        without = with_rules(of, frozenset(RULES) - {entry.rule})
        assert whole - least_cost(without, of.by) == round(entry.saving * of.unit) > 0, entry.rule


@pytest.mark.parametrize("name", POSSIBLE)
def test_savings_in_one_duty_are_at_most_the_whole(name):
    said = answer(name, asked(name).by)
    duties = [duty.name for duty in brief(name).duties]
    for entry in said.binding:
        assert set(entry.by_duty) == (set(duties) if RULES[entry.rule].scope.duties else set())
        assert all(0.0 <= saving <= entry.saving for saving in entry.by_duty.values())


# --- conflicts --------------------------------------------------------------------------------------------------------
def holds(of: Asked, rules: frozenset[str]) -> bool:
    """Whether some rig keeps these rules, ownership and wiring; nothing else is compiled."""
    return exists(with_rules(of, rules | of.program.background).question())


def assert_minimal(of: Asked) -> None:
    """The conflict found is one, and is none without any one of its rules."""
    members = frozenset(clash.rule for clash in conflict(of).members)
    assert members
    assert not holds(of, members)
    for rule in sorted(members):
        assert holds(of, members - {rule}), f"{rule} is not needed in the conflict"


def test_the_conflict_of_the_wish_list_is_minimal():
    said = answer(IMPOSSIBLE, brief(IMPOSSIBLE).by)
    assert [clash.rule for clash in said.conflicts[0].members] == [c.rule for c in conflict(asked(IMPOSSIBLE)).members]
    assert_minimal(asked(IMPOSSIBLE))


@cache
def impossible_parts() -> tuple[Asked, ...]:
    """Demo briefs over parts of the catalog that hold no rig for them."""
    found = []
    for seed, name in enumerate(POSSIBLE):
        for part in nested_parts(seed, (0.15, 0.3), kept_by(brief(name)))[:-1]:
            of = ask(part, brief(name))
            if least_cost(of, "price") == NEVER:
                found.append(of)
    return tuple(found[:4])


def test_conflicts_over_parts_of_the_catalog_are_minimal():
    assert len(impossible_parts()) >= 2
    for of in impossible_parts():
        assert_minimal(of)


# --- requirements -----------------------------------------------------------------------------------------------------
def one_way(of: Asked, name: str) -> Effect | None:
    """The direction in which a requirement works on all rules that read it here; None if there are both."""
    effects = {RULES[rule].effects.get(name) for rule in of.groups if name in of.reads_of(rule)}
    return effects.pop() if len(effects) == 1 and effects != {Effect.BOTH} else None


def tightened(of: Asked, name: str) -> Brief | None:
    """The brief with a one-way requirement tightened by two steps of its grid; None where it could not say so."""
    return raised(of.brief, name, steps=2 if one_way(of, name) is Effect.TIGHTENS else -2)


def one_way_requirements(name: str) -> list[str]:
    """Requirements of a brief that work one way and that it can tighten."""
    of = asked(name)
    return [r for r in REQUIREMENTS if one_way(of, r) is not None and tightened(of, r) is not None]


@pytest.mark.parametrize("name", POSSIBLE)
def test_a_tightened_requirement_never_lowers_the_least_cost(name):
    of = asked(name)
    names = one_way_requirements(name)
    whole = least_cost(of, of.by)
    for requirement in random.Random(name).sample(names, min(6, len(names))):
        changed = ask(of.catalog, tightened(of, requirement))
        assert least_cost(changed, of.by) >= whole, f"{requirement} by two steps"


def test_requirements_that_work_one_way_are_many_and_one_of_them_moves_the_cost():
    assert len(set().union(*(one_way_requirements(name) for name in BRIEFS))) >= 20
    dearer = ask(stock(), raised(brief("owned_truck"), "hose_reach", steps=20))
    assert least_cost(dearer, "price") > least_cost(asked("owned_truck"), "price")
