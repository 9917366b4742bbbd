"""Every cell of a what-if is what `pick` says of the edited brief; executors and pieces change nothing."""

from __future__ import annotations

import multiprocessing
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace
from functools import cache
from importlib.util import find_spec

import pytest

from solver.answers import whatif as whatif_module
from solver.answers.ask import ask
from solver.answers.pick import pick
from solver.answers.whatif import WhatIf, whatif
from solver.answers.whatif_facts import Binding, Cell, Study, Swap, brief_of_cell
from solver.answers.whatif_grid import _work, settle
from solver.answers.whatif_summary import rewired
from solver.answers.whatif_values import axis_of
from solver.errors import EntryError
from solver.rules import RULES
from tests.answers.whatif_small import small
from tests.demo.demo import brief

GRIDS: dict[str, tuple[str, ...]] = {
    "first_rig": ("duty.hose_reach=80ft:160ft:40ft", "limits.budget=70000USD,90000USD"),
    "owned_truck": ("duty.altitude=0ft:8000ft:4000ft", "margins.power_margin=0%,20%"),
    "light_trailer": ("duty.coldest_air=20degF,45degF", "duty.hottest_air=40degF,100degF"),
}
"""Studies with rigs, conflicts, wishes, limits, margins and site facts, and a brief that cannot be said."""


@cache
def study(name: str) -> WhatIf:
    """The what-if of a demo brief, worked out in this process."""
    return whatif(small(name), brief(name), GRIDS[name], jobs=1)


@cache
def plain() -> WhatIf:
    """The study of the first rig without savings, worked out in this process."""
    return whatif(small("first_rig"), brief("first_rig"), GRIDS["first_rig"], binding="none", jobs=1)


def assert_as_pick(name: str, found: WhatIf, cell: Cell) -> None:
    """The cell says what pick says of the edited brief."""
    picked = pick(small(name), brief_of_cell(brief(name), found.axes, cell.values)[0])
    assert (cell.status, cell.proven, cell.total, cell.money) == (picked.status, True, picked.total, picked.money)
    assert cell.binding == tuple((entry.rule, entry.saving) for entry in picked.binding)
    assert cell.conflict == tuple(clash.rule for conflict in picked.conflicts for clash in conflict.members)
    assert cell.cautions == tuple(caution.id for caution in picked.cautions)
    assert found.rigs.get(cell.options, ()) == picked.rig


@pytest.mark.parametrize("name", GRIDS)
def test_a_cell_is_what_pick_says_of_the_edited_brief(name):
    found = study(name)
    for cell in (found.base, *found.cells):
        if cell.status != "invalid":
            assert_as_pick(name, found, cell)


def test_the_studies_hold_every_status():
    assert {cell.status for name in GRIDS for cell in study(name).cells} == {"found", "none", "invalid"}


def test_a_brief_that_cannot_be_said_is_an_invalid_cell_with_its_reason():
    wrong = [cell for cell in study("light_trailer").cells if cell.status == "invalid"]
    assert [cell.message for cell in wrong] == ["found coldest 45.0 degF; expected at most hottest, which is 40.0 degF."]


def test_cells_come_in_the_order_of_the_grid():
    found = study("first_rig")
    reach, budget = (axis.values for axis in found.axes)
    assert [cell.values for cell in found.cells] == [(r, b) for r in reach for b in budget]
    assert [cell.number for cell in found.cells] == list(range(1, 7))
    assert (found.base.number, found.base.values) == (0, (None, None))


def test_one_at_a_time_leaves_the_others_as_they_are():
    found = whatif(small("first_rig"), brief("first_rig"), GRIDS["first_rig"], one_at_a_time=True, binding="none", jobs=1)
    reach, budget = (axis.values for axis in found.axes)
    assert [cell.values for cell in found.cells] == [*((r, None) for r in reach), *((None, b) for b in budget)]
    same = next(cell for cell in found.cells if cell.status == "found")
    assert same.total == pick(small("first_rig"), brief_of_cell(brief("first_rig"), found.axes, same.values)[0]).total


