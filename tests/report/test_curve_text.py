"""The whole text of a curve, on a terminal with and without signs of its own, and the words for what changes."""

from __future__ import annotations

import json
from dataclasses import replace

import pytest

from solver.answers.facts import Line
from solver.answers.steps_facts import Curve, FirstStep, Side, Step, Stretch, Swap
from solver.brief.requirements import REQUIREMENTS
from solver.report.as_data import to_json
from solver.report.curve_data import curve_data, steps_data
from solver.report.curve_text import curve_text
from solver.report.steps_text import room_lines, step_lines, swap_words, value_words
from solver.rules.cautions import Caution


def line(slot, item, label, choice="", count=1, price=0.0, weight=0.0, item_class=None):
    return Line(slot, item_class or slot, item, label, choice, count, price, weight, owned=False)


LONG = line("hose", "hose-01", "Heated hose 3/8 in, plain", "3 x 50 ft + 1 x 25 ft + whip", 4, 4000.0, 90.0)
SHORT = line("hose", "hose-01", "Heated hose 3/8 in, plain", "2 x 50 ft + whip", 2, 2600.0, 60.0)
OTHER = line("hose", "hose-02", "Heated hose 3/8 in, thick", "4 x 50 ft + whip", 4, 5200.0, 120.0)
SMALL = line("generator", "generator-05", "Diesel generator, 20 kW, used", "single-phase 120/240 V", 1, 12_000.0, 500.0)
LARGE = line("generator", "generator-09", "Diesel generator, 30 kW, new", "single-phase 120/240 V", 1, 14_910.0, 700.0)
TURNED = replace(LARGE, choice="three-phase 208Y/120 V")
HEATED = line("drum_heater", "drum-heater-01", "Drum band heater, 0.7 kW", "4 drums, 120 V, leg A", 4, 800.0, 12.0)
TWO = replace(HEATED, choice="2 drums, 120 V, leg A", count=2, price=400.0, weight=6.0)
KIT = [line(f"tool-0{k}", f"tool-0{k}", f"Tool {k}", item_class="tool", price=10.0 * k) for k in range(1, 5)]

CURVE = Curve(
    title="A brief",
    by="price",
    requirement="hose_reach",
    duties=("attics",),
    present=134.2,
    points=((100.0, 60_000.0), (110.0, 60_000.0), (120.0, 64_310.0), (130.0, 64_310.0), (140.0, 65_510.0), (150.0, None)),
    stretches=(
        Stretch(100.0, 110.0, 60_000.0, 60_000.0, 60_000.0, 3000.0, (SHORT, SMALL), ()),
        Stretch(120.0, 120.0, 64_310.0, 64_310.0, 64_310.0, 3200.0, (LONG, LARGE),
                (Swap("hose", SHORT, LONG), Swap("generator", SMALL, LARGE))),
        Stretch(130.0, 130.0, 64_310.0, 64_310.0, 64_310.0, 3200.0, (LONG, TURNED), (Swap("generator", LARGE, TURNED),)),
        Stretch(140.0, 140.0, 65_510.0, 65_510.0, 65_510.0, 3230.0, (OTHER, TURNED), (Swap("hose", LONG, OTHER),)),
        Stretch(150.0, 150.0, None, None, None, None, (), ()),
    ),
    skipped=(160.0,),
    one_way=True,
    solves=5,
    cautions=(Caution("sizing-only", "The tool sizes; it never certifies."),),
)  # fmt: skip

TEXT = """\
A brief

Least price over the hose reach in attics, from 100 ft to 150 ft, now 134.2 ft.
Each of the 6 values is exact.

 $65,510│                                ━━━━━━━━
        │                                ┃
        │                ━━━━━━━━━━━━━━━━┃
        │                ┃
        │                ┃
        │                ┃
        │                ┃
        │                ┃
        │                ┃
 $60,000│━━━━━━━━━━━━━━━━┃                       ········
        │────────────────────────────────────────────────
         100 ft                      ▲ now         150 ft

What changes
============
hose reach        least price     step  what changes
----------------  -----------  -------  ----------------------------------------
100 ft to 110 ft      $60,000
120 ft to 130 ft      $64,310  +$4,310  one 50 ft section more and one 25 ft
                                        section more (+$1,400); Diesel
                                        generator, 30 kW [generator-09] instead
                                        of generator-05 (+$2,910)
140 ft                $65,510  +$1,200  Heated hose 3/8 in, thick [hose-02]
                                        instead of hose-01, one 50 ft section
                                        more and one 25 ft section less
                                        (+$1,200)
150 ft                                  no rig fits

Left out, since the brief cannot have it as the rest of it stands: 160 ft.
Every row moves one way over the grid, checked on the numbers, so one question a
step was enough. The engine was asked 5 times.

Cautions
========
- The tool sizes; it never certifies.
"""


