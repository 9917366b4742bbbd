"""Compressed air on its way: lines, orifices, and the power to compress it.

Contents: `air_viscosity`, `line_pressure_drop`, `orifice_flow`, `compression_power`.
"""

from __future__ import annotations

import math

import numpy as np

from solver.formulas.ranges import Values, not_negative, positive, within
from solver.formulas.record import formula
from solver.formulas.standard_air import (
    GAS_CONSTANT_DRY_AIR,
    HEAT_CAPACITY_RATIO,
    SEA_LEVEL_PRESSURE,
    STANDARD_AIR_DENSITY,
)

HOSE_ROUGHNESS = 1.0e-5
"""Roughness of the wall of a smooth rubber air hose [m]: from memory."""
LAMINAR_LIMIT = 2300.0
"""Reynolds number above which the flow in a line is taken as turbulent [-]."""


@formula
def air_viscosity(temperature: Values) -> Values:
    """Viscosity of air.

    mu = 1.458e-6 T^1.5 / (T + 110.4)

    Parameters
    ----------
    temperature : float or array [K]
        Temperature of the air.

    Returns
    -------
    float or array [Pa s]
        Dynamic viscosity.

    Notes
    -----
    From 170 K to 1,900 K. The effect of pressure (under 2 percent at 15 bar) and of moisture is neglected.

    Examples
    --------
    >>> round(air_viscosity(288.15) * 1e6, 3)
    17.894

    References
    ----------
    US Standard Atmosphere 1976, section 1.3, equation 51 (Sutherland); from memory
    """
    within("temperature", temperature, "K", 170.0, 1900.0)
    return 1.458e-6 * temperature**1.5 / (temperature + 110.4)


@formula
def line_pressure_drop(
    standard_flow: Values,
    length: Values,
    bore: Values,
    line_pressure: Values,
    temperature: Values,
    air_pressure: Values = SEA_LEVEL_PRESSURE,
    roughness: float = HOSE_ROUGHNESS,
) -> Values:
    """Pressure that an air line takes, when its end must still have a given pressure.

    p1^2 - p2^2 = G^2 R T (f L / d + 2 ln(p1 / p2));  dp = p1 - p2;  f = 64/Re or after Haaland

    Parameters
    ----------
    standard_flow : float or array [m3/s]
        Standard flow through the line.
    length : float or array [m]
        Length of the line.
    bore : float or array [m]
        Inner diameter.
    line_pressure : float or array [Pa]
        Gauge pressure needed at the end of the line, where the user is.
    temperature : float or array [K]
        Temperature of the air in the line.
    air_pressure : float or array [Pa]
        Absolute pressure of the air around.
    roughness : float [m]
        Roughness of the wall.

    Returns
    -------
    float or array [Pa]
        Fall of pressure from the start to the end of the line.

    Notes
    -----
    Isothermal flow of an ideal gas. Stated from the end of the line it has an answer for any flow, as long as the air
    leaves below the speed of isothermal choking; beyond that OutsideRange. Above Re 2,300 the turbulent factor is
    taken, the safe side. Couplings are neglected, the unsafe side: add their equivalent length.

    Examples
    --------
    >>> round(line_pressure_drop(0.0028, 64.0, 0.0095, 6.2e5, 293.15))
    22745

    References
    ----------
    Crane Technical Paper 410, isothermal compressible flow in long pipes; from memory
    Haaland, Journal of Fluids Engineering 105 (1983), p. 89, friction factor; from memory
    """
    not_negative("standard flow", standard_flow, "m3/s")
    not_negative("length", length, "m")
    positive("bore", bore, "m")
    end_pressure = line_pressure + air_pressure
    positive("absolute pressure at the end of the line", end_pressure, "Pa")
    mass_flux = standard_flow * STANDARD_AIR_DENSITY / (math.pi / 4.0 * bore**2)
    flux_pressure_2 = mass_flux**2 * GAS_CONSTANT_DRY_AIR * temperature
    within("Mach number at the end of the line (isothermal)", flux_pressure_2**0.5 / end_pressure, "-", 0.0, 1.0)
    friction = _friction_factor(mass_flux * bore / air_viscosity(temperature), roughness / bore) * length / bore
    start_pressure: Values = (end_pressure**2 + flux_pressure_2 * friction) ** 0.5
    for _ in range(_SPEEDING_UP_STEPS):
        speeding_up = 2.0 * np.log(start_pressure / end_pressure)
        start_pressure = (end_pressure**2 + flux_pressure_2 * (friction + speeding_up)) ** 0.5
    return start_pressure - end_pressure


