"""Saturation of water vapour: pressure over ice and water, effect of the air beside it, dew points at any pressure.

Contents: `saturation_pressure`, `enhancement_factor`, `vapour_density`, `dew_point`, `dew_point_at_pressure`.
Pressures are absolute.
"""

from __future__ import annotations

import math

import numpy as np
from numpy.typing import NDArray

from solver.formulas.ranges import Values, within
from solver.formulas.record import formula
from solver.formulas.standard_air import FREEZING_POINT, GAS_CONSTANT_WATER, TRIPLE_POINT

_ICE = (-5.6745359e3, 6.3925247, -9.6778430e-3, 6.2215701e-7, 2.0747825e-9, -9.4840240e-13, 4.1635019)
_WATER = (-5.8002206e3, 1.3914993, -4.8640239e-2, 4.1764768e-5, -1.4452093e-8, 0.0, 6.5459673)
"""Coefficients of 1/T, 1, T, T^2, T^3, T^4 and ln T (Hyland and Wexler)."""

_ALPHA_ICE = (3.64449e-4, 2.93631e-5, 4.88635e-7, 4.36543e-9)
_BETA_ICE = (-1.07271e1, 7.61989e-2, -1.74771e-4, 2.46721e-6)
_ALPHA_WATER = (3.53624e-4, 2.93228e-5, 2.61474e-7, 8.57538e-9)
_BETA_WATER = (-1.07588e1, 6.32529e-2, -2.53591e-4, 6.33784e-7)
"""Coefficients of 1, t, t^2, t^3 in degC (Greenspan)."""


def _log_pressure(c: tuple[float, ...], t: Values) -> Values:
    """Logarithm of the saturation pressure [Pa] by one of the two sets of coefficients."""
    polynomial = c[0] / t + c[1] + t * (c[2] + t * (c[3] + t * (c[4] + t * c[5])))
    return polynomial + c[6] * (np.log(t) if isinstance(t, np.ndarray) else math.log(t))


def _log_slope(c: tuple[float, ...], t: Values) -> Values:
    """Derivative of `_log_pressure` by the temperature [1/K]."""
    return -c[0] / t**2 + c[2] + t * (2.0 * c[3] + t * (3.0 * c[4] + t * 4.0 * c[5])) + c[6] / t


@formula
def saturation_pressure(temperature: Values) -> Values:
    """Saturation pressure of water vapour: over ice below the triple point, over water above it.

    ln p = C1/T + C2 + C3 T + C4 T^2 + C5 T^3 + C6 T^4 + C7 ln T

    Parameters
    ----------
    temperature : float or array [K]
        Temperature of the ice or water.

    Returns
    -------
    float or array [Pa]
        Pressure of the pure vapour.

    Notes
    -----
    From -100 degC to 200 degC, within 0.1 percent over water. Beside air it is a little higher: `enhancement_factor`.

    Examples
    --------
    >>> round(saturation_pressure(293.15), 1)
    2338.8

    References
    ----------
    Hyland and Wexler 1983, as in ASHRAE Handbook Fundamentals, chapter 1, equations 5 and 6; coefficients from memory
    """
    within("temperature", temperature, "K", 173.15, 473.15)
    if not isinstance(temperature, np.ndarray):
        return math.exp(_log_pressure(_ICE if temperature < TRIPLE_POINT else _WATER, temperature))
    frozen = temperature < TRIPLE_POINT
    return np.exp(np.where(frozen, _log_pressure(_ICE, temperature), _log_pressure(_WATER, temperature)))


@formula
def enhancement_factor(temperature: Values, pressure: Values) -> Values:
    """Factor by which the vapour pressure of saturated air is above that of the pure vapour.

    f = exp(alpha (1 - e/p) + beta (p/e - 1)), alpha and ln beta polynomials in degC

    Parameters
    ----------
    temperature : float or array [K]
        Temperature of the saturated air.
    pressure : float or array [Pa]
        Absolute pressure, above that of the vapour.

    Returns
    -------
    float or array [-]
        Factor, from 1.

    Notes
    -----
    From -100 degC to 100 degC and up to 2 MPa. At 8 bar about 1.028 near freezing; without it compressed air would seem
    drier than it is. Against real-gas tables within 0.2 percent up to 15 bar above freezing, 0.5 percent down to -40
    degC, on the low side.

    Examples
    --------
    >>> round(enhancement_factor(276.48, 8.0e5), 4)
    1.0278

    References
    ----------
    Greenspan, Journal of Research of the National Bureau of Standards 80A (1976), p. 41; coefficients from memory
    """
    within("temperature", temperature, "K", 173.15, 373.15)
    within("pressure", pressure, "Pa", 0.0, 2.0e6)
    ratio = saturation_pressure(temperature) / pressure
    within("vapour pressure over pressure", ratio, "-", 0.0, 1.0)
    celsius = temperature - FREEZING_POINT
    frozen = temperature < TRIPLE_POINT
    alpha: Values = _either(frozen, _ALPHA_ICE, _ALPHA_WATER, celsius)
    beta = np.exp(_either(frozen, _BETA_ICE, _BETA_WATER, celsius))
    return np.exp(alpha * (1.0 - ratio) + beta * (1.0 / ratio - 1.0))


