"""Laws, ranges and arrays of the engine and fuel formulas. Values of outside truth are in tests/published."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.errors import OutsideRange
from solver.formulas import engine as f
from solver.formulas.record import recording
from solver.quantities import from_unit

FREE, LOSS = from_unit(500.0, "ft"), from_unit(3.0, "%/kft")
altitudes = st.floats(-500.0, 3600.0)
temperatures = st.floats(220.0, 325.0)


def refusal(function, *args) -> OutsideRange:
    """The error with which a formula refuses its arguments."""
    with pytest.raises(OutsideRange) as caught:
        function(*args)
    return caught.value


@given(altitudes, altitudes)
def test_higher_is_never_more(one, other):
    """Every altitude rule falls with height and gives no credit below."""
    low, high = sorted((one, other))
    assert f.altitude_factor(high, FREE, LOSS) <= f.altitude_factor(low, FREE, LOSS) <= 1.0
    for aspiration in (f.Aspiration.NATURAL, f.Aspiration.TURBOCHARGED):
        assert f.handbook_altitude_factor(high, aspiration) <= f.handbook_altitude_factor(low, aspiration) <= 1.0


@given(temperatures, temperatures)
def test_hotter_is_never_more(one, other):
    """Every temperature rule falls with the air's temperature."""
    cold, hot = sorted((one, other))
    assert f.temperature_factor(hot, 300.0, 0.0036) <= f.temperature_factor(cold, 300.0, 0.0036) <= 1.0
    assert f.handbook_temperature_factor(hot) <= f.handbook_temperature_factor(cold) <= 1.0
    for aspiration in f.Aspiration:
        assert f.iso_3046_factor(80e3, hot, aspiration, 0.8) <= f.iso_3046_factor(80e3, cold, aspiration, 0.8)


def test_cold_dense_air_gives_no_credit():
    """The named rule: ISO 3046 alone gives more than the rating in cold dense air, and is brought down to 1."""
    share = f.iso_3046_factor(101325.0, 250.0, f.Aspiration.NATURAL, 0.8)
    assert share > 1.0
    assert f.without_credit(share) == 1.0
    assert str(refusal(f.engine_power, 40e3, share, 1.0)).startswith("altitude_factor is 1.1")
    assert f.altitude_factor(-400.0, FREE, LOSS) == 1.0
    assert f.temperature_factor(250.0, 300.0, 0.0036) == 1.0


def test_the_named_rule_is_on_the_worksheet():
    """Capping is a recorded call, not something that happens in silence."""
    with recording() as calls:
        f.altitude_factor(0.0, FREE, LOSS)
    assert [call.name for call in calls] == ["without_credit", "altitude_factor"]
    assert calls[0].doc.notes.startswith('The named rule "credit for cold dense air is capped at 1.0"')


def test_methods_never_call_each_other():
    """Two altitude rules never pass through one function."""
    with recording() as calls:
        f.handbook_power(1.0, 3000.0, 310.0, f.Aspiration.NATURAL)
        f.iso_3046_factor(70e3, 310.0, f.Aspiration.NATURAL, 0.8)
    assert [call.name for call in calls] == [
        "handbook_altitude_factor",
        "handbook_temperature_factor",
        "handbook_power",
        "iso_3046_factor",
    ]


def test_an_item_without_loss_keeps_all():
    """An empty slot has zeros in every column."""
    assert f.altitude_factor(3000.0, 0.0, 0.0) == 1.0
    assert f.temperature_factor(310.0, 0.0, 0.0) == 1.0
    assert f.engine_power(0.0, 1.0, 1.0) == 0.0


def test_iso_3046_order_of_engines():
    """At altitude a turbocharged engine keeps more than one without."""
    natural, turbo, cooled = (f.iso_3046_factor(70e3, 298.0, kind, 0.8) for kind in f.Aspiration)
    assert natural < turbo == cooled


def test_aspiration_may_be_a_word():
    """The words of the catalog are the names of the kinds."""
    assert f.handbook_altitude_factor(3048.0, "turbocharged") == pytest.approx(0.74)


def test_arrays_equal_one_by_one():
    """Columns of a table of generators."""
    free, loss = np.array([0.0, FREE, 1000.0]), np.array([0.0, LOSS, 5e-5])
    together = f.altitude_factor(2000.0, free, loss)
    assert together.tolist() == [f.altitude_factor(2000.0, *row) for row in zip(free, loss, strict=True)]
    power = f.engine_power(np.array([0.0, 20e3, 40e3]), together, 0.9)
    assert power.tolist() == pytest.approx((np.array([0.0, 20e3, 40e3]) * together * 0.9).tolist())
    assert f.handbook_power(np.array([1e4, 2e4]), 3048.0, 300.0, f.Aspiration.NATURAL).tolist() == pytest.approx(
        [6800.0, 13600.0]
    )


@pytest.mark.parametrize(
    ("function", "args", "quantity"),
    [
        (f.altitude_factor, (7000.0, FREE, LOSS), "altitude"),
        (f.altitude_factor, (3000.0, FREE, -LOSS), "altitude_loss"),
        (f.altitude_factor, (6000.0, 0.0, 2e-4), "factor"),
        (f.temperature_factor, (400.0, 300.0, 0.0036), "air_temperature"),
        (f.temperature_factor, (310.0, 300.0, -0.0036), "temperature_loss"),
        (f.engine_power, (-1.0, 1.0, 1.0), "rated_power"),
        (f.engine_power, (1.0, 1.0, 1.01), "temperature_factor"),
        (f.handbook_altitude_factor, (4000.0, f.Aspiration.NATURAL), "altitude"),
        (f.handbook_temperature_factor, (330.0,), "air_temperature"),
        (f.handbook_power, (-1.0, 0.0, 300.0, f.Aspiration.NATURAL), "rated_power"),
        (f.iso_3046_factor, (1e3, 300.0, f.Aspiration.NATURAL, 0.8), "air_pressure"),
        (f.iso_3046_factor, (1e5, 400.0, f.Aspiration.NATURAL, 0.8), "air_temperature"),
        (f.iso_3046_factor, (1e5, 300.0, f.Aspiration.NATURAL, 0.3), "mechanical_efficiency"),
        (f.fuel_burn, (-1.0, 0.0, 0.0, 0.0), "idle_burn"),
        (f.fuel_burn, (0.0, 0.0, -1.0, 0.0), "time"),
        (f.fuel_mass, (-1.0, 850.0), "fuel_volume"),
        (f.fuel_mass, (1.0, 0.0), "fuel_density"),
        (f.heat_value, (1.0, 0.0), "heating_value"),
    ],
)
def test_refusals_name_the_quantity(function, args, quantity):
    """No silent clamp: the sentence begins with the quantity."""
    assert str(refusal(function, *args)).startswith(f"{quantity} is ")


def test_fuel_adds_idle_and_load():
    """Idle for the time and slope for the energy."""
    assert f.fuel_burn(2.0, 3.0, 5.0, 7.0) == 31.0
    assert f.fuel_burn(np.array([0.0, 2.0]), 3.0, 5.0, 7.0).tolist() == [21.0, 31.0]


def test_a_real_set_turns_a_fifth_to_two_fifths_of_the_fuel_into_power():
    """Sanity of units: 20 kW for an hour on 1.6 gal is an efficiency of about a third."""
    share = from_unit(20.0, "kWh") / f.heat_value(from_unit(1.6, "gal"), f.DIESEL_LOWER_HEATING_VALUE)
    assert 0.2 < share < 0.4
