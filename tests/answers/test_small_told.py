"""Parts of the answers that tell of a rig: how rigs differ, why a slot holds what it holds option by option, price against
weight by trying every rig, what excludes an item in all its slots; and a second process that ends before its time."""

from __future__ import annotations

import importlib
import os
import pkgutil
import signal
import time
from collections import Counter
from dataclasses import is_dataclass
from types import SimpleNamespace

import numpy as np
import pytest

import solver.answers
from solver.answers import beside as beside_module
from solver.answers import certificate, certificate_file, sheet
from solver.answers import insist as insist_module
from solver.answers import swaps as swaps_module
from solver.answers.ask import ask
from solver.answers.facts import Line
from solver.answers.rivals_excluded import Barred
from solver.answers.swaps import Swap, line_of, swaps
from solver.errors import EntryError, InputError, InternalError
from solver.options.table import NONE
from solver.program.fingerprint import fingerprint, short
from solver.rules.balance import balance_of, chosen
from solver.search.best import Question
from tests.answers.small.world import asked, best_rig, brief, refused, stock
from tests.answers.small_rigs import every_rig, loose, small


# --- how rigs differ --------------------------------------------------------------------------------------------------
def test_slots_that_differ_and_things_of_a_class_in_pairs():
    of, old = asked("attics"), best_rig("attics")
    tables = of.setting.slots
    kits = ("safety-01", "safety-02", "tool-01", "tool-02", "spare-part-01")
    base = {**old, **{name: tables[name].items.index(NONE) for name in kits}}
    full = {name: 1 - base[name] for name in kits}
    hose = (old["hose"] + 1) % len(tables["hose"])
    assert swaps(of, old, old) == swaps(of, base, base) == ()

    def told(before, after):
        return [
            (s.slot, s.item_class, s.before and s.before.slot, s.after and s.after.slot) for s in swaps(of, before, after)
        ]

    def holding(*names):
        return base | {name: full[name] for name in names}

    before, after = holding("safety-01", "tool-01", "tool-02"), holding("safety-02", "spare-part-01") | {"hose": hose}
    assert told(before, after) == [
        ("hose", "hose", "hose", "hose"), ("safety-02", "safety_item", "safety-01", "safety-02"),
        ("spare-part-01", "spare_part", None, "spare-part-01"), ("tool-01", "tool", "tool-01", None),
        ("tool-02", "tool", "tool-02", None)]  # fmt: skip
    assert told(after, before) == [
        ("hose", "hose", "hose", "hose"), ("safety-01", "safety_item", "safety-02", "safety-01"),
        ("tool-01", "tool", None, "tool-01"), ("tool-02", "tool", None, "tool-02"),
        ("spare-part-01", "spare_part", "spare-part-01", None)]  # fmt: skip
    a, b, c, d = (Line(name, "tool" if name < "d" else "lamp", name, name, "", 1, 1.0, 1.0, False) for name in "abcd")
    assert swaps_module._paired({"tool": [a, b]}, [d, c]) == [
        Swap("d", "lamp", None, d), Swap("c", "tool", a, c), Swap("b", "tool", b, None)]  # fmt: skip
    (found, *_) = swaps(of, before, after)
    assert found == Swap("hose", "hose", line_of(of, "hose", old["hose"]), line_of(of, "hose", hose))
    lines = [Line("gun", "gun", item, item, choice, count, 1.0, 1.0, False)
             for item, choice, count in [("a", "", 1), ("a", "", 2), ("a", "x", 1), ("b", "", 2)]]  # fmt: skip
    for before_line, after_line, item, number in [
        (lines[0], lines[1], False, True), (lines[0], lines[2], False, False), (lines[0], lines[3], True, False),
        (None, lines[0], True, False), (lines[0], None, True, False), (None, None, True, False),
    ]:  # fmt: skip
        swap = Swap("gun", "gun", before_line, after_line)
        assert (swap.item, swap.number) == (item, number)


