"""Answers as tables for pandas: the same figures as in JSON, and clear words where there is no such table."""

from __future__ import annotations

import sys
from dataclasses import fields
from pathlib import Path

import pytest

import solver
from solver.answers.check import check
from solver.answers.facts import Line, Totals
from solver.answers.frontier import Frontier, FrontPoint
from solver.answers.insist import Extra, Insist
from solver.answers.mend import mend
from solver.answers.rivals import Kind, Rival, Rivals
from solver.answers.swaps import Swap
from solver.answers.whatif import whatif
from solver.answers.why import why
from solver.errors import EntryError
from solver.report import frames
from solver.report.as_data import pick_data
from solver.report.frames import FIELDS, tables_of, to_frame
from solver.report.mend_data import mend_data
from solver.report.why_data import why_data
from tests.answers.small_rigs import write_rig
from tests.demo.demo import IMPOSSIBLE, answer, asked, brief, stock
from tests.report.hand_facts import MONEY

pandas = pytest.importorskip("pandas")
ANSWERS = sorted(name for name in solver.__all__ if name in frames.FIRST or name in frames.OWN)


@pytest.fixture(scope="module")
def picked():
    """The answer to pick on a demo brief."""
    return answer("owned_truck", "price")


@pytest.mark.parametrize("units", ["us", "si"])
def test_tables_hold_what_json_holds(picked, units):
    data = pick_data(picked, units)
    assert to_frame(picked, units=units).to_dict("records") == data["rig"]
    balances = to_frame(picked, "balances", units).to_dict("records")
    assert [{key: row[key] for key in data["balances"][0]} for row in balances] == data["balances"]
    assert to_frame(picked, "money").to_dict("records") == [data["money"]]
    assert to_frame(picked, "assumptions").to_dict("records") == data["assumptions"]
    assert to_frame(picked, "cautions").to_dict("records") == data["cautions"]
    binding = to_frame(picked, "binding", units)
    assert binding["rule"].tolist() == [entry["rule"] for entry in data["binding"]]
    assert binding["saving"].tolist() == [entry["saving"] for entry in data["binding"]]
    assert binding["sentence"].tolist() == [entry["sentence"] for entry in data["binding"]]


def test_a_table_without_rows_keeps_its_columns(picked):
    assert to_frame(picked, "conflicts").empty
    for table in tables_of(picked):
        assert tuple(to_frame(picked, table).columns) == FIELDS[table].columns
    none = answer(IMPOSSIBLE, "price")
    for table in ("rig", "balances", "binding", "money"):
        assert to_frame(none, table).empty
        assert tuple(to_frame(none, table).columns) == FIELDS[table].columns
    members = to_frame(none, "conflicts")
    assert members["rule"].tolist() == [clash.rule for clash in none.conflicts[0].members]
    assert members["conflict"].tolist() == [1] * len(members)


def test_checked_and_mended_rigs(tmp_path):
    of = asked("owned_truck")
    rig = of.rig_of(of.best().columns)
    path = write_rig(tmp_path / "rig.json", of, {**rig, "breathing_air": len(of.setting.slots["breathing_air"]) - 1})
    checked = check(stock(), brief("owned_truck"), path)
    assert tables_of(checked)[0] == "balances"
    assert to_frame(checked, "failures")["rule"].tolist() == [b.place.rule for b in checked.failures]
    assert len(to_frame(checked)) == len(checked.balances)
    mended = mend(stock(), brief("owned_truck"), path)
    swaps = to_frame(mended)
    said = mend_data(mended)["swaps"]
    assert swaps["slot"].tolist() == [swap["slot"] for swap in said]
    assert swaps["after"].tolist() == [swap["after"]["item"] for swap in said]
    assert swaps["cost"].tolist() == [swap["cost"] for swap in said]


def test_savings_by_weight_are_in_pounds():
    said = why(stock(), brief("light_trailer"))
    frame = to_frame(said)
    assert set(frame["unit"]) == {"lb"}
    assert frame["saving"].tolist() == [entry["saving"] for entry in why_data(said)["binding"]]


