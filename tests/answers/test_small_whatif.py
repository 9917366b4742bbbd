"""Cells of a what-if: those of small programs settled together, and asked for what clashes, against trying every rig."""

from __future__ import annotations

import itertools
from collections import Counter
from dataclasses import replace
from functools import cache
from types import SimpleNamespace

import numpy as np
import pytest

import solver.search.best
from solver.answers import whatif_settled
from solver.answers.whatif_known import Known, Met
from solver.answers.whatif_rows import ROWS, Laid, Row
from solver.answers.whatif_settled import Settled, kind_of
from solver.answers.whatif_told import Near, Settling, Told, known_without, tell
from solver.errors import NotProven
from tests.answers.small.world import refused
from tests.answers.toy_moves import ToyMoves, rigs


# --- cells of small programs ------------------------------------------------------------------------------------------
class Toys:
    """Cells of a small program whose rows move with a value; rows are numbered as `Laid` numbers them."""

    def __init__(self, seed, background=()):
        self.moves, self.background = ToyMoves(seed, one_way=seed % 3 > 0), frozenset(background)
        self.groups = ("a", "b", "b", "c") if seed % 2 else ("a", "b", "c", "d")
        self.laid, self.numbers, self.cells = Laid.__new__(Laid), {}, {}
        self.laid.rows, self.laid._joint, self.laid._next = {}, {}, 1000

    def cell(self, value):
        """The cell at a value, always the same one."""
        if value not in self.cells:
            own = self.moves.asked_at(value).program
            costs = {"price": own.costs["price"] % 6, "weight": own.costs["weight"] % 3}
            program = replace(own, groups=self.groups, costs=costs, background=self.background)
            numbers = [self._number(i, program.rows[i], int(program.rhs[i])) for i in range(4)]
            droppable = tuple(rule for rule in dict.fromkeys(self.groups) if rule not in self.background)
            self.cells[value] = SimpleNamespace(program=program, droppable=droppable, costs=costs, by="price",
                                                _kept={ROWS: np.array(numbers)})  # fmt: skip
        return self.cells[value]

    def _number(self, place, row, rhs):
        number = self.numbers.setdefault((place, row.tobytes(), rhs), len(self.numbers))
        self.laid.rows[number] = Row(number, SimpleNamespace(place=place), row, rhs, frozenset())
        return number


@cache
def excess_of(program):
    """Every rig there is, and by how much it breaks every row (rows, rigs)."""
    every = rigs(program)
    return every, program.rows[:, every].sum(axis=2) - program.rhs[:, None]


@cache
def best_of(program, without=()):
    """(price, weight, columns) of the best rig by trying all, with the rows of some rules left out; None without one."""
    every, excess = excess_of(program)
    counts = np.array([group not in without for group in program.groups])
    good = every[(excess[counts] <= 0).all(axis=0)]
    return min(((program.cost(c, "price"), program.cost(c, "weight"), tuple(c.tolist())) for c in good), default=None)


def tighter_rules(one, other):
    """Rules of which some rig has more to spare in a row of the other cell."""
    apart = (excess_of(one)[1] > excess_of(other)[1]).any(axis=1)
    return {group for group, so in zip(one.groups, apart.tolist(), strict=True) if so}


SEEDS = range(24)
FEWER = range(9)
PIECES = ((0, 1, 2, -1), (3, 1, -2), (2,), (4, -1, 5, 0, -3))


