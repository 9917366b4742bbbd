"""Feeders of several motors, and what guards each of them.

Contents: `motor_feeder_current`, `motor_overload_current`, `rating_within`.

The code leaves most wiring of vehicles out: read these as practice, and the authority having jurisdiction decides.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np
from numpy.typing import NDArray

from solver.formulas.electricity_tables import MOTOR_BRANCH
from solver.formulas.ranges import LARGEST, Values, not_negative, within
from solver.formulas.record import formula

_SAME = 1e-9
"""Relative difference below which a current is taken to be a printed rating: conversion noise."""


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
