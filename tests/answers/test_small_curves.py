"""Curves in toy worlds with two duties, against trying every rig at every value; how they are walked."""

from __future__ import annotations

import itertools
from functools import cache
from types import SimpleNamespace

import numpy as np
import pytest

import solver.search.engine
from solver.answers import curve as curve_module
from solver.answers.curve import curve
from solver.answers.curve_walk import Point, Walk
from solver.answers.steps_facts import changes_from, swaps_between
from solver.answers.steps_rows import Moves, Way
from tests.answers.small import toys
from tests.answers.small.toys import DUTIES, SHORT, World, changed, tight

NONE = float("inf")


@pytest.fixture(autouse=True)
def toy(monkeypatch):
    """The toy worlds in place of the rules; a caution for every option that is the third of its slot."""
    toys.joined(monkeypatch)
    records = [SimpleNamespace(id=f"caution {j}", text=f"text {j}") for j in (4, 2, 3, 1, 0)]
    monkeypatch.setattr(curve_module, "CAUTIONS", records)
    monkeypatch.setattr(curve_module, "cautions", cautions)


def cautions(of, rig, balances):
    """A caution for every slot that holds its third option; one where no rig is."""
    if rig is None:
        return (curve_module.Caution("caution 4", "where no rig fits"),)
    return tuple(curve_module.Caution(f"caution {s}", "of a rig") for s, option in enumerate(rig.values()) if option == 2)


def change(asked, one, other):
    """How much two rigs differ: 8 for another item in a slot, 1 for the same one otherwise."""
    return int(changes_from(asked, asked.rig_of(one))[other].sum())


# --- curves -----------------------------------------------------------------------------------------------------------
CURVES = [("output", DUTIES), ("output", ("porches",)), ("warm_up_time", ("attics",)), ("spraying_time", DUTIES),
          ("spraying_time", ("attics",)), ("altitude", DUTIES), ("budget", ()), ("sets", ())]  # fmt: skip
SEEDS = {"price": (3, 19, 31), "yearly-cost": (0, 2, 14, 37)}
QUESTIONS = {"price": 264, "yearly-cost": 366}
"""Questions put to the engine for these curves: no more than it took."""


@pytest.mark.parametrize("by", ["price", "yearly-cost"])
def test_a_curve_is_that_of_trying_every_rig_at_every_value(by, monkeypatch):
    asked_for, solved = [], solver.search.engine._model
    monkeypatch.setattr(solver.search.engine, "_model", lambda *given: asked_for.append(1) or solved(*given))
    jumps = empty = 0
    for seed, (name, duties) in itertools.product(SEEDS[by], CURVES):
        world, record = World(seed, by), SHORT[name]
        asked = world.asked()
        found = curve(asked, record, duties)
        briefs = {value: changed(world.brief, record, value, duties) for value in record.grid()}
        least = {value: world.least(of) for value, of in briefs.items()}
        assert found.skipped == tuple(value for value, cost in least.items() if cost is None)
        points = tuple((v, None if cost == NONE else cost / 100) for v, cost in least.items() if cost is not None)
        assert found.points == points, (seed, name, duties)
        assert (found.title, found.by, found.requirement, found.duties) == (world.brief.title, by, name, duties)
        own = {Way(record, (duty,)).present(world.brief) for duty in duties} or {Way(record).present(world.brief)}
        assert found.present == (own.pop() if len(own) == 1 else None)
        check_stretches(world, asked, found, briefs)
        jumps, empty = jumps + len(found.stretches) - 1, empty + any(cost is None for _, cost in points)
    assert jumps > 20 and empty > 0 and len(asked_for) <= QUESTIONS[by]


