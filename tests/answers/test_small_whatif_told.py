"""What cells of a what-if share and tell: rows, answers, switches between neighbouring values, the answer as a whole."""

from __future__ import annotations

import itertools
import os
import signal
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

from solver.answers import whatif as whatif_module
from solver.answers import whatif_grid, whatif_summary
from solver.answers.ask import ask
from solver.answers.facts import Line, Totals
from solver.answers.whatif_facts import Cell, Study, Swap, brief_of_cell, cell_values
from solver.answers.whatif_rows import ROWS, Laid
from solver.answers.whatif_settled import Best
from solver.answers.whatif_values import axis_of
from solver.brief.requirements import REQUIREMENTS
from solver.errors import EntryError, InternalError, NotProven
from solver.program.objectives import FUEL_RULE
from solver.rules import RULES
from tests.answers.small.world import asked, brief, picked, refused, stock


# --- rows that cells share --------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "name, by, vary",
    [
        ("barns", "yearly-cost", ("output=9lb/min,11lb/min", "coldest_air=20degF,50degF", "limits.combined_rating=30000lb")),
        ("attics", "weight", ("porches.spraying_time=2h,4h", "attics.altitude=5000ft")),
    ],
)  # fmt: skip
def test_cells_that_agree_in_what_a_rule_reads_share_its_rows(name, by, vary, monkeypatch):
    """Rules come into play with cold and with a rating, the fuel of a year moves; every cell equals the brief laid anew."""
    of = ask(stock(), brief(name), by)
    axes = tuple(axis_of(text, of.brief) for text in vary)
    laid, every = Laid(of, axes), []
    for values in cell_values(axes, False):
        changed, moved = brief_of_cell(of.brief, axes, values)
        every.append((values, laid.asked(changed, moved, values), ask(stock(), changed, by)))
    names = {rule: frozenset(RULES[rule].effects) for rule in RULES}
    for _, _, whole in every:
        for instance, reads in zip(whole.instances, whole.program.reads, strict=True):
            names[instance.rule.id] |= reads
    shared, costs = {}, {}
    for values, cell, whole in every:
        part, own = cell.program, whole.program
        assert (part.rows == own.rows).all() and (part.rhs == own.rhs).all() and part.reads == own.reads
        assert (part.labels, part.groups, part.background) == (own.labels, own.groups, own.background)
        assert all((cell.costs[each] == whole.costs[each]).all() for each in whole.costs)
        for number, instance, row in zip(cell._kept[ROWS].tolist(), cell.instances, part.rows, strict=True):
            held = laid.rows[number]
            assert held.number == number and held.instance is instance and (held.row == row).all()
            reads = names[instance.rule.id] if instance.rule.id in of.groups else REQUIREMENTS
            read = tuple(v if axis.requirement.id in reads else None for axis, v in zip(axes, values, strict=True))
            assert shared.setdefault((instance.place, read), number) == number
        fuel = [n for n, group in zip(cell._kept[ROWS].tolist(), part.groups, strict=True) if group == FUEL_RULE]
        costs.setdefault(tuple(fuel), []).append(cell.costs["yearly-cost"])
    assert len(every[-1][1].instances) != len(of.instances) or name == "attics"
    assert len(costs) > 1 and all(kept is own[0] for own in costs.values() for kept in own)
    rig = whole.rig_of(own.offsets[:-1])
    assert cell.balances(rig) == whole.balances(rig)
    before = len(laid.rows)
    again = [laid.asked(*brief_of_cell(of.brief, axes, values), values) for values, _, _ in every]
    assert len(laid.rows) == before and again[0] is of
    assert all((one._kept[ROWS] == cell._kept[ROWS]).all() for one, (_, cell, _) in zip(again, every, strict=True))


# --- cells as answers -------------------------------------------------------------------------------------------------
@pytest.fixture(scope="module")
def told():
    """The barns laid, with the best rig as a cell that is being settled."""
    of = ask(stock(), brief("barns"))
    work = SimpleNamespace(laid=Laid(of, ()), judged={})
    return work, whatif_grid._Open(7, (1.0,), of, of.best().columns)


