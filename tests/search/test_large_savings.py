"""Savings of rules on large programs against the way of small ones and exhaustive search."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

import solver.search.best as best_module
import solver.search.large_savings as large_savings_module
import solver.search.parts as parts_module
from solver.answers.ask import ask
from solver.rules import RULES
from solver.search.best import Question, best
from solver.search.parts import Node
from solver.search.reduce import without_dominated
from solver.search.savings import savings
from solver.search.sheet import sheet_of
from tests.bench.large import large_catalog
from tests.program.toy import toy
from tests.search.by_hand import part_of
from tests.search.test_best_is_exhaustive import exhaustive, random_program
from tests.search.test_core_is_exact import kit_program

SMALLEST, NEVER = 0, 10**9
MAKERS = {"toy": lambda seed: toy(seed).program, "random": random_program, "kit": kit_program}


def rows_of(program, *groups):
    return np.array([group in groups for group in program.groups], bool)


def droppable(program):
    return [group for group in dict.fromkeys(program.groups) if group not in program.background]


def amounts(monkeypatch, large, program, by, rig, parts, inner, holders):
    """Savings of the parts, then of smaller parts of those that save something, one way."""
    monkeypatch.setattr(best_module, "LARGE", SMALLEST if large else NEVER)
    program.cores.clear()
    program.memo.clear()
    outer = savings(program, by, rig, parts)
    for part, saving in zip(parts, outer, strict=True):
        assert (saving.rig is None) == (saving.amount == 0)
        if saving.rig is not None:
            assert program.fits(saving.rig, ~part)
            assert program.cost(saving.rig, by) == program.cost(rig, by) - saving.amount
    own = [(part, outer[k]) for part, k in zip(inner, holders, strict=True) if outer[k].amount]
    smaller = savings(program, by, rig, [part for part, _ in own], [saving for _, saving in own])
    return [saving.amount for saving in outer], [saving.amount for saving in smaller]


def in_an_open_part(program, by, part, cost, rig):
    """Whether a rig that costs less without the part's rows lies in what the record leaves open without them."""
    record = large_savings_module._record_of(program, by, cost)
    parts = record.left_open(np.flatnonzero(part), cost - 1)
    return any(np.isin(rig, columns).all() for columns in parts)


@pytest.mark.parametrize("maker", MAKERS)
@pytest.mark.parametrize("most_parts", [1, 300])
def test_tiny_programs_equal_exhaustive_search(monkeypatch, maker, most_parts):
    """Every group of rows and every single row; a record that the engine closed, and one that multipliers closed."""
    monkeypatch.setattr(best_module, "LARGE", SMALLEST)
    monkeypatch.setattr(parts_module, "SMALL", 6)
    monkeypatch.setattr(large_savings_module, "MOST_PARTS", most_parts)
    some = nothing = 0
    for seed in range(15):
        program = MAKERS[maker](seed)
        for by in ("price", "weight"):
            expected = exhaustive(program, by)
            if expected is None:
                continue
            rig = np.array(expected[2])
            parts = [rows_of(program, group) for group in droppable(program)]
            parts += [np.arange(len(program.rhs)) == i for i in range(len(program.rhs))]
            found = savings(program, by, rig, parts)
            for part, saving in zip(parts, found, strict=True):
                without = exhaustive(part_without(program, part), by)
                assert saving.amount == expected[0] - without[0], (maker, seed, by)
                assert not saving.amount or in_an_open_part(program, by, part, expected[0], np.array(without[2]))
                some += saving.amount > 0
                nothing += saving.amount == 0
    assert some > 10 and nothing > 10


def part_without(program, part):
    keep = np.flatnonzero(~part)
    return type(program)(
        program.rows[keep], program.rhs[keep], program.offsets, program.costs,
        tuple(program.labels[i] for i in keep), tuple(program.groups[i] for i in keep),
    )  # fmt: skip


@cache
def asked(options, seed):
    return ask(*large_catalog(options, seed))


@pytest.mark.parametrize(("seed", "step"), [(1, 20_000)])
def test_parts_of_a_generated_catalog_equal_the_small_way(monkeypatch, seed, step):
    """Some 450 of 1,500 options, parts so small that they are split; with costs in steps of 200 USD ties abound."""
    whole = asked(1500, seed)
    monkeypatch.setattr(parts_module, "SMALL", 60)
    monkeypatch.setattr(best_module, "LARGE", NEVER)
    known = tuple(best(Question(whole.program)).columns.tolist())
    program = part_of(whole.program, np.random.default_rng(seed), 0.25, step, rig=known)
    compare(monkeypatch, whole, program)


def compare(monkeypatch, whole, program):
    """All rules, and of those that bind each duty's rows."""
    monkeypatch.setattr(best_module, "LARGE", NEVER)
    rig = best(Question(program)).columns
    rules = whole.droppable
    parts = [~whole.rows_without(rule) for rule in rules]
    pairs = [(k, duty.name) for k, rule in enumerate(rules) if RULES[rule].scope.duties for duty in whole.brief.duties]
    inner = [~whole.rows_without(rules[k], duty=duty) for k, duty in pairs]
    holders = [k for k, _ in pairs]
    ways = [amounts(monkeypatch, large, program, "price", rig, parts, inner, holders) for large in (True, False)]
    assert ways[0] == ways[1]
    cost = program.cost(rig, "price")
    for part, saving in zip(parts, savings(program, "price", rig, parts), strict=True):
        assert not saving.amount or in_an_open_part(program, "price", part, cost, saving.rig)
    assert 3 < sum(amount > 0 for amount in ways[0][0]) < len(rules)
    assert len(ways[0][1]) > 3 and any(ways[0][1]) and not all(ways[0][1])


def test_many_options_of_a_slot_are_not_compared():
    """A slot of more than a thousand options stays as it is, a slot beside it does not."""
    rows = np.array([[*range(1001), 1, 2]], np.int64)
    slots = np.array([0] * 1001 + [1, 1])
    costs = np.ones((1, 1003), np.int64)
    stay = without_dominated(rows, slots, costs, 1)
    assert stay.tolist() == [True] * 1002 + [False]
    few = without_dominated(rows[:, 1:], slots[1:], costs[:, 1:], 1)
    assert np.flatnonzero(few).tolist() == [0, 1000]


def test_options_that_the_record_had_shut_go_with_the_first_part():
    """A split named two of a slot's options; the third, open again without some rows, is in no group."""
    program = random_program(0)
    slot = int(np.argmax(np.diff(program.offsets) >= 3))
    a, b = program.slices[slot]
    assert b - a >= 3
    sheet = sheet_of(program, "price", np.ones(len(program.rhs), bool))
    node = Node(slot=slot, groups=((a,), (a + 1,)), children=(Node(), Node()))
    others = [j for j in range(len(sheet)) if not a <= j < b]
    shared = [part.columns.tolist() for _, part in large_savings_module._shared(node, sheet)]
    assert shared == [sorted([*others, a, *range(a + 2, b)]), sorted([*others, a + 1])]
