"""insist: every item once, picked ones at nothing, extras that a solve confirms, minimal sets of rules."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np

from solver.answers.insist import insist
from solver.report.insist_text import insist_text
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


def possible(one, rules):
    """Whether some rig keeps these rules that has the item in any of its slots."""
    of = asked(NAME)
    rows = of.rows_of(frozenset(rules))
    return any(exists(Question(of.program, of.by, rows, allowed=options(one.item, slot))) for slot in one.slots)


def test_sets_of_rules_exclude_the_item_in_every_slot_and_each_rule_is_needed_where_that_is_said():
    several = 0
    excluded = [one for one in found().items if one.rules]
    together = [one for one in excluded if len(one.rules) > 1]
    two_slots = [one for one in excluded if len(one.slots) > 1]
    assert two_slots, "some item must be excluded from two slots"
    for one in (*excluded[::12], *together[::3], *two_slots[:4]):
        assert not possible(one, one.rules), one.item
        if one.minimal and one.rules[0] not in asked(NAME).program.background:
            assert all(possible(one, set(one.rules) - {rule}) for rule in one.rules), one.item
            several += len(one.rules) > 1
    assert several > 0


def test_a_short_set_of_an_item_of_one_slot_is_minimal():
    short = [one for one in found().items if len(one.slots) == 1 and 0 < len(one.rules) <= 4]
    assert short and all(one.minimal for one in short)


def test_text_tells_four_rules_of_a_set_at_most_and_single_rules_first():
    long = ("HOSE-01", "MONEY-01", "MAT-05", "MAT-09", "AIR-01", "AIR-07")
    one = next(one for one in found().items if one.extra is None and one.item_class == "compressor")
    items = (replace(one, rules=long), replace(one, item="another", rules=("AIR-01",)))
    text = " ".join(insist_text(replace(found(), items=items), 80).split())
    assert "; and 2 more." in text and "AIR-07" not in text
    assert text.index("In no rig: another. Excluded by AIR-01") < text.index(f"In no rig: {one.item}. Excluded by HOSE-01")


def test_where_nothing_fits_there_is_the_conflict():
    said = insist(stock(), brief(IMPOSSIBLE))
    assert (said.status, said.items, said.total) == ("none", (), None)
    assert len(said.conflicts) == 1
