"""`rigset pick`: exit codes, text that fits the terminal, JSON with its promised keys, units, what is made least."""

from __future__ import annotations

import pytest

from tests.cli.run import brief, forget, rigset

TOP = {"status", "by", "proven", "total", "rig", "balances", "binding", "conflicts", "cautions"}
LINE = {"slot", "item", "label", "choice", "count", "price", "weight_lb"}
BALANCE = {"rule", "duty", "state", "need", "supply", "margin", "unit"}
BINDING = {"rule", "saving", "by_duty"}
FITS, NOTHING = "first_rig", "wish_list"


def longest(text: str) -> int:
    """Columns of the widest line."""
    return max(len(line) for line in text.splitlines())


@pytest.mark.parametrize("columns", [80, 120])
@pytest.mark.parametrize("name", [FITS, NOTHING])
@pytest.mark.parametrize("units", ["us", "si"])
def test_text_fits_the_terminal(name, columns, units):
    outcome = rigset("pick", brief(name), "--units", units, columns=columns)
    assert outcome.err == ""
    assert longest(outcome.out) <= columns
    assert not [line for line in outcome.out.splitlines() if line != line.rstrip()]


def test_a_rig_is_exit_code_0_and_says_that_it_is_proven():
    outcome = rigset("pick", brief(FITS))
    assert outcome.code == 0
    words = " ".join(outcome.out.split())
    assert "Cheapest rig that fits" in words
    assert "Proven: no rig in this catalog that fits costs less" in words
    for heading in ("What to buy", "Money", "Tightest balances", "What binds", "Cautions"):
        assert f"\n{heading}\n{'=' * len(heading)}\n" in outcome.out


def test_no_rig_is_exit_code_1_with_the_reason_on_stdout():
    outcome = rigset("pick", brief(NOTHING))
    assert outcome.code == 1
    assert outcome.err == ""
    assert "No rig in this catalog fits this brief. Proven." in outcome.out
    assert "What cannot hold together" in outcome.out


def test_json_of_a_rig_has_the_promised_keys():
    outcome = rigset("pick", brief(FITS), "--json")
    assert (outcome.code, outcome.err) == (0, "")
    data = outcome.data
    assert set(data) >= TOP
    assert (data["status"], data["by"], data["proven"]) == ("found", "price", True)
    assert set(data["total"]) >= {"price", "weight_lb"}
    assert all(set(line) >= LINE for line in data["rig"])
    assert all(set(balance) >= BALANCE for balance in data["balances"])
    assert all(set(entry) >= BINDING for entry in data["binding"])
    assert data["conflicts"] == []
    assert all(set(caution) >= {"id", "text"} for caution in data["cautions"])


def test_json_adds_up():
    data = rigset("pick", brief(FITS), "--json").data
    assert sum(line["price"] for line in data["rig"]) == pytest.approx(data["total"]["price"], abs=0.005)
    # pounds are rounded to the hundredth, line by line
    assert sum(line["weight_lb"] for line in data["rig"]) == pytest.approx(data["total"]["weight_lb"], abs=0.3)
    assert all(balance["margin"] >= 0 for balance in data["balances"] if balance["applies"])
    assert len({line["slot"] for line in data["rig"]}) == len(data["rig"])


def test_json_of_no_rig_has_the_promised_keys_and_the_conflict():
    outcome = rigset("pick", brief(NOTHING), "--json")
    assert (outcome.code, outcome.err) == (1, "")
    data = outcome.data
    assert set(data) >= TOP
    assert (data["status"], data["proven"], data["total"], data["rig"]) == ("none", True, None, [])
    (conflict,) = data["conflicts"]
    assert conflict["rules"]
    assert all({"rule", "title", "basis", "sentence"} <= set(member) for member in conflict["rules"])


def test_text_and_json_tell_of_the_same_rig():
    text = rigset("pick", brief(FITS), columns=120).out
    data = rigset("pick", brief(FITS), "--json").data
    assert f"${data['total']['price']:,.0f}" in text
    rows = text.split("\nWhat to buy\n")[1].split("\n\n")[0].splitlines()[1:]
    first, last = rows[0].index("item"), rows[0].index("price") - 4
    items = "".join("".join(row[first:last].split()) for row in rows[2:])
    assert [line["item"] for line in data["rig"] if f"[{line['item']}]" not in items] == []


def test_units_change_the_figures_shown_and_nothing_else():
    us = rigset("pick", brief(FITS), "--json").data
    si = rigset("pick", brief(FITS), "--json", "--units", "si").data
    assert us["rig"] == si["rig"]
    assert [b["rule"] for b in us["balances"]] == [b["rule"] for b in si["balances"]]
    assert {b["unit"] for b in us["balances"]} >= {"lb/min", "ft", "scfm", "gal", "lb"}
    assert {b["unit"] for b in si["balances"]}.isdisjoint({"lb/min", "ft", "psi", "scfm", "gal", "lb", "degF", "in"})
    assert " kg " in rigset("pick", brief(FITS), "--units", "si").out


@pytest.mark.parametrize(("by", "words"), [("weight", "Lightest rig"), ("yearly-cost", "Rig of least yearly cost")])
def test_what_is_made_least_can_be_said(by, words):
    outcome = rigset("pick", brief(FITS), "--by", by)
    assert outcome.code == 0
    assert words in outcome.out


def test_the_lightest_rig_is_no_heavier_and_no_cheaper_than_the_cheapest():
    cheap = rigset("pick", brief(FITS), "--json").data["total"]
    light = rigset("pick", brief(FITS), "--json", "--by", "weight").data["total"]
    assert light["weight_lb"] <= cheap["weight_lb"]
    assert light["price"] >= cheap["price"]


def test_the_same_question_gives_the_same_bytes():
    first = rigset("pick", brief(FITS), "--json")
    forget()
    assert rigset("pick", brief(FITS), "--json") == first