def check_stretches(world, asked, found, briefs):
    """Stretches follow each other, each with a rig of least cost at every value, and changes are told from the last rig."""
    values = [value for value, _ in found.points]
    costs = dict(found.points)
    place = 0
    before, rigs = None, []
    for stretch in found.stretches:
        assert stretch.first == values[place]
        place = values.index(stretch.last) + 1
        inside = values[values.index(stretch.first) : place]
        assert (stretch.cost, stretch.cost_last) == (costs[stretch.first], costs[stretch.last])
        if stretch.cost is None:
            assert (stretch.price, stretch.weight, stretch.rig, stretch.swaps) == (None, None, (), ())
            assert all(costs[value] is None for value in inside)
            continue
        rig = world.rig_told(stretch.rig)
        rigs.append(asked.rig_of(rig))
        for value in inside:
            good, cost = world.fitting(briefs[value])
            assert int(cost[(good == rig).all(axis=1)][0]) == cost.min() == round(costs[value] * 100)
        assert stretch.price == world.costs["price"][rig].sum() / 100
        assert stretch.weight == world.costs["weight"][rig].sum() / 1000
        assert stretch.swaps == (() if before is None else swaps_between(asked, asked.rig_of(before), asked.rig_of(rig)))
        before = rig
    assert place == len(values)
    same = [a.rig == b.rig for a, b in itertools.pairwise(found.stretches)]
    assert not any(same), "neighbours differ"
    ids = {caution.id for rig in rigs for caution in cautions(None, rig, ())} if rigs else {"caution 4"}
    assert [(c.id, c.text) for c in found.cautions] == [
        (f"caution {j}", f"text {j}") for j in (4, 2, 3, 1, 0) if f"caution {j}" in ids
    ]


def test_a_curve_on_which_no_rig_fits_has_the_cautions_of_the_brief():
    world = tight(20)
    found = curve(world.asked(), SHORT["altitude"], DUTIES)
    briefs = {value: changed(world.brief, SHORT["altitude"], value, DUTIES) for value in SHORT["altitude"].grid()}
    assert [cost for _, cost in found.points] == [None] * (len(briefs) - len(found.skipped)) and len(found.skipped) == 1
    assert len(found.stretches) == 1 and [caution.id for caution in found.cautions] == ["caution 4"]
    check_stretches(world, world.asked(), found, briefs)


@pytest.mark.parametrize("rigs, ends", [
    ("aa--bba", [(0, 1), (2, 3), (4, 5), (6, 6)]), ("-a-", [(0, 0), (1, 1), (2, 2)]), ("ab", [(0, 0), (1, 1)]),
    ("b", [(0, 0)]), ("--", [(0, 1)]), ("a--", [(0, 0), (1, 2)]), ("aaa", [(0, 2)]), ("", []),
])  # fmt: skip
def test_stretches_are_neighbours_with_one_rig(rigs, ends):
    world = World(6)
    asked, columns = world.asked(), {"a": world.rigs[0], "b": world.rigs[-1], "-": None}
    points = [Point(None if columns[one] is None else 100 * k, columns[one]) for k, one in enumerate(rigs)]
    found = curve_module._stretches(asked, tuple(10.0 + k for k in range(len(rigs))), points)
    assert [(stretch.first, stretch.last) for stretch in found] == [(10.0 + a, 10.0 + b) for a, b in ends]
    before = None
    for stretch, (first, last) in zip(found, ends, strict=True):
        own = columns[rigs[first]]
        assert (stretch.cost, stretch.cost_last) == ((None, None) if own is None else (float(first), float(last)))
        assert stretch.rig == (() if own is None else asked.lines(asked.rig_of(own)))
        changed_now = own is not None and before is not None
        assert stretch.swaps == (swaps_between(asked, asked.rig_of(before), asked.rig_of(own)) if changed_now else ())
        before = own if own is not None else before


@cache
def walked(seed, name, duties):
    """A walk and its points."""
    moves = Moves(World(seed).asked(), Way(SHORT[name], duties))
    walk = Walk(moves, tuple(value for value in SHORT[name].grid() if moves.possible(value)))
    return walk, walk.walked()


def walks():
    """A walk of every curve in some worlds, and its points."""
    return [walked(seed, name, duties) for seed, (name, duties) in itertools.product((3, 19), CURVES)]


def loses_no_rig(walk, one, other):
    """Whether every rig that keeps the rows of one value keeps those of another, row by row, over all rigs."""
    world = walk.asked.setting.world
    for place, (row, rhs) in walk.rows[other].items():
        kept = np.ones(len(world.rigs), bool)
        if place in walk.rows[one]:
            old, limit = walk.rows[one][place]
            kept = old[world.rigs].sum(axis=1) <= limit
        if (kept & (row[world.rigs].sum(axis=1) > rhs)).any():
            return False
    return True


