"""Breakers: the current that a branch is sized for, and the next standard rating; feeders of several motors.

Contents: `continuous_load_current`, `motor_branch_current`, `motor_branch_breaker`, `breaker_size`; `motor_feeder_current`,
`motor_overload_current`, `rating_within`.

The code leaves most wiring of vehicles out: read these as practice, and the authority having jurisdiction decides.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from solver.formulas.electricity_tables import BREAKER_RATINGS, CONTINUOUS_LOAD, MOTOR_BRANCH, MOTOR_BREAKER
from solver.formulas.ranges import LARGEST, SMALLEST, Values, not_negative, within
from solver.formulas.record import formula

_SAME = 1e-9
"""Relative difference below which a current is taken to be a printed rating: conversion noise."""


@formula
def continuous_load_current(current: Values) -> Values:
    """Current for which the branch of a continuous load is sized; electric heaters count as such.

    I_branch = 1.25 I

    Parameters
    ----------
    current : float or array [A]
        Current of the load.

    Returns
    -------
    float or array [A]
        Current for conductor and breaker.

    Notes
    -----
    Continuous means three hours or more.

    Examples
    --------
    >>> continuous_load_current(40.0)
    50.0

    References
    ----------
    NFPA 70 (NEC), 2023, 210.20(A), 215.3; 425.4(B) and 427.4 for process heating.
    """
    return CONTINUOUS_LOAD * current


@formula
def motor_branch_current(current: Values) -> Values:
    """Ampacity that the branch of one motor needs.

    I_branch = 1.25 I

    Parameters
    ----------
    current : float or array [A]
        Full-load current of the motor, from the table at the column's voltage.

    Returns
    -------
    float or array [A]
        Ampacity.

    Notes
    -----
    Continuous duty.

    Examples
    --------
    >>> motor_branch_current(22.0)
    27.5

    References
    ----------
    NFPA 70 (NEC), 2023, 430.22.
    """
    return MOTOR_BRANCH * current


@formula
def motor_branch_breaker(current: Values) -> Values:
    """Largest usual inverse-time breaker in the branch of one motor.

    I_breaker = next standard rating from 2.5 I

    Parameters
    ----------
    current : float or array [A]
        Full-load current of the motor, from the table at the column's voltage.

    Returns
    -------
    float or array [A]
        Rating of the breaker.

    Notes
    -----
    It guards against short circuit only; the motor's overload relay guards the motor. A smaller one that lets the
    motor start is the safe side.

    Examples
    --------
    >>> motor_branch_breaker(22.0)
    60.0

    References
    ----------
    NFPA 70 (NEC), 2023, 430.52 with Table 430.52(C)(1); 240.6(A).
    """
    return breaker_size(MOTOR_BREAKER * current)


@formula
def breaker_size(current: Values) -> Values:
    """Next standard breaker from a current upwards.

    I_breaker = first standard rating >= I

    Parameters
    ----------
    current : float or array [A]
        Current, with the code's factors in it.

    Returns
    -------
    float or array [A]
        Rating of the breaker.

    Notes
    -----
    15 to 6,000 A; the 10 A that the 2023 edition adds is left out.

    Examples
    --------
    >>> breaker_size(55.0)
    60.0

    References
    ----------
    NFPA 70 (NEC), 2023, 240.6(A).
    """
    within("current", current, "A", SMALLEST, float(BREAKER_RATINGS[-1]) * (1.0 + _SAME))
    return np.asarray(BREAKER_RATINGS[np.searchsorted(BREAKER_RATINGS * (1.0 + _SAME), current)])


# --- feeders of several motors -----------------------------------------------------------------------------------------
@formula
def motor_feeder_current(largest_current: Values, other_current: Values) -> Values:
    """Ampacity that a feeder of several motors needs.

    I_feeder = 1.25 I_largest + I_other

    Parameters
    ----------
    largest_current : float or array [A]
        Full-load current of the largest motor.
    other_current : float or array [A]
        Sum of the full-load currents of the other motors, and of loads that are no motors.

    Returns
    -------
    float or array [A]
        Ampacity.

    Notes
    -----
    Continuous duty, all motors running together. Where only some can run at a time, the largest set that can.

    Examples
    --------
    >>> motor_feeder_current(40.0, 74.0)
    124.0

    References
    ----------
    NFPA 70 (NEC), 2023, 430.24.
    """
    not_negative("largest_current", largest_current, "A")
    not_negative("other_current", other_current, "A")
    return MOTOR_BRANCH * largest_current + other_current


@formula
def motor_overload_current(current: Values) -> Values:
    """Largest setting of the device that guards one motor against overload.

    I_overload = 1.25 I

    Parameters
    ----------
    current : float or array [A]
        Full-load current on the motor's nameplate, not from the table.

    Returns
    -------
    float or array [A]
        Current at which the device trips in the long run.

    Notes
    -----
    For a service factor of 1.15 or more, or a temperature rise of 40 K or less; for other motors 1.15 I, so that this is
    the unsafe side for them.

    Examples
    --------
    >>> motor_overload_current(32.0)
    40.0

    References
    ----------
    NFPA 70 (NEC), 430.32(A)(1); from memory.
    """
    not_negative("current", current, "A")
    return MOTOR_BRANCH * current


@formula
def rating_within(current: float, ratings: Sequence[float] | NDArray[np.float64]) -> float:
    """Largest rating of a list that does not exceed a current: the device of a feeder of motors.

    I_rating = last of the list with I_rating <= I

    Parameters
    ----------
    current : float [A]
        Largest branch device of the feeder and the full-load currents of the other motors.
    ratings : array [A]
        Ratings that are made, smallest first.

    Returns
    -------
    float [A]
        Rating.

    Notes
    -----
    A current below the smallest rating is refused.

    Examples
    --------
    >>> rating_within(190.0, [150.0, 175.0, 200.0])
    175.0

    References
    ----------
    NFPA 70 (NEC), 430.62(A); from memory.
    """
    made = np.asarray(ratings, float)
    within("current", current, "A", float(made[0]) * (1.0 - _SAME), LARGEST)
    return float(made[made <= current * (1.0 + _SAME)][-1])
