"""Units at the edges: text with a unit to SI floats and back. The only file that knows pint.

Contents: `parse` (text to SI), `show` and `write` (SI to text for people, for files), `to_unit`, `from_unit`,
`factor_of`, `dimension_of`, `display_unit`, `example_of`, `title_of`, `DIMENSIONS` (dimension to SI unit), `UNITS`. The
known units stand in `unit_table.py`; pint is asked only about a unit that is not there, and a test holds every row of
that table against pint.

Pressures are gauge differences: psi and psig are the same here. `scfm` is standard flow and never the same as `cfm`.
Gallons are US gallons. A board foot is counted, not turned into a volume.
"""

from __future__ import annotations

import re
from difflib import get_close_matches
from functools import cache, lru_cache
from math import floor, gcd, inf, isfinite, log10
from typing import TYPE_CHECKING, Any, TypeVar

from solver.errors import NotANumber, UnitForgotten, UnknownUnit, WrongDimension
from solver.unit_table import (
    DIMENSIONS,
    EXAMPLES,
    HINTS,
    LOOKALIKES,
    OFFSETS,
    PINT_LINES,
    SI_UNITS,
    SPELLINGS,
    UNITS,
    US_UNITS,
)

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

__all__ = [
    "DIMENSIONS", "UNITS", "dimension_of", "display_unit", "example_of", "factor_of", "from_unit", "parse",
    "pint_registry", "show", "title_of", "to_unit", "write",
]  # fmt: skip

_V = TypeVar("_V", float, "NDArray[np.float64]")

_PLAIN = re.compile(r"(-?[0-9]{1,15}(?:\.[0-9]{1,15})?) ([^\s0-9][^\s]*)", re.ASCII)
"""Most figures: digits, a space, a unit."""
_FRACTION = re.compile(r"([+-]?)(?:([0-9]+)\s+)?([0-9]+)/([0-9]+)(?![0-9.,])")
_CHUNK = re.compile(r"[+-]?[0-9.,]+(?:[eE][+-]?[0-9]+)?")
_DECIMAL = re.compile(r"[+-]?(?:[1-9][0-9]{0,2}(?:,[0-9]{3})+|[0-9]+)?(?:\.[0-9]*)?(?:[eE][+-]?[0-9]+)?")
_UNIT_TEXT = re.compile(r"[A-Za-z_%0-9/()^ .]{1,60}")
_SECOND_NUMBER = re.compile(r"^[^A-Za-z_%/($]*[0-9](?!/)|\s[-+]?[0-9]|(?<!/)(?<!/ )\(\s*[-+]?[0-9]")
_RAISED = re.compile(r"(?<![A-Za-z)])[²³]")
_UNSAFE_POWER = re.compile(r"(?<![A-Za-z_])\s*\^|\^\s*(?![0-9](?![0-9.]))")

_CACHES: dict[str, dict[str, float]] = {dimension: {} for dimension in UNITS}
_CACHE_LIMIT = 100_000
_LONGEST = 100
"""Characters in a text that can be a quantity."""
_FINEST = 64
"""Largest denominator of a fraction: the finest inch of a rule."""


def parse(text: object, dimension: str) -> float:
    """The SI value of a text such as `12 kW`, `3/8 in`, `1,200 ft`, `$3,200`, `15 %`; QuantityError if it is none.

    Examples
    --------
    >>> parse("12 kW", "power")
    12000.0
    >>> parse("1,200 ft", "length")
    365.76
    """
    cache = _CACHES[dimension]
    try:
        return cache[text]  # type: ignore[index]
    except (KeyError, TypeError):
        value = _plain(text, dimension)
        if value is None:
            value = _parse(text, dimension)
    if len(cache) >= _CACHE_LIMIT:
        cache.clear()
    cache[str(text)] = value
    return value


