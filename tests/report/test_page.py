"""The page read back: every figure is that of the JSON, hostile text is text, and the page holds what it promises."""

from __future__ import annotations

import itertools
import re
from dataclasses import replace

import pytest

from solver.answers.facts import Change, Repair, Totals
from solver.answers.why import Why
from solver.report.as_data import pick_data
from solver.report.sheet.bundle import sheet_data
from solver.report.sheet.page import page
from solver.report.sheet.subjects import slot_words
from solver.rules import RULES
from solver.rules.sentence import binding_sentence
from tests.demo.demo import IMPOSSIBLE
from tests.report.sheets import EVIL, at, hostile, quick, read, whole

NUMBER = re.compile(r"[-+]?\$?-?[\d,]+(?:\.\d+)?")
SECTIONS = (
    "duties", "list", "shares", "balances", "drawings", "binds", "alternatives", "running", "rest", "cautions", "assumed",
    "working",
)  # fmt: skip


@pytest.fixture(scope="module")
def found():
    return read(page(whole()))


@pytest.fixture(scope="module")
def data():
    return sheet_data(whole())


def shown_number(text: str) -> tuple[float, int]:
    """The first number of a text and its decimals."""
    told = NUMBER.search(text)
    assert told is not None, text
    plain = told[0].replace("$", "").replace(",", "").replace("+", "")
    return float(plain), len(plain.partition(".")[2])


def test_every_figure_is_that_of_the_json(found, data):
    assert len(found.figures) > 800
    for place, value, _ in found.figures:
        assert float(value) == at(data, place), place


def test_every_figure_is_shown_as_what_it_is(found):
    for place, value, text in found.figures:
        if text in ("owned", "not asked for", "–"):
            assert float(value) == 0.0, place
            continue
        shown, digits = shown_number(text)
        wanted = float(value) * (100.0 if text.endswith("%") else 1.0)
        if "e" in text or (place.startswith("worksheets") and ".formulas." in place):
            assert shown == pytest.approx(wanted, rel=1e-4, abs=1e-9) or "e" in text, (place, text)
            continue
        if place.startswith("curves.") and ".extras." in place:
            shown, wanted = abs(shown), abs(wanted)  # the sentence says dearer or cheaper
        room = 1.0 if place.endswith("break_even_days") else 0.5 * 10.0**-digits
        assert abs(shown - wanted) <= room * (1.0 + 1e-9) + 1e-9, (place, value, text)


def test_the_list_is_that_of_pick(found):
    told = pick_data(whole().picked)
    rows = [*found.rows["list"], *found.rows["rest"]]
    for line, data in zip(whole().picked.rig, told["rig"], strict=True):
        row = next(row for row in rows if re.search(rf"(^|\s){re.escape(line.item)}\s", row[1]))
        assert row[0] == slot_words(line.slot, line.item_class)
        assert row[1].startswith(line.label.replace("degF", "°F"))
        assert row[2] == f"${data['price']:,.0f}"
        assert row[3] == f"{data['weight_lb']:,.0f} lb"
    assert found.rows["list"][-1][2:] == [f"${told['total']['price']:,.0f}", f"{told['total']['weight_lb']:,.0f} lb"]


def test_what_binds_is_that_of_pick(found):
    rows = [row for row in found.rows["binds"] if row[-1].startswith("$") and len(row) == 3 and "-" in row[0]]
    for entry in whole().picked.binding:
        row = next(row for row in rows if f" {entry.rule} " in f"{row[0]} ")
        assert row[2] == f"${entry.saving:,.0f}"
        assert entry.balance is None or row[1].startswith(binding_sentence(entry.balance).replace("degF", "°F"))


def test_all_money_and_all_balances_are_there(found, data):
    places = {place for place, _, _ in found.figures}
    missing = {f"pick.money.{name}" for name, value in data["pick"]["money"].items() if value is not None} - places
    assert missing == set()
    shown = {place.split(".")[2] for place in places if place.startswith("pick.balances.") and place.endswith(".margin")}
    applying = {str(i) for i, balance in enumerate(data["pick"]["balances"]) if balance["applies"]}
    assert applying <= shown


def test_curves_mark_the_present_and_say_what_more_costs(found, data):
    reach = data["curves"][0]
    assert (reach["requirement"], reach["present"]) == ("hose_reach", 134.2)
    here = next(k for k, row in enumerate(reach["stretches"]) if row["first"] <= 134.2 <= row["last"])
    assert reach["stretches"][here]["cost"] == data["pick"]["total"]["price"]
    assert reach["extras"][here] == 0.0
    after = reach["stretches"][here + 1]
    assert reach["extras"][here + 1] == pytest.approx(after["cost"] - data["pick"]["total"]["price"])
    assert f"From {after['first']:.0f} ft: ${reach['extras'][here + 1]:,.0f} dearer." in " ".join(found.text.split())