def _either(
    frozen: bool | NDArray[np.bool_], ice: tuple[float, ...], water: tuple[float, ...], celsius: Values
) -> Values:
    """A cubic in degC with the coefficients for ice where frozen, for water elsewhere."""
    a, b = (c[0] + celsius * (c[1] + celsius * (c[2] + celsius * c[3])) for c in (ice, water))
    found: NDArray[np.float64] = np.where(frozen, a, b)
    return found


@formula
def vapour_density(temperature: Values) -> Values:
    """Mass of vapour in a volume saturated with it, over ice or water.

    rho = p_s / (R_w T)

    Parameters
    ----------
    temperature : float or array [K]
        Temperature.

    Returns
    -------
    float or array [kg/m3]
        Density of the saturated vapour.

    Notes
    -----
    Pure vapour as an ideal gas: beside air at one atmosphere there is about 0.4 percent more.

    Examples
    --------
    >>> round(vapour_density(293.15) * 1000, 2)
    17.29

    References
    ----------
    CRC Handbook of Chemistry and Physics, 62nd edition, mass of water vapour in saturated air (0.3 percent above)
    """
    return saturation_pressure(temperature) / (GAS_CONSTANT_WATER * temperature)


@formula
def dew_point(vapour_pressure: Values) -> Values:
    """Temperature at which a vapour pressure saturates, over ice below the triple point.

    p_s(T) = p, solved for T by Newton's method in ln p

    Parameters
    ----------
    vapour_pressure : float or array [Pa]
        Pressure of the vapour.

    Returns
    -------
    float or array [K]
        Dew point, or frost point below 0.01 degC.

    Notes
    -----
    From -100 degC to 200 degC; the inverse of `saturation_pressure` to better than 1e-6 K.

    Examples
    --------
    >>> round(dew_point(2338.8), 2)
    293.15

    References
    ----------
    Hyland and Wexler 1983, as in ASHRAE Handbook Fundamentals, chapter 1, equations 5 and 6, solved for the temperature
    """
    within("vapour pressure", vapour_pressure, "Pa", _LEAST_VAPOUR_PRESSURE, _LARGEST_VAPOUR_PRESSURE)
    wanted = np.log(vapour_pressure)
    if not isinstance(vapour_pressure, np.ndarray):
        return _solved(_ICE if vapour_pressure < _TRIPLE_PRESSURE else _WATER, float(wanted))
    return np.where(vapour_pressure < _TRIPLE_PRESSURE, _solved(_ICE, wanted), _solved(_WATER, wanted))


def _solved(c: tuple[float, ...], wanted: Values) -> Values:
    """Temperature [K] at which `_log_pressure` is as wanted: Newton's method in 1/T, where it is nearly straight."""
    inverse = 1.0 / TRIPLE_POINT - (wanted - math.log(_TRIPLE_PRESSURE)) / _CLAPEYRON
    for _ in range(_NEWTON_STEPS):
        t = 1.0 / inverse
        inverse = inverse + (_log_pressure(c, t) - wanted) / (_log_slope(c, t) * t**2)
    return 1.0 / inverse


_TRIPLE_PRESSURE = math.exp(_log_pressure(_WATER, TRIPLE_POINT))
_LEAST_VAPOUR_PRESSURE = math.exp(_log_pressure(_ICE, 173.15))
_LARGEST_VAPOUR_PRESSURE = math.exp(_log_pressure(_WATER, 473.15))
_CLAPEYRON = 5500.0
"""First guess of -d(ln p)/d(1/T) [K]."""
_NEWTON_STEPS = 3


@formula
def dew_point_at_pressure(dew_point: Values, pressure: Values, other_pressure: Values) -> Values:
    """Dew point of the same air when it is expanded or compressed to another pressure.

    f(T2, p2) e(T2) / p2 = f(T1, p1) e(T1) / p1

    Parameters
    ----------
    dew_point : float or array [K]
        Dew point at the first pressure.
    pressure : float or array [Pa]
        First absolute pressure.
    other_pressure : float or array [Pa]
        Second absolute pressure.

    Returns
    -------
    float or array [K]
        Dew point at the second pressure.

    Notes
    -----
    No water is lost on the way. Ranges of `enhancement_factor`, for both dew points.

    Examples
    --------
    >>> round(dew_point_at_pressure(276.48, 8.0e5, 101325.0) - 273.15, 1)
    -20.3

    References
    ----------
    Dalton's law with the enhancement factor of Greenspan 1976 at both pressures
    """
    share = enhancement_factor(dew_point, pressure) * saturation_pressure(dew_point) / pressure
    vapour = share * other_pressure
    found = _dew_point(vapour)
    for _ in range(_FACTOR_STEPS):
        found = _dew_point(vapour / enhancement_factor(found, other_pressure))
    return found


_dew_point = dew_point
"""`dew_point` under a name that no parameter hides."""
_FACTOR_STEPS = 5
"""Repeated substitutions of the factor; each leaves under a tenth of the error."""