def test_cells_of_a_what_if():
    found = whatif(stock(), brief("owned_truck"), ["duty.hose_reach=100ft,150ft"], binding="none", jobs=1)
    cells = to_frame(found)
    assert tables_of(found)[0] == "cells"
    assert cells["duty.hose_reach (ft)"].tolist()[1:] == [100.0, 150.0]
    assert cells["price (USD)"].tolist()[1:] == [round(cell.total.price, 2) for cell in found.cells]
    assert to_frame(found, "cautions")["id"].tolist() == [caution.id for caution in found.cautions]


def test_no_answer_no_table_and_no_pandas(picked, monkeypatch):
    with pytest.raises(EntryError) as caught:
        to_frame(5)
    assert str(caught.value) == "found a int; expected an answer, such as that of pick or check."
    with pytest.raises(EntryError) as caught:
        to_frame(picked, "swaps")
    assert str(caught.value) == (
        'found table "swaps"; expected one of rig, balances, binding, conflicts, money, assumptions, cautions.'
    )
    monkeypatch.setitem(sys.modules, "pandas", None)
    with pytest.raises(EntryError) as caught:
        to_frame(picked)
    assert str(caught.value) == (
        "found no pandas; expected pandas to be installed, which comes with the extra `study`. Try: pip install "
        "'rigset[study]'"
    )


def test_rivals_kinds_and_what_an_item_costs_more():
    total = Totals(1000.0, 453.59237, 200.0)
    gun, other = (Line("gun", "gun", f"gun-0{k}", "Gun", "", 1, 500.0 * k, 2.0, False) for k in (1, 2))
    rival = Rival(total, (other,), (Swap("gun", "gun", gun, other), Swap("tool-01", "tool", None, gun)), True, MONEY)
    answered = Rivals("title", "weight", "found", ("gun",), 1, (rival,), False,
                      (Kind("vehicle", "trailer", None, ("WT-01", "FIT-01")),), (), (), (), ())  # fmt: skip
    assert to_frame(answered).to_dict("records") == [
        {"rival": 1, "price": 1000.0, "weight_lb": 1000.0, "yearly_cost": 200.0,
         "swaps": "gun: gun-02 for gun-01; tool-01: gun-01 for none", "proven": True}
    ]  # fmt: skip
    (kind,) = to_frame(answered, "kinds").to_dict("records")
    assert (kind["group"], kind["kind"], kind["rules"]) == ("vehicle", "trailer", "WT-01, FIT-01")
    assert pandas.isna(kind["price"])
    items = (Extra("gun-01", "gun", "Gun", ("gun",), False, 0.45359237, ()),
             Extra("gun-02", "gun", "Gun", ("gun",), False, None, ("MAT-01",)))  # fmt: skip
    table = to_frame(Insist("title", "weight", "found", total, items, 1, 1, (), (), (), ()))
    assert table["extra"].tolist()[0] == 1.0 and pandas.isna(table["extra"].tolist()[1])
    assert table["possible"].tolist() == [True, False]
    assert set(table["unit"]) == {"lb"}


def test_points_of_a_front():
    gun, other = (Line("gun", "gun", f"gun-0{k}", "Gun", "", 1, 500.0 * k, 2.0, False) for k in (1, 2))
    points = (FrontPoint(Totals(500.0, 20.0 * 0.45359237, 90.0), (gun,), ()),
              FrontPoint(Totals(1000.0, 10.0 * 0.45359237, 95.0), (other,), (Swap("gun", "gun", gun, other),)))  # fmt: skip
    front = Frontier("title", "found", ("price", "weight"), points, (1,), ((),), 1, (), (), (), ())
    assert to_frame(front).to_dict("records") == [
        {"point": 1, "price": 500.0, "weight_lb": 20.0, "yearly_cost": 90.0, "swaps": "", "shown": False},
        {"point": 2, "price": 1000.0, "weight_lb": 10.0, "yearly_cost": 95.0, "swaps": "gun: gun-02 for gun-01",
         "shown": True},
    ]  # fmt: skip


@pytest.mark.parametrize("name", ANSWERS)
def test_the_manual_names_the_tables_of_every_answer(name):
    kind = getattr(solver, name)
    blank = kind.__new__(kind)
    for field in fields(kind):
        object.__setattr__(blank, field.name, None)
    page = (Path(solver.__file__).parents[1] / "docs" / "study.md").read_text("utf-8")
    assert f"| `{name}` | {', '.join(tables_of(blank))} |\n" in page
