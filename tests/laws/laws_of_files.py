"""Laws of the answer to pick when its files are changed: in ways that must not matter, or can only make it dearer. A law
gives the number of comparisons that it made, 0 where it has nothing to say, and raises AssertionError where it is broken.

Contents: `items_unwanted`, `prices_scaled`, `dominated_item`, `equal_item_later`, `equal_item_earlier`, `duty_twice`,
`states_twice`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np

from solver.answers.ask import Asked
from solver.answers.pick import pick
from solver.rules import RULES
from solver.rules.instances import instances
from tests.laws.law_case import UNIT, LawCase, between, cost_of, reasons_in_words, rig_in_words, same
from tests.laws.little import changed_brief, dearer, neighbour, with_copy


def items_unwanted(case: LawCase) -> int:
    """An item that the brief leaves out: the same answer if it was not used, else never a better one, and without it."""
    rng, done = case.rng("unwanted"), 0
    unwanted = dict(case.little.brief.get("unwanted", {}))
    for ids, used in ((case.left(), False), (case.bought(), True)):
        if not ids:
            continue
        item = rng.choice(ids)
        text = changed_brief(case.little, unwanted={**unwanted, "items": [item]})
        read = case.other(text, f"unwanted-{used}")
        answer = pick(read.catalog, read.brief)
        assert item not in {line.item for line in answer.rig}
        if not used and case.picked.rig:
            assert (rig_in_words(answer), answer.total) == (rig_in_words(case.picked), case.picked.total), item
        cost = cost_of(answer, case.by)
        assert cost >= case.cost, f"without {item} the best is cheaper"
        if case.judge is not None:
            have = np.zeros(len(case.judge.rigs), bool)
            for name, table in case.asked.setting.slots.items():
                have |= case.judge.with_item(name, item) if item in table.items else False
            between(cost, case.judge.least(case.by, among=~have), f"{item} unwanted")
        done += 1
    return done


def prices_scaled(case: LawCase) -> int:
    """All prices, the budget and the training times a whole number: the same rig, at so much; the same rules bind."""
    by = "price" if case.by == "yearly-cost" else case.by
    factor = case.rng("scaled").choice([2, 3, 10])
    usual = case.picked if by == case.by else pick(case.read.catalog, case.read.brief, by)
    read = case.other(dearer(case.little, factor), "dearer")
    answer = pick(read.catalog, read.brief, by)
    assert (answer.status, rig_in_words(answer)) == (usual.status, rig_in_words(usual))
    size = factor if by == "price" else 1
    expected = [(rule, round(saving * UNIT[by]) * size) for rule, saving in reasons_in_words(usual)[0]]
    assert [(rule, round(saving * UNIT[by])) for rule, saving in reasons_in_words(answer)[0]] == expected
    assert reasons_in_words(answer)[1] == reasons_in_words(usual)[1]
    if usual.total is not None and answer.total is not None:
        assert round(answer.total.price * 100) == factor * round(usual.total.price * 100)
        assert answer.total.weight == usual.total.weight
    return 1


def _copies(case: LawCase, law: str) -> Iterator[tuple[str, bool]]:
    """Items to be copied: one of the rig, then one that is not in it; and whether it is in it."""
    rng = case.rng(law)
    for ids, used in ((case.bought(), True), (case.left(), False)):
        if ids:
            yield rng.choice(ids), used


def dominated_item(case: LawCase) -> int:
    """An item like another, but dearer, before it or after it in order: the same answer."""
    done = 0
    for item, used in _copies(case, "dominated"):
        earlier = case.rng(item).random() < 0.5
        read = case.other(with_copy(case.little, item, earlier, price=7.0), f"dominated-{used}")
        assert len(read.catalog.items) == len(case.read.catalog.items) + 1
        same(pick(read.catalog, read.brief), case.picked, f"{item} again at 7 USD more")
        done += 1
    return done


def equal_item_later(case: LawCase) -> int:
    """An item like another, after it in order: the same answer."""
    done = 0
    for item, used in _copies(case, "later"):
        read = case.other(with_copy(case.little, item, earlier=False), f"later-{used}")
        same(pick(read.catalog, read.brief), case.picked, f"{item} again, after it")
        done += 1
    return done


def equal_item_earlier(case: LawCase) -> int:
    """An item like another, before it in order: the same answer with the new one in its place."""
    done = 0
    for item, used in _copies(case, "earlier"):
        read = case.other(with_copy(case.little, item, earlier=True), f"earlier-{used}")
        answer = pick(read.catalog, read.brief)
        new = {item: neighbour(item, earlier=True)}
        assert rig_in_words(answer) == rig_in_words(case.picked, new), f"{item} again, before it"
        assert answer.total == case.picked.total
        assert reasons_in_words(answer) == reasons_in_words(case.picked)
        done += 1
    return done


def duty_twice(case: LawCase) -> int:
    """The last duty a second time under another name: the same rig, and the same rules bind."""
    several = len(case.little.brief["duties"]) > 1  # of which the one given twice would be more of the year
    by = "price" if several and case.by == "yearly-cost" else case.by
    usual = case.picked if by == case.by else pick(case.read.catalog, case.read.brief, by)
    duties = case.little.brief["duties"]
    text = changed_brief(case.little, duties=[*duties, {**duties[-1], "name": f"{duties[-1]['name']} again"}])
    read = case.other(text, "twice")
    answer = pick(read.catalog, read.brief, by)
    assert answer.rows > usual.rows
    assert (answer.status, rig_in_words(answer)) == (usual.status, rig_in_words(usual))
    assert reasons_in_words(answer) == reasons_in_words(usual)
    if usual.total is not None and answer.total is not None:
        totals = (answer.total if not several else replace(answer.total, yearly_cost=usual.total.yearly_cost))
        assert totals == usual.total
    return 1


def states_twice(case: LawCase) -> int:
    """Each state of the day judged as two of the same: the same rig."""
    twice = {name: replace(rule, scope=replace(rule.scope, states=rule.scope.states * 2)) for name, rule in RULES.items()}
    setting = case.asked.setting
    of = Asked(case.asked.catalog, case.asked.brief, setting, instances(setting, twice), case.by)
    assert len(of.instances) > len(case.asked.instances)
    found, usual = of.best(), case.asked.best()
    assert found.proven and found.cost == usual.cost
    assert (found.columns is None) == (usual.columns is None)
    assert found.columns is None or found.columns.tolist() == usual.columns.tolist()
    return 1
