"""complete: the best rig with what is named, and the smallest sets that must be let go, against trying all rigs."""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from solver.answers.ask import ask
from solver.answers.check import check
from solver.answers.complete import MOST_WAYS, complete, held, held_places, smallest_sets
from solver.answers.facts import Conflict
from solver.answers.rig_file import read_named
from solver.program.compile import compile_program
from solver.program.matrix import Program
from solver.report.as_data import to_json
from solver.report.complete_data import complete_data
from solver.rules import RULES
from solver.search.best import TIE, Question, best, exists
from tests.answers.small_rigs import every_rig, small, write_rig
from tests.demo.demo import IMPOSSIBLE, POSSIBLE, asked, brief, stock
from tests.search.test_best_is_exhaustive import random_program

CHEAPEST = {"price": "weight", "weight": "price"}


def some_named(found, rng):
    """Random options for some of the slots: one, or all of an item."""
    named = {}
    for name, table in found.setting.slots.items():
        if rng.random() < 0.5:
            j = int(rng.integers(0, len(table)))
            whole = tuple(k for k in range(len(table)) if table.items[k] == table.items[j])
            named[name] = whole if rng.random() < 0.5 else (j,)
    return named


def outside(found, named, columns):
    """Named slots in which a rig has another option than named."""
    rig = dict(zip(found.setting.slots, columns - found.program.offsets[:-1], strict=True))
    return tuple(name for name, options in named.items() if int(rig[name]) not in options)


@pytest.mark.parametrize("block", range(2))
def test_a_completion_equals_exhaustive_search(block):
    """60 random problems of every row form, by price and weight, with the reduction and without."""
    completed = stuck = 0
    for seed in range(block * 30, (block + 1) * 30):
        found = small(seed)
        named = some_named(found, np.random.default_rng(1000 + seed))
        costs = found.program.costs
        program = compile_program(found.setting, (*found.instances, *held_places(found.setting, named)), costs)
        kept = [columns for columns in every_rig(found.program) if not outside(found, named, columns)]
        for by, other in CHEAPEST.items():
            keys = [(costs[by][c].sum(), costs[other][c].sum(), tuple(c.tolist())) for c in kept]
            for domination in (True, False):
                rig = best(Question(program, by, domination=domination))
                assert rig.proven
                assert (rig.columns is None) == (not keys)
                if rig.columns is not None:
                    assert tuple(rig.columns.tolist()) == min(keys)[2], (seed, by)
            completed, stuck = completed + bool(keys), stuck + (not keys)
    assert completed > 3 and stuck > 3, "a block must hold rigs that can be completed and rigs that cannot"


@pytest.mark.parametrize("block", range(1))
def test_the_smallest_sets_to_let_go_equal_exhaustive_search(block):
    """100 random problems: which sets, their order by the rig that becomes possible, that rig, and whether there are more."""
    sizes, several = set(), 0
    for seed in range(block * 100, (block + 1) * 100):
        program, rng = random_program(seed), np.random.default_rng(2000 + seed)
        slots = {f"slot {k}": range(b - a) for k, (a, b) in enumerate(program.slices)}
        named = {name: (int(rng.integers(0, len(ways))),) for name, ways in slots.items() if rng.random() < 0.9}
        price, weight = program.costs["price"], program.costs["weight"]
        ways = {}
        for c in every_rig(program):
            key = (price[c].sum(), weight[c].sum(), tuple(c.tolist()))
            rig = dict(zip(slots, (c - program.offsets[:-1]).tolist(), strict=True))
            gone = tuple(name for name, options in named.items() if rig[name] not in options)
            ways[gone] = min(ways.get(gone, key), key)
        size = min((len(gone) for gone in ways), default=0)
        least = sorted((key, gone) for gone, key in ways.items() if len(gone) == size)
        expected = [(gone, key[2]) for key, gone in least[: MOST_WAYS + 1]]
        for domination in (True, False):
            sets = smallest_sets(program, slots, named, (price, weight), domination)
            assert [(left, tuple(columns.tolist())) for left, columns in sets] == expected, seed
        sizes.add(size)
        several += len(expected) > 1
    assert sizes >= {0, 1, 2} and several > 5


def test_of_many_sets_as_small_the_best_are_told_and_that_there_are_more():
    """Five slots, all named by their first option, which cannot all stay: any one of the five may go."""
    edges = np.arange(0, 11, 2)
    first = (np.arange(10) % 2 == 0).astype(np.int64)
    price = np.array([0, 5, 0, 4, 0, 3, 0, 2, 0, 1], np.int64)
    program = Program(first[None, :], np.array([4]), edges, {"price": price}, ("row",), ("row",), reads=(frozenset(),))
    slots = {name: range(2) for name in "abcde"}
    sets = smallest_sets(program, slots, dict.fromkeys(slots, (0,)), (price, first))
    assert [left for left, _ in sets] == [("e",), ("d",), ("c",), ("b",)]
    assert len(sets) == MOST_WAYS + 1


@pytest.mark.parametrize("name", POSSIBLE)
def test_part_of_the_best_rig_is_completed_to_it(name, tmp_path):
    of = asked(name)
    rig = of.rig_of(of.best().columns)
    names = [line.slot for line in of.lines(rig)]
    slots = frozenset(np.random.default_rng(3).choice(names, 6, replace=False).tolist())
    found = complete(stock(), brief(name), write_rig(tmp_path / "part.json", of, rig, slots))
    assert (found.status, found.proven, found.named) == ("found", True, tuple(slot for slot in rig if slot in slots))
    assert found.rig == of.lines(rig)
    assert found.added == tuple(line for line in found.rig if line.slot not in slots)
    assert found.added_price == pytest.approx(sum(line.price for line in found.added))
    assert found.balances == of.balances(rig)