def test_the_whole_text():
    assert curve_text(CURVE, 80) == TEXT


def test_plain_signs_where_the_stream_has_no_others():
    plain = curve_text(CURVE, 80, unicode=False)
    assert plain.isascii()
    assert plain == TEXT.translate(str.maketrans("━┃·│─▲", "=|.|-^"))


@pytest.mark.parametrize("width", [60, 80, 120])
@pytest.mark.parametrize("units", ["us", "si"])
def test_it_fits_the_width(width, units):
    many = tuple((25.0 + k, 60_000.0 + 10 * k if k % 7 else None) for k in range(300))
    for curve in (CURVE, replace(CURVE, points=many, present=None), replace(CURVE, by="weight")):
        assert max(map(len, curve_text(curve, width, units).splitlines())) <= width


def test_metres_and_kilograms():
    text = curve_text(replace(CURVE, by="weight"), 120, "si")
    assert "Least weight over the hose reach in attics, from 30.5 m to 45.7 m, now 40.9 m." in text
    assert "[generator-09] instead of generator-05 (+200 kg)" in text


def test_where_nothing_fits_or_the_site_sets_it():
    none = replace(CURVE, points=tuple((value, None) for value, _ in CURVE.points))
    assert curve_text(none, 80).endswith(
        "values is exact.\n\nNo rig fits at any of them.\n\nCautions\n========\n- The tool sizes; it never certifies.\n"
    )
    site = curve_text(replace(CURVE, requirement="altitude", one_way=False), 120)
    assert "The site sets it; nobody can change it. The curve shows what another site would take." in site
    assert "Rows move both ways over the grid, so it was scanned. The engine was asked 5 times." in site


def test_json_holds_what_the_text_says():
    data = json.loads(to_json(curve_data(CURVE)))
    assert (data["requirement"], data["unit"], data["present"], data["one_way"]) == ("hose_reach", "ft", 134.2, True)
    assert data["points"][2:] == [
        {"value": 120.0, "cost": 64310.0}, {"value": 130.0, "cost": 64310.0}, {"value": 140.0, "cost": 65510.0},
        {"value": 150.0, "cost": None},
    ]  # fmt: skip
    stretch = data["stretches"][1]
    assert (stretch["first"], stretch["last"], stretch["cost"], stretch["weight_lb"]) == (120.0, 120.0, 64310.0, 7054.79)
    assert [change["slot"] for change in stretch["changes"]] == ["hose", "generator"]
    assert stretch["what_changes"].startswith("one 50 ft section more and one 25 ft section more (+$1,400); Diesel")
    assert data["skipped"] == [160.0]
    assert data["cautions"] == [{"id": "sizing-only", "text": "The tool sizes; it never certifies."}]
    assert curve_data(CURVE, "si")["points"][0] == {"value": 30.48, "cost": 60000.0}


# --- words for changes ------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(("swaps", "words"), [
    ((), "nothing"),
    ((Swap("generator", LARGE, TURNED),), "one wired otherwise"),
    ((Swap("hose", LONG, SHORT),), "one 50 ft section less and one 25 ft section less (-$1,400)"),
    ((Swap("hose", SHORT, replace(SHORT, choice="4 x 50 ft + whip", count=4, price=4900.0)),),
     "two 50 ft sections more (+$2,300)"),
    ((Swap("generator", LARGE, SMALL),), "Diesel generator, 20 kW [generator-05] instead of generator-09 (-$2,910)"),
    ((Swap("drum_heater", None, HEATED),), "with a drum heater: Drum band heater, 0.7 kW [drum-heater-01] (+$800)"),
    ((Swap("drum_heater", HEATED, None),), "without the drum heater (-$800)"),
    ((Swap("drum_heater", HEATED, TWO),),
     "drum heater: 2 drums, 120 V, leg A instead of 4 drums, 120 V, leg A (-$400)"),
    ((Swap("tool-01", KIT[0], None), Swap("tool-02", None, KIT[1])), "tool-02 instead of tool-01 (+$10)"),
    ((Swap("tool-03", None, KIT[2]),), "tool-03 instead of nothing (+$30)"),
    ((Swap("tool-01", KIT[0], None), Swap("tool-02", None, KIT[1]), Swap("tool-03", None, KIT[2])), "other tools (+$40)"),
    ((Swap("generator", LARGE, TURNED), Swap("hose", LONG, SHORT), Swap("tool-01", KIT[0], None)),
     "one 50 ft section less and one 25 ft section less (-$1,400); nothing instead of tool-01 (-$10); one wired otherwise"),
])  # fmt: skip
def test_what_changes_in_words(swaps, words):
    assert swap_words(swaps) == words


