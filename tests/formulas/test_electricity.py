"""Laws, ranges and arrays of the electrical formulas. Values of outside truth are in tests/published."""

from __future__ import annotations

from math import inf, pi

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.errors import InternalError, OutsideRange
from solver.formulas import electricity as e
from solver.formulas.electricity_tables import FULL_LOAD, HORSEPOWER
from solver.formulas.ranges import LARGEST

HP = HORSEPOWER
powers = st.just(0.0) | st.floats(1e-3, 1e5)
factors = st.floats(0.05, 1.0)


def refusal(function, *args) -> OutsideRange:
    """The error with which a formula refuses its arguments."""
    with pytest.raises(OutsideRange) as caught:
        function(*args)
    return caught.value


# --- motors ---------------------------------------------------------------------------------------------------------


def test_no_motor_draws_nothing():
    """Motor power 0 stands for an item without motor."""
    for function in (e.motor_current, e.locked_rotor_current, e.motor_apparent_power, e.motor_real_power):
        assert function(0.0, 240.0, 1) == 0.0
    assert e.motor_reactive_power(0.0, 240.0, 1) == 0.0
    assert e.motor_power_factor(0.0, 240.0, 1) == 1.0
    assert e.motor_efficiency(0.0, 3) == 1.0
    assert e.start_apparent_power(0.0, 0.0, 1.0) == 0.0


def test_floats_give_floats():
    """A plain float comes back for plain floats, also where the answer is a row of a table."""
    for value in (
        e.motor_current(5 * HP, 240.0, 1),
        e.motor_power_factor(5 * HP, 208.0, 3),
        e.apparent_power(3.0, 4.0),
        e.three_phase_apparent_power(208.0, 10.0),
        e.breaker_size(21.0),
        e.ambient_correction(300.0, 348.15),
        e.unbalance_derating(0.01),
        e.voltage_drop(1.0, 1.0, 1e-6, 3),
    ):
        assert type(value) is float


def test_mixed_arrays_equal_one_by_one():
    """Arrays of mixed powers, voltages and phases give what the floats give, in place."""
    motor_power = np.array([0.0, 1.0, 3.0, 4.0, 7.5, 15.0, 10.0]) * HP
    voltage = np.array([240.0, 120.0, 208.0, 240.0, 208.0, 208.0, 480.0])
    phases = np.array([1.0, 1.0, 1.0, 1.0, 3.0, 3.0, 3.0])
    for function in (
        e.motor_current,
        e.locked_rotor_current,
        e.motor_apparent_power,
        e.motor_real_power,
        e.motor_reactive_power,
        e.motor_power_factor,
    ):
        together = function(motor_power, voltage, phases)
        alone = [function(*row) for row in zip(*(a.tolist() for a in (motor_power, voltage, phases)), strict=True)]
        assert together.tolist() == alone


def test_scalar_voltage_spreads_over_motors():
    """A float beside an array is the same for all."""
    motor_power = np.array([1.0, 2.0]) * HP
    assert e.motor_real_power(motor_power, 208.0, 3).shape == (2,)
    assert e.motor_real_power(HP, np.array([208.0, 230.0]), 3).shape == (2,)
    assert e.motor_current(motor_power, 208.0, 3).tolist() == [4.6, 7.5]


@pytest.mark.parametrize("phases", [1, 3])
def test_current_rises_with_power(phases):
    """Between the rows too."""
    low, high = FULL_LOAD[phases].powers[[0, -1]] * HP
    currents = e.motor_current(np.geomspace(low, high, 300), 230.0, phases)
    assert np.all(np.diff(currents) > 0.0)


def test_between_rows_the_power_law_holds():
    """Log-log: the current at the geometric mean of two rows is the geometric mean of theirs."""
    middle = e.motor_current((5 * 7.5) ** 0.5 * HP, 230.0, 3)
    assert middle == pytest.approx((15.2 * 22.0) ** 0.5, rel=1e-12)


def test_between_columns_the_apparent_power_is_kept():
    """240 V takes the 230 V column's apparent power, 120 V that of 115 V."""
    assert e.motor_current(5 * HP, 240.0, 1) == pytest.approx(28.0 * 230.0 / 240.0)
    assert e.motor_current(HP, 120.0, 1) == pytest.approx(16.0 * 115.0 / 120.0)
    assert e.motor_apparent_power(5 * HP, 240.0, 1) == pytest.approx(e.motor_apparent_power(5 * HP, 230.0, 1))


@given(st.floats(0.5, 10.0), st.sampled_from([(120.0, 1), (208.0, 1), (240.0, 1), (208.0, 3), (480.0, 3)]))
def test_power_triangle_closes(horsepower, supply):
    """Real, reactive and apparent power of a motor are one triangle."""
    args = (horsepower * HP, *supply)
    real, reactive = e.motor_real_power(*args), e.motor_reactive_power(*args)
    assert e.apparent_power(real, reactive) == pytest.approx(e.motor_apparent_power(*args), rel=1e-9)
    assert e.motor_power_factor(*args) == pytest.approx(real / e.motor_apparent_power(*args), rel=1e-12)
    assert e.motor_efficiency(args[0], supply[1]) == pytest.approx(args[0] / real, rel=1e-12)


