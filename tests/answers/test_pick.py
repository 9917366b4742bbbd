"""pick: what an answer holds, and that its figures belong together."""

from __future__ import annotations

import pytest

from solver.rules import RULES
from solver.rules.record import Basis
from tests.demo.demo import IMPOSSIBLE, POSSIBLE, answer, asked, brief


@pytest.mark.parametrize("name", POSSIBLE)
def test_totals_are_the_sums_of_the_lines(name):
    said = answer(name, brief(name).by)
    assert said.total is not None
    assert sum(line.price for line in said.rig) == pytest.approx(said.total.price, abs=0.5)
    assert sum(line.weight for line in said.rig) == pytest.approx(said.total.weight, abs=0.05)


@pytest.mark.parametrize("name", POSSIBLE)
def test_the_start_up_total_is_the_need_of_the_budget_rule(name):
    said = answer(name, brief(name).by)
    assert said.money is not None
    parts = said.money.equipment + said.money.tax_and_freight + said.money.training + said.money.first_material
    assert said.money.start_up == pytest.approx(parts)
    budget = [balance for balance in said.balances if balance.place.rule == "MONEY-01"]
    assert len(budget) == (brief(name).limits.budget is not None)
    for balance in budget:
        assert said.money.start_up == pytest.approx(balance.need, abs=0.01)


@pytest.mark.parametrize("name", POSSIBLE)
def test_every_rule_of_the_brief_is_in_the_balances(name):
    said = answer(name, brief(name).by)
    assert {balance.place.rule for balance in said.balances} == set(asked(name).groups)
    assert len({balance.place for balance in said.balances}) == len(said.balances) == said.rows


@pytest.mark.parametrize("name", POSSIBLE)
def test_binding_rules_come_by_saving_and_read_what_they_state(name):
    binding = answer(name, brief(name).by).binding
    savings = [entry.saving for entry in binding]
    assert savings == sorted(savings, reverse=True)
    assert min(savings) > 0.0
    for entry in binding:
        assert not RULES[entry.rule].background
        assert set(entry.reads) <= set(RULES[entry.rule].effects)
        assert entry.balance is None or (entry.balance.place.rule, entry.balance.holds) == (entry.rule, True)


def test_where_nothing_fits_there_is_a_conflict_and_nothing_else():
    said = answer(IMPOSSIBLE, brief(IMPOSSIBLE).by)
    assert (said.total, said.money, said.rig, said.balances, said.binding) == (None, None, (), (), ())
    hard = (Basis.PHYSICS, Basis.RATING, Basis.REGULATION)
    (found,) = said.conflicts
    assert found.unavoidable == all(RULES[clash.rule].basis in hard for clash in found.members)


@pytest.mark.parametrize("name", [*POSSIBLE, IMPOSSIBLE])
def test_cautions_are_never_missing(name):
    shown = [caution.id for caution in answer(name, brief(name).by).cautions]
    assert {"sizing-only", "isocyanates", "material-data"} <= set(shown)
    assert len(set(shown)) == len(shown)