def to_unit(value: _V, unit: str) -> _V:
    """An SI value (float or array) in another unit."""
    factor, offset = _factor_and_offset(unit)
    steps = _steps(factor)
    plain = value - offset if offset else value
    return plain * steps if steps else plain / factor


def from_unit(value: _V, unit: str) -> _V:
    """The SI value of a figure (float or array) in this unit."""
    factor, offset = _factor_and_offset(unit)
    steps = _steps(factor)
    plain = value / steps if steps else value * factor
    return plain + offset if offset else plain


@cache
def _steps(factor: float) -> float:
    """How many of a unit make one SI unit, if that is a whole number, so that 70 % is 0.7 to the last digit; else 0."""
    steps = round(1.0 / factor)
    return float(steps) if 1 < steps < 10**9 and 1.0 / steps == factor else 0.0


def factor_of(unit: str) -> float:
    """SI units in one step of this unit, without any offset: 1 degF is 5/9 K."""
    return _factor_and_offset(unit)[0]


def dimension_of(unit: str) -> str:
    """The dimension of a unit; UnknownUnit if there is none. `K` is a temperature here."""
    return _known(unit)[0]


def display_unit(dimension: str, system: str = "us") -> str:
    """The unit in which a dimension is shown, in the system `us` or `si`."""
    return (US_UNITS if system == "us" else SI_UNITS).get(dimension, DIMENSIONS[dimension])


def example_of(dimension: str) -> str:
    """A text that would be understood, for messages: `12 kW`."""
    return f"{EXAMPLES.get(dimension, 2):g} {display_unit(dimension)}"


def show(value: float, unit: str, digits: int | None = None) -> str:
    """An SI value as text for people, with thousands commas; without `digits` (decimals) at least three figures count.

    Examples
    --------
    >>> show(12000.0, "kW"), show(3200.0, "USD"), show(0.15, "%", 0)
    ('12.0 kW', '3,200 USD', '15 %')
    """
    figure = float(to_unit(value, unit))
    if not isfinite(figure):
        return f"{figure} {unit}"
    if digits is None:
        size = floor(log10(abs(figure))) if figure else 2
        if not -9 <= size <= 15:
            return f"{figure:.3g} {unit}"
        digits = max(0, 2 - size)
    text = f"{figure:,.{digits}f}"
    return f"{text if text.strip('-0.,') else text.lstrip('-')} {unit}"


def write(value: float, unit: str) -> str:
    """An SI value as text for files: twelve figures, so that reading it again gives the same value."""
    return f"{float(to_unit(value, unit)):.12g} {unit}"


def title_of(dimension: str) -> str:
    """A dimension in words with its article: `a mass flow`, `an amount of money`."""
    title = {"money": "amount of money"}.get(dimension, dimension.replace("_", " "))
    return f"{'an' if title[0] in 'aeiou' else 'a'} {title}"


def _expected(dimension: str) -> str:
    return f"{title_of(dimension)} such as {example_of(dimension)}"


def _plain(text: object, dimension: str) -> float | None:
    """The SI value of a text of the commonest form, in a unit as the table spells it; None for any other text."""
    match = _PLAIN.fullmatch(text) if isinstance(text, str) else None
    factor = UNITS[dimension].get(match[2]) if match else None
    return None if match is None or factor is None else _in_si(float(match[1]), factor, OFFSETS.get(match[2], 0.0))


def _in_si(number: float, factor: float, offset: float) -> float:
    steps = _steps(factor)
    return (number / steps if steps else number * factor) + offset


