"""Regression: tables that are from memory or read off a curve, row by row, so that no figure in them can slip unseen.

They have no outside truth to be held against (their formulas say so); between two rows the value is worked out by hand.
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from math import sqrt

import pytest

import solver.formulas
from solver.errors import OutsideRange
from solver.formulas.conductors import voltage_drop
from solver.formulas.engine_methods import Aspiration, handbook_altitude_factor, handbook_temperature_factor
from solver.formulas.motors import motor_current, motor_efficiency, unbalance_derating
from solver.formulas.record import is_formula, is_recording, recording
from solver.formulas.standard_air import (
    ASME_STANDARD_PRESSURE,
    ASME_STANDARD_TEMPERATURE,
    FREEZING_POINT,
    SEA_LEVEL_PRESSURE,
    STANDARD_PRESSURE,
    STANDARD_TEMPERATURE,
    TRIPLE_POINT,
)
from solver.quantities import from_unit

HORSEPOWER = 745.6998715822702
EFFICIENCIES = {
    1: {1 / 6: 0.50, 0.5: 0.60, 1: 0.66, 2: 0.71, sqrt(2 * 5): 0.735, 5: 0.76, sqrt(5 * 10): 0.78, 10: 0.80},
    3: {0.5: 0.70, 1: 0.77, 2: 0.80, 5: 0.84, 10: 0.86, sqrt(10 * 20): 0.875, 20: 0.89, sqrt(20 * 50): 0.90, 50: 0.91},
}
"""Phases, then hp: share. A share is straight over the logarithm of the power: half-way at the geometric mean."""


@pytest.mark.parametrize("phases", EFFICIENCIES)
def test_efficiency_of_plain_motors(phases):
    found = {power: motor_efficiency(power * HORSEPOWER, phases) for power in EFFICIENCIES[phases]}
    assert found == pytest.approx(EFFICIENCIES[phases], rel=1e-9)


UNBALANCE = {
    0.0: 1.0, 0.5: 1.0, 1.0: 0.985, 1.5: 0.97, 2.0: 0.95, 2.5: 0.93, 3.0: 0.89, 3.5: 0.85, 4.0: 0.82, 4.5: 0.78, 5.0: 0.76,
}  # fmt: skip
"""Percent of unbalance: share; 1 percent is half-way between two points."""


@pytest.mark.parametrize(("percent", "share"), UNBALANCE.items())
def test_derating_on_unbalanced_voltages(percent, share):
    assert unbalance_derating(percent / 100) == pytest.approx(share, rel=1e-9)


ALTITUDES = {
    0: (1.0, 1.0), 1500: (1.0, 1.0), 7000: (0.780, 0.820), 8000: (0.745, 0.790), 8500: (0.7285, 0.7775), 9000: (0.712, 0.765),
    10000: (0.680, 0.740), 12000: (0.612, 0.685),
}  # fmt: skip
"""Feet: share without and with a charger; 8,500 ft is half-way between two rows."""


@pytest.mark.parametrize(("feet", "shares"), ALTITUDES.items())
def test_handbook_table_of_altitude(feet, shares):
    altitude = min(feet * 0.3048, float(from_unit(12000.0, "ft")))
    found = [handbook_altitude_factor(altitude, way) for way in (Aspiration.NATURAL, Aspiration.TURBOCHARGED)]
    assert found == pytest.approx(shares, rel=1e-9)


WARM = {50: 1.0, 90: 1.0, 95: 0.986, 97.5: 0.98, 100: 0.974, 105: 0.962, 110: 0.950, 115: 0.937, 120: 0.925, 125: 0.913,
        130: 0.900}  # fmt: skip
"""degF: share; 97.5 degF is half-way between two rows."""


@pytest.mark.parametrize(("fahrenheit", "share"), WARM.items())
def test_handbook_table_of_temperature(fahrenheit, share):
    assert handbook_temperature_factor(float(from_unit(fahrenheit, "degF"))) == pytest.approx(share, rel=1e-9)


def test_pressures_and_temperatures_that_are_agreed_upon():
    """Exact by agreement: ISO 2533 and 1217, the kelvin of 1954; 14.7 psi of 6,894.757 Pa and 68 degF of the ASME base."""
    assert (SEA_LEVEL_PRESSURE, STANDARD_PRESSURE, STANDARD_TEMPERATURE) == (101325.0, 100000.0, 293.15)
    assert (FREEZING_POINT, TRIPLE_POINT) == (273.15, 273.16)
    assert pytest.approx(14.7 * 6894.757, rel=1e-6) == ASME_STANDARD_PRESSURE
    assert pytest.approx((68 + 459.67) / 1.8, rel=1e-12) == ASME_STANDARD_TEMPERATURE


# --- small things that a table or a law does not show -------------------------------------------------------------------
@pytest.mark.parametrize(
    ("formula", "arguments"), [(voltage_drop, (10.0, 30.0, 3.3e-6, 2)), (motor_current, (5 * HORSEPOWER, 230.0, 2))]
)
def test_two_phases_are_refused(formula, arguments):
    with pytest.raises(OutsideRange) as caught:
        formula(*arguments)
    assert str(caught.value) == "phases (1 or 3) is 2; the formula holds from 1 to 3"


def test_whether_anyone_records():
    assert not is_recording()
    with recording():
        assert is_recording()
        with recording():
            assert is_recording()
        assert is_recording()
    assert not is_recording()


def test_whatever_is_documented_as_a_formula_is_one():
    """Only then its calls show on a worksheet, and plain floats give plain floats."""
    bare = []
    for module in pkgutil.iter_modules(solver.formulas.__path__, "solver.formulas."):
        for name, thing in vars(importlib.import_module(module.name)).items():
            told = inspect.isfunction(thing) and "\nParameters\n----------\n" in (inspect.getdoc(thing) or "")
            if told and not is_formula(thing):
                bare.append(f"{module.name}.{name}")
    assert bare == []
