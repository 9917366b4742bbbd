"""The engine room against exhaustive search: objective and rig, with the reduction on and off."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from solver.program.matrix import Program
from solver.search.best import TIE, Question, best, exists
from tests.program.toy import toy


def exhaustive(program, by):
    """(cost, other cost, columns) of the best rig by trying all, or None."""
    combos = np.array(list(itertools.product(*[range(a, b) for a, b in program.slices])), dtype=np.int64)
    sums = program.rows[:, combos].sum(axis=2)
    fitting = combos[(sums <= program.rhs[:, None]).all(axis=0)]
    keys = [(program.cost(c, by), program.cost(c, TIE[by]), tuple(c.tolist())) for c in fitting]
    return min(keys, default=None)


def agree(program, by, domination):
    """Whether engine and exhaustive search give the same answer."""
    expected = exhaustive(program, by)
    found = best(Question(program, by, domination=domination))
    assert found.proven
    if expected is None:
        assert found.columns is None
        assert not exists(Question(program, by, domination=domination))
    else:
        assert (found.cost, tuple(found.columns.tolist())) == (expected[0], expected[2])
        assert program.cost(found.columns, TIE[by]) == expected[1]
        assert not exists(Question(program, by, at_most={by: expected[0] - 1}, domination=domination))
    return expected is not None


@pytest.mark.parametrize("block", range(10))
def test_pick_equals_exhaustive_search_on_every_row_form(block):
    """520 random problems over sums, peaks, needs/provides, guards, legs and tangents (52 a block)."""
    feasible = 0
    for seed in range(block * 52, (block + 1) * 52):
        program = toy(seed).program
        for by in ("price", "weight"):
            feasible += agree(program, by, domination=True)
            agree(program, by, domination=False)
    assert 10 < feasible < 104, "a block must hold problems with and without a rig"


def random_program(seed):
    """A small program of arbitrary rows with many ties in cost."""
    rng = np.random.default_rng(seed)
    sizes = rng.integers(1, 5, int(rng.integers(2, 6)))
    offsets = np.concatenate([[0], np.cumsum(sizes)]).astype(np.int64)
    n, m = int(offsets[-1]), int(rng.integers(1, 7))
    rows = rng.integers(-9, 10, (m, n)) * (rng.random((m, n)) < 0.6)
    somewhere = [rng.integers(a, b) for a, b in itertools.pairwise(offsets.tolist())]
    rhs = rows[:, somewhere].sum(axis=1) + rng.integers(-2, 9, m)
    costs = {"price": rng.integers(0, 4, n).astype(np.int64), "weight": rng.integers(0, 3, n).astype(np.int64)}
    labels = tuple(f"row {i}" for i in range(m))
    return Program(rows.astype(np.int64), rhs.astype(np.int64), offsets, costs, labels, labels)


@pytest.mark.parametrize("block", range(5))
def test_ties_fall_to_the_other_cost_then_to_the_order_of_slots_and_items(block):
    for seed in range(block * 40, (block + 1) * 40):
        program = random_program(seed)
        for by in ("price", "weight"):
            for domination in (True, False):
                agree(program, by, domination)