# --- why a slot holds what it holds -----------------------------------------------------------------------------------
@pytest.mark.parametrize("name, by", [("attics", "weight"), ("barns", "price"), ("barns", "yearly-cost")])
def test_better_options_are_kept_out_by_the_rules_that_are_told(name, by):
    """Option by option; of the rules, that which keeps out most, then most of the rest, the first in the register."""
    of, rig, seen = ask(stock(), brief(name), by), dict(best_rig(name)), Counter()
    for slot in ("compressor", "hose", "vehicle", "lighting", "safety-01"):
        rig[slot] = len(of.setting.slots[slot]) - 1 if slot in rig and by == "yearly-cost" else rig.get(slot, 0)
    rig = {slot: rig[slot] for slot in of.setting.slots}
    columns = of.columns_of(rig)
    for reason, line in zip(sheet.reasons(of, rig, of.lines(rig)), of.lines(rig), strict=False):
        slot, start, table = line.slot, of.offsets[line.slot], of.setting.slots[line.slot]
        cost = of.costs[by][start : start + len(table)].tolist()
        better = [j for j in range(len(table)) if cost[j] < cost[rig[slot]]]
        assert reason.slot == slot
        seen[reason.kind] += 1
        if reason.kind != "rules":
            assert (reason.kind, reason.better, reason.hindrances) == ("owned" if line.owned else "least", 0, ())
            assert line.owned or not better
            continue
        slack = {}
        for j in better:
            other = columns.copy()
            other[list(of.offsets).index(slot)] = start + j
            slack[j] = (of.program.rhs - of.program.rows[:, other].sum(axis=1)).tolist()
        rows = {rule: [i for i, group in enumerate(of.program.groups) if group == rule] for rule in of.groups}
        out = {rule: {j for j in better if any(slack[j][i] < 0 for i in own)} for rule, own in rows.items()}
        left, expected = set(better), []
        while left:
            rule = max(out, key=lambda each: len(out[each] & left))
            kept = sorted(out[rule] & left)
            worst = {j: min(slack[j][i] for i in rows[rule]) for j in kept}
            nearest = max(kept, key=lambda j: (worst[j], -j))
            row = next(i for i in rows[rule] if slack[nearest][i] == worst[nearest])
            balance = balance_of(of.setting, of.instances[row], chosen(of.setting, {**rig, slot: nearest}))
            expected.append(sheet.Hindrance(rule, len(out[rule]), table.items[nearest], table.choices[nearest], balance))
            left -= out[rule]
            seen["several"] += len(kept) > 1
        assert (reason.better, list(reason.hindrances)) == (len(better), expected)
    assert seen["rules"] > 3 and seen["several"] > 0 and (seen["owned"] > 0 or name == "barns")


def test_a_better_option_that_breaks_nothing_is_a_fault():
    of = asked("barns")
    rig = {**best_rig("barns"), "gun": 1}
    loose_rows = np.full(len(of.program.rhs), 10**9)
    text = refused(InternalError, lambda: sheet._reason(of, {**rig, "vehicle": 0, "hose": len(of.setting.slots["hose"]) - 1},
                                                        "hose", loose_rows))  # fmt: skip
    assert text == str(InternalError("a better option of slot hose breaks no rule"))


