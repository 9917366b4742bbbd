"""Every range that a formula states: it holds at the edge, and a hair beyond it is refused with name, figure and range."""

from __future__ import annotations

import sys
from collections.abc import Callable
from typing import Any

import numpy as np
import pytest

from solver.errors import OutsideRange
from solver.formulas import (
    air,
    compressed_air,
    conductors,
    electricity,
    engine,
    engine_methods,
    foam,
    moist_air,
    money,
    motor_starts,
    motors,
    noise,
    saturation,
    vehicle_classes,
    weight,
)
from solver.formulas.engine_methods import Aspiration
from solver.quantities import from_unit

FOOT = 0.3048
TINY = sys.float_info.min

Range = tuple[Callable[..., Any], dict[str, Any], str, str, float, float]
"""Formula, arguments that it takes, the one looked at, its name in the message, and the two ends in SI."""

RANGES: tuple[Range, ...] = (
    (air.atmosphere_pressure, {}, "altitude", "altitude", -500.0, 11000.0),
    (air.air_density, {"air_pressure": 1e5, "air_temperature": 293.15}, "relative_humidity", "relative humidity", 0.0, 1.0),
    (compressed_air.air_viscosity, {}, "temperature", "temperature", 170.0, 1900.0),
    (compressed_air.orifice_flow, {"bore": 0.003, "line_pressure": 6e5, "air_pressure": 1e5, "temperature": 293.15},
     "coefficient", "coefficient", 0.0, 1.0),
    (compressed_air.compression_power,
     {"inlet_flow": 0.007, "inlet_pressure": 1e5, "outlet_pressure": 8e5, "mechanical_efficiency": 0.8},
     "exponent", "exponent", 1.000001, 1.67),
    (compressed_air.compression_power, {"inlet_flow": 0.007, "inlet_pressure": 1e5, "outlet_pressure": 8e5, "exponent": 1.3},
     "mechanical_efficiency", "mechanical efficiency", 0.01, 1.0),
    (conductors.count_adjustment, {}, "conductor_count", "conductor_count", 1.0, 10000.0),
    (electricity.real_power, {"apparent_power": 1e4}, "power_factor", "power_factor", 0.0, 1.0),
    (electricity.reactive_power, {"real_power": 1e4}, "power_factor", "power_factor", TINY, 1.0),
    (electricity.tangent_load, {"real_power": 3e3, "reactive_power": 4e3}, "angle", "angle", 0.0, np.pi / 2),
    (engine.altitude_factor, {"altitude_free": 300.0, "altitude_loss": 1e-4}, "altitude", "altitude", -500.0, 6000.0),
    (engine.temperature_factor, {"temperature_free": 298.15, "temperature_loss": 2e-3}, "air_temperature", "air_temperature",
     213.15, 343.15),
    (engine.engine_power, {"rated_power": 4e4, "temperature_factor": 0.9}, "altitude_factor", "altitude_factor", 0.0, 1.0),
    (engine.engine_power, {"rated_power": 4e4, "altitude_factor": 0.9}, "temperature_factor", "temperature_factor", 0.0, 1.0),
    (engine_methods.handbook_altitude_factor, {"aspiration": Aspiration.NATURAL}, "altitude", "altitude",
     -500.0, 12000 * FOOT),
    (engine_methods.handbook_temperature_factor, {}, "air_temperature", "air_temperature", 213.15,
     float(from_unit(130.0, "degF"))),
    (engine_methods.iso_3046_factor,
     {"air_temperature": 298.0, "aspiration": Aspiration.TURBOCHARGED, "mechanical_efficiency": 0.8},
     "air_pressure", "air_pressure", 40e3, 110e3),
    (engine_methods.iso_3046_factor,
     {"air_pressure": 9e4, "aspiration": Aspiration.TURBOCHARGED, "mechanical_efficiency": 0.8},
     "air_temperature", "air_temperature", 213.15, 343.15),
    (engine_methods.iso_3046_factor, {"air_pressure": 9e4, "air_temperature": 298.0, "aspiration": Aspiration.TURBOCHARGED},
     "mechanical_efficiency", "mechanical_efficiency", 0.5, 1.0),
    (foam.board_feet_per_mass, {}, "foam_density", "foam_density", 5.0, 100.0),
    (foam.board_feet_made, {"mass": 10.0, "foam_density": 32.0}, "field_yield", "field_yield", TINY, 1.0),
    (foam.output_for_board_feet,
     {"board_feet": 3e3, "foam_density": 32.0, "spraying_time": 18000.0, "trigger_share": 0.5},
     "field_yield", "field_yield", TINY, 1.0),
    (foam.output_for_board_feet,
     {"board_feet": 3e3, "foam_density": 32.0, "spraying_time": 18000.0, "field_yield": 0.5},
     "trigger_share", "trigger_share", TINY, 1.0),
    (foam.material_mass, {"output": 0.1, "spraying_time": 18000.0}, "trigger_share", "trigger_share", 0.0, 1.0),
    (moist_air.humidity_ratio, {"temperature": 293.15, "pressure": 101325.0}, "relative_humidity", "relative humidity",
     0.0, 1.0),
    (moist_air.enthalpy, {"humidity_ratio": 0.007}, "temperature", "temperature", 223.15, 383.15),
    (money.loan_payment, {"principal": 2e4, "months": 60.0}, "yearly_rate", "yearly_rate", 0.0, 1.0),
    (money.loan_payment, {"principal": 2e4, "yearly_rate": 0.05}, "months", "months", 1.0, 600.0),
    (money.cash_until_delivery, {"down_payment": 1.0, "monthly_payment": 1.0, "waiting_months": 2.0}, "months", "months",
     1.0, 600.0),
    (money.capital_recovery_factor, {"years": 10.0}, "yearly_rate", "yearly_rate", 0.0, 1.0),
    (money.capital_recovery_factor, {"yearly_rate": 0.1}, "years", "years", 1.0, 50.0),
    (motor_starts.start_apparent_power, {"motor_power": 5e3, "kva_per_power": 8.0}, "start_share", "start_share", 0.0, 1.0),
    (motor_starts.start_apparent_power_limit, {"set_apparent_power": 4e4, "transient_reactance": 0.25}, "dip", "dip",
     0.0, 0.5),
    (motors.unbalance_derating, {}, "unbalance", "unbalance", 0.0, 0.05),
    (noise.allowed_time, {}, "level", "sound level", 80.0, 130.0),
    (saturation.saturation_pressure, {}, "temperature", "temperature", 173.15, 473.15),
    (saturation.enhancement_factor, {"pressure": 5e5}, "temperature", "temperature", 173.15, 373.15),
    (saturation.enhancement_factor, {"temperature": 283.15}, "pressure", "pressure", 1300.0, 2e6),
    (vehicle_classes.bridge_formula, {"length": 12.0}, "axles", "axles", 2.0, 9.0),
    (weight.hitch_load, {"trailer_weight": 4e3}, "hitch_share", "hitch_share", 0.0, 1.0),
)  # fmt: skip
"""As the notes of the formulas state them. The pressure of 1,300 Pa is no stated end: see `OPEN`."""

OPEN = {(saturation.enhancement_factor, "pressure")}
"""Ends below that follow from another condition."""

each = pytest.mark.parametrize(
    ("formula", "given", "argument", "name", "low", "high"), RANGES, ids=[f"{r[0].__name__}-{r[2]}" for r in RANGES]
)


@each
def test_it_holds_at_both_ends(formula, given, argument, name, low, high):
    for end in (high,) if low == TINY else (low, high):
        assert np.isfinite(formula(**given, **{argument: end}))


@each
def test_it_is_refused_a_hair_beyond(formula, given, argument, name, low, high):
    hair = 1e-9 * (high - low)
    ends = [high + hair] if (formula, argument) in OPEN else [low - hair, high + hair]
    for value in ends:
        with pytest.raises(OutsideRange) as caught:
            formula(**given, **{argument: value})
        found = caught.value
        assert (found.name, found.value) == (name, value)
        assert found.high == pytest.approx(high, rel=1e-12)
        assert (formula, argument) in OPEN or found.low == pytest.approx(low, rel=1e-12, abs=0.0)
        assert str(found).startswith(f"{name} is {value:.6g}")
        assert str(found).endswith(f" to {high:.6g}" + ("" if found.unit == "-" else f" {found.unit}"))
