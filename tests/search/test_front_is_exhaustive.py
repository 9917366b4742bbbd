"""The front against exhaustive search: no point is missing, none is dominated, each rig has the costs it is said to have."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest

from solver.search.front import front
from solver.search.front_fold import fold, undominated_points
from solver.search.front_near import Near
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


def test_undominated_points_of_two_costs_are_those_of_all_pairs():
    rng = np.random.default_rng(5)
    for _ in range(100):
        points = rng.integers(0, 12, (int(rng.integers(1, 40)), 2))
        better = [(points <= p).all(axis=1) & ((points < p).any(axis=1) | (np.arange(len(points)) < k))
                  for k, p in enumerate(points)]  # fmt: skip
        assert undominated_points(points).tolist() == [k for k, by in enumerate(better) if not by.any()]


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
