"""Conductors: how thick a wire, and how many volts are lost.

Contents: `conductor_area`, `conductor_ampacity`, `ambient_correction`, `count_adjustment`, `conductor_size`,
`voltage_drop`.

The code leaves most wiring of vehicles out: read these as practice, and the authority having jurisdiction decides.
"""

from __future__ import annotations

import numpy as np

from solver.errors import InternalError, OutsideRange
from solver.formulas.electricity_tables import (
    AMBIENT_BANDS,
    AMBIENT_CORRECTIONS,
    AMPACITIES,
    CIRCULAR_MIL,
    CONDUCTOR_AREAS,
    COPPER_RESISTIVITY,
    COUNT_ADJUSTMENT_BEYOND,
    COUNT_ADJUSTMENTS,
)
from solver.formulas.ranges import Values, not_negative, positive, within
from solver.formulas.record import formula

_SAME = 1e-9
"""Relative difference below which a current is taken to be a printed rating: conversion noise."""
_SIZES = tuple(CONDUCTOR_AREAS)


@formula
def conductor_area(size: str) -> float:
    """Area of the copper of a conductor.

    area = table(size)

    Parameters
    ----------
    size : text [-]
        American wire gauge, 14 to 1 and 1/0 to 4/0.

    Returns
    -------
    float [m2]
        Area of the copper.

    Notes
    -----
    Sizes 14 to 4/0.

    Examples
    --------
    >>> round(conductor_area("12") * 1e6, 2)
    3.31

    References
    ----------
    NFPA 70 (NEC), 2023, Chapter 9, Table 8.
    """
    return CONDUCTOR_AREAS[_SIZES[_size_index(size)]] * CIRCULAR_MIL


@formula
def conductor_ampacity(size: str, insulation_temperature: float) -> float:
    """Current that a copper conductor may carry.

    I = table(size, temperature of the insulation)

    Parameters
    ----------
    size : text [-]
        American wire gauge, 14 to 1 and 1/0 to 4/0.
    insulation_temperature : float [K]
        Rated temperature of insulation and terminals: 60, 75 or 90 degC.

    Returns
    -------
    float [A]
        Ampacity.

    Notes
    -----
    30 degC ambient and at most three loaded conductors together; else times `ambient_correction` and
    `count_adjustment`. The 60 degC column equals the breakers that 240.4(D) allows on 14, 12 and 10.

    Examples
    --------
    >>> conductor_ampacity("10", 333.15)
    30.0

    References
    ----------
    NFPA 70 (NEC), 2023, Table 310.16.
    """
    return float(AMPACITIES[_insulation(insulation_temperature)][_size_index(size)])


@formula
def ambient_correction(ambient_temperature: Values, insulation_temperature: float) -> Values:
    """Share of a conductor's ampacity that is left at another ambient temperature.

    share = table(band, temperature of the insulation)

    Parameters
    ----------
    ambient_temperature : float or array [K]
        Air around the conductor.
    insulation_temperature : float [K]
        Rated temperature of insulation and terminals: 60, 75 or 90 degC.

    Returns
    -------
    float or array [-]
        Share of the ampacity at 30 degC; above 1 in the cold.

    Notes
    -----
    Up to 55 degC for 60 degC insulation, else 60 degC. A temperature between two bands takes the hotter one: the safe
    side.

    Examples
    --------
    >>> ambient_correction(313.15, 348.15)
    0.88

    References
    ----------
    NFPA 70 (NEC), 2023, Table 310.15(B)(1)(1).
    """
    shares = np.array(AMBIENT_CORRECTIONS[_insulation(insulation_temperature)])
    tops = np.array(AMBIENT_BANDS[: len(shares)]) + 273.15
    within("ambient_temperature", ambient_temperature, "K", 200.0, float(tops[-1]) * (1.0 + _SAME))
    band = np.searchsorted(tops * (1.0 + _SAME), ambient_temperature)
    return np.asarray(shares[band])


