"""Liquids in hoses, heat of masses, flows and walls against published figures, and against a library of flow.

Walls of several layers are followed step by step in test_worked_heat_loss.py.
"""

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
from solver.quantities import factor_of
from tests.published import documents as of
from tests.published.printed import MEMORY, READ, Figure, Passage, checked

BTU = factor_of("Btu")
POUND = factor_of("lb")
FOOT = 0.3048
PSI = factor_of("psi")
CFM = FOOT**3 / 60.0

# --- liquids ----------------------------------------------------------------------------------------------------------


# 0.1 Pa s in a pipe of radius 0.05 m, 2.0 m/s at its axis. At the wall: the gradient times half the radius.
PIPE = Passage(of.WORKED_FLUIDS, "Example 3.8", "laminar flow in a pipe: Pa/m, Pa at the wall", READ)
# Oil of 888 kg/m3 and 0.800 Pa s in 40 m of 5 cm pipe, 745 to 97 kPa; level, and 15 degrees up or down.
OIL = Passage(of.CENGEL_CIMBALA, "Example 8-1", "oil in a pipe: m3/s, Re", MEMORY)
# Water of 62.42 lb/ft3 and 1.038e-3 lb/(ft s) at 3.0 ft/s in 30 ft of pipe of 0.010 ft.
WATER = Passage(of.CENGEL_CIMBALA, "Example 8-2", "pressure drop in a small pipe, lbf/ft2 and psi", MEMORY)


def _gradient() -> float:
    """Pressure gradient of the first pipe [Pa/m]."""
    return hose_flow.laminar_drop(0.1, 1.0, math.pi * 0.05**2 * 2.0 / 2.0, 0.1)


def _oil(degrees: float) -> float:
    """Flow of the oil uphill by this angle: the pressure left over what a flow of 1 m3/s would take."""
    left = (745e3 - 97e3) - 888.0 * 9.81 * 40.0 * math.sin(math.radians(degrees))
    return left / hose_flow.laminar_drop(0.8, 40.0, 1.0, 0.05)


def _water() -> float:
    """Pressure that the small pipe takes [Pa]."""
    bore = 0.010 * FOOT
    return hose_flow.laminar_drop(1.038e-3 * POUND / FOOT, 30.0 * FOOT, 3.0 * FOOT * math.pi / 4.0 * bore**2, bore)


LIQUIDS = [
    PIPE.figure("gradient", "320", _gradient),
    PIPE.figure("wall shear", "8", lambda: _gradient() * 0.05 / 2.0),
    OIL.figure("level", "0.00311", lambda: _oil(0.0)),
    OIL.figure("15 degrees up", "0.00267", lambda: _oil(15.0)),
    OIL.figure("15 degrees down", "0.00354", lambda: _oil(-15.0)),
    OIL.figure("Reynolds number downwards", "100", lambda: hose_flow.reynolds(888.0, 0.00354, 0.05, 0.8)),
    WATER.figure("lbf/ft2", "929", lambda: _water() / (PSI / 144.0)),
    WATER.figure("psi", "6.45", lambda: _water() / PSI),
]


@checked(LIQUIDS)
def test_liquids(figure: Figure) -> None:
    """Laminar flow in pipes."""
    figure.check()


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


# --- heat -------------------------------------------------------------------------------------------------------------

# k 0.9, 0.3 m, 15 m2, 14 K.
WALL = Passage(of.CENGEL, "Example 3.1", "heat through a wall, W", READ)
# 0.15 m of fireclay brick, k 1.7, 1400 to 1150 K, 0.5 m x 1.2 m.
FURNACE = Passage(of.INCROPERA, "Example 1.1", "heat through the wall of a furnace, W/m2 and W", MEMORY)
# A copper ball of 4.69 kg, 0.395 kJ/(kg K), from 100 to 150 degC.
BALL = Passage(of.CENGEL, "Example 1-1", "heating of a copper ball, kJ", MEMORY)
# 1.2 kg of water (4.18) in a teapot of 0.5 kg (0.7 kJ/(kg K)), 15 to 95 degC, 1,200 W.
TEAPOT = Passage(of.CENGEL, "Example 1-2", "heating of water in a teapot, kJ and s", MEMORY)
# Air at 100 kPa and 60 degC in a duct, 0.2615 kg/s, cooled by 6 K.
DUCT = Passage(of.CENGEL, "Example 1-3", "heat loss of a duct: kg/m3, kW", MEMORY)
# A house of 2,000 ft2 and 9 ft at 5,000 ft, from 50 to 70 degF at constant volume or pressure.
HOUSE = Passage(of.CENGEL, "Example 1-4", "heating the air of a house at 5,000 ft: psia, lb, Btu", MEMORY)
# A body of 37 degC in a room of 20 degC, h A / (rho c V) = 2.79e-5 1/s, after the printed 43,860 s.
COOLING = Passage(of.CENGEL, "Example 4-2", "lumped cooling of a body, degC", MEMORY)
# 166.7 cfm and 20 degF at 1.08; ten changes an hour of 1,000.2 ft3 are the same flow.
SENSIBLE = Passage(of.HVAC_TEXTS, "1.08 cfm dT", "sensible heat of air, Btu/h", READ)
VENTILATION = Passage(of.EN_12831, "7.2", "heat of 1 m3/h of air for each kelvin, W/K", MEMORY)
_AIR = air_density(ASME_STANDARD_PRESSURE, ASME_STANDARD_TEMPERATURE, ASME_STANDARD_HUMIDITY)


