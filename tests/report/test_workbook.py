"""The workbook read back: numbers are numbers, text is text, the same answer gives the same bytes."""

from __future__ import annotations

from io import BytesIO

import openpyxl
import pytest

from solver.report.as_data import pick_data
from solver.report.sheet.bundle import sheet_data
from solver.report.workbook import workbook
from tests.demo.demo import IMPOSSIBLE
from tests.report.sheets import EVIL, hostile, quick, whole

TABS = ["List", "Money", "Balances", "What binds", "Alternatives", "Front", "Curves", "Inputs", "Cautions"]


def opened(bundle, units="us"):
    return openpyxl.load_workbook(BytesIO(workbook(bundle, units)))


def rows(book, tab):
    """Rows of a sheet under their headings."""
    found = list(book[tab].iter_rows(values_only=True))
    return [dict(zip(found[0], row, strict=True)) for row in found[1:]]


@pytest.fixture(scope="module")
def book():
    return opened(whole())


def test_sheets_headings_and_frozen_rows(book):
    assert book.sheetnames == TABS
    for sheet in book:
        assert sheet.freeze_panes == "A2"
        assert all(cell.font.bold for cell in sheet[1])
        for column in sheet.column_dimensions.values():
            assert 8 <= column.width <= 70


def test_list_and_totals_are_those_of_pick(book):
    told = pick_data(whole().picked)
    found = rows(book, "List")
    for row, line in zip(found, told["rig"], strict=False):
        assert (row["item"], row["label"], row["price (USD)"], row["weight (lb)"], row["count"]) == (
            line["item"], line["label"], line["price"], line["weight_lb"], line["count"],
        )  # fmt: skip
        assert isinstance(row["price (USD)"], int | float) and isinstance(row["weight (lb)"], int | float)
    assert (found[-1]["price (USD)"], found[-1]["weight (lb)"]) == (told["total"]["price"], told["total"]["weight_lb"])


def test_balances_binding_and_money_are_those_of_pick(book):
    told = pick_data(whole().picked)
    applying = [balance for balance in told["balances"] if balance["applies"]]
    found = rows(book, "Balances")
    assert [row["need (unit of the row)"] for row in found] == [balance["need"] for balance in applying]
    assert [row["margin (unit of the row)"] for row in found] == [balance["margin"] for balance in applying]
    assert [row["saving without it (USD)"] for row in rows(book, "What binds")] == [b["saving"] for b in told["binding"]]
    assert {row["figure"].replace(" ", "_"): row["value (unit beside it)"] for row in rows(book, "Money")} == told["money"]


def test_curves_and_alternatives_are_those_of_the_json(book):
    data = sheet_data(whole())
    stretches = [row for curve in data["curves"] for row in curve["stretches"]]
    assert [row["from (unit of the row)"] for row in rows(book, "Curves")] == [row["first"] for row in stretches]
    assert [row["least cost (USD)"] for row in rows(book, "Curves")] == [row["cost"] for row in stretches]
    assert [row["price (USD)"] for row in rows(book, "Alternatives")] == [r["price"] for r in data["alternatives"]["rigs"]]


def test_every_input_is_there(book):
    found = {row["figure"]: row["value with its unit"] for row in rows(book, "Inputs")}
    for assumption in (*whole().picked.assumptions, *whole().brief.stated()):
        assert found[assumption.name] == assumption.value.replace("delta_degF", "°F").replace("degF", "°F")


def test_si_weights_are_kilograms():
    found = rows(opened(quick("first_rig"), "si"), "List")
    assert found[-1]["weight (kg)"] == round(quick("first_rig").picked.total.weight, 2)


def test_hostile_text_is_text():
    book = opened(hostile())
    cells = [cell for sheet in book for row in sheet.iter_rows() for cell in row]
    assert sum(cell.value == EVIL for cell in cells) > len(hostile().picked.rig)
    assert [cell.coordinate for cell in cells if cell.data_type == "f"] == []
    assert not any(cell.hyperlink for cell in cells)


def test_a_conflict_has_its_sheets():
    assert opened(quick(IMPOSSIBLE)).sheetnames == ["Conflict", "Inputs", "Cautions"]


def test_the_same_bundle_gives_the_same_bytes():
    assert workbook(quick("first_rig")) == workbook(quick("first_rig"))