def likes_of(walk):
    """For each value that of the rig which is changed as little as can be: the one before it in a run, else the one below."""
    found = {}
    for first, last, up in walk._runs():
        if last - first >= 2:
            before = None
            for k in range(last, first - 1, -1) if up else range(first, last + 1):
                found.setdefault(k, before)
                before = k
    for k in range(len(walk.values)):
        found.setdefault(k, k - 1 if k else None)
    return found


def test_a_rig_is_kept_as_long_as_it_is_best_and_else_changed_as_little_as_can_be():
    kept = new = 0
    for walk, points in walks():
        likes = likes_of(walk)
        world = walk.asked.setting.world
        assert len(points) == len(walk.values) and all(a is b for a, b in zip(points, walk.points, strict=True))
        for k, near in likes.items():
            like = None if near is None else points[near]
            if points[k].columns is None or like is None or like.columns is None:
                continue
            rows, rhs = walk._mildest(k, k)
            good = np.array([rig for rig in world.rigs if walk._fits(rig, k)])
            cost = world.costs["price"][good].sum(axis=1)
            best = good[cost == cost.min()]
            assert (rows[:, points[k].columns].sum(axis=1) <= rhs).all()
            least = min(change(walk.asked, like.columns, rig) for rig in best)
            assert change(walk.asked, like.columns, points[k].columns) == least
            kept, new = kept + (least == 0), new + (least > 0)
    assert kept > 50 and new > 10


def test_runs_are_those_that_lose_no_rig_and_few_questions_are_asked():
    one_way = some = 0
    for walk, points in walks():
        last = len(walk.values) - 1
        ends = [k + 1 for k in range(last)]
        for first, end, up in walk._runs():
            assert all(loses_no_rig(walk, k, k + 1) if up else loses_no_rig(walk, k + 1, k) for k in range(first, end))
            assert end > first
            ends = [k for k in ends if not first < k <= end]
            further = walk.up if up else walk.down
            assert end == last or not all(further[end].values())
        assert not any(all(pairs[k - 1].values()) for k in ends for pairs in (walk.up, walk.down)), "outside runs neither"
        whole = all(all(e.values()) for e in walk.up) or all(all(e.values()) for e in walk.down)
        assert walk.one_way is whole
        if walk.one_way:
            rigs = [None if p.columns is None else tuple(p.columns.tolist()) for p in points]
            assert walk.solves == 1 + sum(a != b for a, b in itertools.pairwise(rigs)), "one question for each rig"
        assert walk.solves <= 2 * len(points)
        one_way, some = one_way + walk.one_way, some + (not walk.one_way)
    assert one_way > 3 and some > 3


@pytest.mark.parametrize(
    "up, down, runs",
    [
        ([1, 1, 1], [0, 0, 0], [(0, 3, True)]),
        ([0, 0, 0], [1, 1, 1], [(0, 3, False)]),
        ([1, 1, 1], [1, 1, 1], [(0, 3, True)]),
        ([1, 0, 0], [1, 1, 0], [(0, 2, False)]),
        ([0, 1, 1], [0, 0, 0], [(1, 3, True)]),
        ([1, 0, 1, 1], [0, 1, 1, 0], [(0, 1, True), (1, 3, False), (3, 4, True)]),
        ([0, 0], [0, 0], []),
        ([], [], []),
    ],
)
def test_runs_share_a_value_with_their_neighbours(up, down, runs):
    walk = object.__new__(Walk)
    walk.values = range(len(up) + 1)
    walk.up, walk.down = ([{"one": True, "two": bool(each)} for each in own] for own in (up, down))
    assert walk._runs() == runs
    assert walk.one_way is (all(up) or all(down))


