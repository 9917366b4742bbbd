"""The way of large programs against exhaustive search, the way of small ones, HiGHS, and proofs gone through by hand."""

from __future__ import annotations

import numpy as np
import pytest

import solver.search.best as best_module
import solver.search.parts as parts_module
from solver.errors import InternalError
from solver.program.proof import Proof
from solver.program.proof_check import check_proof
from solver.search.best import TIE, Question, any_rig, best, cheapest, exists, hopeless
from solver.search.proving import prove
from tests.program.toy import toy
from tests.search.by_hand import best_rig, by_highs, large_program, part_of, walk
from tests.search.test_best_is_exhaustive import exhaustive, random_program
from tests.search.test_core_is_exact import kit_program

SMALLEST, NEVER = 0, 10**9


@pytest.fixture
def large_way(monkeypatch):
    """Every question goes the large way, with parts so small that it splits."""
    monkeypatch.setattr(best_module, "LARGE", SMALLEST)
    monkeypatch.setattr(parts_module, "SMALL", 6)


def two_ways(monkeypatch, program, by, small=60):
    """The best rig the large way (with small parts) and the small way."""
    found = []
    for large in (SMALLEST, NEVER):
        monkeypatch.setattr(best_module, "LARGE", large)
        monkeypatch.setattr(parts_module, "SMALL", small)
        program.cores.clear()
        program.memo.clear()
        found.append(best(Question(program, by)))
    return found


MAKERS = {"toy": lambda seed: toy(seed).program, "random": random_program, "kit": kit_program}


@pytest.mark.parametrize("maker", MAKERS)
@pytest.mark.parametrize("block", range(2))
def test_tiny_programs_equal_exhaustive_search(large_way, maker, block):
    """Objective, tie and order; with and without a rig; limits on both costs; proofs of both kinds."""
    rigs = 0
    for seed in range(block * 40, (block + 1) * 40):
        program = MAKERS[maker](seed)
        for by in ("price", "weight"):
            expected = exhaustive(program, by)
            found = best(Question(program, by))
            assert found.proven
            exact = prove(program, by, None if expected is None else expected[0], exact=True)
            assert not walk(program, exact).engine
            assert not check_proof(program, exact, no_rig=expected is None).left
            if expected is None:
                assert found.columns is None and not exists(Question(program, by))
                continue
            rigs += 1
            assert (found.cost, tuple(found.columns.tolist())) == (expected[0], expected[2]), (maker, seed, by)
            assert program.fits(any_rig(Question(program, by)))
            assert not hopeless(Question(program, by))
            assert cheapest(Question(program, by, at_most={by: expected[0] - 1})).columns is None
            other = cheapest(Question(program, TIE[by], at_most={by: expected[0]}))
            assert other.cost == expected[1] and program.cost(other.columns, by) == expected[0]
    assert 10 < rigs <= 80, "a block must hold problems with a rig"


@pytest.mark.parametrize("seed", range(2))
def test_parts_of_a_generated_catalog_equal_the_small_way_and_highs(monkeypatch, seed):
    """300 to 600 options; every other program with costs in steps of 200 USD and 20 kg, so that ties abound."""
    rng = np.random.default_rng(seed)
    program = part_of(large_program(1000, seed % 2), rng, 0.3 + 0.04 * seed, 20_000 if seed % 2 else 1, 0.02)
    for by in ("price", "weight"):
        large, small = two_ways(monkeypatch, program, by)
        assert large.proven and small.proven
        assert large.cost == small.cost
        assert by == "weight" or large.cost == by_highs(program, by)
        if small.columns is not None:
            assert large.columns.tolist() == small.columns.tolist()


def test_the_programs_above_hold_some_with_and_some_without_a_rig(monkeypatch):
    """Otherwise the test above would say little."""
    costs = []
    for seed in range(4):
        program = part_of(large_program(1000, seed % 2), np.random.default_rng(seed), 0.3 + 0.04 * seed, 1, 0.02)
        costs.append(best(Question(program)).cost)
    assert 1 <= sum(cost is None for cost in costs) <= 3, costs


@pytest.mark.parametrize("seed", range(1))
def test_a_whole_generated_catalog_equals_the_small_way(monkeypatch, seed):
    """Some 1,500 options, the sizes of parts as they are."""
    program = large_program(1500, seed)
    large, small = two_ways(monkeypatch, program, "price", parts_module.SMALL)
    assert large.proven and small.proven and large.cost == small.cost
    assert large.columns.tolist() == small.columns.tolist()


def proofs(program, least):
    """A proof with and one without the engine."""
    return prove(program, "price", least), prove(program, "price", least, exact=True)


@pytest.mark.parametrize("seed", range(2))
def test_every_node_of_a_proof_holds_by_hand(monkeypatch, seed):
    """Both kinds of proof, for the best cost; one that claims a cent more does not hold."""
    monkeypatch.setattr(parts_module, "SMALL", 100)
    program = part_of(large_program(1000, 0), np.random.default_rng(seed), 0.3, rig=best_rig(1000, 0))
    least = best(Question(program)).cost
    with_engine, exact = proofs(program, least)
    first, second = walk(program, with_engine), walk(program, exact)
    assert first.shut > 100 and second.shut > 100
    assert not second.engine and second.closed
    for open_ in first.engine:
        columns = np.array(sorted(set().union(*open_)), np.int64)
        allowed = np.zeros(program.rows.shape[1], bool)
        allowed[columns] = True
        assert cheapest(Question(program, allowed=allowed, at_most={"price": least - 1})).columns is None
    assert len(check_proof(program, with_engine).left) == len(first.engine)
    assert check_proof(program, exact).left == ()
    with pytest.raises(AssertionError):
        walk(program, Proof("price", least + 1, exact.root))


def test_a_proof_that_nothing_fits_speaks_of_rows_alone():
    """The program with one row more: less money than the best rig costs."""
    program = part_of(large_program(1000, 0), np.random.default_rng(0), 0.3, rig=best_rig(1000, 0))
    sums = np.maximum.reduceat(program.costs["price"], program.offsets[:-1]).sum()
    least = best(Question(program)).cost
    rows = np.vstack([program.rows, program.costs["price"]])
    rhs = np.append(program.rhs, least - 1)
    none = type(program)(rows, rhs, program.offsets, program.costs, (*program.labels, "money"), (*program.groups, "money"))
    for proof in proofs(none, None):
        assert proof.least == sums + 1
        assert walk(none, proof).shut > 100
        check_proof(none, proof, no_rig=True)


def test_two_runs_give_the_same_proof_and_rig(monkeypatch):
    monkeypatch.setattr(parts_module, "SMALL", 100)
    monkeypatch.setattr(best_module, "LARGE", SMALLEST)
    runs = []
    for _ in range(2):
        program = part_of(large_program(1000, 1), np.random.default_rng(3), 0.3, rig=best_rig(1000, 1))
        found = best(Question(program))
        runs.append((found.columns.tolist(), prove(program, "price", found.cost, exact=True)))
    assert runs[0] == runs[1]


def test_a_false_claim_is_not_proven():
    """One cent above the best there is a rig, and the search for the proof meets it."""
    program = part_of(large_program(1000, 0), np.random.default_rng(1), 0.3, rig=best_rig(1000, 0))
    least = best(Question(program)).cost
    with pytest.raises(InternalError, match=r"^a rig was found that the proof says cannot be$"):
        prove(program, "price", least + 1)
