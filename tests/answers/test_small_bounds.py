"""How much the answers remember, list and try at most, each at its very bound; and the order in which rules are kept."""

from __future__ import annotations

import os
from dataclasses import replace
from pathlib import Path
from random import Random
from types import SimpleNamespace

import numpy as np
import pytest

from solver.answers import beside as beside_module
from solver.answers import repairs, rivals_excluded, robust
from solver.answers import whatif as whatif_module
from solver.answers.ask import ask
from solver.answers.beside import beside
from solver.answers.clashes import in_order
from solver.answers.facts import Change, Repair, Totals
from solver.answers.frontier import frontier
from solver.answers.insist import insist
from solver.answers.rig_file import _Reader
from solver.answers.robust_ranged import Ranged, points_of, sayable
from solver.answers.steps_search import rigs_of_cost
from solver.answers.whatif_facts import Cell, Study, cell_values
from solver.answers.whatif_known import Known, Met
from solver.answers.whatif_rows import ROWS, Laid, Row
from solver.answers.whatif_settled import Settled
from solver.answers.whatif_values import axis_of
from solver.errors import EntryError
from solver.program.matrix import Program
from solver.rules import RULES
from solver.rules.record import Basis
from tests.answers.small.world import asked, brief, stock


@pytest.mark.parametrize("order", [in_order, rivals_excluded._in_order])
def test_what_a_person_can_change_comes_first_and_physics_last(order):
    of = asked("attics")
    rules = order(of)
    bases = [RULES[rule].basis for rule in rules]
    every = [Basis.BRIEF, Basis.PRACTICE, Basis.RATING, Basis.REGULATION, Basis.PHYSICS]
    assert list(dict.fromkeys(bases)) == every
    assert bases == sorted(bases, key=every.index)
    for basis in every:
        assert [r for r in rules if RULES[r].basis is basis] == [r for r in of.droppable if RULES[r].basis is basis]


# --- steps and repairs ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("count, whole", [(1, True), (2, True), (48, True), (49, False), (60, False)])
def test_so_many_rigs_of_one_cost_are_listed(count, whole):
    nothing = np.zeros((1, count), np.int64)
    program = Program(nothing, np.zeros(1, np.int64), np.array([0, count]), {"price": nothing[0]}, ("row",), ("rule",))
    found, every = rigs_of_cost(program, nothing[0], 0, np.array([0]))
    assert every is whole
    assert sorted(int(rig[0]) for rig in found) == list(range(count)) and int(found[0][0]) == 0


@pytest.mark.parametrize("first", range(13))
def test_the_first_value_with_a_rig_is_found_by_halves(first, monkeypatch):
    tried = []

    def possible(value):
        tried.append(value)
        return value >= first

    monkeypatch.setattr(repairs, "_eases_all_along", lambda *given: True)
    assert repairs._first(-1.0, range(12), possible, None) == (first if first < 12 else None)
    assert tried[0] == 11 and len(tried) == len(set(tried)) <= 5
    tried.clear()
    assert repairs._first(-1.0, [12], possible, None) == 0
    assert tried == [12]
    tried.clear()
    monkeypatch.setattr(repairs, "_eases_all_along", lambda *given: False)
    assert repairs._first(-1.0, range(12), possible, None) == (first if first < 12 else None)
    assert tried == list(range(min(first + 1, 12)))


@pytest.mark.parametrize(
    "start, end, values",
    [(0.0, 3.0, (1.0, 2.0, 3.0)), (3.0, 0.5, (2.0, 1.0, 0.5)), (0.0, 2.5, (1.0, 2.0, 2.5)), (0.0, 0.5, (0.5,))],
)
def test_values_between_two(start, end, values):
    assert repairs._between(start, end, 1.0) == values


# --- work beside ------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("count, shared", [(1, False), (2, True), (16_000, True), (16_001, False)])
def test_so_many_jobs_are_shared(count, shared, monkeypatch):
    def fork():
        raise EntryError("a fork", "none")

    monkeypatch.setattr(beside_module, "_of_use", lambda: True)
    monkeypatch.setattr(os, "fork", fork)
    jobs = [lambda k=k: k for k in range(count)]
    if shared:
        with pytest.raises(EntryError):
            beside(jobs)
    else:
        assert beside(jobs) == list(range(count))


