"""Other published methods for an engine at altitude and in the heat, each under its own name.

Contents: `Aspiration`; `handbook_altitude_factor`, `handbook_temperature_factor`, `handbook_power` (tables of a
handbook); `iso_3046_factor` (ISO 3046-1).

Published altitude rules disagree: a naturally aspirated engine at 10,000 ft keeps 0.62 to 0.715 of its power. So each
source is a method of its own; none calls another, and a result always says by its name which one it is.
"""

from __future__ import annotations

from enum import StrEnum

import numpy as np

from solver.formulas.ranges import Values, not_negative, within
from solver.formulas.record import formula
from solver.quantities import from_unit

_HANDBOOK_ALTITUDES = from_unit(np.array([1500.0, 7000.0, 8000.0, 9000.0, 10000.0, 12000.0]), "ft")
_HANDBOOK_NATURAL = np.array([1.0, 0.780, 0.745, 0.712, 0.680, 0.612])
_HANDBOOK_SUPERCHARGED = np.array([1.0, 0.820, 0.790, 0.765, 0.740, 0.685])
_HANDBOOK_TEMPERATURES = from_unit(np.array([90.0, 95.0, 100.0, 105.0, 110.0, 115.0, 120.0, 125.0, 130.0]), "degF")
_HANDBOOK_HEAT = np.array([1.0, 0.986, 0.974, 0.962, 0.950, 0.937, 0.925, 0.913, 0.900])

ISO_3046_PRESSURE = 100e3
"""Reference pressure of ISO 3046-1 (from memory) [Pa]."""
ISO_3046_TEMPERATURE = 298.0
"""Reference air temperature of ISO 3046-1 (from memory) [K]."""


class Aspiration(StrEnum):
    """How an engine gets its air."""

    NATURAL = "natural"
    TURBOCHARGED = "turbocharged"
    CHARGE_COOLED = "turbocharged-charge-cooled"


_ISO_3046_EXPONENTS = {
    Aspiration.NATURAL: (1.0, 0.75),
    Aspiration.TURBOCHARGED: (0.7, 2.0),
    Aspiration.CHARGE_COOLED: (0.7, 1.2),
}


@formula
def handbook_altitude_factor(altitude: Values, aspiration: Aspiration) -> Values:
    """Share of the rated power left at altitude, by the handbook's table.

    factor = table(z), straight between rows; 1 up to 1,500 ft

    Parameters
    ----------
    altitude : float or array [m]
        Height of the site.
    aspiration : text [-]
        `natural` or `turbocharged`; charge cooling is not told apart.

    Returns
    -------
    float or array [-]
        Share of the rated power.

    Notes
    -----
    -500 m to 12,000 ft. Only 10,000 ft is confirmed by the printed results (0.68; 0.74 supercharged); the other rows
    are from memory.

    Examples
    --------
    >>> round(handbook_altitude_factor(3048.0, Aspiration.NATURAL), 2)
    0.68

    References
    ----------
    Handbook of Energy Engineering Calculations, pp. 201-202: reconstructed from the printed results; other rows from
        memory.
    """
    within("altitude", altitude, "m", -500.0, float(_HANDBOOK_ALTITUDES[-1]))
    shares = _HANDBOOK_NATURAL if Aspiration(aspiration) is Aspiration.NATURAL else _HANDBOOK_SUPERCHARGED
    return np.asarray(np.interp(altitude, _HANDBOOK_ALTITUDES, shares))


@formula
def handbook_temperature_factor(air_temperature: Values) -> Values:
    """Share of the rated power left in warm air, by the handbook's table.

    factor = table(T), straight between rows; 1 up to 90 degF

    Parameters
    ----------
    air_temperature : float or array [K]
        Air that the engine draws.

    Returns
    -------
    float or array [-]
        Share of the rated power.

    Notes
    -----
    -60 degC to 130 degF. Only 110 degF is confirmed by the printed results (0.95); the other rows are from memory.

    Examples
    --------
    >>> round(handbook_temperature_factor((110 + 459.67) / 1.8), 2)
    0.95

    References
    ----------
    Handbook of Energy Engineering Calculations, pp. 201-202: reconstructed from the printed results; other rows from
        memory.
    """
    within("air_temperature", air_temperature, "K", 213.15, float(_HANDBOOK_TEMPERATURES[-1]))
    return np.asarray(np.interp(air_temperature, _HANDBOOK_TEMPERATURES, _HANDBOOK_HEAT))


@formula
def handbook_power(rated_power: Values, altitude: Values, air_temperature: Values, aspiration: Aspiration) -> Values:
    """Power of a diesel engine at altitude and in warm air, by the handbook's tables.

    P = P_rated f_altitude f_temperature

    Parameters
    ----------
    rated_power : float or array [W]
        Rating at sea level.
    altitude : float or array [m]
        Height of the site.
    air_temperature : float or array [K]
        Air that the engine draws.
    aspiration : text [-]
        `natural` or `turbocharged`; charge cooling is not told apart.

    Returns
    -------
    float or array [W]
        Power at the site.

    Notes
    -----
    Up to 12,000 ft and 130 degF. A reconstruction: it gives the printed 544 hp and 516.8 hp where 516 is printed, so
    the handbook seems to cut off the decimals.

    Examples
    --------
    >>> round(handbook_power(800.0, 3048.0, 300.0, Aspiration.NATURAL))
    544

    References
    ----------
    Handbook of Energy Engineering Calculations, pp. 201-202: reconstructed from the printed results; other rows from
        memory.
    """
    not_negative("rated_power", rated_power, "W")
    share = handbook_altitude_factor(altitude, aspiration)
    return rated_power * share * handbook_temperature_factor(air_temperature)


@formula
def iso_3046_factor(
    air_pressure: Values, air_temperature: Values, aspiration: Aspiration, mechanical_efficiency: Values
) -> Values:
    """Share of the rated power that an engine gives in other air, by ISO 3046-1.

    alpha = k - 0.7 (1 - k) (1/eta - 1), k = (p/p_ref)^m (T_ref/T)^n

    Parameters
    ----------
    air_pressure : float or array [Pa]
        Pressure of the atmosphere at the site.
    air_temperature : float or array [K]
        Air that the engine draws.
    aspiration : text [-]
        `natural`, `turbocharged` or `turbocharged-charge-cooled`.
    mechanical_efficiency : float or array [-]
        Mechanical efficiency of the engine, usually 0.8.

    Returns
    -------
    float or array [-]
        Share of the rated power; above 1 in cold dense air.

    Notes
    -----
    From memory, exponents and reference included (100 kPa, 298 K). Humidity is neglected, and with charge cooling the
    temperature of the coolant. Bring it down to 1 with `without_credit` and multiply the rating by it; `engine_power`
    belongs to the item's own losses.

    Examples
    --------
    >>> round(iso_3046_factor(69682.0, 298.0, Aspiration.TURBOCHARGED, 0.8), 3)
    0.737

    References
    ----------
    ISO 3046-1, from memory.
    """
    within("air_pressure", air_pressure, "Pa", 40e3, 110e3)
    within("air_temperature", air_temperature, "K", 213.15, 343.15)
    within("mechanical_efficiency", mechanical_efficiency, "-", 0.5, 1.0)
    m, n = _ISO_3046_EXPONENTS[Aspiration(aspiration)]
    k = (air_pressure / ISO_3046_PRESSURE) ** m * (ISO_3046_TEMPERATURE / air_temperature) ** n
    return k - 0.7 * (1.0 - k) * (1.0 / mechanical_efficiency - 1.0)