@pytest.mark.parametrize(
    ("args", "quantity", "value", "unit", "low", "high"),
    [
        ((15 * HP, 240.0, 1), "motor_power (single-phase)", 15.0, "hp", 1 / 6, 10.0),
        ((60 * HP, 208.0, 3), "motor_power (three-phase)", 60.0, "hp", 0.5, 50.0),
        ((0.25 * HP, 208.0, 3), "motor_power (three-phase)", 0.25, "hp", 0.5, 50.0),
        ((HP, 277.0, 1), "voltage (single-phase)", 277.0, "V", 200.0, 240.0),
        ((HP, 480.0, 1), "voltage (single-phase)", 480.0, "V", 200.0, 240.0),
        ((HP, 150.0, 1), "voltage (single-phase)", 150.0, "V", 110.0, 120.0),
        ((HP, 120.0, 3), "voltage (three-phase)", 120.0, "V", 200.0, 240.0),
        ((HP, 208.0, 2), "phases (1 or 3)", 2.0, "-", 1.0, 3.0),
        ((-HP, 208.0, 3), "motor_power", -1.0, "hp", 0.0, LARGEST),
    ],
)
def test_motor_refuses(args, quantity, value, unit, low, high):
    """Outside the table nothing is guessed; the range named is the table's own."""
    error = refusal(e.motor_current, *args)
    assert str(error).startswith(f"{quantity} is ")
    assert error.unit == unit
    assert (error.value, error.low, error.high) == pytest.approx((value, low, high), rel=1e-9)


def test_refusal_in_words():
    """A single-phase motor above the table, as the user reads it."""
    sentence = str(refusal(e.motor_current, 15 * HP, 240.0, 1))
    assert sentence.startswith("motor_power (single-phase) is 15 hp; the formula holds from 0.166667 ")
    assert sentence.endswith(" to 10 hp")


def test_efficiency_refuses():
    """The same ends as the table of currents."""
    error = refusal(e.motor_real_power, 15 * HP, 240.0, 1)
    assert (error.low, error.high) == (1 / 6, 10.0)


def test_one_bad_motor_in_an_array_is_named():
    """The refused value is named, not the first."""
    motor_power = np.array([5.0, 15.0]) * HP
    assert refusal(e.motor_current, motor_power, 240.0, np.array([1.0, 1.0])).value == pytest.approx(15.0)


# --- starting -------------------------------------------------------------------------------------------------------


def test_code_letter_refusals():
    """V is open at the top; a letter that does not exist is a fault, since catalogs are checked."""
    error = refusal(e.code_letter_kva, "V")
    assert str(error).startswith("locked-rotor apparent power of code letter V is inf kVA/hp")
    assert error.high == 22.39
    with pytest.raises(InternalError, match="code letter 'I' is not in the table, which has A to V without I, O and Q"):
        e.code_letter_kva("I")


@given(st.floats(1e3, 2e5), st.floats(0.05, 0.5), st.floats(0.01, 0.5))
def test_start_limit_is_the_inverse_of_the_dip(set_apparent_power, transient_reactance, dip):
    """Starting exactly the limit dips exactly the dip."""
    start = e.start_apparent_power_limit(set_apparent_power, transient_reactance, dip)
    assert e.voltage_dip(start, set_apparent_power, transient_reactance) == pytest.approx(dip, rel=1e-9)


def test_no_set_starts_nothing():
    """An empty slot has apparent power 0 and reactance 1."""
    assert e.start_apparent_power_limit(0.0, 1.0, 0.2) == 0.0


def test_soft_starter_takes_its_share():
    """Half the starting power at share 0.5."""
    assert e.start_apparent_power(5 * HP, e.code_letter_kva("G"), 0.5) == pytest.approx(0.5 * 5 * 6290.0)