def test_a_cell_is_told_with_what_binds_as_the_study_asks(told):
    work, cell = told
    of, best = cell.asked, picked("barns")
    cell.savings = (("WT-03", 500), ("GUN-01", 700), ("AIR-01", 500))
    found = whatif_grid._told(work, cell, True)
    assert found == Cell(7, (1.0,), "found", options=tuple(of.rig_of(cell.columns).values()), total=best.total,
                         money=best.money, binding=(("GUN-01", 7.0), ("AIR-01", 5.0), ("WT-03", 5.0)),
                         cautions=tuple(caution.id for caution in best.cautions))  # fmt: skip
    plain = whatif_grid._told(work, cell, False)
    assert plain == replace(found, binding=(("WT-03", None), ("GUN-01", None), ("AIR-01", None)))
    text = refused(InternalError, lambda: whatif_grid._told(work, replace(cell, columns=None), True))
    assert text == str(InternalError("a cell without a rig has no balances"))


def test_every_rig_is_judged_once_by_each_row(told, monkeypatch):
    of, judged, asked_of = told[1].asked, {}, []
    real = whatif_grid.balance_of
    rig = of.rig_of(told[1].columns)
    monkeypatch.setattr(whatif_grid, "balance_of", lambda *given: (asked_of.append(1), real(*given))[1])
    assert whatif_grid._judged(of, rig, judged) == whatif_grid._judged(of, rig, judged) == of.balances(rig)
    assert len(asked_of) == len(of.instances)
    wrong = dict.fromkeys(rig, 0)
    first = next(balance for balance in of.balances(wrong) if not balance.holds)
    text = refused(InternalError, lambda: whatif_grid._judged(of, wrong, judged))
    assert text == str(InternalError(f"the engine's rig fails the re-check at {first.place}"))


def test_cells_without_a_rig_are_told_one_by_one_where_together_is_too_much(monkeypatch):
    members = [whatif_grid._Open(number, (float(number),), asked("wishes")) for number in range(3)]

    def conflicts(work, some, by):
        if len(some) > 1 or some[0].number == 1:
            raise NotProven(f"{len(some)} at once")
        some[0].conflict = ("MONEY-01",)

    monkeypatch.setattr(whatif_grid, "_conflicts", conflicts)
    cautions = tuple(caution.id for caution in picked("wishes").cautions)
    none = [Cell(k, (float(k),), "none", conflict=("MONEY-01",), cautions=cautions) for k in range(3)]
    open_ = Cell(1, (1.0,), "unknown", proven=False, message="1 at once")
    assert whatif_grid._without_rig(None, members, "price") == [none[0], open_, none[2]]
    assert whatif_grid._without_rig(None, [], "price") == []
    monkeypatch.setattr(whatif_grid, "_told", lambda work, cell, savings: (cell.number, cell.savings, savings))
    bests = [Best(np.array([1]), (("WT-03", 1),), ""), Best(None, (), "too much"), Best(None, (), "")]
    work = SimpleNamespace(settled=SimpleNamespace(best=lambda cells, by: bests))
    for binding in ("savings", "rules"):
        found = whatif_grid._together(SimpleNamespace(by="price", binding=binding), work, members)
        assert found == [(0, (("WT-03", 1),), binding == "savings"), replace(open_, message="too much"), none[2]]


def test_what_is_kept_from_piece_to_piece_is_of_one_study():
    of = ask(stock(), brief("barns"))
    one, other = (Study(stock(), of.brief, "price", (axis_of("outlets=1,3", of.brief),)) for _ in range(2))
    work = whatif_grid._work(one, of)
    assert whatif_grid._work(one, of) is work and work.settled._laid is work.laid
    assert whatif_grid._work(other, of) is not work
    work = whatif_grid._work(one, of)
    work.laid.rows |= dict.fromkeys(range(10_000, 30_001))
    assert whatif_grid._work(one, of) is not work


