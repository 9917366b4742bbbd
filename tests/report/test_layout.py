"""Plain text that fits: tables, paragraphs, points, and whole answers in every width."""

from __future__ import annotations

import re

import pytest

from solver.answers.check import Checked
from solver.answers.money import money_facts
from solver.report.check_text import check_text
from solver.report.layout import Table, bullet, heading, paragraph, width_of_terminal
from solver.report.pick_text import pick_text
from solver.rules.cautions import cautions
from tests.demo.demo import BRIEFS, answer, asked, brief

WORDS = "A machine that pumps and heats both sides at one to one and feeds a heated hose"
TABLE = Table(("slot", "what", "price"), (("gun", WORDS, "$1,400"), ("hose", "short", "$900")), "<<>", flexible=1)


@pytest.mark.parametrize("width", [40, 60, 80, 120])
def test_a_table_keeps_its_width_and_loses_no_word(width):
    lines = TABLE.lines(width)
    assert max(len(line) for line in lines) <= width
    assert re.sub(r"[\s-]+", " ", " ".join(lines)).replace("gun ", "").count("machine") == 1
    for word in WORDS.split():
        assert word in " ".join(lines)
    assert all(line == line.rstrip() for line in lines)


def test_a_table_in_whole():
    assert Table(("slot", "price"), (("gun", "$1,400"), ("hose", "$900")), "<>").lines(80) == [
        "slot   price",
        "----  ------",
        "gun   $1,400",
        "hose    $900",
    ]


def test_long_cells_go_on_in_the_next_line_beside_nothing():
    assert Table(("a", "b", "c"), (("x", "one two three four five six", "9"),), "<<>", flexible=1).lines(21) == [
        "a  b                c",
        "-  ---------------  -",
        "x  one two three    9",
        "   four five six",
    ]


def test_paragraphs_and_points():
    assert paragraph("one two three", 8) == ["one two", "three"]
    assert bullet("one two three", 9) == ["- one two", "  three"]
    assert heading("Money") == ["", "Money", "====="]


@pytest.mark.parametrize(("columns", "width"), [("20", 60), ("80", 80), ("500", 120)])
def test_the_terminal_decides_the_width_within_bounds(monkeypatch, columns, width):
    monkeypatch.setenv("COLUMNS", columns)
    assert width_of_terminal() == width


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize("name", BRIEFS)
def test_the_answer_to_pick_fits_every_width(name, width, units):
    text = pick_text(answer(name, brief(name).by), width, units)
    assert [line for line in text.splitlines() if len(line) > width] == []
    assert text.endswith("\n") and not text.endswith("\n\n")
    assert "\t" not in text and "\x1b" not in text


@pytest.mark.parametrize("units", ["us", "si"])
@pytest.mark.parametrize("width", [60, 80, 120])
def test_the_answer_to_check_fits_every_width(width, units):
    text = check_text(failing(), width, units)
    assert [line for line in text.splitlines() if len(line) > width] == []
    assert "This rig does not fit:" in text


def failing() -> Checked:
    """A rig that fails: the first option of every slot."""
    of = asked("mountain_winter")
    rig = dict.fromkeys(of.setting.slots, 0)
    balances = of.balances(rig)
    failures = tuple(balance for balance in balances if not balance.holds)
    assert failures
    return Checked(of.brief.title, False, of.totals(rig), of.lines(rig), balances, failures,
                   cautions(of.brief, None, ()), of.brief.assumed(), (), money_facts(of, rig))  # fmt: skip
