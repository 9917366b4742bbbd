"""The briefs give what their stories promise, and between them put every family of rules to work."""

from __future__ import annotations

import pytest

from solver.rules import RULES
from tests.demo.demo import BRIEFS, COSTS, IMPOSSIBLE, POSSIBLE, answer, asked, brief

FAMILIES = ("MAT", "HOSE", "HEAT", "AIR", "RESP", "PWR", "WT", "FIT", "MONEY")


def items(name: str, by: str) -> dict[str, str]:
    """Item in every slot of the best rig."""
    of = asked(name)
    found = of.best(by=by)
    assert found.columns is not None
    return {line.slot: line.item for line in of.lines(of.rig_of(found.columns), empty=True)}


def deciding(name: str) -> set[str]:
    """Rules that bind the cheapest or the lightest rig, or that are in the conflict."""
    return {
        rule
        for by in COSTS
        for said in (answer(name, by),)
        for rule in (*(e.rule for e in said.binding), *(c.rule for found in said.conflicts for c in found.members))
    }


def test_there_are_six_briefs():
    assert len(BRIEFS) == 6
    assert IMPOSSIBLE in BRIEFS


@pytest.mark.parametrize("name", POSSIBLE)
def test_a_proven_rig(name):
    said = answer(name, brief(name).by)
    assert (said.status, said.proven, said.conflicts) == ("found", True, ())
    assert said.total is not None and said.total.price > 0.0
    assert all(balance.holds for balance in said.balances)


@pytest.mark.parametrize("name", POSSIBLE)
def test_what_is_owned_is_in_the_rig_at_no_price(name):
    said = answer(name, brief(name).by)
    owned = {line.item: line.price for line in said.rig if line.owned}
    assert owned == dict.fromkeys(brief(name).owned, 0.0)


def test_one_conflict():
    said = answer(IMPOSSIBLE, brief(IMPOSSIBLE).by)
    assert (said.status, said.proven, said.rig, said.total) == ("none", True, (), None)
    assert len(said.conflicts) == 1
    assert all(clash.balance is not None for clash in said.conflicts[0].members)


def test_the_wish_list_clashes_with_more_than_one_wish():
    members = answer(IMPOSSIBLE, brief(IMPOSSIBLE).by).conflicts[0].members
    assert len(members) >= 2


def test_the_cheapest_and_the_lightest_rig_are_not_the_same():
    apart = {}
    for name in POSSIBLE:
        cheap, light = (items(name, by) for by in COSTS)
        apart[name] = sum(cheap[slot] != light[slot] for slot in cheap)
    assert max(apart.values()) >= 4, apart


def test_the_light_trailer_is_a_trailer():
    assert items("light_trailer", "weight")["tow_vehicle"] == brief("light_trailer").owned[0]


@pytest.mark.parametrize("family", FAMILIES)
def test_every_family_of_rules_decides_somewhere(family):
    assert any(rule.startswith(f"{family}-") for rule in RULES)
    found = {name: sorted(rule for rule in deciding(name) if rule.startswith(f"{family}-")) for name in BRIEFS}
    assert any(found.values()), f"no {family} rule binds or conflicts in any brief"
