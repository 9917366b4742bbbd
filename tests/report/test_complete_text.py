"""The words of check --complete, whole, on facts written by hand."""

from __future__ import annotations

from dataclasses import replace

from solver.answers.complete import Way
from solver.answers.facts import Clash, Conflict, Totals
from solver.report.complete_text import complete_text
from solver.rules.balance import Balance
from solver.rules.instances import Place
from tests.report.hand_facts import (
    COMPLETED,
    NONE,
    SHORT,
    TRUCK,
    line,
    told,
)


def test_a_completed_rig():
    assert (
        told(complete_text(COMPLETED, 80))
        == """\
A rig in parts

Completed at least price: 2 things added for $9,400; the whole rig $17,000,
9,921 lb of equipment and empty vehicle. Proven: no rig with what is named that
fits costs less.

What was added
==============
slot       item                                                 price     weight
---------  --------------------------------------------------  ------  ---------
generator  Set of 20 kW (single-phase 120/240 V)               $9,400   1,200 lb
           [generator-05]
vehicle    Truck of 14 ft [vehicle-05]                          owned   9,000 lb
added                                                          $9,400  10,200 lb

The whole rig
=============
slot       item                                                  price    weight
---------  --------------------------------------------------  -------  --------
gun        Air-purge gun [gun-02]                               $2,000      5 lb
generator  Set of 20 kW (single-phase 120/240 V)                $9,400  1,200 lb
           [generator-05]
vehicle    Truck of 14 ft [vehicle-05]                           owned  9,000 lb
total                                                          $17,000  9,921 lb

Money
=====
@@MONEY@@

Tightest balances
=================
rule     what                                    need     supply   margin
-------  ---------------------------------  ---------  ---------  -------
HOSE-01  The hose reaches the work (roofs)  210.00 ft  211.50 ft  1.50 ft

Cautions
========
- This sizes; it certifies nothing.
"""
    )


def test_what_stands_in_the_way():
    assert (
        complete_text(NONE, 80)
        == """\
A rig in parts

What is named cannot be completed: no rig in this catalog that has it all fits
this brief. Proven.

What stands in the way
======================
2 named slots must be let go; fewer are not enough. Proven. Any one of these
ways will do, the best rig first.
- Let go of generator and hose: the best rig that keeps the rest is $17,000,
  9,921 lb.
  - generator: Set of 20 kW (single-phase 120/240 V) [generator-05] instead of
    Set of 15 kW (single-phase 120/240 V) [generator-02]
  - hose: Heated hose (4 x 50 ft + whip) [hose-01] instead of Heated hose (3 x
    50 ft + whip) [hose-01]
- Let go of air dryer: the best rig that keeps the rest is $17,500, 9,921 lb.
  - air dryer: nothing instead of Air dryer (120 V, leg A) [air-dryer-01]
There are further sets as small, with rigs no better than these.

What cannot hold together
=========================
On a rig that has what is named these cannot all hold; all but any one of them
can. With each is the closest that a rig keeping all the others comes to it.
- HOSE-01 The hose reaches the work (brief). Roofs: 210.00 ft of hose reach the
  work, 160.00 ft are aboard: 50.00 ft short.
- MONEY-01 Budget (brief).

Cautions
========
- This sizes; it certifies nothing.
"""
    )


def test_what_the_brief_says_against_it():
    balance = Balance(Place("OWN-01", part="vehicle"), "1", 1.0, 0.0)
    way = Way(("vehicle",), (line("vehicle", "vehicle-01", "Van"),), (TRUCK,), Totals(17000.0, 4500.0, 0.0))
    answer = replace(NONE, conflicts=(), against=(balance,), ways=(way,), more_ways=False)
    assert (
        complete_text(answer, 80)
        == """\
A rig in parts

What is named cannot be completed: no rig in this catalog that has it all fits
this brief. Proven.

What stands in the way
======================
One named slot must be let go; fewer are not enough. Proven.
- Let go of vehicle: the best rig that keeps the rest is $17,000, 9,921 lb.
  - vehicle: Truck of 14 ft [vehicle-05] instead of Van [vehicle-01]

What the brief says against it
==============================
- OWN-01 What is owned is kept (brief). The owner has one for the slot vehicle
  that is to be kept, and this is another.

Cautions
========
- This sizes; it certifies nothing.
"""
    )


def test_nothing_fits_whatever_is_named():
    answer = replace(NONE, any_rig=False, ways=(), more_ways=False, conflicts=(Conflict((Clash("HOSE-01", SHORT),), True),))
    assert (
        complete_text(answer, 80)
        == """\
A rig in parts

No rig in this catalog fits this brief, whatever is named. Proven.

What cannot hold together
=========================
Physics, ratings and regulation alone exclude every rig: no change of limits or
practice helps.
On a rig this cannot hold, even if nothing else is asked. With it is the closest
that a rig comes.
- HOSE-01 The hose reaches the work (brief). Roofs: 210.00 ft of hose reach the
  work, 160.00 ft are aboard: 50.00 ft short.

Cautions
========
- This sizes; it certifies nothing.
"""
    )


def test_texts_fit_the_width():
    for text in (complete_text(COMPLETED, 60), complete_text(NONE, 60)):
        assert max(len(row) for row in text.splitlines()) <= 60