def test_trades_are_the_lightest_rigs_at_even_steps_of_price(monkeypatch):
    told = Counter()
    for seed in range(8):
        found = (loose, small)[seed % 2](seed)
        program = found.program
        of = SimpleNamespace(program=program, question=lambda by, at_most: Question(program, by, at_most=at_most or {}),  # noqa: B023
                             recheck=lambda columns: None, rig_of=lambda columns: tuple(columns.tolist()),
                             totals=lambda rig: rig, lines=lambda rig: rig)  # fmt: skip
        monkeypatch.setattr(sheet, "ask", lambda catalog, brief: of)  # noqa: B023
        keys = [(program.cost(c, "price"), program.cost(c, "weight"), tuple(c.tolist())) for c in every_rig(program)]
        for most in (2, 3, 6, None):
            expected, told_most = {}, [most] if most else []
            most = most or 10
            if keys:
                cheap, light = min(keys), min(keys, key=lambda key: (key[1], key[0], key[2]))
                limits = [cheap[0] + (light[0] - cheap[0]) * k // (most - 1) for k in range(1, most - 1)]
                within = [
                    min((key for key in keys if key[0] <= limit), key=lambda key: (key[1], key[0], key[2]))
                    for limit in limits
                ]
                for price, _, columns in (cheap, *within, light):
                    expected.setdefault(price, columns)
            trades = sheet.price_against_weight(None, None, *told_most)
            assert [trade.rig for trade in trades] == [expected[price] for price in sorted(expected)], (seed, most)
            told[len(trades)] += 1
    assert len(told) >= 4


# --- what excludes an item --------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "each, rules, minimal",
    [
        ([(("MONEY-01",), True)], ("MONEY-01",), True),
        ([(("WT-03", "MONEY-01"), False)], ("WT-03", "MONEY-01"), False),
        ([(("MONEY-01",), True), (("WT-03", "MONEY-01"), True)], ("WT-03", "MONEY-01"), True),
        ([(("WT-03",), True), (("MONEY-01",), True)], ("WT-03", "MONEY-01"), False),
        ([(("MONEY-01",), True), (("AIR-01",), True), (("WT-03", "WT-01"), True)],
         ("WT-03", "WT-01", "AIR-01", "MONEY-01"), False),
        ([(("WT-03",), False), (("WT-03",), True)], ("WT-03",), True),
    ],
)  # fmt: skip
def test_what_excludes_an_item_in_all_its_slots(each, rules, minimal):
    found = insist_module._joined(asked("barns"), [Barred(own, 2 + k, known) for k, (own, known) in enumerate(each)])
    assert found == Barred(rules, sum(range(2, 2 + len(each))), minimal)


def test_items_with_their_slots_and_options():
    of = asked("barns")
    tables = of.setting.slots
    flat = [(name, item) for name, table in tables.items() for item in table.items]
    items = list(insist_module._items(of))
    assert [item for item, _, _ in items] == list(dict.fromkeys(item for _, item in flat if item != NONE))
    for item, slots, options in items:
        assert slots == tuple(dict.fromkeys(name for name, own in flat if own == item))
        assert options.tolist() == [own == item for _, own in flat]
        for slot in slots:
            within = insist_module._in_slot(of, slot, options)
            assert within.tolist() == [own == item or name != slot for name, own in flat]
    assert max(len(slots) for _, slots, _ in items) > 1


def test_items_that_no_rig_has_are_asked_about_from_the_cheapest_of_a_slot(monkeypatch):
    of = asked("barns")
    items, cost, order, told = list(insist_module._items(of)), of.program.costs["price"], [], []

    class Bars:
        def __init__(self, asked):
            assert asked is of

        def of(self, allowed, as_known):
            assert as_known == 4
            order.append(allowed)
            return Barred(("GUN-01",), 1)

    monkeypatch.setattr(insist_module, "Bars", Bars)
    closed = [k for k, (_, slots, _) in enumerate(items) if slots[0] in ("hose", "feed_pump_a")][::-1]
    found = insist_module._barred(of, items, closed, lambda words, share: told.append((words, share)))
    assert found == {k: Barred(("GUN-01",), len(items[k][1])) for k in closed}
    expected = {}
    for slot in ("hose", "feed_pump_a"):
        own = sorted((k for k in closed if items[k][1][0] == slot), key=lambda k: cost[items[k][2]].min())
        expected[slot] = [insist_module._in_slot(of, each, items[k][2]).tolist() for k in own for each in items[k][1]]
    seen = [allowed.tolist() for allowed in order]
    for masks in expected.values():
        places = [seen.index(mask) for mask in masks]
        assert places == sorted(places)
    assert len(seen) == sum(map(len, expected.values()))
    counts = [sum(items[k][1][0] == slot for k in closed) for slot in dict.fromkeys(items[k][1][0] for k in closed)]
    assert told == [("rules that exclude an item", counts[0] / len(closed)), ("rules that exclude an item", 1.0)]
    monkeypatch.setattr(Bars, "of", lambda bars, allowed, as_known: None)
    text = refused(InternalError, lambda: insist_module._barred(of, items, closed[:1], lambda words, share: None))
    item = items[closed[0]][0]
    assert text == str(InternalError(f"a rig with {item} was found after it was proven that there is none"))


