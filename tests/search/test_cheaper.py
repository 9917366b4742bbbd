"""Whether anything costs less without some rows: asked of many parts at once, against exhaustive search."""

from __future__ import annotations

import numpy as np
import pytest

import solver.search.savings as savings_module
from solver.search.freed import freed
from solver.search.savings import Saving, cheaper
from tests.search.test_best_is_exhaustive import exhaustive
from tests.search.test_core_is_exact import exhaustive as exhaustive_of_rows
from tests.search.test_core_is_exact import kit_program
from tests.search.test_large_savings import MAKERS, droppable, rows_of


def parts_of(program):
    """Every group that may be dropped, then every single row of these."""
    groups = droppable(program)
    parts = [rows_of(program, group) for group in groups]
    return parts + [np.arange(len(program.rhs)) == i for i, group in enumerate(program.groups) if group in groups]


@pytest.mark.parametrize("maker", MAKERS)
@pytest.mark.parametrize("together", [1, 8])
@pytest.mark.parametrize("likely", [False, True])
def test_tiny_programs_equal_exhaustive_search(monkeypatch, maker, together, likely):
    """Asked together, one by one, and with every other part expected to save something."""
    monkeypatch.setattr(savings_module, "_TOGETHER", together)
    some = nothing = 0
    for seed in range(12):
        program = MAKERS[maker](seed)
        for by in ("price", "weight"):
            expected = exhaustive(program, by)
            if expected is None:
                continue
            rig, parts = np.array(expected[2]), parts_of(program)
            found = cheaper(program, by, rig, parts, likely=set(range(0, len(parts), 2)) if likely else ())
            for part, saving in zip(parts, found, strict=True):
                least = exhaustive_of_rows(program, by, ~part)
                saves = least[0] < expected[0]
                assert (saving.amount > 0) == (saving.rig is not None) == saves
                if saving.rig is not None:
                    assert program.fits(saving.rig, ~part)
                    assert program.cost(saving.rig, by) == expected[0] - saving.amount >= least[0]
                some, nothing = some + saves, nothing + (not saves)
    assert some >= 20
    assert nothing >= 20


@pytest.mark.parametrize("maker", MAKERS)
def test_a_part_is_named_exactly_where_one_saves(maker):
    named = none = 0
    for seed in range(25):
        program = MAKERS[maker](seed)
        expected = exhaustive(program, "price")
        if expected is None:
            continue
        parts = parts_of(program)
        saving = [exhaustive_of_rows(program, "price", ~part)[0] < expected[0] for part in parts]
        for wanted in (True, False):  # all parts together, then those that save nothing
            own = [part for part, saves in zip(parts, saving, strict=True) if wanted or not saves]
            if not own:
                continue
            found = freed(program, "price", expected[0] - 1, own)
            assert (found is not None) == (wanted and any(saving))
            if found is None:
                none += 1
            else:
                named += 1
                assert program.fits(found[1], ~own[found[0]])
                assert program.cost(found[1], "price") < expected[0]
    assert named >= 5
    assert none >= 5


def test_a_rig_that_is_known_is_not_asked_for_again():
    program = next(p for p in map(kit_program, range(50)) if exhaustive(p, "price") is not None)
    rig = np.array(exhaustive(program, "price")[2])
    known = Saving(1, rig)
    assert cheaper(program, "price", rig, [np.ones(len(program.rhs), bool)], {0: known}) == [known]
