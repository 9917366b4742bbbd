"""A curve equals a plain scan that solves at every value: on toy programs by trying every rig, on demo briefs by the engine
on the brief compiled from nothing; also where the least cost goes down and up again, which a bisection gets wrong."""

from __future__ import annotations

import itertools
from dataclasses import replace

import pytest

from solver.answers.ask import ask
from solver.answers.curve import curve
from solver.answers.curve_walk import Walk
from solver.brief.requirements import REQUIREMENTS, si, with_value
from solver.search.best import cost_of_best
from tests.answers.toy_moves import ToyMoves, least
from tests.demo.demo import asked, brief, stock

VALUES = tuple(float(v) for v in range(-6, 7))
NEVER = float("inf")


def scan(of, requirement, duties, values):
    """Least cost at every value, each solved from nothing."""
    found = []
    for value in values:
        cost = cost_of_best(
            ask(stock(), with_value(of.brief, requirement, si(requirement, value), duties or None), of.by).question()
        )
        found.append(None if cost is None else cost / of.unit)
    return found


def bisected(costs):
    """The curve as bisection gives it to one who takes for granted that the cost never falls along the grid."""
    costs = [NEVER if cost is None else cost for cost in costs]
    found, first = [], 0
    while first < len(costs):
        low, high = first, len(costs) - 1
        while low < high:
            middle = (low + high + 1) // 2
            if costs[middle] <= costs[first]:
                low = middle
            else:
                high = middle - 1
        found += [costs[first]] * (low - first + 1)
        first = low + 1
    return [None if cost == NEVER else cost for cost in found]


@pytest.mark.parametrize("one_way", [True, False])
def test_toy_curves_equal_exhaustive_search(one_way):
    """100 programs each; with rows that move both ways bisection must fail somewhere, or the test proves nothing."""
    wrong, jumps, walked = 0, 0, 0
    for seed in range(100):
        moves = ToyMoves(seed, one_way)
        walk = Walk(moves, VALUES)
        found = [point.cost for point in walk.walked()]
        expected = [least(moves.asked_at(value).program) for value in VALUES]
        assert found == expected, seed
        for value, point in zip(VALUES, walk.points, strict=True):
            program = moves.asked_at(value).program
            assert point.cost is None or (program.fits(point.columns) and program.cost(point.columns, "price") == point.cost)
        steps = sum(a != b for a, b in itertools.pairwise(expected))
        jumps, wrong, walked = jumps + steps, wrong + (bisected(expected) != expected), walked + walk.one_way
        if one_way:
            assert walk.one_way and walk.solves <= 2 * steps + 2, "about one question a step"
    assert jumps > 60
    assert (wrong, walked) == (0, 100) if one_way else (wrong > 5 and walked < 100)


@pytest.mark.parametrize(("name", "what", "changes"), [
    ("owned_truck", "hose_reach", {"step": 25.0}),
    ("owned_truck", "sets", {"most": 4.0}),
    ("first_rig", "least_load", {"step": 10.0}),
    ("light_trailer", "trailer_rating", {"least": 9000.0, "most": 12_000.0}),
    ("humid_coast", "altitude", {"step": 2500.0, "most": 7500.0}),
])  # fmt: skip
def test_demo_curves_equal_a_scan(name, what, changes):
    of, requirement = asked(name), replace(REQUIREMENTS[what], **changes)
    duties = tuple(duty.name for duty in of.brief.duties) if requirement.duty else ()
    found = curve(of, requirement, duties)
    values = [value for value, _ in found.points]
    assert values == list(requirement.grid()) and found.skipped == ()
    assert [cost for _, cost in found.points] == scan(of, requirement, duties, values)
    assert [s.first for s in found.stretches[1:]] == [values[values.index(s.last) + 1] for s in found.stretches[:-1]], (
        "stretches follow each other without gaps"
    )
    for stretch in found.stretches:
        inside = {cost for value, cost in found.points if stretch.first <= value <= stretch.last}
        assert inside == {stretch.cost} == {stretch.cost_last}


def test_the_generators_least_load_makes_the_curve_fall_and_rise():
    """More output loads the set: at 8 lb/min the first rig costs less than at 7. A bisection of the same figures is wrong.
    With the rule waived the least cost never falls."""
    requirement, duties = replace(REQUIREMENTS["output"], least=6.0, most=10.5), ("summer barns",)
    found = curve(asked("first_rig"), requirement, duties)
    costs = [cost for _, cost in found.points]
    assert costs == scan(asked("first_rig"), requirement, duties, requirement.grid())
    assert not found.one_way
    assert costs[4] < costs[2] < costs[7]
    assert bisected(costs) != costs
    waived = ask(stock(), brief("first_rig").changed(waived=("PWR-07",)))
    tame = [NEVER if cost is None else cost for _, cost in curve(waived, requirement, duties).points]
    assert tame == sorted(tame)


def test_values_that_a_brief_cannot_have_are_left_out():
    found = curve(asked("owned_truck"), replace(REQUIREMENTS["spraying_time"], step=4.0, least=4.0), ("new houses",))
    assert [value for value, _ in found.points] == [4.0, 8.0]
    assert found.skipped == (12.0,)


def test_one_duty_alone_is_changed():
    of = asked("humid_coast")
    requirement = replace(REQUIREMENTS["hose_reach"], step=50.0, most=300.0)
    found = curve(of, requirement, ("winter houses",))
    assert found.present == pytest.approx(250.0)
    assert {cost for _, cost in found.points} == {129_287.0}, "the warehouse asks for 310 ft anyway"
