"""What a page says beyond pick: reasons judged by swapping for real, and points that are on the exact front."""

from __future__ import annotations

import numpy as np
import pytest

from solver.answers.sheet import price_against_weight, rig_of_lines, sheet_facts
from solver.errors import InternalError
from solver.search.front import front
from tests.demo.demo import answer, asked, brief, stock

NAME = "first_rig"


@pytest.fixture(scope="module")
def facts():
    found = sheet_facts(stock(), brief(NAME), answer(NAME, "price"))
    assert found is not None
    return found


def test_every_better_option_alone_breaks_a_rule_that_the_reason_names(facts):
    of = asked(NAME)
    rig = rig_of_lines(of, answer(NAME, "price").rig)
    for reason in facts.reasons:
        table, start = of.setting.slots[reason.slot], of.offsets[reason.slot]
        cost = of.costs["price"][start : start + len(table)]
        better = [k for k in range(len(table)) if cost[k] < cost[rig[reason.slot]]]
        assert (reason.kind, reason.better) == (("rules", len(better)) if better else ("least", 0))
        for k in better:
            columns = of.columns_of({**rig, reason.slot: k})
            broken = of.program.rows[:, columns].sum(axis=1) > of.program.rhs
            rules = {of.program.groups[i] for i in np.flatnonzero(broken)}
            assert rules & {entry.rule for entry in reason.hindrances}


def test_worksheets_are_those_of_the_balances(facts):
    assert tuple(sheet.balance for sheet in facts.worksheets) == answer(NAME, "price").balances


def test_points_of_price_against_weight_are_on_the_exact_front():
    exact = front(asked(NAME).program, ("price", "weight"))
    assert exact is not None
    known = {point.costs for point in exact.points}
    shown = price_against_weight(stock(), brief(NAME))
    costs = [(round(trade.total.price * 100), round(trade.total.weight * 1000)) for trade in shown]
    assert len(costs) == len(set(costs)) == 10
    assert set(costs) <= known
    assert (costs[0], costs[-1]) == (min(known), max(known))
    assert costs == sorted(costs)


def test_an_answer_of_another_brief_is_refused():
    with pytest.raises(InternalError, match=r"^the rig of the answer is not the one that its lines name$"):
        sheet_facts(stock(), brief("humid_coast"), answer(NAME, "price"))
