"""The words of check --mend and the block of money, whole, on facts written by hand."""

from __future__ import annotations

from dataclasses import replace

from solver.answers.facts import Clash, Conflict
from solver.answers.mend import Swap
from solver.report.mend_text import mend_text, rewired_words, swap_words
from solver.report.money_text import even_words, money_data, money_lines
from tests.report.hand_facts import (
    DRYER,
    MENDED,
    MONEY,
    MONEY_TEXT,
    NO_DRYER,
    OLD_SET,
    SHORT,
    TRUCK,
    line,
    told,
)


def test_the_block_of_money():
    assert "\n".join([*money_lines(MONEY, 80), ""]) == MONEY_TEXT


def test_a_mended_rig():
    assert (
        told(mend_text(MENDED, 80))
        == """\
A rig to mend

This rig does not fit. Mended by 3 swaps for $10,400. Proven: none costs less,
and of those as cheap none takes fewer swaps; --fewest-swaps puts swaps before
money. The whole rig is then $17,000, 9,921 lb of equipment and empty vehicle;
before $15,000, 9,480 lb.

What fails now
==============
- HOSE-01 The hose reaches the work (brief). Roofs: 210.00 ft of hose reach the
  work, 160.00 ft are aboard: 50.00 ft short.

Swaps
=====
- hose: 4 x 50 ft + whip instead of 3 x 50 ft + whip of Heated hose [hose-01],
  $1,000.
- generator: Set of 20 kW (single-phase 120/240 V) [generator-05] instead of Set
  of 15 kW (single-phase 120/240 V) [generator-02], $9,400.
- air dryer: Air dryer (120 V, leg A) [air-dryer-01] left out, nothing comes
  back.

Money is what must be bought anew: what stays costs nothing more, what goes
brings nothing back; of a thing that stays in another number only what is
missing is bought. Prices without tax and freight.

The mended rig
==============
slot   item                                        price    weight
-----  ----------------------------------------  -------  --------
gun    Air-purge gun [gun-02]                     $2,000      5 lb
hose   Heated hose (4 x 50 ft + whip) [hose-01]   $5,500    380 lb
total                                            $17,000  9,921 lb

Money of the whole rig
======================
@@MONEY@@

Cautions
========
- This sizes; it certifies nothing.
"""
    )


def test_a_rig_that_wiring_alone_mends():
    again = Swap(OLD_SET, replace(OLD_SET, choice="three-phase 120/208 V"), 0.0)
    answer = replace(MENDED, fewest=True, swaps=(), rewired=(again,), spending=0.0)
    head = mend_text(answer, 80).partition("\nThe mended rig\n")[0]
    assert (
        head
        == """\
A rig to mend

This rig does not fit. Mended by wiring alone for $0. Proven: none takes fewer
swaps, and of those none costs less; --mend alone puts money before swaps. The
whole rig is then $17,000, 9,921 lb of equipment and empty vehicle; before
$15,000, 9,480 lb.

What fails now
==============
- HOSE-01 The hose reaches the work (brief). Roofs: 210.00 ft of hose reach the
  work, 160.00 ft are aboard: 50.00 ft short.

Wired or set otherwise, at no price
===================================
- generator: three-phase 120/208 V instead of single-phase 120/240 V of Set of
  15 kW [generator-02].
"""
    )


def test_a_rig_that_needs_no_mending():
    answer = replace(MENDED, status="fits", failures=(), swaps=(), spending=0.0)
    assert (
        told(mend_text(answer, 80))
        == """\
A rig to mend

This rig fits the brief: every rule holds. There is nothing to mend.

The rig
=======
slot   item                                        price    weight
-----  ----------------------------------------  -------  --------
gun    Air-purge gun [gun-02]                     $2,000      5 lb
hose   Heated hose (4 x 50 ft + whip) [hose-01]   $5,500    380 lb
total                                            $17,000  9,921 lb

Money of the whole rig
======================
@@MONEY@@

Cautions
========
- This sizes; it certifies nothing.
"""
    )


def test_a_rig_that_no_swaps_mend():
    conflict = Conflict((Clash("HOSE-01", SHORT),), False)
    answer = replace(MENDED, status="none", total=None, money=None, swaps=(), rig=(), conflicts=(conflict,))
    text = mend_text(answer, 80)
    assert text.startswith("""\
A rig to mend

This rig does not fit, and no swaps mend it.
""")
    assert "No rig in this catalog fits this brief. Proven." in text
    assert "Swaps" not in text and "Money" not in text


def test_swaps_that_add_and_that_are_owned():
    assert swap_words(Swap(NO_DRYER, DRYER, 700.0)) == "air dryer: Air dryer (120 V, leg A) [air-dryer-01] added, $700"
    van = line("vehicle", "vehicle-01", "Van")
    assert swap_words(Swap(van, TRUCK, 0.0)) == "vehicle: Truck of 14 ft [vehicle-05] instead of Van [vehicle-01], owned"


def test_kit_is_named_by_what_it_is():
    kit = replace(line("tool-01", "tool-01", "Hand tools", "", 290.0), item_class="tool")
    assert swap_words(Swap(replace(kit, item="none", label="none"), kit, 290.0)) == "tool: Hand tools [tool-01] added, $290"


def test_the_same_wiring_on_the_other_system():
    assert rewired_words(Swap(DRYER, DRYER, 0.0)) == (
        "air dryer: Air dryer [air-dryer-01], 120 V, leg A, on the other supply system"
    )


def test_a_rig_that_never_breaks_even_and_one_that_takes_more_than_a_year():
    never = replace(MONEY, contribution_per_board_foot=-0.05, foam_price=0.66, break_even_board_feet=None,
                    break_even_days=None, break_even_share=None)  # fmt: skip
    assert even_words(never) == (
        "It does not break even at this price: material, crew and fuel take $0.710 of a board foot that brings $0.660. "
        "Travel, rent, insurance and idle wages are left out. Common practice, no source."
    )
    assert money_data(never)["break_even_days"] is None
    longer = replace(MONEY, break_even_board_feet=150000.0, break_even_days=150.0, break_even_share=1.5)
    assert even_words(longer) == (
        "Breaks even at 150,000 board feet a year, 150 days of spraying (150% of the brief's 100): a board foot brings "
        "$0.400 over material, crew and fuel. That is more than the brief's year: at these days the rig loses money. "
        "Travel, rent, insurance and idle wages are left out. Common practice, no source."
    )


def test_money_as_data():
    data = money_data(MONEY)
    assert (data["delivery_weeks"], data["loan_payment"], data["cost_per_board_foot"]) == (10.0, 332.14, 0.75)
    assert "delivery_time" not in data


def test_texts_fit_the_width():
    assert max(len(row) for row in mend_text(MENDED, 60).splitlines()) <= 60
