"""What an engine gives at altitude and in the heat by its own losses, percent per 1,000 ft and per degree.

Contents: `altitude_factor`, `temperature_factor`, `without_credit`, `engine_power`. Handed on from their own files: the
other published methods (`engine_methods.py`) and fuel (`fuel.py`).

Published altitude rules disagree; see `engine_methods.py`. No rule passes through the function of another.
"""

from __future__ import annotations

import numpy as np

from solver.formulas.engine_methods import (
    Aspiration,
    handbook_altitude_factor,
    handbook_power,
    handbook_temperature_factor,
    iso_3046_factor,
)
from solver.formulas.fuel import (
    DIESEL_DENSITY,
    DIESEL_DENSITY_CONVENTIONAL,
    DIESEL_HIGHER_HEATING_VALUE,
    DIESEL_LOWER_HEATING_VALUE,
    fuel_burn,
    fuel_mass,
    heat_value,
)
from solver.formulas.ranges import Values, not_negative, within
from solver.formulas.record import formula

__all__ = [
    "DIESEL_DENSITY",
    "DIESEL_DENSITY_CONVENTIONAL",
    "DIESEL_HIGHER_HEATING_VALUE",
    "DIESEL_LOWER_HEATING_VALUE",
    "Aspiration",
    "altitude_factor",
    "engine_power",
    "fuel_burn",
    "fuel_mass",
    "handbook_altitude_factor",
    "handbook_power",
    "handbook_temperature_factor",
    "heat_value",
    "iso_3046_factor",
    "temperature_factor",
    "without_credit",
]


@formula
def without_credit(factor: Values) -> Values:
    """Derating factor with no credit for air colder or denser than the rating asks for.

    factor = min(factor, 1)

    Parameters
    ----------
    factor : float or array [-]
        Share of the rated power that the air alone would allow.

    Returns
    -------
    float or array [-]
        The share, at most 1.

    Notes
    -----
    The named rule "credit for cold dense air is capped at 1.0": the rating plate is also a limit of the shaft, the
    cooling and the fuel pump. The safe side.

    Examples
    --------
    >>> without_credit(1.08)
    1.0

    References
    ----------
    Common practice, no source.
    """
    not_negative("factor", factor, "-")
    return np.minimum(factor, 1.0)


@formula
def altitude_factor(altitude: Values, altitude_free: Values, altitude_loss: Values) -> Values:
    """Share of the rated power left at altitude, by an item's own loss per height.

    factor = 1 - loss (z - z_free), at most 1

    Parameters
    ----------
    altitude : float or array [m]
        Height of the site.
    altitude_free : float or array [m]
        Height up to which nothing is lost.
    altitude_loss : float or array [1/m]
        Share lost per height above that (3 percent per 1,000 ft is usual without a turbocharger).

    Returns
    -------
    float or array [-]
        Share of the rated power.

    Notes
    -----
    -500 to 6,000 m; a loss that leaves nothing is refused. No credit below the free height (`without_credit`).

    Examples
    --------
    >>> round(altitude_factor(3048.0, 152.4, 0.03 / 304.8), 3)
    0.715

    References
    ----------
    The item's data sheet; 3 percent per 1,000 ft above 500 ft, naturally aspirated: agricultural engineering text.
    """
    within("altitude", altitude, "m", -500.0, 6000.0)
    not_negative("altitude_loss", altitude_loss, "1/m")
    return without_credit(1.0 - altitude_loss * (altitude - altitude_free))


@formula
def temperature_factor(air_temperature: Values, temperature_free: Values, temperature_loss: Values) -> Values:
    """Share of the rated power left in warm air, by an item's own loss per degree.

    factor = 1 - loss (T - T_free), at most 1

    Parameters
    ----------
    air_temperature : float or array [K]
        Air that the engine or alternator draws.
    temperature_free : float or array [K]
        Temperature up to which nothing is lost.
    temperature_loss : float or array [1/K]
        Share lost per degree above that.

    Returns
    -------
    float or array [-]
        Share of the rated power.

    Notes
    -----
    -60 to 70 degC; a loss that leaves nothing is refused. No credit for cold air (`without_credit`).

    Examples
    --------
    >>> round(temperature_factor((105 + 459.67) / 1.8, (85 + 459.67) / 1.8, 0.01 * 1.8 / 5), 3)
    0.96

    References
    ----------
    The item's data sheet; 1 percent per 5 degF above 85 degF, diesel: agricultural engineering text.
    """
    within("air_temperature", air_temperature, "K", 213.15, 343.15)
    not_negative("temperature_loss", temperature_loss, "1/K")
    return without_credit(1.0 - temperature_loss * (air_temperature - temperature_free))


@formula
def engine_power(rated_power: Values, altitude_factor: Values, temperature_factor: Values) -> Values:
    """Power that an engine or alternator gives at the site, by its own two losses.

    P = P_rated f_altitude f_temperature

    Parameters
    ----------
    rated_power : float or array [W]
        Rating on the plate.
    altitude_factor : float or array [-]
        Share left at altitude.
    temperature_factor : float or array [-]
        Share left in warm air.

    Returns
    -------
    float or array [W]
        Power at the site, never above the rating.

    Notes
    -----
    Factors 0 to 1: a factor above 1 is refused, `without_credit` brings it down. The two losses are taken as
    independent. The humidity of the air is neglected, 1 to 3 percent at worst: the unsafe side in hot damp air.

    Examples
    --------
    >>> round(engine_power(40e3, 0.715, 0.96))
    27456

    References
    ----------
    Product of the two losses as data sheets state them; common practice, no source.
    """
    not_negative("rated_power", rated_power, "W")
    within("altitude_factor", altitude_factor, "-", 0.0, 1.0)
    within("temperature_factor", temperature_factor, "-", 0.0, 1.0)
    return rated_power * altitude_factor * temperature_factor