@pytest.mark.parametrize("by", ["weight", "yearly-cost"])
def test_other_objectives(by):
    found = whatif(small("owned_truck"), brief("owned_truck"), ["margins.power_margin=0%,20%"], by=by, jobs=1)
    for cell in found.cells:
        picked = pick(small("owned_truck"), brief_of_cell(brief("owned_truck"), found.axes, cell.values)[0], by)
        assert (cell.status, cell.total, found.rigs[cell.options]) == ("found", picked.total, picked.rig)
        assert cell.binding == tuple((entry.rule, entry.saving) for entry in picked.binding)


DENSE = ("duty.hose_reach=100ft,110ft", "duty.output=8lb/min:8.6lb/min:0.2lb/min")
"""Neighbours of which many have the same rig, and none is looser than the others."""


@cache
def dense(binding: Binding) -> tuple[tuple[Cell, ...], int, int]:
    """The cells of the dense study, how many questions they took, and how many each with a rig would take alone: its best
    rig, and the best without each rule."""
    named = brief("first_rig")
    study = Study(small("first_rig"), named, "price", tuple(axis_of(text, named) for text in DENSE), binding=binding)
    base = ask(study.catalog, study.brief, study.by)
    cells = settle(study, base, range(len(study.cells)))
    alone = 1 if binding == "none" else 1 + len(base.droppable)
    return cells, _work(study, base).settled.solves, alone * sum(cell.status == "found" for cell in cells)


def test_the_rules_that_bind_are_those_that_save_something():
    for cell, other in zip(dense("savings")[0], dense("rules")[0], strict=True):
        binding = {rule for rule, saving in cell.binding if saving is not None and saving > 0}
        assert other.binding == tuple((rule, None) for rule in RULES if rule in binding)
        assert replace(cell, binding=()) == replace(other, binding=()) == dense("none")[0][cell.number]
    assert sum(len(cell.binding) for cell in dense("rules")[0]) > 50


@pytest.mark.parametrize("binding", ["rules", "savings"])
def test_neighbours_are_settled_together(binding):
    _, asked, alone = dense(binding)
    assert 0 < asked <= 0.7 * alone


def test_binding_is_one_of_three_words():
    with pytest.raises(EntryError) as error:
        whatif(small("first_rig"), brief("first_rig"), GRIDS["first_rig"], binding="all", jobs=1)
    assert str(error.value) == 'found binding "all"; expected one of none, rules, savings. Try: savings'


@pytest.mark.parametrize(("values", "binding"), [(100, "savings"), (101, "rules")])
def test_savings_are_worked_out_unasked_in_small_studies(values, binding, monkeypatch):
    monkeypatch.setattr(whatif_module, "_worked", lambda study, asked, done, jobs, executor: iter([settled(study)]))
    varied = {"limits.budget": [50_000.0 + k for k in range(values)]}
    assert whatif(small("first_rig"), brief("first_rig"), varied, jobs=1).binding == binding


def settled(study: Study) -> tuple[Cell, ...]:
    """Cells that say nothing."""
    return tuple(Cell(number, values, "none") for number, values in enumerate(study.cells))


def test_pieces_change_nothing(monkeypatch):
    monkeypatch.setattr(whatif_module, "CHUNK", 2)
    assert whatif(small("first_rig"), brief("first_rig"), GRIDS["first_rig"], binding="none", jobs=1) == plain()


def test_any_executor_may_work():
    with ProcessPoolExecutor(2, multiprocessing.get_context("spawn")) as executor:
        found = whatif(small("first_rig"), brief("first_rig"), GRIDS["first_rig"], binding="none", executor=executor)
    assert found == plain()


@pytest.mark.skipif(find_spec("distributed") is None, reason="dask[distributed] is not installed (extra `study`)")
def test_a_dask_cluster_may_work(monkeypatch):
    from dask.distributed import Client, LocalCluster

    monkeypatch.setattr(whatif_module, "CHUNK", 3)
    with (
        LocalCluster(n_workers=2, threads_per_worker=1, processes=True, dashboard_address=None) as cluster,
        Client(cluster) as client,
    ):
        found = whatif(
            small("first_rig"), brief("first_rig"), GRIDS["first_rig"], binding="none", executor=client.get_executor()
        )
    assert found == plain()


