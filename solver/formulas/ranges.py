"""Numbers that formulas take, and the ranges in which they hold.

Contents: `Values` (a float or an array of floats), `within` (raise OutsideRange if any value lies outside), `positive`
and `not_negative` (the two commonest ranges).

A formula never clamps. Outside its range it raises and names the quantity, the value, the unit and the range.
"""

from __future__ import annotations

import sys

import numpy as np
from numpy.typing import NDArray

from solver.errors import OutsideRange

Values = float | NDArray[np.float64]
"""What every formula takes and gives: a float, or an array of floats."""

SMALLEST = sys.float_info.min
"""The least positive number: the lower end of a range that leaves out zero."""
LARGEST = sys.float_info.max
"""The largest finite number: the upper end of a range that leaves out infinity."""


def within(name: str, value: Values, unit: str, low: float, high: float) -> None:
    """Raise OutsideRange unless low <= value <= high for every value; not-a-number is outside.

    >>> within("altitude", 1200.0, "m", -500.0, 11000.0)
    """
    if isinstance(value, np.ndarray):
        if value.size and not (value.min() >= low and value.max() <= high):
            outside = value[~((value >= low) & (value <= high))]
            raise OutsideRange(name, float(outside.flat[0]), unit, low, high)
    elif not low <= value <= high:
        raise OutsideRange(name, float(value), unit, low, high)


def positive(name: str, value: Values, unit: str) -> None:
    """Raise OutsideRange unless every value is above zero and finite."""
    within(name, value, unit, SMALLEST, LARGEST)


def not_negative(name: str, value: Values, unit: str) -> None:
    """Raise OutsideRange unless every value is zero or above and finite."""
    within(name, value, unit, 0.0, LARGEST)