_SPEEDING_UP_STEPS = 4
"""Steps towards the pressure that also speeds the air up; the first is nearly enough for a long line."""


def _friction_factor(reynolds: Values, relative_roughness: Values) -> Values:
    """Darcy's friction factor [-]: 64/Re up to Re 2,300, above it after Haaland."""
    moving = np.maximum(reynolds, 1e-9)
    turbulent = (-1.8 * np.log10((relative_roughness / 3.7) ** 1.11 + 6.9 / moving)) ** -2.0
    return np.where(moving <= LAMINAR_LIMIT, 64.0 / moving, turbulent)


@formula
def orifice_flow(
    bore: Values, line_pressure: Values, air_pressure: Values, temperature: Values, coefficient: Values
) -> Values:
    """Standard flow through an orifice into the open: a leak, or a blow gun.

    m = C A p sqrt(k / (R T)) (2 / (k + 1))^((k + 1) / (2 (k - 1)))

    Parameters
    ----------
    bore : float or array [m]
        Diameter of the orifice.
    line_pressure : float or array [Pa]
        Gauge pressure before the orifice.
    air_pressure : float or array [Pa]
        Absolute pressure of the air around.
    temperature : float or array [K]
        Temperature of the air before the orifice.
    coefficient : float or array [-]
        Coefficient of discharge: 1.0 well rounded, about 0.6 sharp.

    Returns
    -------
    float or array [m3/s]
        Standard flow.

    Notes
    -----
    Choked flow of an ideal gas: the pressure before the orifice must be at least 1.893 times that of the air around.

    Examples
    --------
    >>> round(orifice_flow(0.003, 6.2e5, 101325.0, 293.15, 0.6), 5)
    0.00608

    References
    ----------
    US DOE compressed-air tip sheet 3, table of leak rates (coefficient 1.0), from the equation of choked nozzle flow
    """
    positive("bore", bore, "m")
    within("coefficient", coefficient, "-", 0.0, 1.0)
    positive("temperature", temperature, "K")
    k = HEAT_CAPACITY_RATIO
    pressure = line_pressure + air_pressure
    within("pressure ratio of the orifice", pressure / air_pressure, "-", ((k + 1.0) / 2.0) ** (k / (k - 1.0)), 1e6)
    choked = math.sqrt(k / GAS_CONSTANT_DRY_AIR) * (2.0 / (k + 1.0)) ** ((k + 1.0) / (2.0 * (k - 1.0)))
    mass_flow: Values = coefficient * (math.pi / 4.0) * bore**2 * pressure * choked / temperature**0.5
    return mass_flow / STANDARD_AIR_DENSITY


@formula
def compression_power(
    inlet_flow: Values,
    inlet_pressure: Values,
    outlet_pressure: Values,
    exponent: float,
    mechanical_efficiency: Values,
) -> Values:
    """Shaft power of one stage of a piston compressor.

    P = n / (n - 1) p1 q1 ((p2 / p1)^((n - 1) / n) - 1) / eta

    Parameters
    ----------
    inlet_flow : float or array [m3/s]
        Volume flow taken in, at the state of the inlet.
    inlet_pressure : float or array [Pa]
        Absolute pressure at the inlet.
    outlet_pressure : float or array [Pa]
        Absolute pressure at the outlet.
    exponent : float [-]
        Exponent of the polytropic compression, above 1 and up to 1.4.
    mechanical_efficiency : float or array [-]
        Mechanical efficiency.

    Returns
    -------
    float or array [W]
        Power at the shaft.

    Notes
    -----
    One stage, without the losses of the valves (the unsafe side) and without the clearance volume, which costs flow but
    hardly power. A two-stage machine with intercooling needs about a tenth to a seventh less.

    Examples
    --------
    >>> round(compression_power(0.007, 101300.0, 1.4e6, 1.3, 0.82))
    3122

    References
    ----------
    Arasu, Thermal Engineering, Example 5.11
    """
    within("exponent", exponent, "-", 1.0 + 1e-6, 1.67)
    within("mechanical efficiency", mechanical_efficiency, "-", 0.01, 1.0)
    positive("inlet pressure", inlet_pressure, "Pa")
    share = (exponent - 1.0) / exponent
    lift = (outlet_pressure / inlet_pressure) ** share - 1.0
    return inlet_pressure * inlet_flow * lift / share / mechanical_efficiency