def test_values_may_be_given_in_si():
    reach, budget = (axis.values for axis in study("first_rig").axes)
    varied = {"duty.hose_reach": reach[:1], "limits.budget": budget}
    found = whatif(small("first_rig"), brief("first_rig"), varied, binding="none", jobs=1)
    assert [cell.total for cell in found.cells] == [cell.total for cell in plain().cells[:2]]


def test_progress_counts_every_cell():
    seen: list[tuple[int, int]] = []
    whatif(small("first_rig"), brief("first_rig"), ["limits.budget=90000USD"], binding="none", jobs=1,
           progress=lambda done, of: seen.append((done, of)))  # fmt: skip
    assert seen == [(2, 2)]


def test_a_switch_says_what_changes_and_what_the_old_rig_breaks():
    found = study("first_rig")
    steps = {(s.axis, s.numbers): s for s in found.switches}
    step = steps[0, (4, 6)]
    assert (step.before, step.after) == found.axes[0].values[1:]
    assert [balance.place.rule for balance in step.breaks_after] == ["HOSE-01"]
    assert "hose" in [swap.slot for swap in step.swaps]
    before, after = found.cells[3], found.cells[5]
    assert before.total is not None
    assert after.total is not None
    assert step.price == (before.total.price, after.total.price)
    old, new = ({rule for rule, _ in cell.binding} for cell in (before, after))
    assert (set(step.came), set(step.gone)) == (new - old, old - new)


@pytest.mark.parametrize(
    ("before", "after", "same"),
    [
        ("Pump (120 V, leg A)", "Pump (120 V, leg B of three)", True),
        ("Heater (4 drums, 240 V single-phase)", "Heater (4 drums, 208 V single-phase, legs A-B)", True),
        ("Heater (4 drums, 240 V single-phase)", "Heater (6 drums, 240 V single-phase)", False),
        ("Hose (2 x 50 ft + whip)", "Hose (3 x 50 ft + whip)", False),
        ("Pump (120 V, leg A)", "Other pump (120 V, leg A)", False),
        ("", "Pump (120 V, leg A)", False),
    ],
)
def test_the_same_item_wired_otherwise_is_told_from_another(before, after, same):
    assert rewired(Swap("breathing_air", before, after)) is same


def test_what_was_found_before_changes_no_cell():
    """Every cell alone, in a new process's state, says what it says in a study that knows its neighbours."""
    named = brief("first_rig")
    for cell in study("first_rig").cells:
        alone = Study(small("first_rig"), named, named.by, study("first_rig").axes)
        (found,) = settle(alone, ask(small("first_rig"), named), (cell.number,))
        assert replace(found, changed=cell.changed) == cell


def test_changed_slots_are_those_that_differ_from_the_base():
    found = study("first_rig")
    base = found.rigs[found.base.options]
    for cell in found.cells:
        if cell.options:
            lines = found.rigs[cell.options]
            own, old = ({(x.slot, x.label, x.choice) for x in rig} for rig in (lines, base))
            assert {swap.slot for swap in cell.changed} == {slot for slot, *_ in own ^ old}


@pytest.mark.parametrize(
    ("vary", "sentence"),
    [
        ([], "found nothing to vary; expected at least one requirement. Try: --vary duty.hose_reach=100ft:300ft:50ft"),
        (
            ["limits.budget=75000USD", "budget=90000USD"],
            'found "budget", varied twice; expected each requirement once. Try: all its values in one --vary',
        ),
        (
            ["budget=75000USD", "budget=90000USD"],
            'found "budget", varied twice; expected each requirement once. Try: all its values in one --vary',
        ),
    ],
)
def test_what_cannot_be_varied(vary, sentence):
    with pytest.raises(EntryError) as caught:
        whatif(small("first_rig"), brief("first_rig"), vary)
    assert str(caught.value) == sentence