@pytest.mark.parametrize(
    ("function", "args", "quantity"),
    [
        (e.start_apparent_power, (1.0, 1.0, 1.5), "start_share"),
        (e.start_apparent_power, (-1.0, 1.0, 1.0), "motor_power"),
        (e.start_apparent_power, (1.0, -1.0, 1.0), "kva_per_power"),
        (e.voltage_dip, (1.0, 0.0, 0.2), "set_apparent_power"),
        (e.voltage_dip, (1.0, 1.0, 0.0), "transient_reactance"),
        (e.voltage_dip, (-1.0, 1.0, 0.2), "start_apparent_power"),
        (e.start_apparent_power_limit, (1.0, 0.2, 0.6), "dip"),
        (e.start_apparent_power_limit, (-1.0, 0.2, 0.2), "set_apparent_power"),
        (e.start_apparent_power_limit, (1.0, 0.0, 0.2), "transient_reactance"),
        (e.real_power, (1.0, 1.1), "power_factor"),
        (e.reactive_power, (1.0, 0.0), "power_factor"),
        (e.tangent_load, (1.0, 1.0, 2.0), "angle"),
        (e.unbalance_derating, (0.06,), "unbalance"),
        (e.breaker_size, (0.0,), "current"),
        (e.breaker_size, (6001.0,), "current"),
        (e.count_adjustment, (0.0,), "conductor_count"),
        (e.conductor_size, (196.0, 333.15), "current"),
        (e.conductor_ampacity, ("12", 343.15), "insulation_temperature (60, 75 or 90 degC)"),
        (e.ambient_correction, (331.15, 333.15), "ambient_temperature"),
        (e.ambient_correction, (334.15, 348.15), "ambient_temperature"),
        (e.voltage_drop, (1.0, 1.0, 0.0, 1), "conductor_area"),
        (e.voltage_drop, (1.0, -1.0, 1e-6, 1), "length"),
        (e.voltage_drop, (1.0, 1.0, 1e-6, 2), "phases (1 or 3)"),
        (e.reactive_power, (1.0, float("nan")), "power_factor"),
        (e.motor_current, (inf, 230.0, 3), "motor_power"),
    ],
)
def test_refusals_name_the_quantity(function, args, quantity):
    """No silent clamp: the sentence begins with the quantity."""
    assert str(refusal(function, *args)).startswith(f"{quantity} is ")


# --- power relations --------------------------------------------------------------------------------------------------


@given(powers, factors)
def test_power_factor_round_trip(real, power_factor):
    """Real power over apparent power is the power factor again."""
    reactive = e.reactive_power(real, power_factor)
    apparent = e.apparent_power(real, reactive)
    assert e.real_power(apparent, power_factor) == pytest.approx(real, rel=1e-9, abs=1e-9)


@given(powers, powers, st.integers(0, 6))
def test_tangents_never_exceed_the_circle(real, reactive, step):
    """Each tangent is at most the apparent power."""
    assert e.tangent_load(real, reactive, step * pi / 12) <= e.apparent_power(real, reactive) * (1 + 1e-12)


@given(powers, powers)
def test_tangents_every_15_degrees_miss_little(real, reactive):
    """The largest of seven tangents is at least cos(7.5 degrees) of the apparent power: what the rules allow for."""
    best = np.max(e.tangent_load(real, reactive, np.arange(7) * pi / 12 * (1 - 1e-16)))
    assert best >= e.apparent_power(real, reactive) * np.cos(pi / 24) * (1 - 1e-12)


@given(st.lists(st.tuples(powers, powers), min_size=1, max_size=5), st.integers(0, 6))
def test_tangent_loads_add_up(loads, step):
    """The tangent of a sum is the sum of the tangents: why rules may use it."""
    angle = step * pi / 12
    total = e.tangent_load(sum(p for p, _ in loads), sum(q for _, q in loads), angle)
    assert sum(e.tangent_load(p, q, angle) for p, q in loads) == pytest.approx(total, rel=1e-9, abs=1e-6)


# --- conductors -------------------------------------------------------------------------------------------------------


def test_unknown_size_is_named():
    """Sizes are words of the program's own."""
    with pytest.raises(InternalError, match="conductor size '7' is not in the table: 14, 12, 10"):
        e.conductor_area("7")


def test_larger_conductors_lose_less_and_carry_more():
    """In the order of the table."""
    sizes = ["14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0"]
    drops = [e.voltage_drop(10.0, 30.0, e.conductor_area(size), 1) for size in sizes]
    assert drops == sorted(drops, reverse=True)
    for insulation in (333.15, 348.15, 363.15):
        ampacities = [e.conductor_ampacity(size, insulation) for size in sizes]
        assert ampacities == sorted(ampacities)
        assert [e.conductor_size(amperes, insulation) for amperes in ampacities] == sizes


def test_between_ambient_bands_the_hotter_counts():
    """Printed bands are whole degrees: 35.5 degC lies between them and takes 36-40."""
    assert e.ambient_correction(273.15 + 35.5, 348.15) == 0.88
    assert e.ambient_correction(np.array([273.15 + 35.0, 273.15 + 36.0]), 348.15).tolist() == [0.94, 0.88]


def test_conductor_arrays():
    """Vectorised where it makes sense."""
    assert e.breaker_size(np.array([15.0, 15.1, 6000.0])).tolist() == [15.0, 20.0, 6000.0]
    assert e.count_adjustment(np.array([3.0, 4.0, 41.0])).tolist() == [1.0, 0.8, 0.35]
    assert e.voltage_drop(np.array([1.0, 2.0]), 10.0, 1e-6, np.array([1.0, 3.0])).shape == (2,)