# --- what-ifs ---------------------------------------------------------------------------------------------------------
def cells_of(*sizes):
    return [SimpleNamespace(values=range(size)) for size in sizes]


def test_so_many_cells_at_most():
    assert len(cell_values(cells_of(1000, 1000), False)) == 1_000_001
    with pytest.raises(EntryError) as caught:
        cell_values(cells_of(101, 9901), False)
    text = "found 1,000,001 cells; expected at most 1,000,000. Try: fewer values, or --one-at-a-time"
    assert str(caught.value) == text
    assert len(cell_values(cells_of(101, 9901), True)) == 10_003


def test_pieces_of_a_study(monkeypatch):
    study = Study(stock(), brief("barns"), "price", (axis_of("altitude=0ft:5000ft:100ft", brief("barns")),), False)
    monkeypatch.setattr(whatif_module, "settle", lambda study, of, piece: tuple(Cell(n, (), "none") for n in piece))
    found = [[cell.number for cell in cells] for cells in whatif_module._worked(study, None, {}, 1, None)]
    assert found == [list(range(25)), list(range(25, 50)), [50, 51]]


def test_what_is_known_of_cells_is_forgotten_from_the_oldest():
    of = ask(stock(), brief("barns"))
    of._kept[ROWS] = np.arange(len(of.instances))
    rigs, sets = [np.array([k]) for k in range(97)], [(np.array([k]), []) for k in range(65)]
    met = Met(list(rigs), list(sets))
    Known([of], "price", met, lambda one, other: False)
    assert [int(rig[0]) for rig in met.rigs] == list(range(1, 97))
    assert [int(rows[0]) for rows, _ in met.impossible] == list(range(1, 65))


def test_what_was_settled_is_forgotten_from_the_oldest():
    of = ask(stock(), brief("barns"))
    laid = Laid(of, ())
    settled = Settled(laid, of.program.offsets, "savings")
    for k in range(160):
        settled._note(np.array([k]))
    assert len(settled._met) == 160
    settled._note(np.array([160]))
    assert [int(rig[0]) for rig in settled._met.values()] == list(range(1, 161))
    settled._tighter = dict.fromkeys(range(500_000), False)
    assert not settled.is_tighter(0, 0) and len(settled._tighter) == 500_001
    assert not settled.is_tighter(1, 1) and len(settled._tighter) == 1
    laid.rows = dict.fromkeys(range(20_000))
    assert not laid.full()
    laid.rows[20_000] = None
    assert laid.full()


# --- ranges -----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("widths, each, extra", [((1, 0), 400, 200), ((1, 1), 20, 200), ((1,) * 6, 3, 200), ((0,), 400, 0)])
def test_points_of_ranges(widths, each, extra, monkeypatch):
    def points(low):
        return lambda most: (float(low), *(low + 0.5 for _ in range(most > 1))) if most == each else ()

    ranges = tuple(
        SimpleNamespace(low=float(k), high=float(k + width), nominal=k + 0.25, grid=points(k), rounded=lambda value: value)
        for k, width in enumerate(widths)
    )
    monkeypatch.setattr(Ranged, "brief", lambda ranged, point: point)
    grid, tried, wrong = sayable(Ranged(None, ranges))
    nominal = tuple(k + 0.25 for k in range(len(widths)))
    assert len(grid) == 2 ** len(widths) and all(point == told for point, told in tried.items())
    assert list(tried) == [*grid, nominal, *points_of(ranges, extra, 1)]
    assert (len(tried) - len(grid), wrong) == (1 + extra, 0)