def _parse(text: object, dimension: str) -> float:
    if not isinstance(text, str):
        wrong = UnitForgotten if isinstance(text, int | float) and not isinstance(text, bool) else NotANumber
        what = "a list" if isinstance(text, list) else "a mapping" if isinstance(text, dict) else repr(text)
        raise wrong(what, _expected(dimension), f"{text} {display_unit(dimension)}" * (wrong is UnitForgotten))
    if len(text) > _LONGEST:
        raise NotANumber(f"{_quoted(text)}, a text of {len(text):,} characters", _expected(dimension))
    if _RAISED.search(text):
        advice = "the raised figure written out, or after the unit"
        raise NotANumber(f"{_quoted(text)}, a raised figure after a number", _expected(dimension), advice)
    clean = " ".join(text.translate(LOOKALIKES).split())
    money = re.match(r"([+-]?)\$\s*(?=[0-9.])", clean)
    if money:
        clean = money[1] + clean[money.end() :]
    number, rest = _number(clean, text, dimension)
    if money:
        rest = f"USD{rest}" if not rest or rest.startswith("/") else f"$ {rest}"
    if not rest:
        if dimension == "share":
            return number
        raise UnitForgotten(f"{_quoted(text)}, without a unit", _expected(dimension), _add_unit(clean, dimension))
    factor, offset = _in_dimension(rest, dimension, text, clean.removesuffix(rest).strip())
    value = _in_si(number, factor, offset)
    if not isfinite(value):
        raise NotANumber(f"{_quoted(text)}, beyond any number", _expected(dimension))
    return value


def _add_unit(clean: str, dimension: str) -> str:
    return f"{clean} {display_unit(dimension)}"


def _quoted(text: str) -> str:
    return f'"{text}"' if len(text) <= 60 else f'"{text[:57]}..."'


def _number(clean: str, text: str, dimension: str) -> tuple[float, str]:
    """The number at the start, and what follows it."""
    match = _FRACTION.match(clean)
    if match:
        return _fraction(match, text, dimension), clean[match.end() :].strip()
    match = _CHUNK.match(clean)
    if match is None or not any(c.isdigit() for c in match[0]):
        what = "which does not begin with a number" if clean else "which is empty"
        raise NotANumber(f"{_quoted(text)}, {what}", _expected(dimension))
    chunk = match[0]
    if not _DECIMAL.fullmatch(chunk):
        advice = "a decimal point, and commas only between thousands" if "," in chunk else ""
        raise NotANumber(f"{_quoted(text)}, in which {chunk} is no number", _expected(dimension), advice)
    value = float(chunk.replace(",", ""))
    if not isfinite(value):
        raise NotANumber(f"{_quoted(text)}, beyond any number", _expected(dimension))
    if value == 0.0 and re.search("[1-9]", re.split("[eE]", chunk)[0]):
        raise NotANumber(f"{_quoted(text)}, too small for any number", _expected(dimension))
    return value, clean[match.end() :].strip()


def _fraction(match: re.Match[str], text: str, dimension: str) -> float:
    """A fraction of a unit. `120/240 V` are two figures: a fraction is below 1, in lowest terms, of the finest inch."""
    sign, whole, above, below = match.groups()
    if len(match[0]) > 40 or int(below) == 0:
        raise NotANumber(f"{_quoted(text)}, a fraction that is no number", _expected(dimension))
    upper, lower = int(above), int(below)
    if not 0 < upper < lower <= _FINEST or gcd(upper, lower) > 1:
        advice = "one figure with one unit; a fraction below 1 in lowest terms, such as 3/8"
        raise NotANumber(f"{_quoted(text)}, in which {above}/{below} is no fraction", _expected(dimension), advice)
    value = int(whole or 0) + upper / lower
    return -value if sign == "-" else value


def _spelled(unit: str) -> str:
    """The unit as `UNITS` writes it, if one of the other spellings is known."""
    for form in (unit, re.sub(r"(delta|deg|board|standard)[ _]+(?=[A-Za-z])", _joined, unit)):
        form = SPELLINGS.get(form, form)
        if form in _ANY:
            return form
    return unit


def _joined(match: re.Match[str]) -> str:
    return "deg" if match[1] == "deg" else f"{match[1]}_"


