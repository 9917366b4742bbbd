"""Liquids in hoses and heat through walls against published figures, each with its standing (see test_air.py)."""

from __future__ import annotations

import math

import fluids
import pytest

from solver.formulas import heat, hose_flow
from solver.formulas.air import (
    ASME_STANDARD_HUMIDITY,
    ASME_STANDARD_PRESSURE,
    ASME_STANDARD_TEMPERATURE,
    STANDARD_AIR_DENSITY,
    air_density,
    air_viscosity,
    atmosphere_pressure,
    line_pressure_drop,
)
from solver.formulas.standard_air import GAS_CONSTANT_DRY_AIR

BTU_PER_HOUR = 1055.05585262 / 3600.0
CFM = 0.3048**3 / 60.0


# Fluid Mechanics - Worked Examples for Engineers, Ex. 3.8: 0.1 Pa s in a pipe of radius 0.05 m, 2.0 m/s at its axis:
# 320 Pa/m and 8 Pa at the wall. Standing: read.
def _example_3_8() -> float:
    flow = math.pi * 0.05**2 * 2.0 / 2.0
    return hose_flow.laminar_drop(0.1, 1.0, flow, 0.1)


def test_pressure_gradient() -> None:
    assert abs(_example_3_8() - 320) <= 0.5


def test_wall_shear() -> None:
    """The gradient times half the radius, the balance of forces on the liquid in the pipe."""
    assert abs(_example_3_8() * 0.05 / 2.0 - 8) <= 0.5


def test_drop_in_a_hose() -> None:
    """fluids 1.3: 1 L/min of 100 mPa s through 100 m of 9.5 mm: 833709 Pa. Standing: derived (fluids)."""
    assert abs(hose_flow.laminar_drop(0.1, 100.0, 1e-3 / 60, 0.0095) - 833709) <= 0.5


def test_reynolds_in_a_hose() -> None:
    """fluids 1.3: the same at 1100 kg/m3: Re 24.57. Standing: derived (fluids)."""
    assert abs(hose_flow.reynolds(1100.0, 1e-3 / 60, 0.0095, 0.1) - 24.57) <= 0.005


@pytest.mark.parametrize("bore", [0.0064, 0.0095, 0.0127])
@pytest.mark.parametrize("viscosity", [0.05, 0.3, 1.0])
def test_laminar_drop_agrees_with_fluids(bore: float, viscosity: float) -> None:
    """Both exact in laminar flow: twelve digits of a float."""
    flow, density = 5e-5, 1150.0
    velocity = flow / (math.pi / 4 * bore**2)
    number = fluids.Reynolds(V=velocity, D=bore, rho=density, mu=viscosity)
    theirs = fluids.dP_from_K(fluids.K_from_f(fluids.friction_factor(number), L=60.0, D=bore), rho=density, V=velocity)
    assert hose_flow.reynolds(density, flow, bore, viscosity) == pytest.approx(number, rel=1e-12)
    assert hose_flow.laminar_drop(viscosity, 60.0, flow, bore) == pytest.approx(theirs, rel=1e-12)


@pytest.mark.parametrize("bore", [0.0064, 0.0095, 0.0127])
@pytest.mark.parametrize("length", [5.0, 30.0, 100.0])
@pytest.mark.parametrize("gauge", [4e5, 8e5])
@pytest.mark.parametrize("standard_flow", [0.0005, 0.002, 0.006])
def test_air_line_agrees_with_fluids(bore: float, length: float, gauge: float, standard_flow: float) -> None:
    """Isothermal compressible flow, their solution for the inlet from the outlet, their friction factor (Colebrook).

    1.5 percent: Haaland's formula is within 1.5 percent of Colebrook's equation in this range.
    """
    temperature, end = 293.15, gauge + 101325.0
    mass_flow = standard_flow * STANDARD_AIR_DENSITY
    number = 4 * mass_flow / (math.pi * bore * air_viscosity(temperature))
    drop = line_pressure_drop(standard_flow, length, bore, gauge, temperature)
    start = fluids.isothermal_gas(
        rho=(end + drop) / (GAS_CONSTANT_DRY_AIR * temperature),
        fd=fluids.friction_factor(Re=number, eD=1e-5 / bore),
        P2=end, L=length, D=bore, m=mass_flow,
    )  # fmt: skip
    assert drop == pytest.approx(start - end, rel=0.015)


