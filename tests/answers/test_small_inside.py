"""Inner parts of the answers against what they are said to give, worked out another way on the small world."""

from __future__ import annotations

import numpy as np
import pytest

from solver.answers import better
from solver.answers.ask import ask
from solver.answers.mend import changes_from
from solver.answers.repairs import _eases_all_along
from solver.answers.steps_rows import Moves, Way
from solver.answers.whatif_facts import brief_of_cell, cell_values
from solver.answers.whatif_known import Known, Met
from solver.answers.whatif_rows import ROWS, Laid
from solver.answers.whatif_settled import Settled, _halves, kind_of
from solver.answers.whatif_told import Near, Told, holds
from solver.answers.whatif_values import axis_of
from solver.brief.requirements import REQUIREMENTS
from solver.search.best import exists
from tests.answers.small.world import asked, brief, picked, stock


# --- cells of a what-if that tell of each other -----------------------------------------------------------------------
@pytest.fixture(scope="module")
def study():
    """Seven cells of the barns laid: the brief as it is, and two outputs at three altitudes."""
    of = ask(stock(), brief("barns"))
    axes = tuple(axis_of(text, of.brief) for text in ("output=9lb/min,11lb/min", "altitude=0ft,900ft,5000ft"))
    laid = Laid(of, axes)
    cells = []
    for values in cell_values(axes, False):
        changed, moved = brief_of_cell(of.brief, axes, values)
        cells.append(laid.asked(changed, moved, values))
    return laid, Settled(laid, of.program.offsets, "savings"), cells


def test_a_cell_is_the_brief_laid_anew(study):
    for cell in study[2]:
        own = ask(stock(), cell.brief)
        assert (cell.program.rows == own.program.rows).all() and (cell.program.rhs == own.program.rhs).all()
        assert (cell.program.labels, cell.program.groups, cell.program.reads, cell.program.background) == (
            own.program.labels, own.program.groups, own.program.reads, own.program.background,
        )  # fmt: skip
        assert all((cell.costs[by] == own.costs[by]).all() for by in own.costs)


def test_a_row_is_tighter_if_some_options_keep_the_other_and_may_break_it(study):
    laid, settled, cells = study
    moved = {int(n) for cell in cells for n in cell._kept[ROWS] if n >= len(cells[0]._kept[ROWS])}
    for one in sorted(moved):
        place = laid.rows[one].instance.place
        for other in [n for n, row in laid.rows.items() if row.instance.place == place]:
            a, b = laid.rows[one], laid.rows[other]
            apart = [max(int(x) - int(y) for x, y in zip(a.row[s:e], b.row[s:e], strict=True)) for s, e in
                     cells[0].program.slices]  # fmt: skip
            assert settled.is_tighter(one, other) == settled.is_tighter(one, other) == (sum(apart) > a.rhs - b.rhs)
    assert not any(settled.is_tighter(n, n) for n in moved)
    assert any(settled.is_tighter(n, m) for n in moved for m in moved)


def test_rules_that_may_be_tighter_are_told_up_to_one(study):
    _, settled, cells = study
    base = cells[0]
    for cell in cells:
        here, there = base._kept[ROWS], cell._kept[ROWS]
        tighter = {base.program.groups[i] for i in np.flatnonzero(here != there) if settled.is_tighter(there[i], here[i])}
        assert settled._short(there, base) == (frozenset(tighter) if len(tighter) <= 1 else None)


def test_a_joint_program_has_the_least_entries_and_the_largest_limits(study):
    laid, _, cells = study
    some = cells[1:4]
    numbers, program = laid.joint(some)
    assert (program.rows == np.min([cell.program.rows for cell in some], axis=0)).all()
    assert (program.rhs == np.max([cell.program.rhs for cell in some], axis=0)).all()
    for place, number in enumerate(numbers.tolist()):
        assert (laid.rows[number].row == program.rows[place]).all() and laid.rows[number].rhs == program.rhs[place]
        if len({cell._kept[ROWS][place] for cell in some}) == 1:
            assert number == some[0]._kept[ROWS][place]
    again, _ = laid.joint(some)
    assert (numbers == again).all()
    alone, own = laid.joint(some[:1])
    assert own is some[0].program and (alone == some[0]._kept[ROWS]).all()


