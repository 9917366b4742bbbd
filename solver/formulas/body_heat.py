"""Heat of bodies: the vehicle's body with what is in it, or a hose as one lump. Warming, coasting, losses, air.

Contents: `warm_up_power`, `coast_temperature`; `body_loss`, `wall_loss`, `air_change_heat`, `ventilation_heat`.
"""

from __future__ import annotations

import numpy as np

from solver.formulas.ranges import Values, not_negative, positive
from solver.formulas.record import formula
from solver.formulas.standard_air import AIR_HEAT_CAPACITY


@formula
def warm_up_power(
    conductance: Values,
    thermal_mass: Values,
    time: Values,
    target_temperature: Values,
    air_temperature: Values,
    start_temperature: Values,
) -> Values:
    """Heat that brings a losing body to a temperature in a given time.

    P = K ((T - T_air) - e (T_0 - T_air)) / (1 - e),  e = exp(-K t / C)

    Parameters
    ----------
    conductance : float or array [W/K]
        Loss to the air for each kelvin.
    thermal_mass : float or array [J/K]
        Heat capacity of the whole body.
    time : float or array [s]
        Time allowed.
    target_temperature : float or array [K]
        Temperature to be reached.
    air_temperature : float or array [K]
        Temperature of the air around.
    start_temperature : float or array [K]
        Temperature at the start.

    Returns
    -------
    float or array [W]
        Constant heat flow; below zero where the body is still warmer than that without any.

    Notes
    -----
    One temperature throughout the body, constant loss and heat. A cold spot at the far end is the unsafe side.

    Examples
    --------
    >>> round(warm_up_power(38.0, 60000.0, 1800.0, 322.0, 261.0, 261.0))
    3408

    References
    ----------
    Cengel, Heat and Mass Transfer, chapter 4, lumped system with heat generation; from memory
    """
    positive("conductance", conductance, "W/K")
    positive("thermal mass", thermal_mass, "J/K")
    positive("time", time, "s")
    exponent = -conductance * time / thermal_mass
    kept = np.exp(exponent)
    rise = (target_temperature - air_temperature) - kept * (start_temperature - air_temperature)
    return conductance * rise / -np.expm1(exponent)


@formula
def coast_temperature(
    air_temperature: Values, start_temperature: Values, conductance: Values, thermal_mass: Values, time: Values
) -> Values:
    """Temperature of an unheated body after a time.

    T = T_air + (T_0 - T_air) exp(-K t / C)

    Parameters
    ----------
    air_temperature : float or array [K]
        Temperature of the air around.
    start_temperature : float or array [K]
        Temperature at the start.
    conductance : float or array [W/K]
        Loss to the air for each kelvin.
    thermal_mass : float or array [J/K]
        Heat capacity of the body with what is in it.
    time : float or array [s]
        Time.

    Returns
    -------
    float or array [K]
        Temperature then.

    Notes
    -----
    One temperature throughout; the skin of a drum and the air in the body run ahead of it. The air around stays as it
    is: take the coldest of the night, the safe side in the cold.

    Examples
    --------
    >>> round(coast_temperature(261.0, 291.0, 45.0, 1.2e6, 14 * 3600.0), 1)
    265.5

    References
    ----------
    Cengel, Heat and Mass Transfer, chapter 4, lumped systems; from memory
    """
    not_negative("conductance", conductance, "W/K")
    positive("thermal mass", thermal_mass, "J/K")
    not_negative("time", time, "s")
    return air_temperature + (start_temperature - air_temperature) * np.exp(-conductance * time / thermal_mass)


@formula
def body_loss(conductance: Values, inside_temperature: Values, air_temperature: Values) -> Values:
    """Heat that goes through the walls of a body.

    Q = K (T_in - T_air)

    Parameters
    ----------
    conductance : float or array [W/K]
        Loss of walls, roof, floor and doors for each kelvin.
    inside_temperature : float or array [K]
        Temperature inside.
    air_temperature : float or array [K]
        Temperature of the air around.

    Returns
    -------
    float or array [W]
        Heat flow outwards; below zero inwards.

    Notes
    -----
    Without air change and sun; sun on a roof adds heat, the unsafe side in summer.

    Examples
    --------
    >>> round(body_loss(45.0, 289.0, 261.0))
    1260

    References
    ----------
    Cengel, Heat and Mass Transfer, chapter 3, overall conductance; from memory
    """
    return conductance * (inside_temperature - air_temperature)


@formula
def wall_loss(area: Values, temperature_difference: Values, resistance: Values) -> Values:
    """Heat through a wall of one or several layers.

    q = A dT / sum(R)

    Parameters
    ----------
    area : float or array [m2]
        Area of the wall.
    temperature_difference : float or array [K]
        From one side to the other.
    resistance : float or array [m2 K/W]
        Thermal resistance of all layers, with the films of air where the difference is one of air temperatures.

    Returns
    -------
    float or array [W]
        Heat flow.

    Notes
    -----
    Steady, one-dimensional; ribs and frames carry more, the unsafe side.

    Examples
    --------
    >>> round(wall_loss(15.0, 14.0, 0.3 / 0.9))
    630

    References
    ----------
    Cengel, Heat and Mass Transfer, Example 3.1
    """
    positive("resistance", resistance, "m2 K/W")
    return area * temperature_difference / resistance


@formula
def air_change_heat(volume: Values, air_changes: Values, air_density: Values, temperature_difference: Values) -> Values:
    """Heat that leaves a body with the air that leaks through it.

    Q = n V rho c dT

    Parameters
    ----------
    volume : float or array [m3]
        Volume inside.
    air_changes : float or array [1/s]
        How often the air is changed.
    air_density : float or array [kg/m3]
        Density of the air.
    temperature_difference : float or array [K]
        Inside over outside.

    Returns
    -------
    float or array [W]
        Heat flow.

    Notes
    -----
    Sensible heat alone, dry air at 1006 J/(kg K).

    Examples
    --------
    >>> round(air_change_heat(30.0, 1.5 / 3600.0, 1.2, 28.0))
    423

    References
    ----------
    HVAC texts, sensible heat of air 1.08 cfm dT(degF), scaled by the density
    """
    return volume * air_changes * air_density * AIR_HEAT_CAPACITY * temperature_difference


@formula
def ventilation_heat(flow: Values, air_density: Values, temperature_difference: Values) -> Values:
    """Heat that a fan carries out of a body.

    Q = q rho c dT

    Parameters
    ----------
    flow : float or array [m3/s]
        Volume flow of the fan.
    air_density : float or array [kg/m3]
        Density of the air.
    temperature_difference : float or array [K]
        Inside over outside.

    Returns
    -------
    float or array [W]
        Heat flow.

    Notes
    -----
    Sensible heat alone, dry air at 1006 J/(kg K). A fan moves volume: at altitude it carries less.

    Examples
    --------
    >>> round(ventilation_heat(0.0787, 1.2014, 11.11))
    1057

    References
    ----------
    HVAC texts, sensible heat of air 1.08 cfm dT(degF), scaled by the density
    """
    return flow * air_density * AIR_HEAT_CAPACITY * temperature_difference