@pytest.mark.parametrize("altitude", [-400.0, 0.0, 800.0, 2000.0, 3000.0, 6000.0, 10000.0])
def test_atmosphere_agrees_with_fluids(altitude: float) -> None:
    """The US Standard Atmosphere 1976 itself: 0.25 percent, at 10,000 m; the short formula takes
    height above the sea for geopotential height, which puts the pressure low."""
    assert atmosphere_pressure(altitude) == pytest.approx(fluids.ATMOSPHERE_1976(altitude).P, rel=2.5e-3)


@pytest.mark.parametrize("temperature", [240.0, 288.15, 330.0])
def test_air_viscosity_agrees_with_fluids(temperature: float) -> None:
    """The same equation of the US Standard Atmosphere 1976: five digits, those of its constants."""
    assert air_viscosity(temperature) == pytest.approx(fluids.ATMOSPHERE_1976.viscosity(temperature), rel=1e-5)


def test_wall_of_one_layer() -> None:
    """Cengel, Heat and Mass Transfer, Ex. 3.1: k 0.9, 0.3 m, 15 m2, 14 K: 630 W. Standing: read."""
    assert abs(heat.wall_loss(15.0, 14.0, 0.3 / 0.9) - 630) <= 0.5


def test_wall_of_three_layers_with_films() -> None:
    """Composite wall, university notes: 10 m2, films 23 and 8 W/m2K, 0.1429, 1.6667, 0.04, 30 K: 148.66 W. Read."""
    resistance = 1 / 23 + 0.1429 + 1.6667 + 0.04 + 1 / 8
    assert abs(heat.wall_loss(10.0, 30.0, resistance) - 148.66) <= 0.005


def test_the_same_wall_as_a_body() -> None:
    """The composite wall as a body of that conductance. Standing: read."""
    conductance = 10.0 / (1 / 23 + 0.1429 + 1.6667 + 0.04 + 1 / 8)
    assert abs(heat.body_loss(conductance, 293.15, 263.15) - 148.66) <= 0.005


# HVAC texts: 1.08 cfm dT(degF); 166.7 cfm and 20 degF: 3600 Btu/h. Standing: read.
# 0.5 percent: the factor 1.08 has three digits (1.075 to 1.085), the density is that of 0.075 lb/ft3 air.
SENSIBLE = (166.7, 20.0, 3600.0)


def test_sensible_heat_of_ventilation() -> None:
    cfm, fahrenheit, btu = SENSIBLE
    density = air_density(ASME_STANDARD_PRESSURE, ASME_STANDARD_TEMPERATURE, ASME_STANDARD_HUMIDITY)
    found = heat.ventilation_heat(cfm * CFM, density, fahrenheit / 1.8)
    assert found / BTU_PER_HOUR == pytest.approx(btu, rel=5e-3)


def test_sensible_heat_of_air_change() -> None:
    """The same flow as ten changes an hour of 1,000.2 ft3."""
    cfm, fahrenheit, btu = SENSIBLE
    density = air_density(ASME_STANDARD_PRESSURE, ASME_STANDARD_TEMPERATURE, ASME_STANDARD_HUMIDITY)
    found = heat.air_change_heat(cfm * CFM * 360.0, 1 / 360.0, density, fahrenheit / 1.8)
    assert found / BTU_PER_HOUR == pytest.approx(btu, rel=5e-3)


def test_sensible_heat_scales_with_density() -> None:
    """Scale by density ratio at altitude. Standing: read."""
    full, thin = (heat.ventilation_heat(0.1, rho, 10.0) for rho in (1.2, 0.9))
    assert thin / full == pytest.approx(0.75, rel=1e-12)


# Material figures from memory (isocyanate 200 mPa s at 25 degC, 1.8 kJ/kgK): not published truth, so not asserted here.