def test_a_rig_met_elsewhere_saves_what_it_costs_less_if_it_breaks_one_rule_alone(study):
    laid, _, cells = study
    of, cost = cells[0], cells[0].best().cost
    rules = [entry.rule for entry in picked("barns").binding][:4]
    rigs = [of.cheapest(of.rows_without(rule)).columns for rule in rules]
    settled = Settled(laid, of.program.offsets, "savings")
    assert settled._reached(of.program, "price", cost, rules) == {}
    for rig in [of.best().columns, *rigs]:
        settled._note(rig)
    found = settled._reached(of.program, "price", cost, rules)
    assert {rules[k]: saving.amount for k, saving in found.items()} == {
        rule: cost - of.program.cost(rig, "price") for rule, rig in zip(rules, rigs, strict=True)
    }
    assert len(rules) >= 3
    assert settled._reached(of.program, "price", cost, rules[1:]).keys() == set(range(len(rules) - 1))
    assert settled._reached(of.program, "price", of.program.cost(rigs[0], "price"), rules[:1]) == {}


def test_what_moves_together_only_is_laid_to_each(study):
    axes = tuple(axis_of(text, brief("barns")) for text in ("output=9lb/min", "altitude=0ft"))
    laid = Laid(ask(stock(), brief("barns")), axes)
    before = list(laid._moved)
    laid._widen(before[0] | before[1])
    assert laid._moved == before
    laid._widen(before[0] | {"outlets"})
    assert laid._moved == [own | {"outlets"} for own in before] != before


def test_kinds_of_cells(study):
    cells = study[2]
    assert [kind_of(cell) == kind_of(cells[0]) for cell in cells] == [
        cell.program.labels == cells[0].program.labels for cell in cells
    ]
    assert kind_of(cells[0])[1] is None


@pytest.mark.parametrize("cells, halves", [([], []), ([1], [[1]]), ([1, 2], [[1], [2]]), ([1, 2, 3], [[1, 2], [3]])])
def test_halves(cells, halves):
    assert _halves(cells) == halves


def test_what_is_near_is_compared_once_and_when_asked_for():
    told = []

    def compared():
        for k in range(3):
            told.append(k)
            yield k, frozenset()

    near = Near(compared())
    assert next(iter(near)) == (0, frozenset()) and told == [0]
    assert [k for k, _ in near] == [0, 1, 2] == [k for k, _ in near] == told


def test_what_was_solved_holds_where_its_rig_fits(study):
    of = study[2][0]
    best, worst = of.best().columns, of.program.offsets[:-1]
    assert [holds(Told(of._kept[ROWS], rig, 0), of.program) for rig in (None, best, worst)] == [True, True, False]


# --- a rig at hand ----------------------------------------------------------------------------------------------------
SECTIONS = {"hose-03": (172000, 96000), "hose-04": (71000, 40000)}
"""Prices of a long and a short section in the catalog [cents]."""


@pytest.mark.parametrize("old", [0, 1, 4, 9])
def test_of_a_hose_the_missing_sections_are_bought(old):
    of = asked("barns")
    table, start = of.setting.slots["hose"], of.offsets["hose"]
    prices = of.costs["price"]
    rig = of.rig_of(of.program.offsets[:-1]) | {"hose": old}
    changes = changes_from(of.setting.slots, prices, rig)
    long, short = table.numbers["long_count"], table.numbers["short_count"]
    for j, item in enumerate(table.items):
        same = item == table.items[old]
        more_long, more_short = max(long[j] - long[old], 0), max(short[j] - short[old], 0)
        bought = more_long * SECTIONS[item][0] + more_short * SECTIONS[item][1]
        equal = same and (long[j], short[j]) == (long[old], short[old])
        assert changes.money[start + j] == (bought if same else prices[start + j])
        assert changes.swaps[start + j] == (0 if equal else 1)
        assert changes.wirings[start + j] == (1 if equal and j != old else 0)


