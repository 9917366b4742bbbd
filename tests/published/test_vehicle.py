"""Vehicles against regulation and balance; loads on axles are followed step by step in test_worked_axle_loads.py."""

from __future__ import annotations

import numpy as np
import pytest

from solver.formulas.vehicle_classes import (
    COMMERCIAL_VEHICLE,
    GROUP_A_COMBINATION,
    GROUP_A_TOWED_OVER,
    GROUP_B_SINGLE,
    Licence,
    bridge_formula,
    licence_needed,
    weight_class,
)
from solver.formulas.weight import (
    DRUM_DIAMETER,
    DRUM_HEIGHT,
    DRUM_VOLUME,
    hitch_load,
    rear_reaction,
)
from solver.quantities import from_unit, to_unit
from tests.published import documents as of
from tests.published.printed import MEMORY, QUOTED, READ, Figure, Passage, checked, printed


def lb(pounds: float) -> float:
    """Pounds in kg."""
    return from_unit(float(pounds), "lb")


def ft(feet: float) -> float:
    """Feet in m."""
    return from_unit(float(feet), "ft")


# By gross vehicle weight rating; class 8 is open at the top.
CLASS_TOPS = {1: "6000", 2: "10000", 3: "14000", 4: "16000", 5: "19500", 6: "26000", 7: "33000"}
CLASSES = Passage(of.FHWA_CLASSES, "classes 1 to 7", "top of a class, lb", QUOTED, held=True)
DRIVERS = Passage(of.LICENCES, "383.91", "thresholds of groups A and B, lb", READ, held=True)
CARRIER = Passage(of.CARRIERS, "390.5", "commercial vehicle from, lb", READ, held=True)
BRIDGE = Passage(of.BRIDGE_LAW, "658.17", "weight of a group of axles, lb", READ)
# A five-axle vehicle: axles 1 to 3 over 20 ft, 1 to 5 over 51 ft, 2 to 5 over 35 ft.
BOOKLET = Passage(of.BRIDGE_BOOKLET, "worked check of a five-axle vehicle", "weight of a group of axles, lb", MEMORY)
ARMY = Passage(of.ARMY_BALANCE, "para 2-7", "200 lb x 50 in = 100 lb x 100 in, in-lb", READ)
# 100 lb at 50 in, 100 lb at 90 in, 200 lb at 150 in.
BALANCE = Passage(of.FAA_BALANCE, "chapter 2", "moment of three weights in-lb, their centre in", MEMORY)
INCH = from_unit(1.0, "in")


def _top_of(vehicle_class: int) -> float:
    """Largest whole rating of a class [lb], by trying every pound from the one below it."""
    top = int(CLASS_TOPS[vehicle_class]) - 20
    while weight_class(lb(top + 1)) == vehicle_class:
        top += 1
    return float(top)


def _bridge(axles: int, length: float) -> float:
    """Weight allowed [lb]."""
    return to_unit(bridge_formula(float(axles), ft(length)), "lb")


def _moment(weights: list[float], places: list[float], span: float = 1.0) -> float:
    """Moment over a span [lb in / in] of weights in lb at places in in."""
    return to_unit(rear_reaction(lb(1.0) * np.array(weights), INCH * np.array(places), span * INCH), "lb")