def test_rows_of_a_range_are_kept_by_every_rig_that_fits_somewhere_in_it():
    seen = 0
    for walk, _ in walks():
        world, last = walk.asked.setting.world, len(walk.values) - 1
        for first, end in ((0, 0), (0, last), (last // 2, last), (0, last // 2), (1, 2)):
            rows, rhs = walk._mildest(first, end)
            within = range(first, end + 1)
            places = [place for place in walk.rows[first] if all(place in walk.rows[k] for k in within)]
            assert rows.shape == (len(places), world.offsets[-1]) and rhs.shape == (len(places),)
            for row, limit, place in zip(rows, rhs, places, strict=True):
                own = [walk.rows[k][place] for k in within]
                keeps = np.any([one[world.rigs].sum(axis=1) <= most for one, most in own], axis=0)
                assert (row[world.rigs].sum(axis=1) <= limit)[keeps].all()
                ways = [all(pairs[k][place] for k in range(first, end)) for pairs in (walk.down, walk.up)]
                if any(ways):
                    one, most = own[0 if ways[0] else -1]
                    assert (row == one).all() and limit == most
                else:
                    assert (row == np.min([one for one, _ in own], axis=0)).all() and limit == max(most for _, most in own)
                seen += 1
    assert seen > 100


@pytest.mark.parametrize("first, last, kept", [(0, 0, "ABC"), (1, 1, "ACD"), (0, 1, "AC"), (1, 2, "AD"), (0, 2, "A")])
def test_only_rows_that_are_there_at_every_value_of_a_range_are_kept(first, last, kept):
    walk = object.__new__(Walk)
    walk.asked = SimpleNamespace(program=SimpleNamespace(rows=np.zeros((1, 2), np.int64)))
    places = ("ABC", "ACD", "ABD")
    walk.rows = [{one: (np.array([ord(one) + k, ord(one) - k]), 10 * k) for one in own} for k, own in enumerate(places)]
    walk.up = walk.down = [dict.fromkeys("ABCD", False)] * 2
    rows, rhs = walk._mildest(first, last)
    assert rows.tolist() == [[ord(one) + first, ord(one) - last] for one in kept] and rhs.tolist() == [10 * last] * len(kept)


@pytest.mark.parametrize("costs_move", [False, True])
def test_runs_of_three_values_and_more_are_walked_from_their_loose_end(costs_move, monkeypatch):
    walk, orders, scanned = object.__new__(Walk), [], []
    walk.moves, walk.values, walk.points = SimpleNamespace(costs_move=costs_move), range(10), [None] * 10

    def run(order):
        orders.append(list(order))
        for k in order:
            walk.points[k] = Point(k, None)

    monkeypatch.setattr(walk, "_runs", lambda: [(0, 2, True), (3, 4, True), (4, 7, False)], raising=False)
    monkeypatch.setattr(walk, "_run", run, raising=False)
    monkeypatch.setattr(walk, "_scan", lambda k: scanned.append(k) or run([k]), raising=False)
    assert [point.cost for point in walk.walked()] == list(range(10))
    assert [order for order in orders if len(order) > 1] == ([] if costs_move else [[2, 1, 0], [4, 5, 6, 7]])
    assert scanned == (list(range(10)) if costs_move else [3, 8, 9])


@pytest.mark.parametrize("keeps, better, expected", [
    # of the values that the rig before fits (from 1 on), and ranges in which something better may be: what is asked
    (8, [], [(1, 1), (2, 3), (4, 7), (8, 8)]),
    (3, [], [(1, 1), (2, 3)]),
    (8, [6], [(1, 1), (2, 3), (4, 7), (4, 4), (5, 6), (5, 5), (6, 7), (6, 6)]),
    (8, [1], [(1, 1)]),
])  # fmt: skip
def test_a_scan_looks_twice_as_far_each_time_and_back_to_one(keeps, better, expected, monkeypatch):
    walk = object.__new__(Walk)
    before, other = Point(5, np.array([0])), Point(4, np.array([1]))
    walk.values, walk.points, walk._stride = range(9), [before, *[None] * 8], 1
    walk.costs, walk.solves, looked, solved = [np.array([5, 4])] * 9, 0, [], []
    monkeypatch.setattr(walk, "_fits", lambda columns, k: k <= keeps, raising=False)

    def may_be(point, first, last):
        looked.append((first, last))
        return any(first <= k <= last for k in better)

    monkeypatch.setattr(walk, "_better", may_be, raising=False)
    monkeypatch.setattr(walk, "_solve", lambda k, like: solved.append((k, like)) or other, raising=False)
    k = 1
    while k < 9 and not solved:
        if walk.points[k] is None:
            walk._scan(k)
        k += 1
    assert looked == expected
    assert [(k, like.cost) for k, like in solved] == [(min([*better, keeps + 1]), 5)] * (min([*better, keeps + 1]) < 9)
    end = solved[0][0] if solved else 9
    assert [(p.cost, p.columns.tolist()) for p in walk.points[:end]] == [(5, [0])] * end