def _in_dimension(unit: str, dimension: str, text: str, number: str) -> tuple[float, float]:
    """Factor and offset of a unit that must have this dimension; `text` and `number` are for the message."""
    units = UNITS[dimension]
    if unit not in units:
        unit = _spelled(unit)
    if unit in units:
        return units[unit], OFFSETS.get(unit, 0.0)
    if _SECOND_NUMBER.search(unit) and unit not in _ANY:
        raise NotANumber(f"{_quoted(text)}, more than one number", _expected(dimension), "one number with one unit")
    try:
        found, factor, offset = _known(unit, dimension)
    except UnknownUnit as error:
        what = f"{_quoted(text)}, whose unit {unit} is unknown"
        advice = f"{number} {error.advice}" if error.advice in _ANY else error.advice
        raise UnknownUnit(what, _expected(dimension), advice) from None
    if found == dimension:
        return factor, offset
    advice = ""
    if dimension == "temperature_difference" and found == "temperature":
        advice = f"{number} delta_{unit}"
    elif re.search(r"/[0-9.]+ ", unit):
        above, below = unit.split("/", 1)
        advice = f"{number} {above}/({below})"
    title = title_of(found) if found in UNITS else found
    raise WrongDimension(f"{_quoted(text)}, {title}", _expected(dimension), advice)


_ANY: dict[str, tuple[str, float, float]] = {}
for _dimension, _units in reversed(UNITS.items()):
    _ANY.update({_unit: (_dimension, _factor, OFFSETS.get(_unit, 0.0)) for _unit, _factor in _units.items()})


def _factor_and_offset(unit: str) -> tuple[float, float]:
    found = _ANY.get(unit)
    return (found or _known(unit))[1:]


def _known(unit: str, wanted: str | None = None) -> tuple[str, float, float]:
    """Dimension, factor and offset of a unit, from the table or from pint; UnknownUnit if neither knows it."""
    spelled = _spelled(unit)
    found = _ANY.get(spelled) or (None if unit in HINTS else _from_pint(spelled, wanted))
    if found is None:
        near = [u for u in _ANY if u.casefold() == unit.casefold()] or get_close_matches(unit, list(_ANY), 1, 0.6)
        advice = HINTS.get(unit) or (near[0] if near else "")
        raise UnknownUnit(f"the unit {_quoted(unit)}", "a unit that is known, such as kW", advice)
    return found


@lru_cache(maxsize=1)
def pint_registry() -> Any:
    """pint's registry with the trade's own units added. Slow to import: only for units not in `UNITS`, and tests."""
    import pint

    own = [lambda text: re.sub(r"VA\b", "apparent_watt", re.sub(r"\b(k?)var\b", r"\1reactive_watt", text))]
    registry: Any = pint.UnitRegistry(on_redefinition="ignore", preprocessors=own)
    for line in PINT_LINES:
        registry.define(line)
    return registry


@lru_cache(maxsize=4096)
def _from_pint(unit: str, wanted: str | None) -> tuple[str, float, float] | None:
    """Dimension, factor and offset from pint; None if pint does not know the unit either."""
    if not _UNIT_TEXT.fullmatch(unit) or _UNSAFE_POWER.search(unit):
        return None
    registry = pint_registry()
    try:
        one = registry.Quantity(1.0, "") * registry.parse_expression(unit)
        for dimension in ([wanted] if wanted else []) + list(UNITS):
            si = registry.parse_units(DIMENSIONS[dimension].replace("-", ""))
            if one.dimensionality == si.dimensionality and one.dimensionality:
                zero, first = (registry.Quantity(k * one.magnitude, one.units).to(si).magnitude for k in (0.0, 1.0))
                factor, offset = float(first - zero), float(zero)
                return (dimension, factor, offset) if 0.0 < abs(factor) < inf and isfinite(offset) else None
        return (f"a quantity of dimension {one.dimensionality}", 1.0, 0.0) if wanted else None
    except Exception:  # pint raises many kinds for a text that is no unit; all mean the same here
        return None
