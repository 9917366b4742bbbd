"""What excludes every rig of some options, against trying every rig of small programs; kinds by the items of the catalog, and
rivals as the search gives them."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace

import numpy as np
import pytest

import solver.search.best
import solver.search.rivals
from solver.answers import rivals as rivals_module
from solver.answers import rivals_excluded as excluded
from solver.errors import InternalError
from solver.program.matrix import Program
from solver.rules import RULES
from tests.answers.small.question import GROUPS, ORDER, excess_of, toy
from tests.answers.small.world import asked, brief, picked, refused, stock
from tests.search.test_best_is_exhaustive import random_program


# --- what excludes every rig of some options --------------------------------------------------------------------------
def some_allowed(of, rng):
    """Some options of two slots or so, all of the others."""
    allowed = np.ones(int(of.program.offsets[-1]), bool)
    for a, b in of.program.slices:
        if rng.random() < 0.5:
            allowed[a:b] = rng.random(b - a) < 0.6
    return allowed


def alone_by_hand(of, allowed):
    """The first rule that leaves some slot nothing: of the background, each with those before it; then by what can change."""
    program, broken = of.program, set()

    def hit(rule):
        found = set()
        for i in (i for i, group in enumerate(program.groups) if group == rule):
            row, big = program.rows[i], 2**53
            least = [min((int(row[j]) if allowed[j] else big) for j in range(a, b)) for a, b in program.slices]
            for s, (a, b) in enumerate(program.slices):
                others = sum(least) - least[s]
                found |= {j for j in range(a, b) if row[j] > program.rhs[i] - others}
        return found

    def nothing_left(gone):
        return any(all(j in gone or not allowed[j] for j in range(a, b)) for a, b in program.slices)

    for rule in [rule for rule in RULES if rule in program.background]:
        broken |= hit(rule)
        if nothing_left(broken):
            return rule
    rules = [rule for basis in ORDER for rule in RULES if rule in of.droppable and RULES[rule].basis is basis]
    return next((rule for rule in rules if nothing_left(broken | hit(rule))), None)


def clashing_program(seed):
    """Four slots of three options and five rows of which each can be kept alone, but few together: some want more of about
    what others want less of."""
    rng = np.random.default_rng(seed)
    much = rng.integers(0, 9, 12)
    rows = np.stack([(-much if i % 2 else much) + rng.integers(-2, 3, 12) for i in range(5)])
    offsets = np.arange(0, 13, 3)
    least, most = (end.reduceat(rows, offsets[:-1], axis=1).sum(axis=1) for end in (np.minimum, np.maximum))
    rhs = least + (most - least) * rng.integers(25, 55, 5) // 100
    names = tuple(f"row {i}" for i in range(5))
    return Program(rows, rhs, offsets, {"price": much, "weight": 9 - much}, names, names)


def test_what_excludes_options_is_minimal_by_trying_all(monkeypatch):
    """And is asked about no oftener than it was (measured), where sets and rigs of earlier options help."""
    seen, solves, questions, real = Counter(), 0, [], solver.search.best.any_rig
    monkeypatch.setattr(solver.search.best, "any_rig", lambda question: (questions.append(1), real(question))[1])
    for seed in range(36):
        program, rng = (random_program, clashing_program)[seed % 2](seed), np.random.default_rng(seed)
        groups = tuple(GROUPS[(i + seed) % (6 if seed % 3 else 5)] for i in range(len(program.rhs)))
        of = toy(replace(program, groups=groups, rhs=program.rhs - 2 * (seed % 2 == 0)))
        every, excess = excess_of(of.program)
        order = excluded._in_order(of)
        assert [RULES[rule].basis for rule in order] == sorted((RULES[rule].basis for rule in order), key=ORDER.index)
        bars = excluded.Bars(of)
        for k in range(4):
            allowed = some_allowed(of, rng)
            mine = allowed[every].all(axis=1)

            def possible(rules):
                rows = [group in rules or group in of.program.background for group in of.program.groups]  # noqa: B023
                return bool((excess[rows] <= 0).all(axis=0)[mine].any())  # noqa: B023

            alone = alone_by_hand(of, allowed)
            assert excluded.barred_alone(of, allowed) == alone, seed
            before = len(questions)
            found = bars.of(allowed, None if k % 2 else 1)
            if found is None:
                assert alone is None and possible(set(of.groups))
                seen["a rig"] += 1
                continue
            solves += found.solves
            assert found.solves == len(questions) - before
            if alone is not None:
                assert found == excluded.Barred((alone,), 0, True)
                seen["alone"] += 1
                continue
            assert not possible(set(found.rules))
            needed = [possible(set(found.rules) - {rule}) for rule in found.rules]
            assert not found.minimal or all(needed)
            assert found.minimal or (len(found.rules) > 1 and not k % 2)
            assert [rule for rule in order if rule in found.rules] == list(found.rules)
            seen["minimal" if found.minimal else "as known"] += 1
        again = excluded.barred_by(of, allowed)
        assert again == excluded.Bars(of).of(allowed)
    assert seen["a rig"] > 20 and seen["alone"] > 20 and seen["minimal"] > 30
    assert solves <= 122


def test_a_rig_found_before_answers_with_allowed_options_swapped_in():
    rows = np.array([[0, 5, 9, 0, 0, 4, 1, 2], [1, 0, 0, 2, 0, 0, 0, 0]], np.int64)
    program = Program(rows, np.array([6, 2]), np.array([0, 3, 5, 8]), {"price": rows[0], "weight": rows[0]}, ("a", "b"),
                      ("WT-01", "AIR-01"))  # fmt: skip
    bars = excluded.Bars(toy(program))
    allowed = np.array([False, True, True, True, True, True, False, True])
    first, last = np.array([1, 3, 5]), np.array([2, 3, 7])
    kept = list(bars._swapped(np.array([0, 3, 6]), allowed))
    assert kept == [bars._kept(first), bars._kept(last)] == [frozenset({"AIR-01"})] * 2
    assert list(bars._swapped(np.array([1, 4, 7]), allowed)) == [frozenset({"AIR-01"})] * 2
    assert [bars._kept(np.array(rig)) for rig in ([0, 3, 5], [0, 4, 7], [2, 3, 7])] == [
        frozenset({"WT-01"}), frozenset({"WT-01", "AIR-01"}), frozenset({"AIR-01"})]  # fmt: skip
    held = excluded.Bars(toy(replace(program, groups=("OWN-01", "AIR-01"))))
    assert list(held._swapped(np.array([0, 3, 6]), allowed)) == []
    assert list(held._swapped(np.array([0, 3, 6]), np.ones(8, bool))) == [frozenset({"OWN-01"})] * 2


# --- kinds and rivals -------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("name, weeks", [("attics", (2, 4, 8, 12)), ("barns", (2, 4, 8)), ("wishes", (2,))])
def test_kinds_by_the_items_of_the_catalog(name, weeks):
    of = asked(name)
    items = {item.id: item for own in stock().classes.values() for item in own}
    owned = set(of.brief.owned)
    found = {
        (group, kind): (slot, rivals_module._mask(of, slot, which)) for group, kind, slot, which in rivals_module._wanted(of)
    }
    every = [(slot, item, choice) for slot, table in of.setting.slots.items()
             for item, choice in zip(table.items, table.choices, strict=True)]  # fmt: skip

    def in_time(item, most):
        return item == "none" or item in owned or items[item].delivery <= most * 7 * 86400.0 * (1.0 + 1e-9)

    expected = {("condition", "used equipment allowed"): [True] * len(every)}
    for word in ("truck", "trailer"):
        expected["vehicle", word] = [slot != "vehicle" or items[item].kind == word for slot, item, _ in every]
    for word in ("electric", "hydraulic", "air"):
        kind = "air-driven proportioner" if word == "air" else f"{word} proportioner"
        expected["drive", kind] = [slot != "proportioner" or items[item].drive == word for slot, item, _ in every]
    expected["condition", "new equipment only"] = [
        item == "none" or item in owned or items[item].condition != "used" for _, item, _ in every
    ]
    for most in weeks:
        expected["delivery", f"all delivered within {most} weeks"] = [in_time(item, most) for _, item, _ in every]
    for key, mask in expected.items():
        assert found.pop(key)[1].tolist() == mask, key
    table, first = of.setting.slots["generator"], of.offsets["generator"]
    for kind, own in (
        ("single-phase power", table.numbers["system_split"]),
        ("three-phase power", table.numbers["system_wye"]),
    ):
        slot, mask = found.pop(("power", kind))
        assert slot == "generator" and mask[:first].all() and mask[first + len(table) :].all()
        there = [item != "none" and bool(own[j]) for j, item in enumerate(table.items)]
        assert mask[first : first + len(table)].tolist() == there and 0 < sum(there) < len(table)
    assert not found


def test_rivals_as_the_search_gives_them(monkeypatch):
    of, told = asked("barns"), []
    best = of.best()
    slots = list(of.setting.slots)
    numbers = rivals_module.kinds_of_items(of)
    items = [item for table in of.setting.slots.values() for item in table.items]
    assert [(numbers == numbers[j]).tolist() for j in range(12)] == [[one == items[j] for one in items] for j in range(12)]
    none = replace(best, columns=None, cost=None)
    for answers, found, exhausted in [([best, none], 1, True), ([best, replace(none, proven=False)], 1, False),
                                      ([best, replace(best, proven=False)], 2, False), ([none], 0, True)]:  # fmt: skip

        def search(question, places, kinds, count, answers=answers):
            assert (question.program, [slots[k] for k in places], count) == (of.program, ["gun", "vehicle"], 4)
            assert kinds.tolist() == numbers.tolist()
            return iter(answers)

        told.clear()
        monkeypatch.setattr(solver.search.rivals, "rivals", search)
        rig = of.rig_of(best.columns)
        assert rivals_module._next_best(of, ("gun", "vehicle"), 4, lambda *given: told.append(given)) == (
            [(rig, one.proven) for one in answers[:found]], exhausted)  # fmt: skip
        assert told == [("rivals", k / 4) for k in range(1, found + 1)]
    monkeypatch.setattr(solver.search.rivals, "rivals", lambda *given: iter([replace(none, proven=False)]))
    open_ = rivals_module.rivals(stock(), brief("barns"))
    assert (open_.status, open_.rivals, open_.exhausted, open_.conflicts, open_.differ, open_.count) == (
        "unknown", (), False, (), tuple(s for s in slots if s in rivals_module.DIFFER), 5)  # fmt: skip
    monkeypatch.setattr(rivals_module, "_kind", lambda of, pick, group, name, mask: (group, name))
    told.clear()
    kinds = rivals_module._kinds(of, rig, lambda *given: told.append(given))
    assert kinds == tuple((group, name) for group, name, *_ in rivals_module._wanted(of))
    assert told == [("kinds", k / len(kinds)) for k in range(1, len(kinds) + 1)]


def test_the_best_of_a_kind_is_checked_by_the_rows(monkeypatch):
    of = asked("barns")
    rig, every = of.rig_of(of.best().columns), np.ones(len(of.costs["price"]), bool)
    found = rivals_module._kind(of, rig, "a", "b", every)
    assert (found.group, found.name, found.rules, found.rival.proven, found.rival.swaps) == ("a", "b", (), True, ())
    assert (found.rival.total, found.rival.rig, found.rival.money) == (
        picked("barns").total, picked("barns").rig, picked("barns").money)  # fmt: skip
    every[of.columns_of(rig)[0]] = False
    other = replace(of.best(), columns=of.program.offsets[:-1], proven=False)
    monkeypatch.setattr(solver.search.best, "best", lambda question: other)
    text = refused(InternalError, lambda: rivals_module._kind(of, rig, "a", "b", every))
    assert text == str(InternalError("the engine's rig breaks an integer row"))
    monkeypatch.setattr(Program, "fits", lambda *given: True)
    assert rivals_module._kind(of, rig, "a", "b", every).rival.proven is False
    monkeypatch.setattr(solver.search.best, "best", lambda question: replace(other, columns=None))
    for barred, rules in ((None, ()), (excluded.Barred(("WT-03",), 1), ("WT-03",))):
        monkeypatch.setattr(rivals_module, "barred_by", lambda of, allowed, barred=barred: barred)
        assert rivals_module._kind(of, rig, "a", "b", every) == rivals_module.Kind("a", "b", None, rules)