@pytest.mark.parametrize(("name", "units"), [("owned_truck", "us"), ("light_trailer", "si")])
def test_other_briefs_and_units_give_pages_true_to_their_json(name, units):
    told, back = sheet_data(quick(name), units), read(page(quick(name), units))
    for place, value, _ in back.figures:
        assert float(value) == at(told, place), place
    for caution in quick(name).picked.cautions:
        assert " ".join(caution.text.replace("degF", "°F").split()) in " ".join(back.text.split())
    for assumption in quick(name).picked.assumptions:
        assert any(row[0] == assumption.name for row in back.rows["assumed"])


def test_sections_come_in_order_and_nothing_is_fetched_or_run(found):
    assert tuple(attrs["id"] for tag, attrs in found.tags if tag == "section") == SECTIONS
    for tag, attrs in found.tags:
        assert tag not in ("script", "link", "iframe", "object", "embed", "form", "img")
        assert not [name for name in attrs if name.startswith("on")]
        assert (attrs.get("href") or "#").startswith("#")
        assert "src" not in attrs
    assert "url(" not in page(whole())
    assert "@import" not in page(whole())


def test_tables_headings_and_drawings_are_marked_up(found):
    tables = sum(tag == "table" for tag, _ in found.tags)
    assert tables == sum(tag == "caption" for tag, _ in found.tags) > 20
    for tag, attrs in found.tags:
        if tag == "th":
            assert attrs.get("scope") in ("col", "row")
        if tag == "svg":
            assert attrs.get("aria-hidden") == "true" or attrs.get("role") == "img"
    levels = [int(tag[1]) for tag, _ in found.tags if tag in ("h1", "h2", "h3")]
    assert levels[0] == 1 and levels.count(1) == 1
    assert all(b - a <= 1 for a, b in itertools.pairwise(levels))
    ids = [attrs["id"] for _, attrs in found.tags if attrs.get("id")]
    assert len(ids) == len(set(ids))


def test_every_rule_has_its_working_with_formula_and_source(found):
    summaries = page(whole())
    for sheet in whole().facts.worksheets:
        assert f"<summary>{sheet.rule.id} " in summaries
    text = " ".join(found.text.split())
    assert " ".join(RULES["HEAT-01"].source.split(";")[0].split()) in text
    assert text.count("Source: ") == len({sheet.rule.id for sheet in whole().facts.worksheets})


def test_reasons_are_exact(data):
    reasons = {reason["slot"]: reason for reason in data["reasons"]}
    hose = reasons["hose"]
    assert hose["kind"] == "rules"
    assert {entry["rule"] for entry in hose["rules"]} == {"HOSE-01"}
    assert hose["rules"][0]["balance"]["margin"] < 0.0
    assert reasons["gun"]["kind"] == "least"
    assert all(not entry["balance"]["holds"] for reason in data["reasons"] for entry in reason["rules"])


def test_hostile_text_arrives_as_text():
    back = read(page(hostile()))
    assert [tag for tag, _ in back.tags if tag in ("script", "img")] == []
    assert not [attrs for _, attrs in back.tags if any(name.startswith("on") for name in attrs)]
    assert " ".join(back.text.split()).count(EVIL) > len(hostile().picked.rig)


def test_a_conflict_gives_its_page():
    bundle = quick(IMPOSSIBLE)
    back = read(page(bundle))
    text = " ".join(back.text.split())
    assert "No rig in this catalog fits this brief. This is proven." in text
    for clash in bundle.picked.conflicts[0].members:
        assert clash.rule in text
    assert tuple(attrs["id"] for tag, attrs in back.tags if tag == "section") == ("conflict-1", "cautions", "assumed")


def test_a_conflict_says_what_would_help():
    plain = quick(IMPOSSIBLE)
    change = Change("budget", (), "USD", 95_000.0, 233_797.0, 0.5, False)
    repair = Repair((change,), Totals(199_542.0, 9_000.0, 50_000.0), ())
    margin = Repair((Change("power_margin", (), "%", 10.0, 5.0, 0.5, True), change), Totals(180_000.0, 9_000.0, 50_000.0), ())
    reasons = Why(plain.picked.title, "price", "none", None, repairs=(repair,), sets=(margin,))
    bundle = replace(plain, why=reasons)
    back, data = read(page(bundle)), sheet_data(bundle)
    for place, value, _ in back.figures:
        assert float(value) == at(data, place), place
    rows = back.rows["repairs"]
    total = "The budget is for the start-up total: tax, freight, training and first material too."
    assert rows[1] == [f"budget: $233,797 instead of $95,000 {total}", "$199,542"]
    assert rows[2][0].endswith("A margin is kept for a reason: this takes from what is held in hand.")


def test_the_same_bundle_gives_the_same_bytes():
    assert page(whole()) == page(whole())