SLOTS = ("hose", "gun", "lighting", "receiver", "air_dryer", "fit_out")


@pytest.mark.parametrize(("name", "by"), [(name, "price") for name in POSSIBLE] + [("light_trailer", "weight")])
def test_a_completion_is_the_best_rig_among_those_with_the_named_items(name, by, tmp_path, monkeypatch):
    """Random items named without their choice; the same asked of the engine by forbidding all others. It passes check."""
    monkeypatch.setattr("solver.answers.complete.conflict", lambda of: Conflict((), False))  # not looked at here
    of = ask(stock(), brief(name), by)
    rng, found = np.random.default_rng(7), 0
    least = {line.slot: line.item for line in of.lines(of.rig_of(of.best().columns), empty=True)}
    for k in range(3):
        own = {slot: str(rng.choice(of.setting.slots[slot].items)) for slot in rng.choice(SLOTS, 1)}
        own = {slot: least[slot] for slot in own} if k == 0 else own
        path = tmp_path / "part.yaml"
        path.write_text("rig:\n" + "".join(f"  {slot}: {item}\n" for slot, item in own.items()), "utf-8")
        allowed = np.concatenate([
            np.array([own.get(slot, item) == item for item in table.items]) for slot, table in of.setting.slots.items()
        ])  # fmt: skip
        expected = best(Question(of.program, by, allowed=allowed, domination=bool(k % 2)))
        said = complete(stock(), brief(name), path, by)
        assert (said.status == "found") == (expected.columns is not None)
        if expected.columns is not None:
            found += 1
            assert said.rig == of.lines(of.rig_of(expected.columns))
            whole = tmp_path / "whole.json"
            whole.write_text(to_json(complete_data(said)), "utf-8")
            checked = check(stock(), brief(name), whole)
            assert (checked.fits, checked.rig, checked.balances) == (True, said.rig, said.balances)
    assert found > 0


STUCK = "rig:\n  vehicle: vehicle-01\n  generator: generator-01\n  proportioner: proportioner-15\n  gun: gun-01\n"


def test_the_conflict_of_what_is_named_is_minimal_and_what_stands_in_the_way_is_said(tmp_path):
    path = tmp_path / "rig.yaml"
    path.write_text(STUCK, "utf-8")
    found = complete(stock(), brief("first_rig"), path)
    assert (found.status, found.any_rig, found.against, found.rig) == ("none", True, (), ())
    of = asked("first_rig")
    fixed = held(of, read_named(path, of))
    (conflict,) = found.conflicts
    members = frozenset(clash.rule for clash in conflict.members)
    assert members and members <= set(RULES)
    assert not exists(fixed.question(rows=fixed.rows_of(members)))
    for rule in members:
        assert exists(fixed.question(rows=fixed.rows_of(members - {rule})))
    assert {len(way.slots) for way in found.ways} == {len(found.ways[0].slots)}
    named = ("proportioner", "gun", "generator", "vehicle")
    assert found.named == named
    free = [name for way in found.ways for name in way.slots]
    for size in range(len(named) + 1):
        for kept in itertools.combinations(named, size):
            fits = exists(held(of, {name: read_named(path, of)[name] for name in kept}).question())
            let_go = tuple(name for name in named if name not in kept)
            assert fits == any(set(way.slots) <= set(let_go) for way in found.ways), (let_go, free)
    for way in found.ways:
        assert [line.slot for line in way.named] == [line.slot for line in way.instead] == list(way.slots)
        assert not {line.item for line in way.named} & {line.item for line in way.instead}


def test_what_goes_against_the_owners_own_things_is_said_so(tmp_path):
    path = tmp_path / "rig.yaml"
    path.write_text("rig:\n  vehicle: vehicle-01\n", "utf-8")
    found = complete(stock(), brief("owned_truck"), path)
    assert (found.status, found.any_rig, found.conflicts) == ("none", True, ())
    assert [(balance.place.rule, balance.place.part) for balance in found.against] == [("OWN-01", "vehicle")]
    (way,) = found.ways
    assert way.slots == ("vehicle",)
    assert way.total == asked("owned_truck").totals(asked("owned_truck").rig_of(asked("owned_truck").best().columns))


def test_where_no_rig_fits_the_conflict_is_that_of_the_brief(tmp_path):
    path = tmp_path / "rig.yaml"
    path.write_text("rig:\n  gun: gun-01\n", "utf-8")
    found = complete(stock(), brief(IMPOSSIBLE), path)
    assert (found.status, found.any_rig, found.ways, found.against) == ("none", False, (), ())
    rules = frozenset(clash.rule for clash in found.conflicts[0].members)
    assert not exists(asked(IMPOSSIBLE).question(rows=asked(IMPOSSIBLE).rows_of(rules)))


def test_with_nothing_named_it_is_the_best_rig(tmp_path):
    path = tmp_path / "rig.yaml"
    path.write_text("rig: {}\n", "utf-8")
    of = asked("light_trailer")
    found = complete(stock(), brief("light_trailer"), path)
    assert (found.named, found.by, found.added) == ((), "weight", found.rig)
    assert found.rig == of.lines(of.rig_of(of.best().columns))
    assert TIE[found.by] == "price"