@pytest.mark.parametrize(
    "excess, worst",
    [
        ({"a": [], "b": [(0, 10), (-5, 10)]}, None),
        ({"a": [(1, 1000)]}, "a"),
        ({"a": [(1, 10), (-3, 10)], "b": [(3, 20)], "c": [(3, 20)]}, "b"),
        ({"a": [(9, 10)], "b": [(90, 200)]}, "a"),
    ],
)
def test_the_worst_point_is_where_a_rig_fails_most(excess, worst, monkeypatch):
    rows = SimpleNamespace(excess=lambda told: dict(enumerate(told)))
    monkeypatch.setattr(robust, "RigRows", lambda *given: rows)
    ranged = SimpleNamespace(base=SimpleNamespace(rig_of=lambda columns: None), moved=None, duties=None)
    assert robust._worst(ranged, None, excess) == worst


@pytest.mark.parametrize(
    "duties, changes, before, present, kept",
    [
        (("attics",), ("output",), (), 0.0, False),
        (("attics", "porches"), ("output",), (), 0.0, True),
        (("attics",), ("hose_reach",), (), 0.0, True),
        (("attics",), ("output", "budget"), (), 0.0, True),
        (("attics", "porches"), ("hose_reach",), (), 0.0, True),
        ((), ("output",), (), 0.0, True),
        (("attics",), ("output",), ("porches",), 0.0, True),
        (("attics",), ("output",), (), 2.0, True),
        (("attics",), ("",), ("porches",), 0.0, True),
    ],
)
def test_a_change_in_one_duty_takes_the_place_of_the_same_in_all(duties, changes, before, present, kept, monkeypatch):
    """Not of that of another duty, nor of one the other way: the wider one raises a figure, a present 2 is lowered to 1."""
    after = 1.0 if changes[0] else None
    first = None if after is None else 0.0
    wider = Repair(tuple(Change(name, before, "1", first, after, 1.0, False) for name in changes), Totals(1.0, 1.0, 1.0), ())
    own = replace(wider, rig=(1,))
    monkeypatch.setattr(repairs, "Moves", lambda *given: None)
    monkeypatch.setattr(repairs, "_told", lambda *given: own)
    option = SimpleNamespace(way=SimpleNamespace(duties=duties, requirement=SimpleNamespace(id="output")), present=present)
    monkeypatch.setattr(repairs, "_least", lambda *given: None)
    found = [wider]
    assert not repairs._single(None, option, found) and found == [wider]
    monkeypatch.setattr(repairs, "_least", lambda *given: 1.0)
    assert repairs._single(None, option, found) and found == ([wider, own] if kept else [own])
    assert repairs._single(None, option, none := []) and none == [own]


def test_random_points_are_drawn_from_the_low_end_range_by_range():
    rng = Random(5)
    ranges = [SimpleNamespace(low=10.0, high=30.0, rounded=lambda value: round(value, 3)),
              SimpleNamespace(low=-1.0, high=0.0, rounded=lambda value: value)]  # fmt: skip
    expected = [(round(10.0 + 20.0 * rng.random(), 3), -1.0 + rng.random()) for _ in range(4)]
    assert points_of(ranges, 4, 5) == tuple(expected)


def test_every_slot_counts_where_two_rows_are_compared():
    of = asked("barns")
    laid = Laid(ask(stock(), brief("barns")), ())
    count, ones = len(of.setting.slots), np.ones(of.program.rows.shape[1], np.int64)
    for number, (row, rhs) in enumerate([(ones, count - 1), (0 * ones, 0), (ones, count)]):
        laid.rows[number] = Row(number, of.instances[0], row, rhs, frozenset())
    settled = Settled(laid, of.program.offsets, "savings")
    assert [settled.is_tighter(0, 1), settled.is_tighter(1, 0), settled.is_tighter(2, 1)] == [True, False, False]


def test_a_long_entry_is_cut_to_two_hundred_characters():
    reader = _Reader(Path("rig.yaml"), None)
    for length in (200, 201, 500):
        reader.mistake(length, "x" * length, "less", "")
    assert [mistake.found for mistake in reader.mistakes] == ["x" * 200, "x" * 197 + "...", "x" * 197 + "..."]


def test_where_no_rig_fits_nothing_was_asked_for_the_answer_itself():
    assert frontier(stock(), brief("wishes")).solves == 0
    none = insist(stock(), brief("wishes"))
    assert (none.solves, none.rule_solves) == (0, 0)