def test_by_weight_changes_are_told_in_weight():
    assert swap_words((Swap("hose", LONG, SHORT),), "weight", "si").endswith("section less (-30 kg)")


@pytest.mark.parametrize(("value", "name", "units", "words"), [
    (134.2, "hose_reach", "us", "134.2 ft"), (134.2, "hose_reach", "si", "40.9 m"), (95_000.0, "budget", "si", "$95,000"),
    (12.5, "output", "si", "5.67 kg/min"), (0.075, "fuel_slope", "us", "0.075 gal/kWh"),
    (50.0, "body_floor", "si", "10.0 degC"),
    (5.0, "hose_margin", "us", "5 degF"), (8.0, "delivery_time", "us", "8 weeks"), (3.0, "helpers", "us", "3"),
    (26_000.0, "combined_rating", "us", "26,000 lb"), (55.0, "trigger_share", "si", "55 %"),
])  # fmt: skip
def test_a_value_of_a_requirement(value, name, units, words):
    assert value_words(value, REQUIREMENTS[name], units) == words


# --- steps and rooms --------------------------------------------------------------------------------------------------
FIRST = FirstStep(110.0, 60_000.0, 4310.0, 60_000.0, 3000.0, (SHORT, SMALL),
                  (Swap("hose", LONG, SHORT), Swap("generator", LARGE, SMALL)))  # fmt: skip
REACH = Step("hose_reach", ("attics",), 134.2, (
    Side(False, True, FIRST, None, False, False, None, False),
    Side(True, False, None, 135.0, False, False, 137.0, False),
))  # fmt: skip
LOAD = Step("least_load", (), 30.0, (
    Side(False, True, replace(FIRST, value=25.0, saving=9000.0), None, False, False, None, False),
    Side(True, False, None, 30.0, False, False, 30.0, False),
))  # fmt: skip
HOURS = Step("cleaning_time", ("attics",), 0.5, (
    Side(False, True, None, 0.0, True, False, 0.0, True),
    Side(True, True, None, 0.5, False, True, 0.8, False),
))  # fmt: skip


def test_steps_in_words_wishes_before_margins():
    assert step_lines((LOAD, REACH, HOURS), "price", 100) == [
        "The nearest value of each requirement at which the best rig is better, everything worked out anew,",
        "and what changes. Savings do not add up. Of several such rigs the one is told that differs least",
        "from the best one now.",
        "- hose reach, now 134.2 ft: from 110 ft down saves $4,310: one 50 ft section less and one 25 ft",
        "  section less (-$1,400); Diesel generator, 20 kW [generator-05] instead of generator-09 (-$2,910).",
        "Margins are kept for a reason: the following take from what is held in hand against bad days, wrong",
        "figures and worn parts.",
        "- least load of the set, now 30 %: from 25 % down saves $9,000: one 50 ft section less and one 25 ft",
        "  section less (-$1,400); Diesel generator, 20 kW [generator-05] instead of generator-09 (-$2,910).",
    ]
    assert step_lines((HOURS,), "price", 100) == [
        "No single requirement that is eased alone, as far as makes sense, saves anything."
    ]


def test_rooms_in_words():
    assert room_lines((LOAD, REACH, HOURS), 80) == [
        "How far each may go alone. Up to the value of its grid under \"same cost to\" the",
        "least cost stays the same; up to the one under \"this rig to\" the very rig fits.",
        "",
        "requirement                 now  way  same cost to  this rig to",
        "---------------------  --------  ---  ------------  -----------",
        "least load of the set      30 %  up           none         none",
        "hose reach             134.2 ft  up         135 ft       137 ft",
        "cleaning time             0.5 h  up          none*        0.8 h",
        "",
        "* Beyond it the least cost is lower.",
        "",
        "At no cost as far as makes sense, with this very rig: cleaning time down.",
    ]  # fmt: skip
    two = replace(REACH, duties=("barns",))
    assert "hose reach in barns   134.2 ft  up         135 ft       137 ft" in room_lines((REACH, two), 80)


def test_steps_as_data():
    data = json.loads(json.dumps(steps_data((REACH,), "price")))
    (reach,) = data
    down, up = reach["sides"]
    assert (reach["requirement"], reach["kind"], reach["duties"], reach["present"]) == (
        "hose_reach",
        "wish",
        ["attics"],
        134.2,
    )
    assert (down["way"], down["easing"], down["first_step"]["value"], down["first_step"]["saving"]) == (
        "down",
        True,
        110.0,
        4310.0,
    )
    assert (up["first_step"], up["room_to"], up["room_to_end"], up["holds_to"]) == (None, 135.0, False, 137.0)
    assert steps_data((REACH,), "weight")[0]["sides"][0]["first_step"]["saving"] == 9501.92
