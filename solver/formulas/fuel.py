"""Fuel: what a generating set burns, what it weighs, the heat in it.

Contents: `fuel_burn`, `fuel_mass`, `heat_value`; constants of diesel fuel.
"""

from __future__ import annotations

from solver.formulas.ranges import Values, not_negative, positive
from solver.formulas.record import formula
from solver.quantities import factor_of

_GALLON, _POUND, _BTU = factor_of("gal"), factor_of("lb"), factor_of("Btu")
DIESEL_HIGHER_HEATING_VALUE = 137381 * _BTU / _GALLON
"""Diesel fuel, higher heating value: US EIA heat content, 137,381 Btu/gal [J/m3]."""
DIESEL_LOWER_HEATING_VALUE = 128450 * _BTU / _GALLON
"""Diesel fuel, lower heating value: GREET, 128,450 Btu/gal [J/m3]."""
DIESEL_DENSITY_CONVENTIONAL = 6.98 * _POUND / _GALLON
"""Conventional diesel fuel: GREET, 6.98 lb/gal [kg/m3]."""
DIESEL_DENSITY = 7.07 * _POUND / _GALLON
"""Low-sulphur diesel fuel, the heavier: GREET, 7.07 lb/gal [kg/m3]."""


@formula
def fuel_burn(idle_burn: Values, burn_per_energy: Values, time: Values, energy: Values) -> Values:
    """Fuel that a generating set burns over a time.

    V = idle t + slope E

    Parameters
    ----------
    idle_burn : float or array [m3/s]
        Burn without load.
    burn_per_energy : float or array [m3/J]
        Further burn per energy delivered.
    time : float or array [s]
        Time that the set runs.
    energy : float or array [J]
        Energy delivered in that time.

    Returns
    -------
    float or array [m3]
        Fuel burnt.

    Notes
    -----
    A straight line over the load; real sets bend upwards a little near full load, which this neglects.

    Examples
    --------
    >>> round(fuel_burn(5e-7, 7.4e-11, 3600.0, 3.6e7) * 1000, 2)
    4.46

    References
    ----------
    Line of idle burn and burn per energy (Willans line); common practice, no source.
    """
    for name, value, unit in (
        ("idle_burn", idle_burn, "m3/s"),
        ("burn_per_energy", burn_per_energy, "m3/J"),
        ("time", time, "s"),
        ("energy", energy, "J"),
    ):
        not_negative(name, value, unit)
    return idle_burn * time + burn_per_energy * energy


@formula
def fuel_mass(fuel_volume: Values, fuel_density: Values) -> Values:
    """Mass of a volume of fuel.

    m = V rho

    Parameters
    ----------
    fuel_volume : float or array [m3]
        Volume of the fuel.
    fuel_density : float or array [kg/m3]
        Density of the fuel; `DIESEL_DENSITY` is low-sulphur diesel.

    Returns
    -------
    float or array [kg]
        Mass.

    Notes
    -----
    Density at about 60 degF. Low-sulphur diesel is the heavier of the two published figures: the safe side.

    Examples
    --------
    >>> round(fuel_mass(0.1, DIESEL_DENSITY), 1)
    84.7

    References
    ----------
    Definition of density; density of diesel fuel: GREET.
    """
    not_negative("fuel_volume", fuel_volume, "m3")
    positive("fuel_density", fuel_density, "kg/m3")
    return fuel_volume * fuel_density


@formula
def heat_value(fuel_volume: Values, heating_value: Values) -> Values:
    """Heat in a volume of fuel.

    Q = V H

    Parameters
    ----------
    fuel_volume : float or array [m3]
        Volume of the fuel.
    heating_value : float or array [J/m3]
        Heating value per volume; `DIESEL_LOWER_HEATING_VALUE` leaves the water as vapour.

    Returns
    -------
    float or array [J]
        Heat set free.

    Notes
    -----
    The lower value is the one that a heater or engine can use: the safe side.

    Examples
    --------
    >>> round(heat_value(0.001, DIESEL_LOWER_HEATING_VALUE) / 1e6, 1)
    35.8

    References
    ----------
    Definition of heating value; diesel fuel: US EIA heat content (higher), GREET (lower).
    """
    not_negative("fuel_volume", fuel_volume, "m3")
    positive("heating_value", heating_value, "J/m3")
    return fuel_volume * heating_value
