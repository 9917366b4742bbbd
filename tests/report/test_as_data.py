"""The answer as JSON: what it holds at least, in plain figures, the same as in the text."""

from __future__ import annotations

import json

import pytest

from solver.report.as_data import json_by_line, pick_data, pounds, to_json
from solver.report.pick_text import pick_text
from solver.rules import RULES
from solver.rules.sentence import SI_UNIT
from tests.demo.demo import BRIEFS, IMPOSSIBLE, POSSIBLE, answer, brief

KEYS = {
    "status", "by", "proven", "total", "rig", "balances", "binding", "conflicts", "cautions",
}  # fmt: skip


def data(name: str, units: str = "us") -> dict:
    """The JSON of a demo brief, read again."""
    found: dict = json.loads(to_json(pick_data(answer(name, brief(name).by), units)))
    return found


@pytest.mark.parametrize("name", BRIEFS)
def test_it_holds_what_is_promised(name):
    found = data(name)
    assert set(found) >= KEYS
    assert found["status"] == ("none" if name == IMPOSSIBLE else "found")
    assert found["by"] == brief(name).by
    for caution in found["cautions"]:
        assert set(caution) == {"id", "text"}


@pytest.mark.parametrize("name", POSSIBLE)
def test_rig_balances_and_binding_rules_have_their_keys(name):
    found = data(name)
    assert set(found["total"]) >= {"price", "weight_lb"}
    for line in found["rig"]:
        assert set(line) >= {"slot", "item", "label", "choice", "count", "price", "weight_lb"}
    for balance in found["balances"]:
        assert set(balance) >= {"rule", "duty", "state", "need", "supply", "margin", "unit"}
        assert balance["margin"] == pytest.approx(balance["supply"] - balance["need"], abs=2e-5)
    for entry in found["binding"]:
        assert set(entry) >= {"rule", "saving", "by_duty"}
        assert entry["saving_unit"] == ("lb" if brief(name).by == "weight" else "USD")


@pytest.mark.parametrize("name", POSSIBLE)
def test_totals_are_those_of_the_lines(name):
    found = data(name)
    assert sum(line["price"] for line in found["rig"]) == pytest.approx(found["total"]["price"], abs=0.01)
    assert sum(line["weight_lb"] for line in found["rig"]) == pytest.approx(found["total"]["weight_lb"], abs=0.5)


@pytest.mark.parametrize("name", POSSIBLE)
def test_si_units_change_the_balances_and_nothing_else(name):
    us, si = data(name), data(name, "si")
    assert [line["weight_lb"] for line in us["rig"]] == [line["weight_lb"] for line in si["rig"]]
    for one, other in zip(us["balances"], si["balances"], strict=True):
        assert other["unit"] == SI_UNIT[RULES[one["rule"]].unit]
        assert (one["margin"] > 0) == (other["margin"] > 0) or abs(one["margin"]) < 1e-5


def test_a_conflict_has_its_rules_with_what_comes_closest():
    (found,) = data(IMPOSSIBLE)["conflicts"]
    assert found["rules"]
    for clash in found["rules"]:
        assert RULES[clash["rule"]].title == clash["title"]
        assert clash["closest"]["holds"] is False or clash["closest"]["margin"] >= 0
        assert clash["sentence"].endswith((".", ".)"))


@pytest.mark.parametrize("name", POSSIBLE)
def test_the_text_names_every_item_and_every_binding_rule_of_the_data(name):
    found = data(name)
    text = pick_text(answer(name, brief(name).by), 120)
    for line in found["rig"]:
        assert f"[{line['item']}]" in text
    for entry in found["binding"]:
        assert f"- {entry['rule']} " in text
    flat = " ".join(text.split())
    for caution in found["cautions"]:
        assert " ".join(caution["text"].split()) in flat


def test_pounds_to_the_hundredth():
    assert pounds(0.45359237) == 1.0
    assert pounds(100.0) == 220.46


def test_no_figure_that_json_does_not_know():
    with pytest.raises(ValueError, match="not JSON compliant"):
        to_json({"margin": float("inf")})


def test_a_long_list_is_written_one_entry_a_line():
    data = {"title": 'a "points": [] b', "points": [{"a": 1}, {"b": [2, "ü"]}], "count": 2}
    expected = """{
  "title": "a \\"points\\": [] b",
  "points": [
    {"a": 1},
    {"b": [2, "ü"]}
  ],
  "count": 2
}
"""
    assert "".join(json_by_line(data, "points", data["points"])) == expected
    assert json.loads(expected) == data
    assert "".join(json_by_line(data, "points", [])) == to_json(data | {"points": []})


def test_no_figure_that_json_does_not_know_in_a_long_list_either():
    with pytest.raises(ValueError, match="not JSON compliant"):
        "".join(json_by_line({"points": []}, "points", [{"margin": float("nan")}]))
