"""Fields of an option that follow from its own figures by a formula, whatever the brief.

Contents: what a running motor draws (`motor_kw`, `motor_kvar`), what a starting one does (`start_kva`), ratings of
heaters at the voltage really supplied (`heaters_kw`, `hose_heat_kw`, `power_at_voltage`), the reactive power of other
loads (`kvar`). A term reads them like any other field; on a worksheet the formula shows. All are in W, var and VA.
Importing this file fills the register `DERIVED`.
"""

from __future__ import annotations

from solver.formulas.electricity import (
    motor_reactive_power,
    motor_real_power,
    reactive_power,
    start_apparent_power,
)
from solver.formulas.heat import heater_power
from solver.options.table import DERIVED, Value, View


def motor_kw(o: View) -> Value:
    """Real power of the running motor [W]."""
    return motor_real_power(o.motor_power, o.voltage, o.phases)


def motor_kvar(o: View) -> Value:
    """Reactive power of the running motor [var]."""
    return motor_reactive_power(o.motor_power, o.voltage, o.phases)


def start_kva(o: View) -> Value:
    """Apparent power of the starting motor [VA]."""
    return start_apparent_power(o.motor_power, o.start_kva_per_power, o.start_share)


def heaters_kw(o: View) -> Value:
    """Rating of the heaters at the voltage supplied [W]."""
    return heater_power(o.heater_power, o.rated_voltage, o.voltage)


def hose_heat_kw(o: View) -> Value:
    """Rating of the hose heat at the voltage supplied [W]."""
    return heater_power(o.hose_heat, o.rated_voltage, o.voltage)


def power_at_voltage(o: View) -> Value:
    """Rating of a resistance load (drum or body heater) at the voltage supplied [W]."""
    return heater_power(o.power, o.rated_voltage, o.voltage)


def kvar(o: View) -> Value:
    """Reactive power of a load stated by power and power factor [var]."""
    return reactive_power(o.power, o.power_factor)


DERIVED.update(
    {
        function.__name__: function
        for function in (motor_kw, motor_kvar, start_kva, heaters_kw, hose_heat_kw, power_at_voltage, kvar)
    }
)
