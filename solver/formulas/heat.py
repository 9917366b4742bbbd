"""Heat: of flows, drums, hoses and heaters.

Contents: `flow_heat`, `warming_energy`, `mean_heat_capacity`; `hose_loss`; `heater_power`. Warming, coasting and losses
of bodies are in `body_heat`, and may be had from here too.
"""

from __future__ import annotations

from solver.formulas.body_heat import (
    air_change_heat,
    body_loss,
    coast_temperature,
    ventilation_heat,
    wall_loss,
    warm_up_power,
)
from solver.formulas.ranges import Values, positive
from solver.formulas.record import formula

__all__ = [
    "air_change_heat",
    "body_loss",
    "coast_temperature",
    "flow_heat",
    "heater_power",
    "hose_loss",
    "mean_heat_capacity",
    "ventilation_heat",
    "wall_loss",
    "warm_up_power",
    "warming_energy",
]


@formula
def flow_heat(mass_flow: Values, heat_capacity: Values, temperature_rise: Values) -> Values:
    """Heat that warms a flow.

    Q = m c dT

    Parameters
    ----------
    mass_flow : float or array [kg/s]
        Mass flow.
    heat_capacity : float or array [J/(kg K)]
        Heat capacity of the liquid.
    temperature_rise : float or array [K]
        Temperature rise.

    Returns
    -------
    float or array [W]
        Heat flow.

    Notes
    -----
    Heat capacity constant over the rise; the work of the pump, which warms the flow by a few kelvins, is neglected: the
    safe side for heaters.

    Examples
    --------
    >>> round(flow_heat(0.136, 1900.0, 33.0))
    8527

    References
    ----------
    Cengel, Heat and Mass Transfer, chapter 1, steady-flow energy balance; from memory
    """
    return mass_flow * heat_capacity * temperature_rise


@formula
def warming_energy(mass: Values, heat_capacity: Values, temperature_rise: Values) -> Values:
    """Energy that warms a mass.

    E = m c dT

    Parameters
    ----------
    mass : float or array [kg]
        Mass.
    heat_capacity : float or array [J/(kg K)]
        Heat capacity.
    temperature_rise : float or array [K]
        Temperature rise.

    Returns
    -------
    float or array [J]
        Energy.

    Notes
    -----
    The drum itself (steel, 20 kg: under 3 percent of its liquid) is neglected, the unsafe side.

    Examples
    --------
    >>> round(warming_energy(250.0, 1850.0, 30.6) / 3.6e6, 1)
    3.9

    References
    ----------
    Cengel, Heat and Mass Transfer, chapter 1, energy balance of a closed system; from memory
    """
    return mass * heat_capacity * temperature_rise


@formula
def mean_heat_capacity(
    mass_a: Values, heat_capacity_a: Values, mass_b: Values, heat_capacity_b: Values
) -> Values:
    """Heat capacity of two liquids together, weighted by mass.

    c = (m_a c_a + m_b c_b) / (m_a + m_b)

    Parameters
    ----------
    mass_a : float or array [kg]
        Mass of the isocyanate, or its density where equal volumes flow.
    heat_capacity_a : float or array [J/(kg K)]
        Heat capacity of the isocyanate.
    mass_b : float or array [kg]
        Mass of the resin, or its density where equal volumes flow.
    heat_capacity_b : float or array [J/(kg K)]
        Heat capacity of the resin.

    Returns
    -------
    float or array [J/(kg K)]
        Mean heat capacity.

    Notes
    -----
    The two sides are heated apart, so nothing reacts.

    Examples
    --------
    >>> round(mean_heat_capacity(1230.0, 1800.0, 1150.0, 2000.0))
    1897

    References
    ----------
    Definition (conservation of energy)
    """
    positive("mass", mass_a + mass_b, "kg")
    return (mass_a * heat_capacity_a + mass_b * heat_capacity_b) / (mass_a + mass_b)


@formula
def hose_loss(loss: Values, length: Values, temperature_difference: Values) -> Values:
    """Heat that a warm hose loses to the air.

    Q = k L dT

    Parameters
    ----------
    loss : float or array [W/(m K)]
        Loss of the whole bundle for each metre and kelvin.
    length : float or array [m]
        Length of the hose.
    temperature_difference : float or array [K]
        Hose over air.

    Returns
    -------
    float or array [W]
        Heat flow.

    Notes
    -----
    The figure of the maker or a measurement; wind, rain and snow raise it, sun lowers it.

    Examples
    --------
    >>> round(hose_loss(0.59, 64.0, 60.0))
    2266

    References
    ----------
    Cengel, Heat and Mass Transfer, chapter 3, thermal resistance; from memory
    """
    return loss * length * temperature_difference


@formula
def heater_power(rated_power: Values, rated_voltage: Values, voltage: Values) -> Values:
    """Power of a resistance heater at the voltage really supplied.

    P = P_rated (V / V_rated)^2

    Parameters
    ----------
    rated_power : float or array [W]
        Power at the rating voltage.
    rated_voltage : float or array [V]
        Rating voltage.
    voltage : float or array [V]
        Voltage supplied.

    Returns
    -------
    float or array [W]
        Power drawn, and heat given.

    Notes
    -----
    Resistance constant. Above its rating voltage a heater gives more than its rating, and is overloaded.

    Examples
    --------
    >>> round(heater_power(10000.0, 240.0, 208.0))
    7511

    References
    ----------
    Ohm's law
    """
    positive("rated voltage", rated_voltage, "V")
    return rated_power * (voltage / rated_voltage) ** 2