# --- the argument -----------------------------------------------------------------------------------------------------
def told_apart(of, rule, columns, members):
    """Slots that the rows of a rule tell apart, and whether they only say that these hold the cheapest, by counting."""
    program, names = of.program, list(of.offsets)
    varied = [[s for s, (a, b) in enumerate(program.slices) if len(set(row[a:b].tolist())) > 1] for row in program.rows]
    own = [varied[i] for i, group in enumerate(program.groups) if group == rule]
    slots = sorted({s for row in own for s in row})
    told = tuple(names[s] for s in slots)
    if all(program.slices[s][1] - program.slices[s][0] == 2 for s in slots):
        return told, True
    if any(len(row) > 1 for row in own):
        return told, False
    for s in slots:
        alone = [i for i, group in enumerate(program.groups) if group in members and varied[i] == [s]]
        a, b = program.slices[s]
        price, held = program.costs[of.by], int(columns[s])
        others = [sum(int(program.rows[i, x]) for k, (x, _) in enumerate(program.slices) if k != s) for i in alone]
        left = [int(program.rhs[i]) - other for i, other in zip(alone, others, strict=True)]
        good = [j for j in range(a, b) if all(program.rows[i, j] <= most for i, most in zip(alone, left, strict=True))]
        if any(price[j] < price[held] for j in good):
            return told, False
    return told, True


@pytest.mark.parametrize("name", ["barns", "attics"])
def test_slots_that_an_argument_names(name):
    of = asked(name)
    columns = of.best().columns
    seen = set()
    for k, rule in enumerate(of.droppable):
        members = of.groups if k % 2 else (rule,)
        found = better._slots_of(of, rule, columns, members)
        assert found == told_apart(of, rule, columns, members)
        seen.add(found[1])
    assert seen == {True, False}


# --- repairs ----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "requirement, eases",
    [("hose_reach", "down"), ("outlets", "down"), ("floor_factor", "down"), ("warm_up_time", "up"), ("overnight_air", "up"),
     ("budget", "up"), ("delivery_time", "up"), ("altitude", ""), ("output", "")],
)  # fmt: skip
def test_which_way_a_requirement_eases_every_row(requirement, eases):
    """Less reach, fewer outlets, more time, a warmer night, more money; less output leaves motors and generators idle."""
    of, record = asked("barns"), REQUIREMENTS[requirement]
    moves = Moves(of, Way(record, ("barns",) if record.duty else ()))
    start = moves.way.present(of.brief)
    down, up = ((start + sign * record.step, start + 2 * sign * record.step) for sign in (-1.0, 1.0))
    assert _eases_all_along(start, down, moves) is (eases == "down")
    assert _eases_all_along(start, up, moves) is (eases == "up")


# --- cells without a rig ----------------------------------------------------------------------------------------------
def test_what_is_known_of_sets_of_rules_is_what_each_cell_says_alone():
    of = ask(stock(), brief("wishes"))
    axes = (axis_of("limits.budget=66000USD,120000USD", of.brief), axis_of("limits.delivery_time=3week,12week", of.brief))
    laid = Laid(of, axes)
    cells = []
    for values in cell_values(axes, False)[1:]:
        changed, moved = brief_of_cell(of.brief, axes, values)
        cells.append(laid.asked(changed, moved, values))
    settled, met = Settled(laid, of.program.offsets, "savings"), Met()
    every = frozenset(of.droppable)
    (wait,) = (rule for rule in every if of.reads_of(rule) == {"delivery_time"})
    sets = [every, every - {"MONEY-01"}, every - {wait}, frozenset(), every, frozenset({"MONEY-01"}), frozenset({wait})]
    for some in (cells, cells[:1], cells[1:]):
        known = Known(some, "price", met, settled.is_tighter)
        for kept in sets:
            for k, cell in enumerate(some):
                assert known.possible(k, kept) is exists(cell.question(rows=cell.rows_of(kept)))
