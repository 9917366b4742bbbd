"""An SI value as a figure that gives the very same SI value when it is read again.

Contents: `exact_number` (a number in a given unit), `exact_text` (a figure as text, always possible).
"""

from __future__ import annotations

from functools import lru_cache

from solver.quantities import DIMENSIONS, parse, to_unit

_DIGITS = (12, 13, 14, 15)
"""Significant digits that are tried in turn; spreadsheet programs keep 15."""


@lru_cache(maxsize=65536)
def exact_number(value: float, dimension: str, unit: str) -> float | None:
    """The number in this unit with the fewest digits, from 12 up, that is read as this SI value to the last bit; None if
    none of at most 15 digits is.

    Examples
    --------
    >>> exact_number(parse("3/8 in", "length"), "length", "in"), exact_number(0.7, "share", "%")
    (0.375, 70.0)
    """
    there = float(to_unit(value, unit))
    for digits in _DIGITS:
        number = float(f"{there:.{digits}g}")
        if parse(f"{number!r} {unit}", dimension) == value:
            return number
    return None


def exact_text(value: float, dimension: str, *units: str) -> str:
    """A figure as text: in the first of these units in which it can be exact, else in SI with all its digits."""
    for unit in units:
        number = exact_number(value, dimension, unit)
        if number is not None:
            return f"{digits_of(number)} {unit}"
    return f"{value!r} {DIMENSIONS[dimension]}"


def digits_of(number: float) -> str:
    """The shortest digits of a number, without a point where it is whole."""
    return str(int(number)) if number.is_integer() and abs(number) < 1e15 else repr(number)
