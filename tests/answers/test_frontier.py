"""frontier: ends that pick confirms, no point dominated, neighbours that differ by what is said."""

from __future__ import annotations

import itertools
from functools import cache

from solver.answers.frontier import SHOWN, frontier
from tests.demo.demo import IMPOSSIBLE, answer, brief, stock

NAME = "first_rig"


@cache
def found():
    """The front, worked out once."""
    return frontier(stock(), brief(NAME))


def test_the_ends_are_the_cheapest_and_the_lightest_rig():
    points = found().points
    assert points[0].rig == answer(NAME, "price").rig
    assert points[-1].total == answer(NAME, "weight").total


def test_each_point_costs_more_and_weighs_less_than_the_one_before():
    totals = [point.total for point in found().points]
    assert len(totals) > 100
    assert all(a.price < b.price and a.weight > b.weight for a, b in itertools.pairwise(totals))


def test_a_point_is_the_one_before_with_the_differences_put_in():
    before = {line.slot: line for line in found().points[0].rig}
    for point in found().points:
        for swap in point.swaps:
            if swap.before is not None:
                assert before.pop(swap.before.slot) == swap.before
        for swap in point.swaps:
            if swap.after is not None:
                before[swap.after.slot] = swap.after
        assert before == {line.slot: line for line in point.rig}


def test_a_readable_number_is_shown_with_both_ends():
    said = found()
    assert len(said.shown) <= SHOWN
    assert (said.shown[0], said.shown[-1]) == (0, len(said.points) - 1)
    assert len(said.steps) == len(said.shown) and said.steps[0] == ()


def test_where_nothing_fits_there_is_the_conflict():
    said = frontier(stock(), brief(IMPOSSIBLE))
    assert (said.status, said.points) == ("none", ())
    assert len(said.conflicts) == 1