# --- switches ---------------------------------------------------------------------------------------------------------
def line(slot, label, choice=""):
    return Line(slot, slot, label, label, choice, 1, 1.0, 1.0, False)


def test_what_differs_between_two_rigs_in_the_order_of_slots():
    old = (line("gun", "A"), line("hose", "B", "3 long"), line("fan", "C", "one third"), line("lamp", "D"))
    new = (line("gun", "A"), line("tool", "E"), line("hose", "B", "4 long"), line("fan", "F"))
    assert whatif_summary.swaps(old, old) == ()
    found = whatif_summary.swaps(old, new)
    assert found == (Swap("hose", "B (3 long)", "B (4 long)"), Swap("fan", "C (one third)", "F"), Swap("lamp", "D", ""),
                     Swap("tool", "", "E"))  # fmt: skip


@pytest.mark.parametrize("way", sorted(whatif_summary._WIRED))
def test_how_a_thing_is_wired_is_no_other_thing(way):
    other = next(one for one in whatif_summary._WIRED if one != way and not one.endswith(way) and not way.endswith(one))
    assert [whatif_summary.unwired(text) for text in (f"Lamp ({way})", f"Lamp (2 of, {way})", f"Lamp {way}", "Lamp")] == [
        "Lamp", "Lamp (2 of", f"Lamp {way}", "Lamp"]  # fmt: skip
    for before, after, same in [(f"Lamp ({way})", f"Lamp ({other})", True), (f"Lamp ({way})", f"Fan ({way})", False),
                                ("", f"Lamp ({way})", False), (f"Lamp ({way})", "", False), ("", "", False)]:  # fmt: skip
        assert whatif_summary.rewired(Swap("lamp", before, after)) is same


def cells_by_hand():
    """Two requirements, given as 30, 10, 20 and as 1, 2, 3; at each pair of values which options, or no rig."""
    axes = (SimpleNamespace(values=(30.0, 10.0, 20.0)), SimpleNamespace(values=(1.0, 2.0, 3.0)))
    options = {(10, 1): (0, 0), (20, 1): (1, 0), (30, 1): (1, 1), (10, 2): (0, 0), (20, 2): (1, 1), (20, 3): (1, 1)}
    cells = [Cell(0, (None, None), "found", options=(0, 0), total=Totals(9.0, 9.0, 9.0))]
    for values in itertools.product(*(axis.values for axis in axes)):
        own = options.get(values)
        rules = (("WT-01", 1.0), ("GUN-01", None)) if own == (0, 0) else (("AIR-01", None), ("WT-01", 3.0))
        cells.append(Cell(len(cells), values, "found" if own else "none", options=own or (), binding=rules if own else (),
                          total=Totals(values[0], 1.0, 1.0) if own else None))  # fmt: skip
    rigs = {(a, b): (line("gun", "AB"[a]), line("hose", "C", f"way {b}")) for a in (0, 1) for b in (0, 1)}
    return SimpleNamespace(axes=axes), cells, rigs


