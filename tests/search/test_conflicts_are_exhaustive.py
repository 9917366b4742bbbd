"""Minimal conflicts and corrections of small random programs against enumeration of all subsets and all rigs."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from solver.program.matrix import Program
from solver.search.best import Question, any_rig, best
from solver.search.conflicts import minimal_conflicts
from solver.search.minimal import minimal_set
from solver.search.savings import savings


def random_program(seed, room=0):
    """Three slots of up to four options; six to eight groups of one or two rows each, hard to keep together without room."""
    rng = np.random.default_rng(seed)
    sizes = rng.integers(2, 5, 3)
    offsets = np.concatenate([[0], np.cumsum(sizes)]).astype(np.int64)
    n = int(offsets[-1])
    rows, rhs, groups = [], [], []
    for k in range(int(rng.integers(6, 9))):
        for _ in range(int(rng.integers(1, 3))):
            row = rng.integers(-5, 6, n) * (rng.random(n) < 0.8)
            rig = [int(rng.integers(a, b)) for a, b in itertools.pairwise(offsets.tolist())]
            rows.append(row)
            rhs.append(int(row[rig].sum()) + int(rng.integers(-1, 3)) + room)
            groups.append(f"group {k}")
    costs = {"price": rng.integers(1, 15, n).astype(np.int64), "weight": rng.integers(1, 15, n).astype(np.int64)}
    return Program(np.array(rows, np.int64), np.array(rhs, np.int64), offsets, costs, tuple(groups), tuple(groups))


def every_rig(program):
    """Columns of every rig, and the groups that each keeps."""
    rigs = np.array(list(itertools.product(*[range(a, b) for a, b in program.slices])), dtype=np.int64)
    kept = program.rows[:, rigs].sum(axis=2) <= program.rhs[:, None]
    names = dict.fromkeys(program.groups)
    own = {name: np.array([group == name for group in program.groups]) for name in names}
    return rigs, [frozenset(name for name in names if kept[own[name], k].all()) for k in range(len(rigs))]


def minimal(sets):
    """Those that contain no other."""
    return {a for a in sets if not any(b < a for b in sets)}


def enumerated(names, keeps):
    """All minimal sets that no rig keeps, and all minimal sets to leave out so that a rig exists."""
    subsets = [frozenset(c) for size in range(len(names) + 1) for c in itertools.combinations(names, size)]
    clashing = [s for s in subsets if not any(s <= kept for kept in keeps)]
    correcting = [s for s in subsets if any(frozenset(names) - s <= kept for kept in keeps)]
    return minimal(clashing), minimal(correcting)


def oracle_of(program, names):
    own = {name: np.array([group == name for group in program.groups]) for name in names}

    def oracle(wanted):
        rows = np.array([group in wanted for group in program.groups])
        rig = any_rig(Question(program, "price", rows))
        if rig is None:
            return None
        good = program.rows[:, rig].sum(axis=1) <= program.rhs
        return frozenset(name for name in names if good[own[name]].all())

    return oracle


@pytest.mark.parametrize("block", range(2))
def test_conflicts_and_corrections_equal_enumeration(block):
    """100 programs: all minimal conflicts, in order of weight; corrections and conflicts hit each other; any order of
    preference gives one of them, of which every part can be kept."""
    seen = several = 0
    for seed in range(block * 50, (block + 1) * 50):
        program = random_program(seed)
        names = list(dict.fromkeys(program.groups))
        _, keeps = every_rig(program)
        if any(len(kept) == len(names) for kept in keeps):
            continue
        conflicts, corrections = enumerated(names, keeps)
        weights = {name: 10 ** (k % 3) for k, name in enumerate(names)}
        oracle = oracle_of(program, names)
        found = minimal_conflicts(names, weights, oracle, 1000)
        assert found.complete and {frozenset(c) for c in found.conflicts} == conflicts, seed
        assert len(found.conflicts) == len(conflicts)
        heavy = [sum(weights[name] for name in c) for c in found.conflicts]
        assert heavy == sorted(heavy), seed
        assert {frozenset(c) for c in found.corrections} <= corrections
        assert all(set(c) & m for c in found.conflicts for m in corrections), "each correction meets each conflict"
        first = minimal_conflicts(names, weights, oracle, 1)
        assert first.conflicts == found.conflicts[:1] and first.complete == (len(conflicts) == 1)
        others = minimal_conflicts(names, weights, oracle, 1000, known=first.conflicts)
        assert {frozenset(c) for c in others.conflicts} == conflicts - {frozenset(first.conflicts[0])}
        one = minimal_set(names[::-1], lambda kept, ask=oracle: ask(kept) is not None)
        assert frozenset(one) in conflicts, seed
        seen += 1
        several += len(conflicts) > 1
    assert seen > 10 and several > 5, "the block must hold programs with several conflicts"


@pytest.mark.parametrize("block", range(1))
def test_binding_groups_are_those_in_every_minimal_set_below_the_best(block):
    """A group saves something exactly if it is in every minimal set of groups that excludes all cheaper rigs; adding it back
    to the others changes the best exactly then."""
    bound = 0
    for seed in range(1000 + block * 60, 1000 + (block + 1) * 60):
        program = random_program(seed, room=4)
        names = list(dict.fromkeys(program.groups))
        rigs, keeps = every_rig(program)
        found = best(Question(program, "price"))
        if found.columns is None:
            continue
        cheaper = [kept for rig, kept in zip(rigs, keeps, strict=True) if program.cost(rig, "price") < found.cost]
        sets, _ = enumerated(names, cheaper)
        shared = frozenset.intersection(*sets) if sets else frozenset()
        parts = [np.array([group == name for group in program.groups]) for name in names]
        amounts = savings(program, "price", found.columns, parts)
        assert {name for name, saving in zip(names, amounts, strict=True) if saving.amount} == shared, seed
        bound += bool(shared)
    assert bound > 5


def test_patience_ends_the_search_without_a_claim():
    program = random_program(next(s for s in range(1000) if no_rig(s)))
    names = list(dict.fromkeys(program.groups))
    found = minimal_conflicts(names, dict.fromkeys(names, 1), oracle_of(program, names), 1000, patience=1)
    assert not found.complete


def no_rig(seed):
    program = random_program(seed)
    return not any(len(kept) == len(set(program.groups)) for kept in every_rig(program)[1])
