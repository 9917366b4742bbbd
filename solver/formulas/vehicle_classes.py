"""Classes and limits of vehicles in regulation: weight class, licence, weight on axles.

Contents: `weight_class`, `bridge_formula`; `Licence`, `licence_needed` and its thresholds.
"""

from __future__ import annotations

from enum import IntEnum

import numpy as np

from solver.formulas.ranges import Values, not_negative, positive, within
from solver.formulas.record import formula
from solver.quantities import factor_of

_POUND, _FOOT = factor_of("lb"), factor_of("ft")
_CLASS_TOPS = np.array([6000.0, 10000.0, 14000.0, 16000.0, 19500.0, 26000.0, 33000.0]) * _POUND
COMMERCIAL_VEHICLE = 10001 * _POUND
"""Rating from which a vehicle or combination in business is a commercial motor vehicle: 49 CFR 390.5 [kg]."""
GROUP_A_COMBINATION = 26001 * _POUND
"""Rating of a combination from which group A applies, with `GROUP_A_TOWED_OVER`: 49 CFR 383.91 [kg]."""
GROUP_A_TOWED_OVER = 10000 * _POUND
"""Group A applies where the towed unit is rated above this: 49 CFR 383.91 [kg]."""
GROUP_B_SINGLE = 26001 * _POUND
"""Rating of a single vehicle from which group B applies: 49 CFR 383.91 [kg]."""


@formula
def weight_class(gvwr: Values) -> Values:
    """Class of a vehicle by its gross vehicle weight rating.

    class = number of class tops below the rating, + 1

    Parameters
    ----------
    gvwr : float or array [kg]
        Gross vehicle weight rating.

    Returns
    -------
    float or array [-]
        Class 1 to 8.

    Notes
    -----
    A rating on a class top belongs to the lower class.

    Examples
    --------
    >>> weight_class(19500 * 0.45359237)
    5.0

    References
    ----------
    FHWA vehicle classes by gross vehicle weight rating, as quoted in one text.
    """
    positive("gvwr", gvwr, "kg")
    return np.asarray(np.searchsorted(_CLASS_TOPS * (1.0 + 1e-9), gvwr) + 1.0)


@formula
def bridge_formula(axles: Values, length: Values) -> Values:
    """Weight that a group of axles may carry on interstate roads.

    W = 500 (L N/(N - 1) + 12 N + 36), nearest 500 lb, L in ft

    Parameters
    ----------
    axles : float or array [-]
        Number of axles in the group.
    length : float or array [m]
        Distance of the group's outermost axles.

    Returns
    -------
    float or array [kg]
        Largest weight of the group.

    Notes
    -----
    Two to nine axles. The limits of 20,000 lb an axle, 34,000 lb a tandem and 80,000 lb gross stand beside it.

    Examples
    --------
    >>> round(bridge_formula(4.0, 36 * 0.3048) / 0.45359237)
    66000

    References
    ----------
    23 USC 127(a); 23 CFR 658.17.
    """
    within("axles", axles, "-", 2.0, 9.0)
    positive("length", length, "m")
    pounds = 500.0 * (length / _FOOT * axles / (axles - 1.0) + 12.0 * axles + 36.0)
    return np.floor(pounds / 500.0 + 0.5) * 500.0 * _POUND


class Licence(IntEnum):
    """What the ratings of a vehicle and its trailer ask of the driver."""

    NONE = 0
    COMMERCIAL_VEHICLE = 1
    GROUP_B = 2
    GROUP_A = 3


def licence_needed(vehicle_rating: float, trailer_rating: float) -> Licence:
    """Rules that apply by gross vehicle weight ratings [kg]; a trailer rating of 0 is no trailer.

    49 CFR 383.91 and 390.5 in the older text; the current rule also compares the actual weight. State law may differ.

    >>> licence_needed(14000 * 0.45359237, 14000 * 0.45359237).name
    'GROUP_A'
    """
    not_negative("vehicle_rating", vehicle_rating, "kg")
    not_negative("trailer_rating", trailer_rating, "kg")
    same = 1.0 - 1e-9
    combined = vehicle_rating + trailer_rating
    if combined >= GROUP_A_COMBINATION * same and trailer_rating * same > GROUP_A_TOWED_OVER:
        return Licence.GROUP_A
    if vehicle_rating >= GROUP_B_SINGLE * same:
        return Licence.GROUP_B
    return Licence.COMMERCIAL_VEHICLE if combined >= COMMERCIAL_VEHICLE * same else Licence.NONE