def test_neighbours_that_answer_otherwise_are_told_by_how_often(monkeypatch):
    study, cells, rigs = cells_by_hand()
    monkeypatch.setattr(whatif_summary, "rewired", lambda swap: swap.slot == "hose")
    monkeypatch.setattr(whatif_summary, "_broken", lambda study, asked, of, at: ((of.number, at.number),))
    found = whatif_summary.switches(study, cells, rigs, None)
    n = {cell.values: cell.number for cell in cells[1:]}
    gun, hose = Swap("gun", "A", "B"), Swap("hose", "C (way 0)", "C (way 1)")
    both, lost, won = ("found", "found"), ("found", "none"), ("none", "found")
    told = [(s.axis, s.before, s.after, s.places, s.numbers, s.status, s.price, s.swaps, s.came, s.gone) for s in found]
    assert told == [
        (0, 10.0, 20.0, 2, (n[10, 1], n[20, 1]), both, (10.0, 20.0), (gun,), ("AIR-01",), ("GUN-01",)),
        (0, 20.0, 30.0, 2, (n[20, 2], n[30, 2]), lost, (20.0, None), (), (), ()),
        (0, 10.0, 20.0, 1, (n[10, 3], n[20, 3]), won, (None, 20.0), (), (), ()),
        (0, 20.0, 30.0, 1, (n[20, 1], n[30, 1]), both, (20.0, 30.0), (hose,), (), ()),
        (1, 1.0, 2.0, 1, (n[30, 1], n[30, 2]), lost, (30.0, None), (), (), ()),
        (1, 1.0, 2.0, 1, (n[20, 1], n[20, 2]), both, (20.0, 20.0), (hose,), (), ()),
        (1, 2.0, 3.0, 1, (n[10, 2], n[10, 3]), lost, (10.0, None), (), (), ()),
    ]
    assert {s.of for s in found} == {3}
    assert all((s.breaks_after, s.breaks_before) == ((s.numbers,), (s.numbers[::-1],)) for s in found)
    monkeypatch.setattr(whatif_summary, "MOST_REASONED", 2)
    reasoned = whatif_summary.switches(study, cells, rigs, None)
    assert reasoned[:2] == found[:2]
    assert reasoned[2:] == tuple(replace(switch, breaks_after=(), breaks_before=()) for switch in found[2:])
    spoilt = [replace(cell, status="invalid", options=()) if cell.number == n[20, 1] else cell for cell in cells]
    left = whatif_summary.switches(study, spoilt, rigs, None)
    assert [(s.numbers, s.of) for s in left] == [
        ((n[one], n[other]), 3)
        for one, other in [((20, 2), (30, 2)), ((10, 2), (20, 2)), ((10, 3), (20, 3)), ((30, 1), (30, 2)), ((10, 2), (10, 3))]
    ]
    alone = [cells[0], *(replace(cell, values=(cell.values[0], None)) for cell in cells[1:] if cell.values[1] == 1.0)]
    alone += [replace(cell, values=(None, cell.values[1])) for cell in cells if cell.values[0] == 30.0]
    alone = [replace(cell, number=k) for k, cell in enumerate(alone)]
    assert [(s.axis, s.before, s.places, s.of) for s in whatif_summary.switches(study, alone, rigs, None)] == [
        (0, 10.0, 1, 1), (0, 20.0, 1, 1), (1, 1.0, 1, 1)]  # fmt: skip


def test_what_a_rig_breaks_at_another_value_is_the_worst_of_each_rule():
    of = asked("barns")
    axes = (axis_of("hose_reach=40ft,300ft", of.brief), axis_of("output=9lb/min,13lb/min", of.brief))
    study = SimpleNamespace(brief=of.brief, axes=axes)
    rig = of.rig_of(of.best().columns)
    own = Cell(1, (None, None), "found", options=tuple(rig.values()))
    for values in ((axes[0].values[1], axes[1].values[1]), (axes[0].values[0], None), (None, None)):
        whole = ask(stock(), brief_of_cell(of.brief, axes, values)[0])
        fails = [balance for balance in whole.balances(rig) if not balance.holds]
        worst = {}
        for balance in sorted(fails, key=lambda one: one.slack_share):
            worst.setdefault(balance.place.rule, balance)
        found = whatif_summary._broken(study, of, own, Cell(2, values, "found"))
        assert found == tuple(worst[rule] for rule in dict.fromkeys(balance.place.rule for balance in fails))
        assert len(found) > 1 or values[1] is None
    assert whatif_summary._broken(study, of, replace(own, options=()), Cell(2, values, "found")) == ()


# --- a study ----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "vary, path",
    [(("output=9lb/min", "attics.output=8lb/min"), "attics.output"), (("output=9lb/min", "output=8lb/min"), "output"),
     (("altitude=1ft", "attics.output=9lb/min", "output=8lb/min"), "output")],
)  # fmt: skip
def test_what_is_varied_twice(vary, path):
    text = f'found "{path}", varied twice; expected each requirement once. Try: all its values in one --vary'
    assert refused(EntryError, lambda: whatif_module._axes(vary, brief("attics"))) == text


