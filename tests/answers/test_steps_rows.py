"""What the numbers say of a moved row, and the searches over moved rows, against trying every rig."""

from __future__ import annotations

import numpy as np
import pytest

from solver.answers.steps_rows import Way, eases, sides
from solver.answers.steps_search import Ground, cheapest_like, rig_within, rigs_of_cost
from solver.brief.requirements import REQUIREMENTS
from tests.answers.toy_moves import ToyMoves, fitting, rigs
from tests.demo.demo import brief


@pytest.mark.parametrize("one_way", [True, False])
def test_a_row_said_to_get_easier_loses_no_rig(one_way):
    said = refused = 0
    for seed in range(100):
        moves = ToyMoves(seed, one_way)
        every = rigs(moves.asked.program)
        for before, after in ((0.0, 1.0), (0.0, -1.0), (2.0, 3.0)):
            old, new = moves.rows(before), moves.rows(after)
            for place, easier in eases(old, new, moves.offsets).items():
                kept = old[place][0][every].sum(axis=1) <= old[place][1]
                lost = kept & (new[place][0][every].sum(axis=1) > new[place][1])
                assert not (easier and lost.any()), (seed, place)
                said, refused = said + easier, refused + bool(lost.any())
    assert said > 100 and refused > 100


def test_a_row_that_is_new_gets_easier_only_if_no_rig_can_break_it():
    moves = ToyMoves(3, False)
    ((place, (row, _)), *_) = moves.rows(0.0).items()
    most = int(np.maximum.reduceat(row, moves.offsets[:-1]).sum())
    assert eases({}, {place: (row, most)}, moves.offsets) == {place: True}
    assert eases({}, {place: (row, most - 1)}, moves.offsets) == {place: False}


def test_searches_over_moved_rows_equal_trying_every_rig():
    found = none = alike = 0
    for seed in range(120):
        moves = ToyMoves(seed, False)
        now = moves.asked_at(2.0).program
        ground, price = Ground(moves.asked.program, ~moves.touched, moves.price, 10_000), moves.price
        rows, rhs = (np.array(part) for part in zip(*moves.rows(2.0).values(), strict=True))
        good = fitting(now)
        costs = price[good].sum(axis=1)
        if not len(good):
            assert rig_within(ground, rows, rhs, price, 10_000) is None
            none += 1
            continue
        least = int(costs.min())
        rig = rig_within(ground, rows, rhs, price, least)
        assert now.fits(rig) and now.cost(rig, "price") == least
        assert rig_within(ground, rows, rhs, price, least - 1) is None
        changes = np.ones(len(price), np.int64)
        changes[good[int(costs.argmax())]] = 0
        like = cheapest_like(ground, rows, rhs, price, 10_000, changes)
        best = changes[good[costs == least]].sum(axis=1).min()
        assert (now.cost(like, "price"), int(changes[like].sum())) == (least, int(best))
        assert cheapest_like(ground, rows, rhs, price, least - 1, changes) is None
        listed, complete = rigs_of_cost(now, price, least, rig)
        assert complete
        assert sorted(r.tolist() for r in listed) == sorted(r.tolist() for r in good[costs == least])
        found, alike = found + 1, alike + (len(listed) > 1)
    assert found > 40 and none > 5 and alike > 5


def test_rigs_that_must_break_a_row():
    """A rig that is cheaper than the best as things are breaks one of the rows that move: said so, the answer is the same."""
    cheaper = 0
    for seed in range(120):
        moves = ToyMoves(seed, False)
        good = fitting(moves.asked.program)
        if not len(good):
            continue
        cutoff = int(moves.price[good].sum(axis=1).min()) - 1
        rows, rhs = (np.array(part) for part in zip(*moves.rows(1.0).values(), strict=True))
        ground = Ground(moves.asked.program, ~moves.touched)
        plain, told = (rig_within(ground, rows, rhs, moves.price, cutoff, broken) for broken in (None, moves.own))
        assert (plain is None) == (told is None), seed
        cheaper += told is not None
    assert cheaper > 10


def test_the_values_of_each_side_are_those_of_the_grid():
    reach = REQUIREMENTS["hose_reach"]
    below, above = sides(reach, 134.2)
    assert (below[0], below[-1], above[0], above[-1]) == (130, 25, 135, 330)
    below, above = sides(reach, 135.0)
    assert (below[0], above[0]) == (130, 140)


def test_easing_several_duties_changes_those_only_that_are_harder():
    humid = brief("humid_coast")
    way = Way(REQUIREMENTS["hose_reach"], ("summer warehouse", "winter houses"), eased=True)
    assert way.present(humid) == pytest.approx(310.0)
    eased = [duty.hose_reach / 0.3048 for duty in way.brief_at(humid, 280.0).duties]
    assert eased == pytest.approx([280.0, 250.0])
    assert [d.hose_reach / 0.3048 for d in way.brief_at(humid, 200.0).duties] == pytest.approx([200.0, 200.0])
    assert way.brief_at(humid, 320.0) is humid
    assert Way(REQUIREMENTS["parts_time"]).present(humid) is None