@pytest.mark.parametrize("binding, most", [("none", 64), ("rules", 191), ("savings", 209)])
def test_cells_settled_together_are_each_the_best_of_trying_all(binding, most, monkeypatch):
    """With what binds in each, and no more questions than they took (measured)."""
    solves, seen, real = 0, Counter(), Settled._is_best
    monkeypatch.setattr(Settled, "_is_best", lambda *given: (seen.update(["is best"]), real(*given))[1])
    for seed in FEWER:
        toys = Toys(seed)
        settled = Settled(toys.laid, toys.moves.offsets, binding)
        for piece in PIECES:
            cells = [toys.cell(value) for value in piece]
            for cell, found in zip(cells, settled.best(cells, "price"), strict=True):
                expected = best_of(cell.program)
                told = None if found.columns is None else tuple(found.columns.tolist())
                assert (told, found.open) == (None if expected is None else expected[2], ""), (seed, piece)
                saved = {rule: expected[0] - best_of(cell.program, (rule,))[0] for rule in cell.droppable} if expected else {}
                binds = [(rule, saving) for rule, saving in saved.items() if saving > 0 and binding != "none"]
                seen[f"{len(binds)} bind" if expected else "no rig"] += 1
                if binding == "rules":
                    assert [rule for rule, _ in found.savings] == [rule for rule, _ in binds], (seed, piece)
                    assert all(0 < least <= saved[rule] for rule, least in found.savings)
                else:
                    assert list(found.savings) == binds, (seed, piece)
        solves += settled.solves
    assert seen["no rig"] > 40 and (binding == "none" or min(seen["1 bind"], seen["2 bind"]) > 10)
    assert solves + seen["is best"] <= most


def test_what_the_limit_of_work_leaves_open_of_many_is_asked_of_each(monkeypatch):
    real = {name: getattr(Settled, name) for name in ("_solved", "_dropped")}

    def few(name, limit, text, count):
        def work(settled, *given):
            if count(given) > limit:
                raise NotProven(text)
            return real[name](settled, *given)

        return work

    several = next(seed for seed in SEEDS if len({best_of(Toys(seed).cell(v).program) for v in (0, 1)}) == 1
                   and best_of(Toys(seed).cell(0).program))  # fmt: skip
    for limit in (1, 0):
        monkeypatch.setattr(Settled, "_solved", few("_solved", limit, "best", lambda given: len(given[3])))
        for seed in (several, 4, 5):
            toys = Toys(seed)
            cells = [toys.cell(value) for value in (0, 1, 2)]
            for cell, found in zip(
                cells, Settled(toys.laid, toys.moves.offsets, "savings").best(cells, "price"), strict=True
            ):
                expected = best_of(cell.program)
                told = (None if found.columns is None else tuple(found.columns.tolist()), found.open)
                assert told == ((expected and expected[2], "") if limit else (None, "best"))
                assert limit or found.savings == ()
    monkeypatch.setattr(Settled, "_solved", real["_solved"])
    monkeypatch.setattr(Settled, "_dropped", few("_dropped", -1, "binds", lambda given: 0))
    toys = Toys(several)
    cells = [toys.cell(value) for value in (0, 1)]
    found = Settled(toys.laid, toys.moves.offsets, "savings").best(cells, "price")
    assert [(tuple(one.columns.tolist()), one.savings, one.open) for one in found] == [
        (best_of(cell.program)[2], (), "binds") for cell in cells
    ]


def test_a_best_rig_that_is_not_proven_is_no_answer(monkeypatch):
    toys = Toys(1)
    settled, cell = Settled(toys.laid, toys.moves.offsets, "none"), toys.cell(0)
    found = solver.search.best.cheapest(solver.search.best.Question(cell.program))
    monkeypatch.setattr(solver.search.best, "cheapest", lambda question: replace(found, proven=False))
    monkeypatch.setattr(solver.search.best, "settled", lambda question, found: found)
    text = "the limit of work ended before every better rig was excluded"
    assert [one.open for one in settled.best([cell], "price")] == [text]
    assert (refused(NotProven, lambda: settled._solved(cell._kept[ROWS], cell.program, "price", [cell])), settled.solves) == (
        text,
        2,
    )


def test_what_was_solved_is_forgotten_from_the_oldest(monkeypatch):
    monkeypatch.setattr(whatif_settled, "_MOST_TOLD", 2)
    toys = Toys(2)
    settled = Settled(toys.laid, toys.moves.offsets, "none")
    told = []
    for value in (0, -4, 5, -7):
        settled.best([toys.cell(value)], "price")
        (kept,) = settled._told.values()
        told += [one for one in kept if one not in told]
        assert kept == told[-2:]
    assert len(told) >= 3


