"""Moist air: humidity and enthalpy, and what drying compressed air takes.

Contents: `humidity_ratio`, `enthalpy`, `cooling_load`, `condensate_rate`. Saturation and dew points are in
`saturation`, and may be had from here too. Pressures are absolute.
"""

from __future__ import annotations

from solver.formulas.ranges import Values, positive, within
from solver.formulas.record import formula
from solver.formulas.saturation import (
    dew_point,
    dew_point_at_pressure,
    enhancement_factor,
    saturation_pressure,
    vapour_density,
)
from solver.formulas.standard_air import AIR_HEAT_CAPACITY, FREEZING_POINT, SEA_LEVEL_PRESSURE, STANDARD_AIR_DENSITY

__all__ = [
    "condensate_rate",
    "cooling_load",
    "dew_point",
    "dew_point_at_pressure",
    "enhancement_factor",
    "enthalpy",
    "humidity_ratio",
    "saturation_pressure",
    "vapour_density",
]

MOLAR_MASS_RATIO = 0.621945
"""Molar mass of water over that of dry air [-]."""

WATER_HEAT_CAPACITY = 4186.0
"""Heat capacity of liquid water [J/(kg K)]."""
VAPOUR_HEAT_CAPACITY = 1860.0
"""Heat capacity of water vapour [J/(kg K)]."""
VAPORISATION_HEAT = 2.501e6
"""Heat of vaporisation of water at 0 degC [J/kg]."""
HEAT_CAPACITY_RISE = 1.6e-5
"""Rise of the heat capacity of air with its pressure [J/(kg K Pa)]: fitted to CoolProp, 1 to 12 bar, 277 to 330 K."""


@formula
def humidity_ratio(temperature: Values, relative_humidity: Values, pressure: Values) -> Values:
    """Mass of vapour carried by a mass of dry air.

    W = 0.621945 phi f e / (p - phi f e)

    Parameters
    ----------
    temperature : float or array [K]
        Temperature of the air.
    relative_humidity : float or array [-]
        Relative humidity, 0 to 1.
    pressure : float or array [Pa]
        Absolute pressure.

    Returns
    -------
    float or array [-]
        Kilograms of vapour in a kilogram of dry air.

    Notes
    -----
    Ranges of `enhancement_factor`. Within 0.2 percent up to 15 bar above freezing.

    Examples
    --------
    >>> round(humidity_ratio(293.15, 0.5, 101325.0), 5)
    0.00729

    References
    ----------
    ASHRAE Handbook Fundamentals, chapter 1, humidity ratio of moist air; enhancement factor after Greenspan 1976
    """
    within("relative humidity", relative_humidity, "-", 0.0, 1.0)
    vapour = relative_humidity * enhancement_factor(temperature, pressure) * saturation_pressure(temperature)
    positive("pressure of the dry part of the air", pressure - vapour, "Pa")
    return MOLAR_MASS_RATIO * vapour / (pressure - vapour)


@formula
def enthalpy(temperature: Values, humidity_ratio: Values) -> Values:
    """Enthalpy of moist air for each kilogram of dry air, from dry air and liquid water at 0 degC.

    h = 1006 t + W (2.501e6 + 1860 t), t in degC

    Parameters
    ----------
    temperature : float or array [K]
        Temperature of the air.
    humidity_ratio : float or array [-]
        Kilograms of vapour in a kilogram of dry air.

    Returns
    -------
    float or array [J/kg]
        Enthalpy for each kilogram of dry air.

    Notes
    -----
    Ideal gas, -50 degC to 110 degC. The effect of pressure is neglected: about 1 percent of a difference between
    two temperatures at 8 bar, the unsafe side for coolers.

    Examples
    --------
    >>> round(enthalpy(293.15, 0.0073))
    38649

    References
    ----------
    ASHRAE Handbook Fundamentals, chapter 1, enthalpy of moist air
    """
    within("temperature", temperature, "K", 223.15, 383.15)
    celsius = temperature - FREEZING_POINT
    return AIR_HEAT_CAPACITY * celsius + humidity_ratio * (VAPORISATION_HEAT + VAPOUR_HEAT_CAPACITY * celsius)


@formula
def cooling_load(
    standard_flow: Values, inlet_temperature: Values, pressure: Values, dew_point: Values
) -> Values:
    """Heat that a refrigerated dryer takes out of saturated compressed air, with the water that falls out.

    Q = rho_std q (h1 - h2 - (W1 - W2) c_w t2 + 1.6e-5 (p - p0) (T1 - T2))

    Parameters
    ----------
    standard_flow : float or array [m3/s]
        Standard flow (dry air at 1 bar, 20 degC).
    inlet_temperature : float or array [K]
        Temperature of the air at the inlet of the dryer, saturated there.
    pressure : float or array [Pa]
        Absolute pressure in the dryer.
    dew_point : float or array [K]
        Dew point to which the air is cooled, above freezing.

    Returns
    -------
    float or array [W]
        Heat flow; below zero where the inlet is colder than the dew point.

    Notes
    -----
    Saturated at the inlet: the safe side, as air compressed from a dry day is not. The reheating of the dried air by
    the incoming air, which all refrigerated dryers do, is left out on both the load and the rating. The last summand is
    the heat capacity of denser air; with it the load is within 0.2 percent of the real gas up to 12 bar.

    Examples
    --------
    >>> round(cooling_load(0.01, 310.93, 7.908e5, 276.48))
    559

    References
    ----------
    Energy balance with ASHRAE Handbook Fundamentals, chapter 1, enthalpy of moist air; enhancement factor: Greenspan
    """
    before = humidity_ratio(inlet_temperature, 1.0, pressure)
    after = humidity_ratio(dew_point, 1.0, pressure)
    water = (before - after) * WATER_HEAT_CAPACITY * (dew_point - FREEZING_POINT)
    denser = HEAT_CAPACITY_RISE * (pressure - SEA_LEVEL_PRESSURE) * (inlet_temperature - dew_point)
    drop = enthalpy(inlet_temperature, before) - enthalpy(dew_point, after) - water + denser
    return standard_flow * STANDARD_AIR_DENSITY * drop


@formula
def condensate_rate(
    standard_flow: Values, inlet_temperature: Values, pressure: Values, dew_point: Values
) -> Values:
    """Water that falls out when saturated compressed air is cooled to a dew point.

    m = rho_std q (W1 - W2)

    Parameters
    ----------
    standard_flow : float or array [m3/s]
        Standard flow (dry air at 1 bar, 20 degC).
    inlet_temperature : float or array [K]
        Temperature of the saturated air.
    pressure : float or array [Pa]
        Absolute pressure.
    dew_point : float or array [K]
        Dew point after cooling.

    Returns
    -------
    float or array [kg/s]
        Water; below zero where the inlet is colder than the dew point.

    Notes
    -----
    Saturated at the inlet, the safe side for drains. Ranges of `enhancement_factor`.

    Examples
    --------
    >>> round(condensate_rate(0.01, 310.93, 7.908e5, 276.48) * 3600, 3)
    0.201

    References
    ----------
    Mass balance with ASHRAE Handbook Fundamentals, chapter 1, humidity ratio; enhancement factor after Greenspan 1976
    """
    before = humidity_ratio(inlet_temperature, 1.0, pressure)
    return standard_flow * STANDARD_AIR_DENSITY * (before - humidity_ratio(dew_point, 1.0, pressure))
