"""Rivals and the insist table against exhaustive search, with the reduction on and off."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from solver.search.best import TIE, Question, best
from solver.search.rivals import rivals, staying
from solver.search.rivals_insist import insist
from tests.program.toy import toy
from tests.search.test_best_is_exhaustive import random_program
from tests.search.test_core_is_exact import kit_program

MAKERS = [lambda seed: toy(seed).program, random_program, kit_program]


def fitting(program, by):
    """Every rig that fits, the best first."""
    combos = np.array(list(itertools.product(*[range(a, b) for a, b in program.slices])), dtype=np.int64)
    good = combos[(program.rows[:, combos].sum(axis=2) <= program.rhs[:, None]).all(axis=0)]
    return sorted(good.tolist(), key=lambda rig: (program.costs[by][rig].sum(), program.costs[TIE[by]][rig].sum(), rig))


def expected_rivals(program, by, slots, kinds, count):
    """The rivals by going through all rigs in order of preference."""
    seen, found = set(), []
    for rig in fitting(program, by):
        key = tuple(int(kinds[rig[s]]) for s in slots)
        if key not in seen:
            seen.add(key)
            found.append(rig)
    return found[:count]


@pytest.mark.parametrize("maker", range(3))
@pytest.mark.parametrize("domination", [True, False])
def test_rivals(maker, domination):
    several = ended = 0
    for seed in range(40):
        program = MAKERS[maker](seed)
        rng = np.random.default_rng(seed)
        kinds = program.slot_of * 100 + rng.integers(0, 3, program.rows.shape[1])  # options that share an item
        slots = list(range(min(2, len(program.offsets) - 1)))
        by = ("price", "weight")[seed % 2]
        expected = expected_rivals(program, by, slots, kinds, 4)
        found = list(rivals(Question(program, by, domination=domination), slots, kinds, 4))
        rigs = [answer.columns.tolist() for answer in found if answer.columns is not None]
        assert rigs == expected, seed
        assert all(answer.proven for answer in found)
        several += len(rigs) > 2
        ended += found[-1].columns is None and len(rigs) > 0
    assert several > 3 and ended > 0


def test_an_option_dominated_by_few_stays_where_rigs_must_differ():
    """Otherwise the trap of domination could go unnoticed: somewhere more options stay than for one best rig."""
    more = 0
    for seed in range(40):
        program = random_program(seed)
        kinds = np.arange(program.rows.shape[1])
        one = staying(program, "price", [], kinds, 0).sum()
        more += staying(program, "price", [0, 1], kinds, 2).sum() > one
    assert more > 5


@pytest.mark.parametrize("maker", range(3))
@pytest.mark.parametrize("domination", [True, False])
def test_insist(maker, domination):
    spared = impossible = 0
    for seed in range(40):
        program = MAKERS[maker](seed)
        by = ("price", "weight")[seed % 2]
        rigs = fitting(program, by)
        if not rigs:
            continue
        count = program.rows.shape[1]
        wanted = [np.arange(count) == j for j in range(count)]
        wanted.append(np.isin(np.arange(count), [int(program.offsets[0]), int(program.offsets[-2])]))
        first = best(Question(program, by)).columns
        found, solves = insist(program, by, first, wanted, domination=domination)
        for mask, answer in zip(wanted, found, strict=True):
            cost = min((int(program.costs[by][rig].sum()) for rig in rigs if mask[rig].any()), default=None)
            assert answer.cost == cost, seed
            impossible += cost is None
        spared += len(wanted) - solves
    assert spared > 20 and impossible > 0