# --- records and certificates -----------------------------------------------------------------------------------------
CHANGING = {"Met", "Settling", "_Open"}
"""Records that are filled while cells are settled."""
BY_IDENTITY = {
    "Asked", "Best", "Certificate", "Changes", "Met", "Point", "Ranged", "Row", "Settling", "Study", "Told", "_At", "_Left",
    "_Open", "_Plan",
}  # fmt: skip
"""Records that hold arrays, or questions that are known by themselves."""


def test_what_answers_are_made_of_is_not_changed_afterwards():
    seen = set()
    for each in pkgutil.iter_modules(solver.answers.__path__):
        module = importlib.import_module(f"solver.answers.{each.name}")
        for name, record in vars(module).items():
            if isinstance(record, type) and is_dataclass(record) and record.__module__ == module.__name__:
                kind = record.__dataclass_params__
                assert (kind.frozen, kind.eq) == (name not in CHANGING, name not in BY_IDENTITY), name
                seen.add(name)
    assert len(seen) > 40 and seen > CHANGING
    assert "_kept" not in repr(asked("barns").__class__(None, None, None, (), "price", {"a": 1}))


def test_long_names_and_numbers_of_a_certificate_are_cut(tmp_path):
    of = asked("barns")
    wrong = SimpleNamespace(fingerprint="0" * 64, title="a" * 79 + "bc", catalog="d" * 79 + "ef")
    own = short(fingerprint(of.program))
    names = f'(brief "{"a" * 79}b", catalog "{"d" * 79}e")'
    text = (
        f"file: found the certificate of another question, {short(wrong.fingerprint)} {names}; expected that of this brief "
        f"and catalog, {own}. Try: brief and catalog as they were when it was written, or a new one by `rigset pick BRIEF "
        "--certificate FILE`"
    )
    assert refused(InputError, lambda: certificate._same_question(wrong, of, "file")) == text
    assert certificate_file._whole_number("1" * 200) == int("1" * 200)
    text = "found a number of 201 figures; expected at most 200."
    assert refused(EntryError, lambda: certificate_file._whole_number("1" * 201)) == text
    text = f"found the number 0.{'1' * 38}; expected whole numbers only."
    assert refused(EntryError, lambda: certificate_file._no_number("0." + "1" * 39)) == text
    path = tmp_path / "certificate.json"
    path.write_text('{"format": 1, "format": 2}', encoding="utf-8")
    assert refused(InputError, lambda: certificate_file.read_certificate(path)) == (
        f"{path}: found a key a second time; expected each key once."
    )


# --- two processes ----------------------------------------------------------------------------------------------------
def waited_for(path):
    """Wait until the other process has made a file; not for ever."""
    for _ in range(6000):
        if path.exists():
            return
        time.sleep(0.01)


def test_what_a_second_process_leaves_undone_is_done_here(monkeypatch, tmp_path):
    """It ends in the middle of its first piece, and all it had taken comes out all the same."""
    own = os.getpid()
    monkeypatch.setattr(beside_module, "_of_use", lambda: True)

    def work(k):
        if os.getpid() != own:
            (tmp_path / "taken").touch()
            os._exit(7)
        waited_for(tmp_path / "taken")
        return k

    assert beside_module.beside([lambda k=k: work(k) for k in range(5)]) == list(range(5))


def test_a_second_process_is_ended_where_the_first_one_fails(monkeypatch, tmp_path):
    own, made, ended = os.getpid(), [], []
    fork, waitpid = os.fork, os.waitpid
    monkeypatch.setattr(beside_module, "_of_use", lambda: True)
    monkeypatch.setattr(os, "fork", lambda: (made.append(fork()), made[-1])[1])

    def work():
        if os.getpid() != own:
            (tmp_path / "taken").touch()
            time.sleep(120)
        waited_for(tmp_path / "taken")
        raise KeyboardInterrupt

    monkeypatch.setattr(os, "waitpid", lambda *given: (ended.append(waitpid(*given)), ended[-1])[1])
    with pytest.raises(KeyboardInterrupt):
        beside_module.beside([work] * 3)
    assert [pid for pid, _ in ended] == [0, made[0]]
    assert os.waitstatus_to_exitcode(ended[-1][1]) == -signal.SIGTERM
