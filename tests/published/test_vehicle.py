"""Vehicles against regulation and worked statics."""

from __future__ import annotations

import numpy as np
import pytest

from solver.formulas.vehicle_classes import Licence, bridge_formula, licence_needed, weight_class
from solver.formulas.weight import (
    DRUM_DIAMETER,
    DRUM_HEIGHT,
    DRUM_VOLUME,
    front_reaction,
    hitch_load,
    rear_reaction,
)
from solver.quantities import from_unit, to_unit
from tests.published.printed import printed

# FHWA vehicle classes by gross vehicle weight rating, lb; quoted. Class 8 is open at the top.
CLASS_TOPS = ((1, 6000), (2, 10000), (3, 14000), (4, 16000), (5, 19500), (6, 26000), (7, 33000))


def lb(pounds: float) -> float:
    """Pounds in kg."""
    return from_unit(float(pounds), "lb")


def ft(feet: float) -> float:
    """Feet in m."""
    return from_unit(float(feet), "ft")


@pytest.mark.parametrize(
    ("number", "top"),
    [pytest.param(*row, id=f"FHWA classes, quoted: class {row[0]} to {row[1]} lb") for row in CLASS_TOPS],
)
def test_weight_class(number, top):
    """The top of a class belongs to it; one pound more is the next class."""
    assert weight_class(lb(top)) == number
    assert weight_class(lb(top + 1)) == number + 1


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
    ("axles", "length", "figure"),
    [
        pytest.param(4, 36, 66000, id="23 USC 127(a), 23 CFR 658.17, read: 4 axles, 36 ft"),
        pytest.param(4, 38, 67500, id="23 USC 127(a), 23 CFR 658.17, read: 4 axles, 38 ft"),
    ],
)
def test_bridge_formula(axles, length, figure):
    """The law rounds to 500 lb, so the figure is exact."""
    assert to_unit(bridge_formula(float(axles), ft(length)), "lb") == pytest.approx(figure, rel=1e-12)


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
    """US Army TM 55-1500-342-23 para 2-7, read: 200 lb x 50 in = 100 lb x 100 in = 10,000 in-lb."""
    inch = from_unit(1.0, "in")
    weights, places = np.array([lb(200.0), lb(100.0)]), np.array([-50.0, 100.0]) * inch
    assert rear_reaction(weights, places, inch) == pytest.approx(0.0, abs=1e-9)
    for weight, place in zip(weights, places, strict=True):
        assert abs(rear_reaction(float(weight), float(place), inch)) == pytest.approx(lb(10000.0))


def test_truck_and_tanker():
    """Statics textbook problem, read: truck 8,000 lb, tanker 20,000 lb; printed to 1 and to 0.1 lb."""
    tanker = (lb(20000.0), ft(10.0), ft(25.0))
    hitch = front_reaction(*tanker)
    assert to_unit(rear_reaction(*tanker), "lb") == printed("8000")
    assert to_unit(hitch, "lb") == printed("12000")
    truck = (np.array([lb(8000.0), hitch]), np.array([ft(14.0 - 9.0), ft(14.0)]), ft(14.0))
    assert to_unit(rear_reaction(*truck), "lb") == printed("14857.1")
    assert to_unit(front_reaction(*truck), "lb") == printed("5142.9")


def test_drum():
    """55 gal drum: 208.198 L exact; 24 in across and 35 in high from memory."""
    assert to_unit(DRUM_VOLUME, "L") == printed("208.198")
    assert to_unit(DRUM_DIAMETER, "in") == printed("24")
    assert to_unit(DRUM_HEIGHT, "in") == printed("35")
