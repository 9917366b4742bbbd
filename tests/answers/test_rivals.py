"""rivals: the pick first, items that differ, differences that rebuild the rig, kinds that are what they say."""

from __future__ import annotations

from functools import cache

import pytest

from solver.answers.rivals import DIFFER, rivals
from solver.errors import EntryError
from tests.demo.demo import IMPOSSIBLE, answer, asked, brief, stock

NAMES = ("owned_truck", "humid_coast")


@cache
def found(name, kinds=False):
    """The answer, worked out once."""
    return rivals(stock(), brief(name), count=3, kinds=kinds)


@pytest.mark.parametrize("name", NAMES)
def test_the_first_is_the_pick_and_costs_never_fall(name):
    said = found(name)
    assert said.rivals[0].rig == answer(name, brief(name).by).rig
    assert said.rivals[0].swaps == ()
    prices = [rival.total.price for rival in said.rivals]
    assert prices == sorted(prices)
    assert all(rival.proven for rival in said.rivals)


@pytest.mark.parametrize("name", NAMES)
def test_no_two_hold_the_same_items_where_they_must_differ(name):
    held = [tuple({line.slot: line.item for line in rival.rig}.get(slot) for slot in DIFFER) for rival in found(name).rivals]
    assert len(set(held)) == len(held) == 3


@pytest.mark.parametrize("name", NAMES)
def test_the_pick_with_the_differences_put_in_is_the_rival(name):
    said = found(name)
    pick = {line.slot: line for line in said.rivals[0].rig}
    for rival in said.rivals:
        rig = dict(pick)
        for swap in rival.swaps:
            if swap.before is not None:
                assert rig.pop(swap.before.slot) == swap.before
        for swap in rival.swaps:
            if swap.after is not None:
                rig[swap.after.slot] = swap.after
        assert rig == {line.slot: line for line in rival.rig}


def test_kinds_are_what_they_say():
    said = rivals(stock(), brief("humid_coast").changed(unwanted={"classes": ["body_cooler"]}), count=3, kinds=True)
    kinds = {kind.name: kind for kind in said.kinds}
    slots = asked("humid_coast").setting.slots
    for name in ("truck", "trailer"):
        rig = {line.slot: line.item for line in kinds[name].rival.rig}
        vehicle = slots["vehicle"]
        assert vehicle.words["kind"][vehicle.items.index(rig["vehicle"])] == name
    for line in kinds["new equipment only"].rival.rig:
        table = slots[line.slot]
        assert table.words["condition"][table.items.index(line.item)] != "used"
    assert kinds["used equipment allowed"].rival.swaps == ()
    least = said.rivals[0].total.price
    assert all(kind.rival.total.price >= least for kind in said.kinds if kind.rival is not None)
    assert all(kind.rules for kind in said.kinds if kind.rival is None)


def test_where_nothing_fits_there_is_the_conflict():
    said = rivals(stock(), brief(IMPOSSIBLE))
    assert (said.status, said.rivals, said.kinds) == ("none", (), ())
    assert said.conflicts == answer(IMPOSSIBLE, brief(IMPOSSIBLE).by).conflicts


def test_mistakes_of_the_asker():
    with pytest.raises(EntryError, match='slot "wheels"'):
        rivals(stock(), brief("owned_truck"), differ=("wheels",))
    with pytest.raises(EntryError, match="no slot to differ in"):
        rivals(stock(), brief("owned_truck"), differ=())
    with pytest.raises(EntryError, match="a count of 0"):
        rivals(stock(), brief("owned_truck"), count=0)