def test_the_savings_of_cells_settled_before_tell_those_of_a_cell():
    """Each rule told by the latest cell that is no tighter but in that rule, where its rig without the rule fits or is no
    cheaper; all told is true."""
    seen = Counter()
    for seed, place in itertools.product(SEEDS, (0, 2, -2, 3)):
        toys = Toys(seed)
        cell, solved = toys.cell(place), []
        own = best_of(cell.program)
        if own is None:
            continue
        for other in (toys.cell(value) for value in range(-4, 6) if value != place):
            if best := best_of(other.program):
                without = {rule: best_of(other.program, (rule,)) for rule in other.droppable[len(solved) % 2 :]}
                told = {rule: (cost, np.array(rig)) for rule, (cost, _, rig) in without.items()}
                solved.append((other.program, Told(other._kept[ROWS], np.array(best[2]), best[0], told)))
        near = [(told, frozenset(tighter_rules(program, cell.program))) for program, told in solved]
        settling = Settling(cell, Near(pair for pair in near if len(pair[1]) < 2), np.array(own[2]), own[0])
        found, left = known_without(settling)
        for rule in cell.droppable:
            told = []
            for other, rules in near:
                if rule in other.without and rules <= {rule}:
                    cost, rig = other.without[rule]
                    rest = [i for i, group in enumerate(cell.program.groups) if group != rule]
                    fits = (cell.program.rows[rest][:, rig].sum(axis=1) <= cell.program.rhs[rest]).all()
                    told += [own[0]] if cost >= own[0] else [cost] if fits else []
            assert (rule in found, rule in left) == (bool(told), not told), (seed, rule)
            assert not told or found[rule][0] == told[0] == best_of(cell.program, (rule,))[0]
            seen["told" if told and told[0] < own[0] else "nothing saved" if told else "left"] += 1
        settling.without, settling.left = {}, list(cell.droppable)
        for other, rules in near:
            if not rules:
                before = list(settling.left)
                tell(settling, other.without)
                for rule in set(before) - set(settling.left):
                    assert settling.without[rule][0] == best_of(cell.program, (rule,))[0]
                seen["by one"] += len(before) - len(settling.left)
        saved = {rule: own[0] - least for rule, (least, _) in settling.without.items()}
        assert settling.savings == tuple((rule, saved[rule]) for rule in cell.droppable if saved.get(rule, 0) > 0)
    assert min(seen["told"], seen["nothing saved"], seen["left"], seen["by one"]) >= 10
    assert known_without(replace(settling, columns=None)) == ({}, [])


def test_what_is_known_of_sets_of_rules_is_true_in_each_cell_and_saves_questions(monkeypatch):
    real, questions, seen = solver.search.best.any_rig, [], Counter()
    monkeypatch.setattr(solver.search.best, "any_rig", lambda question: (questions.append(1), real(question))[1])
    for seed in FEWER:
        toys = Toys(seed, background=("a",))
        settled, met = Settled(toys.laid, toys.moves.offsets, "savings"), Met()
        for piece in ((0, 2, -2), (1,), (-1, 3, 2, 4)):
            cells = [toys.cell(value) for value in piece]
            known = Known(cells, "price", met, settled.is_tighter)
            rules = cells[0].droppable
            count = [sum(not tighter_rules(one.program, other.program) for other in cells) for one in cells]
            assert known.order() == tuple(sorted(range(len(cells)), key=lambda k: -count[k]))
            for k in known.order():
                for kept in itertools.chain(*(itertools.combinations(rules, size) for size in range(len(rules), -1, -1))):
                    excess = excess_of(cells[k].program)[1]
                    rows = [group == "a" or group in kept for group in cells[k].program.groups]
                    possible = bool((excess[rows] <= 0).all(axis=0).any())
                    assert known.possible(k, frozenset(kept)) is possible, (seed, piece, k, kept)
                    seen[possible] += 1
        assert len({id(rows) for rows, _ in met.impossible}) == len(met.impossible), "one entry a cell"
    assert min(seen.values()) > 100
    assert len(questions) <= 123, "more than it took"


def test_cells_of_another_yearly_cost_are_of_another_kind():
    labels = SimpleNamespace(labels=("row",))
    costs = [{"yearly-cost": np.array([1, k]), "price": np.array([2, k])} for k in (3, 3, 4)]
    for by, alike in (("yearly-cost", [True, False]), ("price", [True, True])):
        kinds = [kind_of(SimpleNamespace(program=labels, costs=own, by=by)) for own in costs]
        assert [kinds[0] == kind for kind in kinds[1:]] == alike
