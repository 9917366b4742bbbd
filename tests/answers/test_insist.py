"""insist: every item once, picked ones at nothing, extras that a solve confirms, minimal sets of rules."""

from __future__ import annotations

from functools import cache

import numpy as np

from solver.answers.insist import insist
from solver.search.best import Question, cost_of_best, exists
from tests.demo.demo import IMPOSSIBLE, answer, asked, brief, stock

NAME = "light_trailer"


@cache
def found():
    """The table, worked out once."""
    return insist(stock(), brief(NAME))


def options(item, slot=None):
    """Options allowed when the item is insisted on in this slot."""
    of = asked(NAME)
    allowed = []
    for name, table in of.setting.slots.items():
        own = np.array([held == item for held in table.items])
        allowed.append(own if name == slot else np.ones(len(table), bool))
    return np.concatenate(allowed)


def test_every_item_that_fits_a_slot_is_there_once():
    items = [one.item for one in found().items]
    aboard = {item for table in asked(NAME).setting.slots.values() for item in table.items} - {"none"}
    assert len(items) == len(set(items)) and set(items) == aboard


def test_picked_items_cost_nothing_more_and_no_extra_is_negative():
    picked = {line.item for line in answer(NAME, brief(NAME).by).rig}
    assert {one.item for one in found().items if one.picked} == picked
    assert all(one.extra == 0.0 for one in found().items if one.picked)
    assert all(one.extra >= 0.0 for one in found().items if one.extra is not None)
    assert all((one.extra is None) == bool(one.rules) for one in found().items)


def test_fewer_solves_than_items():
    assert 0 < found().solves < len(found().items)


def test_a_solve_of_its_own_confirms_the_extras():
    of = asked(NAME)
    least = cost_of_best(of.question())
    for one in found().items[::11]:
        costs = [
            cost_of_best(Question(of.program, of.by, allowed=options(one.item, slot), domination=False)) for slot in one.slots
        ]
        expected = min((cost - least for cost in costs if cost is not None), default=None)
        assert one.extra == (None if expected is None else expected / of.unit), one.item


def test_sets_of_rules_exclude_the_item_and_each_rule_is_needed():
    of, several = asked(NAME), 0
    excluded = [one for one in found().items if one.rules]
    together = [one for one in excluded if len(one.rules) > 1]
    for one in (*excluded[::12], *together[::3]):
        allowed = options(one.item, one.slots[0])

        def possible(rules, allowed=allowed):
            return exists(Question(of.program, of.by, of.rows_of(frozenset(rules)), allowed=allowed))

        assert not possible(one.rules)
        if one.rules[0] not in of.program.background:
            assert all(possible(set(one.rules) - {rule}) for rule in one.rules)
            several += len(one.rules) > 1
    assert several > 0


def test_where_nothing_fits_there_is_the_conflict():
    said = insist(stock(), brief(IMPOSSIBLE))
    assert (said.status, said.items, said.total) == ("none", (), None)
    assert len(said.conflicts) == 1