def _house_air() -> float:
    """Mass of the air in the house [lb]."""
    return air_density(12.2 * PSI, 510.0 / 1.8, 0.0) * 18000.0 * FOOT**3 / POUND


def _house_heat(btu_per_pound: float) -> float:
    """Energy that warms the printed 1,162 lb by 20 degF [Btu]."""
    return heat.warming_energy(1162.0 * POUND, btu_per_pound * BTU / POUND * 1.8, 20.0 / 1.8) / BTU


def _teapot() -> float:
    """Energy of water and pot [J]."""
    return heat.warming_energy(1.2, 4180.0, 80.0) + heat.warming_energy(0.5, 700.0, 80.0)


HEAT = [
    WALL.figure("15 m2", "630", lambda: heat.wall_loss(15.0, 14.0, 0.3 / 0.9)),
    FURNACE.figure("flux", "2833", lambda: heat.wall_loss(1.0, 250.0, 0.15 / 1.7)),
    FURNACE.figure("wall", "1700", lambda: heat.wall_loss(0.5 * 1.2, 250.0, 0.15 / 1.7)),
    BALL.figure("energy", "92.6", lambda: heat.warming_energy(4.69, 395.0, 50.0) / 1e3),
    TEAPOT.figure("energy", "429.3", lambda: _teapot() / 1e3),
    TEAPOT.figure("time", "358", lambda: _teapot() / 1200.0),
    DUCT.figure("density", "1.046", lambda: air_density(100e3, 333.0, 0.0)),
    DUCT.figure("heat", "1.580", lambda: heat.flow_heat(0.2615, 1007.0, 6.0) / 1e3),
    HOUSE.figure("pressure", "12.2", lambda: atmosphere_pressure(5000.0 * FOOT) / PSI),
    HOUSE.figure("air", "1162", _house_air),
    HOUSE.figure("constant volume", "3974", lambda: _house_heat(0.171)),
    HOUSE.figure("constant pressure", "5578", lambda: _house_heat(0.240)),
    COOLING.figure("after 43,860 s", "25", lambda: heat.coast_temperature(293.15, 310.15, 2.79e-5, 1.0, 43860.0) - 273.15),
    SENSIBLE.figure("a flow", "3600", lambda: heat.ventilation_heat(166.7 * CFM, _AIR, 20.0 / 1.8) / BTU * 3600.0,
                    share=5e-3, reason="the factor 1.08 has three digits"),
    SENSIBLE.figure("air changes", "3600",
                    lambda: heat.air_change_heat(166.7 * CFM * 360.0, 1 / 360.0, _AIR, 20.0 / 1.8) / BTU * 3600.0,
                    share=5e-3, reason="the factor 1.08 has three digits"),
    VENTILATION.figure("at 20 degC", "0.34",
                       lambda: heat.ventilation_heat(1 / 3600.0, air_density(101325.0, 293.15, 0.0), 1.0)),
]  # fmt: skip


@checked(HEAT)
def test_heat(figure: Figure) -> None:
    """Heat of masses, flows, walls and air."""
    figure.check()


def test_sensible_heat_scales_with_density() -> None:
    """Scale by density ratio at altitude. Standing: read."""
    full, thin = (heat.ventilation_heat(0.1, rho, 10.0) for rho in (1.2, 0.9))
    assert thin / full == pytest.approx(0.75, rel=1e-12)


# Material figures from memory (isocyanate 200 mPa s at 25 degC, 1.8 kJ/kgK): not published truth, so not asserted here.