@formula
def count_adjustment(conductor_count: Values) -> Values:
    """Share of a conductor's ampacity that is left where many run together.

    share = table(count)

    Parameters
    ----------
    conductor_count : float or array [-]
        Loaded conductors in one raceway or cable.

    Returns
    -------
    float or array [-]
        Share of the ampacity.

    Notes
    -----
    1 up to three conductors. Conductors that are never loaded together need not be counted.

    Examples
    --------
    >>> count_adjustment(7.0)
    0.7

    References
    ----------
    NFPA 70 (NEC), 2023, Table 310.15(C)(1).
    """
    within("conductor_count", conductor_count, "-", 1.0, 10000.0)
    tops, shares = zip(*COUNT_ADJUSTMENTS, strict=True)
    band = np.searchsorted(np.array(tops, float), conductor_count)
    return np.asarray(np.array([*shares, COUNT_ADJUSTMENT_BEYOND])[band])


@formula
def conductor_size(current: float, insulation_temperature: float) -> str:
    """Smallest copper conductor whose ampacity reaches a current.

    size = first of the table with ampacity >= I

    Parameters
    ----------
    current : float [A]
        Current to be carried, with the code's factors in it.
    insulation_temperature : float [K]
        Rated temperature of insulation and terminals: 60, 75 or 90 degC.

    Returns
    -------
    text [-]
        American wire gauge.

    Notes
    -----
    30 degC ambient and at most three loaded conductors. Voltage drop may ask for more.

    Examples
    --------
    >>> conductor_size(27.5, 333.15)
    '10'

    References
    ----------
    NFPA 70 (NEC), 2023, Table 310.16.
    """
    ampacities = AMPACITIES[_insulation(insulation_temperature)]
    within("current", current, "A", 0.0, ampacities[-1] * (1.0 + _SAME))
    return next(size for size, most in zip(_SIZES, ampacities, strict=True) if current <= most * (1.0 + _SAME))


@formula
def voltage_drop(current: Values, length: Values, conductor_area: Values, phases: Values) -> Values:
    """Voltage lost along a copper circuit.

    drop = n rho I L / area, n = 2 for one phase, sqrt(3) for three

    Parameters
    ----------
    current : float or array [A]
        Current in each line.
    length : float or array [m]
        Length of the circuit, one way.
    conductor_area : float or array [m2]
        Area of the copper of one conductor.
    phases : float or array [-]
        1 or 3.

    Returns
    -------
    float or array [V]
        Drop between the lines at the load.

    Notes
    -----
    Copper at 75 degC; a cooler wire loses less: the safe side. The reactance, small up to 1/0, is neglected.

    Examples
    --------
    >>> round(voltage_drop(10.0, 30.48, 3.309e-6, 1), 2)
    3.95

    References
    ----------
    K method with K = 12.9 ohm cmil/ft; agrees with NFPA 70 (NEC), 2023, Chapter 9, Table 8 to 0.5 percent.
    """
    positive("conductor_area", conductor_area, "m2")
    not_negative("length", length, "m")
    phase = np.asarray(phases, float)
    wrong = (phase != 1.0) & (phase != 3.0)
    if wrong.any():
        raise OutsideRange("phases (1 or 3)", float(phase[wrong].flat[0]), "-", 1.0, 3.0)
    return np.where(phase == 3.0, np.sqrt(3.0), 2.0) * COPPER_RESISTIVITY * current * length / conductor_area


def _size_index(size: str) -> int:
    """Place of a size in the tables."""
    if size not in CONDUCTOR_AREAS:
        raise InternalError(f"conductor size {size!r} is not in the table: {', '.join(_SIZES)}")
    return _SIZES.index(size)


def _insulation(temperature: float) -> int:
    """Column of the insulation in degC."""
    for column in AMPACITIES:
        if abs(temperature - 273.15 - column) < 0.01:
            return column
    raise OutsideRange("insulation_temperature (60, 75 or 90 degC)", temperature, "K", 333.15, 363.15)
