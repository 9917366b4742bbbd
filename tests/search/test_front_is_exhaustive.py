"""The front against exhaustive search: no point is missing, none is dominated, each rig has the costs it is said to have."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest

import solver.search.front_points as points_module
from solver.search.front import _Search, front
from solver.search.front_fold import fold
from solver.search.front_near import Near
from solver.search.front_points import beaten, corners, inside, undominated_points
from solver.search.front_zones import Table, most_of
from tests.program.toy import toy
from tests.search.test_best_is_exhaustive import random_program
from tests.search.test_core_is_exact import kit_program


def exhaustive(program, names):
    """All cost vectors of rigs that no other rig equals or beats in all of them, by trying all."""
    combos = np.array(list(itertools.product(*[range(a, b) for a, b in program.slices])), dtype=np.int64)
    fitting = combos[(program.rows[:, combos].sum(axis=2) <= program.rhs[:, None]).all(axis=0)]
    points = {tuple(program.cost(rig, name) for name in names) for rig in fitting}
    return sorted(p for p in points if not any(q != p and all(a <= b for a, b in zip(q, p, strict=True)) for q in points))


def agree(program, names, domination):
    """How many points engine and exhaustive search agree on."""
    expected = exhaustive(program, names)
    found = front(program, names, domination)
    if not expected:
        assert found is None
        return 0
    assert [point.costs for point in found.points] == expected
    for point in found.points:
        assert program.fits(point.columns)
        assert tuple(program.cost(point.columns, name) for name in names) == point.costs
    return len(expected)


@pytest.mark.parametrize("make", [toy, random_program, kit_program])
@pytest.mark.parametrize("domination", [True, False])
def test_price_and_weight(make, domination):
    most = 0
    for seed in range(60):
        found = make(seed)
        program = found.program if make is toy else found
        most = max(most, agree(program, ("price", "weight"), domination))
    assert most >= 4, "some front must have several points"


@pytest.mark.parametrize("domination", [True, False])
def test_three_costs(domination):
    most = 0
    for seed in range(40):
        program = kit_program(seed)
        rng = np.random.default_rng(seed + 1000)
        third = rng.integers(0, 15, program.rows.shape[1]).astype(np.int64)
        program = replace(program, costs={**program.costs, "yearly-cost": third})
        most = max(most, agree(program, ("price", "weight", "yearly-cost"), domination))
    assert most >= 10, "some front must have many points"


def coupled_program(seed):
    """A kit program with rows that cores and kit share and that are no cost, one as tight as a random rig leaves it."""
    program = kit_program(seed)
    rng = np.random.default_rng(seed + 5000)
    n = program.rows.shape[1]
    rig = np.array([int(rng.integers(a, b)) for a, b in program.slices])
    shared = rng.integers(0, 9, (2, n))
    rhs = np.append(program.rhs, shared[:, rig].sum(axis=1) + np.array([0, 6]))
    names = (*program.groups, "shared 1", "shared 2")
    costs = {**program.costs, "yearly-cost": rng.integers(0, 15, n).astype(np.int64)}
    return replace(program, rows=np.vstack([program.rows, shared]), rhs=rhs, costs=costs, groups=names, labels=names,
                   memo={}, cores={})  # fmt: skip


@pytest.mark.parametrize("names", [("price", "weight"), ("price", "weight", "yearly-cost")])
def test_where_the_best_cores_leave_no_room_for_a_bundle(names, monkeypatch):
    """Then cores that others beat can be in the front, and the engine is asked for rigs with such a bundle."""
    asked = []
    real = _Search._rig_within

    def watched(*given):
        asked.append(real(*given))
        return asked[-1]

    monkeypatch.setattr(_Search, "_rig_within", watched)
    most = max(agree(coupled_program(seed), names, True) for seed in range(80))
    found = sum(rig is not None for rig in asked)
    assert most >= 4 and found > 5 and len(asked) - found > 5, (most, found, len(asked))


@pytest.mark.parametrize("costs", [2, 3, 4])
def test_undominated_points_are_those_of_all_pairs(costs):
    rng = np.random.default_rng(5)
    for _ in range(100):
        points = rng.integers(0, 12, (int(rng.integers(1, 40)), costs))
        better = [(points <= p).all(axis=1) & ((points < p).any(axis=1) | (np.arange(len(points)) < k))
                  for k, p in enumerate(points)]  # fmt: skip
        assert undominated_points(points).tolist() == [k for k, by in enumerate(better) if not by.any()]


@pytest.mark.parametrize("costs", [2, 3])
def test_corners_are_the_largest_of_all_that_no_point_reaches(costs):
    rng = np.random.default_rng(costs)
    several = 0
    for _ in range(200):
        top = int(rng.integers(1, 9))
        points = rng.integers(0, top + 2, (int(rng.integers(0, 12)), costs))
        points[:, 0] = np.maximum(0, top + 1 - points[:, 1:].sum(axis=1)) if top % 2 else points[:, 0]
        points = points[undominated_points(points)] if len(points) else points
        least, most = rng.integers(0, 2, costs), rng.integers(top - 1, top + 2, costs)
        free = np.array([place for place in itertools.product(*(range(a, b + 1) for a, b in zip(least, most, strict=True)))
                         if not any((point <= place).all() for point in points)]).reshape(-1, costs)  # fmt: skip
        largest = [place for place in free.tolist() if ((free >= place).all(axis=1)).sum() == 1]
        assert sorted(corners(points, least, most).tolist()) == sorted(largest)
        several += len(largest) > 2
    assert several > 40, "many must have several corners"


def test_inside_is_what_some_larger_point_holds(monkeypatch):
    monkeypatch.setattr(points_module, "_AT_ONCE", 40)
    rng = np.random.default_rng(3)
    points, larger = rng.integers(0, 20, (90, 3)), rng.integers(0, 15, (12, 3))
    expected = [any((own <= other).all() for other in larger) for own in points]
    assert inside(points, larger).tolist() == expected and 10 < sum(expected) < 80
    assert not inside(points, larger[:0]).any()


@pytest.mark.parametrize("costs", [2, 3])
def test_beaten_is_what_some_known_point_equals_or_beats(costs):
    rng = np.random.default_rng(9)
    for _ in range(100):
        points, known = rng.integers(0, 9, (30, costs)), rng.integers(3, 9, (int(rng.integers(0, 6)), costs))
        expected = [any((other <= own).all() for other in known) for own in points]
        assert beaten(points, known).tolist() == expected


def test_no_rig_costs_more_than_what_a_row_leaves_room_for():
    tighter = 0
    for seed in range(40):
        program = random_program(seed)
        costs = np.stack([program.costs[name] for name in ("price", "weight")])
        limit = most_of(Table(program.rows, program.rhs, program.slot_of, costs))
        combos = np.array(list(itertools.product(*[range(a, b) for a, b in program.slices])), dtype=np.int64)
        sums = costs[:, combos].sum(axis=2)
        fitting = (program.rows[:, combos].sum(axis=2) <= program.rhs[:, None]).all(axis=0)
        assert (limit >= sums[:, fitting].T).all()
        tighter += int((limit < sums.max(axis=1)).any())
    assert tighter > 5, "some row must bind"


def test_a_budget_is_the_most_of_its_cost():
    cost = np.array([[3, 9, 4, 20]])
    table = Table(np.array([[30, 90, 40, 200]]), np.array([155]), np.array([0, 0, 1, 1]), cost)
    assert most_of(table).tolist() == [15]


def test_cores_near_to_one_keep_the_rows_without_the_bundles_and_none_beats_another():
    grown = 0
    for seed in range(60):
        program = random_program(seed)
        found = front(program)
        if found is None:
            continue
        folded = fold(program, ("price", "weight"), domination=False)
        near = Near(folded)
        cores = near.spread(found.points[0].columns)
        assert all(program.fits(core) for core in cores)
        keys = sorted(near.known)
        assert all(a[0] < b[0] and a[1] > b[1] for a, b in itertools.pairwise(keys))
        assert set(keys) <= {tuple(program.cost(core, name) for name in ("price", "weight")) for core in cores}
        grown += len(keys) > 1
    assert grown > 5, "some must have neighbours"
