"""why: the same binding and conflict as pick, and workings whose entries add up to the balance they explain."""

from __future__ import annotations

import json

import pytest

from solver.answers.pick import pick
from solver.answers.why import why
from solver.brief import read_brief
from solver.catalog import read_catalog
from solver.errors import EntryError
from solver.report.as_data import pick_data, to_json
from solver.report.why_data import why_data
from solver.report.why_text import why_text
from solver.rules import RULES
from solver.rules.record import Side
from tests.cli.run import DEMO

CATALOG = read_catalog(DEMO / "catalog")


def brief(name):
    return read_brief(DEMO / "briefs" / f"{name}.yaml", CATALOG)


@pytest.fixture(scope="module")
def owned():
    return brief("owned_truck")


def test_it_says_what_pick_says(owned):
    reasons, picked = why_data(why(CATALOG, owned)), pick_data(pick(CATALOG, owned))
    assert reasons["binding"] == picked["binding"]
    assert reasons["total"]["price"] == picked["total"]["price"]


def test_a_brief_without_a_rig_gives_the_conflict():
    answer = why(CATALOG, brief("wish_list"))
    assert answer.status == "none"
    assert len(answer.conflicts) == 3 and not answer.binding and not answer.steps
    text = why_text(answer, 80)
    assert "What cannot hold together" in text
    assert all(clash.rule in text for clash in answer.conflicts[0].members)


@pytest.mark.parametrize("rule", ["AIR-01", "HOSE-04", "HEAT-01", "PWR-06", "WT-01", "MONEY-01", "MAT-04A"])
def test_entries_add_up_to_the_balance(owned, rule):
    answer = why(CATALOG, owned, rules=(rule,))
    assert answer.worksheets
    for sheet in answer.worksheets:
        for side, whole in ((Side.NEED, sheet.balance.need), (Side.SUPPLY, sheet.balance.supply)):
            parts = [entry.value for entry in sheet.entries if entry.side is side]
            assert sum(parts) == pytest.approx(whole, rel=1e-9, abs=1e-9)


def test_a_working_shows_formula_figures_and_source(owned):
    answer = why(CATALOG, owned, rules=("HEAT-01",))
    text = why_text(answer, 100)
    assert "HEAT-01" in text and RULES["HEAT-01"].source.split(",")[0] in " ".join(text.split())
    assert any(call.name == "heater_power" for entry in answer.worksheets[0].entries for call in entry.calls)
    assert all(len(line) <= 100 for line in text.splitlines())
    assert json.loads(to_json(why_data(answer)))["worksheets"][0]["entries"]


def test_every_rule_that_the_brief_asks_for_has_a_working(owned):
    text = why_text(why(CATALOG, owned, rules=tuple(RULES)), 80)
    shown = {rule for rule in RULES if f"\n{rule} " in text}
    assert len(shown) > 60
    assert "MAT-07" not in shown, "the brief's air is dry"
    answer = why(CATALOG, owned, rules=("MAT-07",))
    assert answer.worksheets == ()
    assert "does not come into play" in why_text(answer, 80)


def test_an_unknown_rule_is_refused(owned):
    with pytest.raises(EntryError, match='found rule "AIR-99"; expected the id of a rule'):
        why(CATALOG, owned, rules=("AIR-99",))


def test_no_working_where_no_rig_fits():
    with pytest.raises(EntryError, match="where no rig fits"):
        why(CATALOG, brief("wish_list"), rules=("AIR-01",))