FIGURES = [
    *(CLASSES.figure(f"class {number}", top, lambda number=number: _top_of(number)) for number, top in CLASS_TOPS.items()),
    DRIVERS.figure("group A, combined", "26001", lambda: to_unit(GROUP_A_COMBINATION, "lb")),
    DRIVERS.figure("group A, towed over", "10000", lambda: to_unit(GROUP_A_TOWED_OVER, "lb")),
    DRIVERS.figure("group B, single", "26001", lambda: to_unit(GROUP_B_SINGLE, "lb")),
    CARRIER.figure("from", "10001", lambda: to_unit(COMMERCIAL_VEHICLE, "lb")),
    BRIDGE.figure("4 axles, 36 ft", "66000", lambda: _bridge(4, 36)),
    BRIDGE.figure("4 axles, 38 ft", "67500", lambda: _bridge(4, 38)),
    BOOKLET.figure("axles 1 to 3", "51,000", lambda: _bridge(3, 20)),
    BOOKLET.figure("axles 1 to 5", "80,000", lambda: _bridge(5, 51)),
    BOOKLET.figure("axles 2 to 5", "65,500", lambda: _bridge(4, 35)),
    ARMY.figure("200 lb", "10,000", lambda: _moment([200.0], [50.0])),
    ARMY.figure("100 lb", "10,000", lambda: _moment([100.0], [100.0])),
    BALANCE.figure("moment", "44,000", lambda: _moment([100.0, 100.0, 200.0], [50.0, 90.0, 150.0])),
    BALANCE.figure("centre", "110", lambda: _moment([100.0, 100.0, 200.0], [50.0, 90.0, 150.0], 400.0)),
]


@checked(FIGURES)
def test_vehicles_and_weights(figure: Figure) -> None:
    """Classes, thresholds, axle groups, moments."""
    figure.check()


@pytest.mark.parametrize(("number", "top"), CLASS_TOPS.items())
def test_weight_class(number, top):
    """The top of a class belongs to it; one pound more is the next class."""
    assert weight_class(lb(float(top))) == number
    assert weight_class(lb(float(top) + 1)) == number + 1


# 49 CFR 383.91 and 390.5, read in an older text (the current rule also compares the actual weight):
# commercial vehicle from 10,001 lb; group A from 26,001 lb combined with over 10,000 lb towed; group B from 26,001 lb.
@pytest.mark.parametrize(
    ("vehicle", "trailer", "licence"),
    [
        pytest.param(10001, 0, Licence.COMMERCIAL_VEHICLE, id="390.5, read: 10,001 lb"),
        pytest.param(10000, 0, Licence.NONE, id="390.5, read: 10,000 lb is below"),
        pytest.param(10000, 16001, Licence.GROUP_A, id="383.91, read: 26,001 lb combined"),
        pytest.param(10000, 16000, Licence.COMMERCIAL_VEHICLE, id="383.91, read: 26,000 lb combined is below"),
        pytest.param(16000, 10001, Licence.GROUP_A, id="383.91, read: over 10,000 lb towed"),
        pytest.param(16001, 10000, Licence.COMMERCIAL_VEHICLE, id="383.91, read: 10,000 lb towed is not over"),
        pytest.param(26001, 0, Licence.GROUP_B, id="383.91, read: 26,001 lb single"),
        pytest.param(26000, 0, Licence.COMMERCIAL_VEHICLE, id="383.91, read: 26,000 lb single is below"),
    ],
)
def test_licence(vehicle, trailer, licence):
    """Both sides of each threshold."""
    assert licence_needed(lb(vehicle), lb(trailer)) is licence


@pytest.mark.parametrize(
    ("kind", "low", "high"),
    [
        pytest.param("conventional", 10, 15, id="common practice, quoted: conventional"),
        pytest.param("gooseneck", 15, 25, id="common practice, quoted: gooseneck"),
    ],
)
def test_tongue_share(kind, low, high):
    """Percent of the trailer's weight on the hitch; the formula takes both ends of each band."""
    loads = hitch_load(np.array([lb(10000.0)] * 2), np.array([low, high]) / 100.0)
    assert to_unit(loads, "lb") == pytest.approx([low * 100.0, high * 100.0]), kind


def test_balance():
    """US Army TM 55-1500-342-23 para 2-7, read: on both sides of a pivot the two weights hold each other."""
    weights, places = np.array([lb(200.0), lb(100.0)]), np.array([-50.0, 100.0]) * INCH
    assert rear_reaction(weights, places, INCH) == pytest.approx(0.0, abs=1e-9)


def test_drum():
    """55 gal drum: 208.198 L exact; 24 in across and 35 in high from memory."""
    assert to_unit(DRUM_VOLUME, "L") == printed("208.198")
    assert to_unit(DRUM_DIAMETER, "in") == printed("24")
    assert to_unit(DRUM_HEIGHT, "in") == printed("35")
