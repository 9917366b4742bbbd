"""`rigset frontier`: text that fits the terminal, JSON, a CSV file written whole and never over another unasked."""

from __future__ import annotations

import csv

import pytest

from solver.report.plot import scatter
from tests.answers.test_frontier import found
from tests.cli.run import brief, rigset


@pytest.fixture
def known(monkeypatch):
    """The front of the first brief, worked out once for all tests."""
    monkeypatch.setattr("solver.answers.frontier.frontier", lambda *arguments: found())


@pytest.mark.parametrize("columns", [80, 120])
def test_text_fits_the_terminal(columns, known):
    outcome = rigset("frontier", brief("first_rig"), columns=columns)
    assert (outcome.code, outcome.err) == (0, "")
    assert max(map(len, outcome.out.splitlines())) <= columns
    assert "24 of 271 points" in " ".join(outcome.out.split())


def test_json_and_csv_hold_every_point(tmp_path, known):
    path = tmp_path / "front.csv"
    outcome = rigset("frontier", brief("first_rig"), "--json", "--csv", str(path))
    assert outcome.code == 0
    assert outcome.err == f"written: {path}\n"
    rows = list(csv.DictReader(path.read_text().splitlines()))
    points = outcome.data["points"]
    assert len(rows) == len(points) == outcome.data["count"]
    assert [float(row["price_usd"]) for row in rows] == [point["total"]["price"] for point in points]
    assert rows[0]["changed"] == "" and all(row["changed"] for row in rows[1:])
    again = rigset("frontier", brief("first_rig"), "--csv", str(path))
    assert (again.code, again.out) == (2, "")
    assert str(path) in again.err


def test_nothing_fits():
    outcome = rigset("frontier", brief("wish_list"))
    assert outcome.code == 1
    assert "What cannot hold together" in outcome.out
    assert rigset("frontier", brief("wish_list"), "--json").data["status"] == "none"


def test_a_plot_in_plain_characters():
    lines = scatter([(0.0, 2.0), (1.0, 1.0), (2.0, 0.0)], 14, 3, ("x", "y"), (("0", "2"), ("0", "2")), plain=True)
    assert lines == ["  y", "2 |*", "  |     *", "0 |          *", "  +-----------", "  0    x     2"]
