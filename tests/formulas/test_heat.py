"""Heat: laws, limits and ranges. Figures from outside are in tests/published."""

from __future__ import annotations

import numpy as np
import pytest

from solver.errors import OutsideRange
from solver.formulas import heat


def test_flow_and_mass() -> None:
    assert heat.flow_heat(0.1, 1900.0, 30.0) == pytest.approx(5700.0)
    assert heat.warming_energy(250.0, 1850.0, 55 / 1.8) / 3.6e6 == pytest.approx(3.9, abs=0.05)


def test_mean_heat_capacity_lies_between() -> None:
    assert heat.mean_heat_capacity(1.0, 1800.0, 1.0, 2000.0) == 1900.0
    assert heat.mean_heat_capacity(0.0, 1800.0, 1.0, 2000.0) == 2000.0
    with pytest.raises(OutsideRange) as caught:
        heat.mean_heat_capacity(0.0, 1800.0, 0.0, 2000.0)
    assert str(caught.value) == "mass is 0 kg; the formula holds above 0 kg"


def test_warm_up_power_reaches_the_target() -> None:
    """The differential equation C dT/dt = P - K (T - T_air), in small steps, arrives where the formula says."""
    conductance, mass, seconds, target, air, start = 38.0, 60000.0, 1800.0, 322.0, 261.0, 270.0
    power = heat.warm_up_power(conductance, mass, seconds, target, air, start)
    temperature, steps = start, 100000
    for _ in range(steps):
        temperature += (power - conductance * (temperature - air)) / mass * (seconds / steps)
    assert temperature == pytest.approx(target, abs=1e-3)


def test_warm_up_power_at_its_limits() -> None:
    """In no time it is C dT/t; in all time it is the loss."""
    short = heat.warm_up_power(1e-6, 60000.0, 1800.0, 320.0, 260.0, 260.0)
    assert short == pytest.approx(60000.0 * 60.0 / 1800.0, rel=1e-6)
    assert heat.warm_up_power(38.0, 60000.0, 1e6, 320.0, 260.0, 260.0) == pytest.approx(38.0 * 60.0, rel=1e-9)


def test_warm_up_power_of_what_is_warm_already() -> None:
    assert heat.warm_up_power(38.0, 60000.0, 60.0, 300.0, 261.0, 322.0) < 0.0


@pytest.mark.parametrize(
    ("arguments", "message"),
    [
        ((0.0, 6e4, 1800.0), "conductance is 0 W/K; the formula holds above 0 W/K"),
        ((38.0, 0.0, 1800.0), "thermal mass is 0 J/K; the formula holds above 0 J/K"),
        ((38.0, 6e4, 0.0), "time is 0 s; the formula holds above 0 s"),
    ],
)
def test_warm_up_power_outside(arguments: tuple[float, float, float], message: str) -> None:
    with pytest.raises(OutsideRange) as caught:
        heat.warm_up_power(*arguments, 322.0, 261.0, 261.0)
    assert str(caught.value) == message


def test_coasting() -> None:
    assert heat.coast_temperature(261.0, 291.0, 45.0, 1.2e6, 0.0) == 291.0
    assert heat.coast_temperature(261.0, 291.0, 0.0, 1.2e6, 1e5) == 291.0
    times = np.linspace(0.0, 4e5, 50)
    temperatures = heat.coast_temperature(261.0, 291.0, 45.0, 1.2e6, times)
    assert isinstance(temperatures, np.ndarray)
    assert (np.diff(temperatures) < 0).all()
    assert temperatures[-1] == pytest.approx(261.0, abs=1e-4)


def test_one_set_freezes_where_three_do_not() -> None:
    """A night of 14 h at -12 degC: 45 W/K, 250 kJ/K of body and 830 kJ/K a set of drums."""
    one, three = (heat.coast_temperature(261.15, 291.15, 45.0, 2.5e5 + sets * 8.3e5, 14 * 3600.0) for sets in (1, 3))
    assert one < 273.15 < three


def test_warming_after_coasting_comes_back() -> None:
    cold = heat.coast_temperature(261.0, 300.0, 38.0, 60000.0, 600.0)
    assert heat.warm_up_power(38.0, 60000.0, 600.0, cold, 261.0, 300.0) == pytest.approx(0.0, abs=1e-9)


def test_losses_change_sign_with_the_difference() -> None:
    assert heat.body_loss(45.0, 290.0, 300.0) == -450.0
    assert heat.hose_loss(0.6, 60.0, -10.0) == pytest.approx(-360.0)


def test_wall_needs_a_resistance() -> None:
    with pytest.raises(OutsideRange) as caught:
        heat.wall_loss(15.0, 14.0, 0.0)
    assert str(caught.value) == "resistance is 0 m2 K/W; the formula holds above 0 m2 K/W"


def test_air_change_is_ventilation_by_another_name() -> None:
    found = heat.air_change_heat(30.0, 0.01, 1.2, 20.0)
    assert found == pytest.approx(heat.ventilation_heat(0.3, 1.2, 20.0), rel=1e-12)


def test_heater_at_208_of_240_volts() -> None:
    assert heat.heater_power(10000.0, 240.0, 208.0) == pytest.approx(10000.0 * (208 / 240) ** 2)
    assert heat.heater_power(10000.0, 240.0, 240.0) == 10000.0
    powers = heat.heater_power(np.array([1000.0, 0.0]), np.array([240.0, 120.0]), np.array([208.0, 120.0]))
    assert isinstance(powers, np.ndarray)
    assert powers[1] == 0.0
    with pytest.raises(OutsideRange) as caught:
        heat.heater_power(1000.0, 0.0, 240.0)
    assert str(caught.value) == "rated voltage is 0 V; the formula holds above 0 V"
