"""Programs with yes/no slots at the end: the core with its ideal bundle, the bound, and the rows that must be broken, all
against exhaustive search."""

from __future__ import annotations

import itertools
from dataclasses import replace

import numpy as np
import pytest

from solver.program.matrix import Program
from solver.search.best import TIE, Question, best, cost_of_best, exists
from solver.search.bound import bound_of
from solver.search.core import core_of
from solver.search.savings import savings


def kit_program(seed):
    """Two or three slots of up to four options, then four to six yes/no slots that must cover two tags; sums over all."""
    rng = np.random.default_rng(seed)
    sizes = [*rng.integers(3, 5, int(rng.integers(2, 4))).tolist(), *([2] * int(rng.integers(4, 7)))]
    offsets = np.concatenate([[0], np.cumsum(sizes)]).astype(np.int64)
    n = int(offsets[-1])
    first = sum(size > 2 for size in sizes)
    edge = int(offsets[first])
    rows, rhs, groups = [], [], []

    def add(row, limit, group):
        rows.append(row)
        rhs.append(int(limit))
        groups.append(group)

    price, weight = rng.integers(1, 12, n), rng.integers(1, 12, n)
    price[edge + 1 :: 2] = weight[edge + 1 :: 2] = 0  # the second option of a yes/no slot is to leave it
    for tag in ("tag 1", "tag 2"):
        row = np.zeros(n, np.int64)
        row[edge::2] = -(rng.random((n - edge + 1) // 2) < 0.5).astype(np.int64)
        if row.any():
            add(row, -1, tag)
    add(weight, rng.integers(12, 45), "weight")
    for k in range(int(rng.integers(1, 4))):
        row = np.where(np.arange(n) < edge, rng.integers(-6, 7, n), 0)
        somewhere = [int(rng.integers(a, b)) for a, b in itertools.pairwise(offsets[: first + 1].tolist())]
        add(row, row[somewhere].sum() + rng.integers(-2, 3), f"row {k}")
    single = np.zeros(n, np.int64)
    single[: int(offsets[1])] = rng.integers(0, 3, int(offsets[1]))
    add(single, 1, "filter")
    costs = {"price": price.astype(np.int64), "weight": weight.astype(np.int64)}
    return Program(np.array(rows), np.array(rhs), offsets, costs, tuple(groups), tuple(groups))


def exhaustive(program, by, active):
    """(cost, other cost, columns) of the best rig that keeps the active rows, by trying all."""
    combos = np.array(list(itertools.product(*[range(a, b) for a, b in program.slices])), dtype=np.int64)
    sums = program.rows[active][:, combos].sum(axis=2)
    fitting = combos[(sums <= program.rhs[active][:, None]).all(axis=0)]
    keys = [(program.cost(c, by), program.cost(c, TIE[by]), tuple(c.tolist())) for c in fitting]
    return min(keys, default=None)


@pytest.mark.parametrize("block", range(2))
def test_best_rig_and_every_saving_equal_exhaustive_search(block):
    """50 programs; each group of rows dropped in turn, with the consequence that a better rig breaks one of them."""
    cored = rigs = cheaper = 0
    for seed in range(block * 25, (block + 1) * 25):
        program = kit_program(seed)
        everything = np.ones(len(program.rhs), bool)
        cored += core_of(program, everything, ("price", "weight")) is not None
        for by in ("price", "weight"):
            expected = exhaustive(program, by, everything)
            found = best(Question(program, by))
            if expected is None:
                assert found.columns is None and found.proven
                assert not exists(Question(program, by))
                continue
            rigs += 1
            assert (found.cost, tuple(found.columns.tolist())) == (expected[0], expected[2]), seed
            groups = list(dict.fromkeys(program.groups))
            parts = [np.array([other == group for other in program.groups]) for group in groups]
            halves = [part & (np.cumsum(part) <= (part.sum() + 1) // 2) for part in parts]
            whole = savings(program, by, found.columns, parts)
            some = savings(program, by, found.columns, halves, whole)
            for part, saving in [*zip(parts, whole, strict=True), *zip(halves, some, strict=True)]:
                least = exhaustive(program, by, ~part)[0]
                assert saving.amount == expected[0] - least, (seed, by)
                if saving.amount:
                    assert program.fits(saving.rig, ~part) and program.cost(saving.rig, by) == least
            for group in groups:
                rows = np.array([other != group for other in program.groups])
                below = {by: expected[0] - 1}
                dropped = exhaustive(program, by, rows)
                better = dropped[0] if dropped is not None and dropped[0] < expected[0] else None
                question = Question(program, by, rows, at_most=below, broken=np.flatnonzero(~rows))
                assert cost_of_best(question) == better, (seed, by, group)
                assert exists(question) == (better is not None)
                cheaper += better is not None
    assert cored > 10 and rigs > 20 and cheaper > 20, "the block must hold cores, rigs and savings"


@pytest.mark.parametrize("seed", range(40))
def test_the_bound_never_excludes_a_rig_within_the_cutoff(seed):
    program = kit_program(seed)
    everything = np.ones(len(program.rhs), bool)
    expected = exhaustive(program, "price", everything)
    if expected is None:
        return
    for cutoff in (expected[0], expected[0] + 3):
        bound = bound_of(program.rows, program.rhs, program.costs["price"], program.slot_of, cutoff)
        assert not bound.excluded
        assert bound.possible[list(expected[2])].all()


def test_the_bound_excludes_something_somewhere():
    """Otherwise the test above could not fail."""
    cut = 0
    for seed in range(40):
        program = kit_program(seed)
        expected = exhaustive(program, "price", np.ones(len(program.rhs), bool))
        if expected is not None:
            bound = bound_of(program.rows, program.rhs, program.costs["price"], program.slot_of, expected[0] - 1)
            cut += bound.excluded or not bound.possible.all()
    assert cut > 5


@pytest.mark.parametrize("by", ["price", "weight"])
def test_limits_on_the_other_cost_are_kept(by):
    """The kit that completes a core may break a limit on a cost that is not asked to be least."""
    held = none = 0
    for seed in range(60):
        program = kit_program(seed)
        everything = np.ones(len(program.rhs), bool)
        ends = [exhaustive(program, each, everything) for each in (TIE[by], by)]
        if None in ends:
            continue
        low, high = ends[0][0], program.cost(np.array(ends[1][2]), TIE[by])
        for most in sorted({low - 1, low, (2 * low + high) // 3, (low + high) // 2, (low + 2 * high) // 3}):
            fitting = exhaustive(limited_program(program, TIE[by], most), by, np.ones(len(program.rhs) + 1, bool))
            question = Question(program, by, at_most={TIE[by]: most})
            found = best(question)
            assert found.proven and exists(question) == (fitting is not None), (seed, most)
            assert cost_of_best(question) == (None if fitting is None else fitting[0])
            assert fitting is None or (found.cost, tuple(found.columns.tolist())) == (fitting[0], fitting[2]), (seed, most)
            held, none = held + (fitting is not None), none + (fitting is None)
    assert held > 60 and none > 20


def limited_program(program, by, most):
    """The program with a limit on a cost as one more row."""
    rows, rhs = np.vstack([program.rows, program.costs[by]]), np.append(program.rhs, most)
    return replace(program, rows=rows, rhs=rhs, groups=(*program.groups, "limit"), labels=(*program.groups, "limit"))