def test_what_is_varied_as_text_or_as_figures():
    by_text = whatif_module._axes(("attics.output=9lb/min", "porches.output=8lb/min", "budget=70000USD"), brief("attics"))
    assert whatif_module._axes({axis.path: axis.values for axis in by_text}, brief("attics")) == by_text
    assert [axis.duties for axis in by_text] == [("attics",), ("porches",), ()]
    text = "found nothing to vary; expected at least one requirement. Try: --vary duty.hose_reach=100ft:300ft:50ft"
    assert refused(EntryError, lambda: whatif_module._axes((), brief("attics"))) == text
    text = 'found binding "all"; expected one of none, rules, savings. Try: savings'
    assert refused(EntryError, lambda: whatif_module._binding("all", 3)) == text


def test_an_answer_tells_each_cell_from_the_brief_as_it_is(monkeypatch):
    of = asked("barns")
    study = Study(stock(), of.brief, "price", (axis_of("outlets=1,2,3", of.brief),), True, "rules")
    base = tuple(of.rig_of(of.best().columns).values())
    other = tuple(1 if name == "gun" and not option else 0 if name == "gun" else option
                  for name, option in zip(of.offsets, base, strict=True))  # fmt: skip
    shown = [caution.id for caution in whatif_module.CAUTIONS][:4]
    cells = [Cell(0, (None,), "found", options=base, cautions=(shown[2],)), Cell(1, (1.0,), "none", cautions=(shown[0],)),
             Cell(2, (2.0,), "found", options=other), Cell(3, (3.0,), "found", options=base)]  # fmt: skip
    monkeypatch.setattr(whatif_module, "switches", lambda *given: given)
    found = whatif_module._answer(study, of, cells)
    lines = {options: of.lines(dict(zip(of.offsets, options, strict=True))) for options in (base, other)}
    told = [*cells[:2], replace(cells[2], changed=whatif_summary.swaps(lines[base], lines[other])), cells[3]]
    assert len(told[2].changed) == 1
    assert (found.base, list(found.cells), found.rigs, found.switches) == (
        cells[0],
        told[1:],
        lines,
        (study, told, lines, of),
    )
    assert [caution.id for caution in found.cautions] == [shown[0], shown[2]]
    assert (found.title, found.by, found.axes, found.one_at_a_time, found.binding, found.waived, found.assumptions) == (
        of.brief.title, "price", study.axes, True, "rules", tuple(of.brief.waived), of.brief.assumed())  # fmt: skip
    bare = whatif_module._answer(study, of, [replace(cells[0], options=()), *cells[1:]])
    assert list(bare.cells) == cells[1:]


def test_where_a_system_has_no_masks_nothing_is_masked(monkeypatch):
    monkeypatch.delattr(signal, "pthread_sigmask")
    before = signal.getsignal(signal.SIGINT)
    with whatif_module._deaf():
        assert signal.getsignal(signal.SIGINT) is before
    assert signal.getsignal(signal.SIGINT) is before


def test_a_worker_ends_with_its_parent(monkeypatch):
    import multiprocessing

    done = []
    parent = SimpleNamespace(join=lambda: done.append("joined"))
    thread = lambda target, daemon: SimpleNamespace(start=lambda: (done.append(daemon), target()))  # noqa: E731
    monkeypatch.setattr(multiprocessing, "parent_process", lambda: parent)
    monkeypatch.setattr(whatif_module, "Thread", thread)
    monkeypatch.setattr(os, "_exit", lambda code: done.append(code))
    before = signal.getsignal(signal.SIGINT)
    try:
        whatif_module._in_worker()
        assert (done, signal.getsignal(signal.SIGINT)) == ([True, "joined", 1], signal.SIG_IGN)
        parent = None
        whatif_module._in_worker()
        assert done == [True, "joined", 1, True]
    finally:
        signal.signal(signal.SIGINT, before)
