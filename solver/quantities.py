"""Units at the edges: text with a unit to SI floats and back. The only file that knows pint.

Contents: `parse` (text to SI), `show` and `write` (SI to text for people, for files), `to_unit`, `from_unit`,
`factor_of`, `dimension_of`, `display_unit`, `example_of`, `DIMENSIONS` (dimension to SI unit), `UNITS` (the known unit
texts). pint is asked only about a unit that is not in `UNITS`; a test holds every row of `UNITS` against pint.

Pressures are gauge differences: psi and psig are the same here. `scfm` is standard flow and never the same as `cfm`.
Gallons are US gallons. A board foot is counted, not turned into a volume.
"""

from __future__ import annotations

import re
from difflib import get_close_matches
from functools import lru_cache
from math import floor, isfinite, log10
from typing import TYPE_CHECKING, Any, TypeVar

from solver.errors import NotANumber, QuantityError, UnitForgotten, UnknownUnit, WrongDimension

if TYPE_CHECKING:
    import numpy as np
    from numpy.typing import NDArray

_V = TypeVar("_V", float, "NDArray[np.float64]")

_FT, _IN, _LB, _GAL, _MIN, _H, _DAY = 0.3048, 0.0254, 0.45359237, 231 * 0.0254**3, 60.0, 3600.0, 86400.0
_FT3, _HP, _BTU, _PSI, _DEGF, _KFT = _FT**3, 550 * _FT * _LB * 9.80665, 1055.056, _LB * 9.80665 / _IN**2, 5 / 9, 304.8
_YR, _KWH = 365.25 * _DAY, 3.6e6

UNITS: dict[str, dict[str, float]] = {
    "length": {"m": 1.0, "ft": _FT, "in": _IN, "mm": 1e-3, "cm": 1e-2, "km": 1e3, "yd": 3 * _FT, "kft": _KFT},
    "area": {"m2": 1.0, "ft2": _FT**2, "in2": _IN**2, "cm2": 1e-4, "mm2": 1e-6},
    "volume": {"m3": 1.0, "gal": _GAL, "L": 1e-3, "mL": 1e-6, "ft3": _FT3, "in3": _IN**3},
    "mass": {"kg": 1.0, "lb": _LB, "g": 1e-3, "oz": _LB / 16, "t": 1e3},
    "time": {"s": 1.0, "min": _MIN, "h": _H, "day": _DAY, "week": 7 * _DAY, "yr": _YR, "month": _YR / 12},
    "temperature": {"K": 1.0, "degF": _DEGF, "degC": 1.0, "degR": _DEGF},
    "temperature_difference": {"K": 1.0, "delta_degF": _DEGF, "delta_degC": 1.0},
    "pressure": {"Pa": 1.0, "psi": _PSI, "psig": _PSI, "kPa": 1e3, "MPa": 1e6, "bar": 1e5, "mbar": 1e2, "hPa": 1e2},
    "power": {"W": 1.0, "kW": 1e3, "hp": _HP, "Btu/h": _BTU / _H, "kBtu/h": 1e3 * _BTU / _H},
    "apparent_power": {"VA": 1.0, "kVA": 1e3},
    "reactive_power": {"var": 1.0, "kvar": 1e3},
    "energy": {"J": 1.0, "kWh": _KWH, "Wh": _H, "kJ": 1e3, "MJ": 1e6, "Btu": _BTU, "kBtu": 1e3 * _BTU},
    "voltage": {"V": 1.0, "kV": 1e3},
    "current": {"A": 1.0, "mA": 1e-3},
    "mass_flow": {"kg/s": 1.0, "lb/min": _LB / _MIN, "kg/min": 1 / _MIN, "lb/h": _LB / _H, "kg/h": 1 / _H, "g/s": 1e-3},
    "volume_flow": {
        "m3/s": 1.0, "gpm": _GAL / _MIN, "L/min": 1e-3 / _MIN, "L/s": 1e-3, "cfm": _FT3 / _MIN, "m3/h": 1 / _H,
        "m3/min": 1 / _MIN, "gal/h": _GAL / _H, "L/h": 1e-3 / _H, "gal/min": _GAL / _MIN, "ft3/min": _FT3 / _MIN,
    },
    "fuel_rate": {"m3/s": 1.0, "gal/h": _GAL / _H, "L/h": 1e-3 / _H},
    "standard_flow": {
        "standard_m3/s": 1.0, "scfm": _FT3 / _MIN, "standard_L/s": 1e-3, "standard_L/min": 1e-3 / _MIN,
        "standard_m3/h": 1 / _H, "standard_m3/min": 1 / _MIN,
    },
    "standard_volume_per_mass": {
        "standard_m3/kg": 1.0, "scfm/(lb/min)": _FT3 / _LB, "(standard_L/min)/(kg/min)": 1e-3,
        "(standard_L/s)/(kg/s)": 1e-3, "(standard_m3/s)/(kg/s)": 1.0,
    },
    "standard_flow_per_flow": {
        "standard_m3/m3": 1.0, "scfm/gpm": _FT3 / _GAL, "(standard_L/min)/(L/min)": 1.0, "(standard_m3/s)/(m3/s)": 1.0,
    },
    "density": {"kg/m3": 1.0, "lb/gal": _LB / _GAL, "lb/ft3": _LB / _FT3, "pcf": _LB / _FT3, "kg/L": 1e3, "g/cm3": 1e3,
                "g/mL": 1e3},
    "viscosity": {"Pa s": 1.0, "mPa s": 1e-3, "cP": 1e-3, "cps": 1e-3},
    "conductance": {"W/K": 1.0, "Btu/h/delta_degF": _BTU / _H / _DEGF},
    "conductance_per_length": {"W/m/K": 1.0, "W/ft/K": 1 / _FT, "W/ft/delta_degF": 1 / _FT / _DEGF,
                               "Btu/h/ft/delta_degF": _BTU / _H / _FT / _DEGF},
    "heat_capacity": {"J/K": 1.0, "kJ/K": 1e3, "MJ/K": 1e6, "kWh/K": _KWH, "Btu/delta_degF": _BTU / _DEGF},
    "heat_capacity_per_length": {"J/m/K": 1.0, "kJ/m/K": 1e3, "kJ/ft/K": 1e3 / _FT, "J/ft/K": 1 / _FT,
                                 "Btu/ft/delta_degF": _BTU / _FT / _DEGF},
    "specific_heat_capacity": {"J/kg/K": 1.0, "kJ/kg/K": 1e3, "Btu/lb/delta_degF": _BTU / _LB / _DEGF},
    "thermal_resistance": {"m2 K/W": 1.0, "h ft2 delta_degF/Btu": _H * _FT**2 * _DEGF / _BTU},
    "volume_per_energy": {"m3/J": 1.0, "gal/kWh": _GAL / _KWH, "L/kWh": 1e-3 / _KWH},
    "energy_per_volume": {"J/m3": 1.0, "kWh/gal": _KWH / _GAL, "kWh/L": _KWH / 1e-3, "Btu/gal": _BTU / _GAL},
    "apparent_power_per_power": {"VA/W": 1.0, "kVA/kW": 1.0, "kVA/hp": 1e3 / _HP},
    "rotation_speed": {"revolution/s": 1.0, "rpm": 1 / _MIN},
    "rate": {"1/s": 1.0, "1/h": 1 / _H, "1/min": 1 / _MIN},
    "angle": {"rad": 1.0, "deg": 3.141592653589793 / 180},
    "sound_level": {"dBA": 1.0},
    "share": {"1": 1.0, "-": 1.0, "%": 1e-2},
    "share_per_length": {"1/m": 1.0, "%/kft": 1e-2 / _KFT, "%/m": 1e-2, "%/km": 1e-5, "%/ft": 1e-2 / _FT,
                         "%/(100 m)": 1e-4, "%/(1000 m)": 1e-5, "%/(1000 ft)": 1e-2 / _KFT},
    "share_per_temperature_difference": {
        "1/K": 1.0, "%/K": 1e-2, "%/delta_degF": 1e-2 / _DEGF, "%/delta_degC": 1e-2, "%/(5 delta_degF)": 2e-3 / _DEGF,
        "%/(10 delta_degF)": 1e-3 / _DEGF, "%/(5 K)": 2e-3, "%/(10 K)": 1e-3, "%/(10 delta_degC)": 1e-3,
    },
    "board_feet": {"board_feet": 1.0},
    "board_feet_rate": {"board_feet/s": 1.0, "board_feet/day": 1 / _DAY, "board_feet/h": 1 / _H},
    "money": {"USD": 1.0, "cent": 1e-2},
    "money_per_time": {"USD/s": 1.0, "USD/h": 1 / _H, "USD/day": 1 / _DAY, "USD/yr": 1 / _YR, "USD/month": 12 / _YR},
    "money_per_volume": {"USD/m3": 1.0, "USD/gal": 1 / _GAL, "USD/L": 1e3},
    "money_per_mass": {"USD/kg": 1.0, "USD/lb": 1 / _LB},
    "money_per_energy": {"USD/J": 1.0, "USD/kWh": 1 / _KWH},
    "money_per_board_feet": {"USD/board_feet": 1.0},
}  # fmt: skip
"""Per dimension, the known unit texts and their SI factor; the first of each is the SI unit."""

OFFSETS: dict[str, float] = {"degF": 459.67 * 5 / 9, "degC": 273.15}
"""What is added after the factor: the two scales whose zero is not absolute."""

DIMENSIONS: dict[str, str] = {dimension: next(iter(units)) for dimension, units in UNITS.items()}
"""The SI unit of each dimension."""

_SPELLINGS: dict[str, str] = {
    "feet": "ft", "foot": "ft", "inch": "in", "inches": "in", "lbs": "lb", "pounds": "lb", "gallon": "gal",
    "gallons": "gal", "liter": "L", "liters": "L", "l": "L", "hour": "h", "hours": "h", "hr": "h", "hrs": "h",
    "minute": "min", "minutes": "min", "sec": "s", "second": "s", "seconds": "s", "days": "day", "weeks": "week",
    "year": "yr", "years": "yr", "months": "month", "percent": "%", "board_foot": "board_feet", "dollars": "USD",
    "USD/board_foot": "USD/board_feet", "board_foot/day": "board_feet/day", "acfm": "cfm", "gph": "gal/h",
    "W/(m K)": "W/m/K", "W/(ft K)": "W/ft/K", "J/(m K)": "J/m/K", "kJ/(m K)": "kJ/m/K", "kJ/(ft K)": "kJ/ft/K",
    "J/(kg K)": "J/kg/K", "kJ/(kg K)": "kJ/kg/K", "dB(A)": "dBA", "sq ft": "ft2", "cu ft": "ft3",
    "BTU/h": "Btu/h", "Btu/hr": "Btu/h", "BTU/hr": "Btu/h", "kBTU/h": "kBtu/h", "sL/min": "standard_L/min",
    "lb/(ft3)": "lb/ft3", "Btu/(h delta_degF)": "Btu/h/delta_degF", "Btu/(lb delta_degF)": "Btu/lb/delta_degF",
}  # fmt: skip
"""Other ways of writing a known unit."""

_US: dict[str, str] = {
    "length": "ft", "area": "ft2", "volume": "gal", "mass": "lb", "time": "h", "temperature": "degF",
    "temperature_difference": "delta_degF", "pressure": "psi", "power": "kW", "apparent_power": "kVA",
    "reactive_power": "kvar", "energy": "kWh", "mass_flow": "lb/min", "volume_flow": "gpm", "fuel_rate": "gal/h",
    "standard_flow": "scfm", "standard_volume_per_mass": "scfm/(lb/min)", "standard_flow_per_flow": "scfm/gpm",
    "density": "lb/ft3", "viscosity": "mPa s", "conductance_per_length": "W/ft/K", "heat_capacity": "kJ/K",
    "heat_capacity_per_length": "kJ/ft/K", "specific_heat_capacity": "kJ/kg/K", "volume_per_energy": "gal/kWh",
    "energy_per_volume": "kWh/gal", "apparent_power_per_power": "kVA/hp", "rotation_speed": "rpm", "rate": "1/h",
    "share": "%", "share_per_length": "%/kft", "share_per_temperature_difference": "%/delta_degF",
    "board_feet_rate": "board_feet/day", "money_per_time": "USD/h", "money_per_volume": "USD/gal",
    "money_per_mass": "USD/lb", "money_per_energy": "USD/kWh", "thermal_resistance": "h ft2 delta_degF/Btu",
}  # fmt: skip
_SI: dict[str, str] = {
    "time": "h", "temperature": "degC", "pressure": "kPa", "power": "kW", "apparent_power": "kVA", "volume": "L",
    "reactive_power": "kvar", "energy": "kWh", "mass_flow": "kg/min", "volume_flow": "L/min", "fuel_rate": "L/h",
    "standard_flow": "standard_L/s", "standard_volume_per_mass": "(standard_L/min)/(kg/min)", "viscosity": "mPa s",
    "standard_flow_per_flow": "(standard_L/min)/(L/min)", "heat_capacity": "kJ/K", "specific_heat_capacity": "kJ/kg/K",
    "volume_per_energy": "L/kWh", "energy_per_volume": "kWh/L", "rotation_speed": "rpm", "rate": "1/h", "share": "%",
    "share_per_length": "%/km", "share_per_temperature_difference": "%/K", "board_feet_rate": "board_feet/day",
    "money_per_time": "USD/h", "money_per_volume": "USD/L", "money_per_energy": "USD/kWh",
    "heat_capacity_per_length": "kJ/m/K", "apparent_power_per_power": "kVA/kW", "angle": "deg",
}  # fmt: skip
_EXAMPLE: dict[str, float] = {
    "length": 50, "mass": 480, "time": 2, "temperature": 60, "pressure": 120, "power": 12, "apparent_power": 25,
    "share": 15, "money": 3200, "standard_flow": 18, "mass_flow": 18, "voltage": 240, "viscosity": 250,
    "volume": 30, "rotation_speed": 1800, "sound_level": 68, "board_feet": 3000, "share_per_length": 3,
}  # fmt: skip

_HINTS: dict[str, str] = {
    "F": "degF (or delta_degF for a difference)", "C": "degC (or delta_degC for a difference)",
    "psia": "the gauge pressure, in psi", "ton": "kBtu/h or kW", "tons": "kBtu/h or kW", "HP": "hp", "CFM": "cfm or scfm",
    "Nm3/h": "standard_m3/h", "": "the unit",
}  # fmt: skip
_LOOKALIKES = {
    ord(k): v
    for k, v in {
        "°": "deg", "º": "deg", "℉": "degF", "℃": "degC", "²": "2", "³": "3", "µ": "u", "μ": "u", "\u00a0": " ",
        "\u2009": " ", "\u202f": " ", "\u2007": " ", "−": "-", "⁄": "/", "·": " ", "⋅": " ", "×": " ", "*": " ",
        "½": " 1/2", "¼": " 1/4", "¾": " 3/4", "⅛": " 1/8", "⅜": " 3/8", "⅝": " 5/8", "⅞": " 7/8", "\ufeff": "",
        "Δ": "delta_", "∆": "delta_", "％": "%",
    }.items()
}  # fmt: skip
"""Characters that look like a unit's own, and what is read for them."""

_FRACTION = re.compile(r"([+-]?)(?:([0-9]+)\s+)?([0-9]+)/([0-9]+)(?![0-9.,])")
_CHUNK = re.compile(r"[+-]?[0-9.,]+(?:[eE][+-]?[0-9]+)?")
_DECIMAL = re.compile(r"[+-]?(?:[0-9]{1,3}(?:,[0-9]{3})+|[0-9]+)?(?:\.[0-9]*)?(?:[eE][+-]?[0-9]+)?")
_UNIT_TEXT = re.compile(r"[A-Za-z_%0-9/()^ .]{1,60}")
_SECOND_NUMBER = re.compile(r"^[^A-Za-z_%/($]*[0-9](?!/)|\s[-+]?[0-9]")
_UNSAFE_POWER = re.compile(r"(?<![A-Za-z_])\s*\^|\^\s*(?![0-9](?![0-9.]))")

_CACHES: dict[str, dict[str, float]] = {dimension: {} for dimension in UNITS}
_CACHE_LIMIT = 100_000


def parse(text: object, dimension: str) -> float:
    """The SI value of a text such as `12 kW`, `3/8 in`, `1,200 ft`, `$3,200`, `15 %`; QuantityError if it is none.

    Examples
    --------
    >>> parse("12 kW", "power")
    12000.0
    >>> parse("3/8 in", "length")
    0.009525
    """
    cache = _CACHES[dimension]
    try:
        return cache[text]  # type: ignore[index]
    except (KeyError, TypeError):
        value = _parse(text, dimension)
    if len(cache) >= _CACHE_LIMIT:
        cache.clear()
    cache[str(text)] = value
    return value


def to_unit(value: _V, unit: str) -> _V:
    """An SI value (float or array) in another unit."""
    factor, offset = _factor_and_offset(unit)
    return (value - offset) / factor if offset else value / factor


def from_unit(value: _V, unit: str) -> _V:
    """The SI value of a figure (float or array) in this unit."""
    factor, offset = _factor_and_offset(unit)
    return value * factor + offset if offset else value * factor


def factor_of(unit: str) -> float:
    """SI units in one step of this unit, without any offset: 1 degF is 5/9 K."""
    return _factor_and_offset(unit)[0]


def dimension_of(unit: str) -> str:
    """The dimension of a unit; UnknownUnit if there is none. `K` is a temperature here."""
    return _known(unit)[0]


def display_unit(dimension: str, system: str = "us") -> str:
    """The unit in which a dimension is shown, in the system `us` or `si`."""
    return (_US if system == "us" else _SI).get(dimension, DIMENSIONS[dimension])


def example_of(dimension: str) -> str:
    """A text that would be understood, for messages: `12 kW`."""
    return f"{_EXAMPLE.get(dimension, 2):g} {display_unit(dimension)}"


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


def _expected(dimension: str) -> str:
    title = dimension.replace("_", " ")
    return f"{'an' if title[0] in 'aeiou' else 'a'} {title} such as {example_of(dimension)}"


def _parse(text: object, dimension: str) -> float:
    if not isinstance(text, str):
        wrong = UnitForgotten if isinstance(text, int | float) and not isinstance(text, bool) else NotANumber
        raise wrong(f"{text!r}", _expected(dimension), f"{text} {display_unit(dimension)}" * (wrong is UnitForgotten))
    clean = " ".join(text.translate(_LOOKALIKES).split())
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
    factor, offset = _in_dimension(rest, dimension, text)
    value = number * factor + offset
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
        sign, whole, above, below = match.groups()
        if len(match[0]) > 40 or int(below) == 0:
            raise NotANumber(f"{_quoted(text)}, a fraction that is no number", _expected(dimension))
        value = int(whole or 0) + int(above) / int(below)
        return (-value if sign == "-" else value), clean[match.end() :].strip()
    match = _CHUNK.match(clean)
    if match is None:
        raise NotANumber(f"{_quoted(text)}, which does not begin with a number", _expected(dimension))
    chunk = match[0]
    if not _DECIMAL.fullmatch(chunk) or not any(c.isdigit() for c in chunk):
        advice = "a decimal point, and commas only between thousands" if "," in chunk else ""
        raise NotANumber(f"{_quoted(text)}, in which {chunk} is no number", _expected(dimension), advice)
    value = float(chunk.replace(",", ""))
    if not isfinite(value):
        raise NotANumber(f"{_quoted(text)}, beyond any number", _expected(dimension))
    return value, clean[match.end() :].strip()


def _spelled(unit: str) -> str:
    """The unit as `UNITS` writes it, if one of the other spellings is known."""
    for form in (unit, re.sub(r"(delta|deg|board|standard)[ _]+(?=[A-Za-z])", _joined, unit)):
        form = _SPELLINGS.get(form, form)
        if form in _ANY:
            return form
    return unit


def _joined(match: re.Match[str]) -> str:
    return "deg" if match[1] == "deg" else f"{match[1]}_"


def _in_dimension(unit: str, dimension: str, text: str) -> tuple[float, float]:
    """Factor and offset of a unit that must have this dimension."""
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
        raise UnknownUnit(f"{_quoted(text)}, whose unit {unit} is unknown", _expected(dimension), error.advice) from None
    if found != dimension:
        advice = ""
        if dimension == "temperature_difference" and found == "temperature":
            advice = f"delta_{unit}"
        raise WrongDimension(f"{_quoted(text)}, {_article(found)}", _expected(dimension), advice)
    return factor, offset


def _article(dimension: str) -> str:
    return _expected(dimension).split(" such as ")[0] if dimension in UNITS else dimension


_ANY: dict[str, tuple[str, float, float]] = {}
for _dimension, _units in reversed(UNITS.items()):
    _ANY.update({_unit: (_dimension, _factor, OFFSETS.get(_unit, 0.0)) for _unit, _factor in _units.items()})


def _factor_and_offset(unit: str) -> tuple[float, float]:
    found = _ANY.get(unit)
    return (found or _known(unit))[1:]


def _known(unit: str, wanted: str | None = None) -> tuple[str, float, float]:
    """Dimension, factor and offset of a unit, from the table or from pint; UnknownUnit if neither knows it."""
    spelled = _spelled(unit)
    found = _ANY.get(spelled) or (None if unit in _HINTS else _from_pint(spelled, wanted))
    if found is None:
        near = [u for u in _ANY if u.casefold() == unit.casefold()] or get_close_matches(unit, list(_ANY), 1, 0.6)
        advice = _HINTS.get(unit) or (near[0] if near else "")
        raise UnknownUnit(_quoted(unit), "a unit that is known, such as " + ("ft" if wanted is None else DIMENSIONS[wanted]), advice)
    return found


@lru_cache(maxsize=1)
def pint_registry() -> Any:
    """pint's registry with the trade's own units added. Slow to import; only for units not in `UNITS`, and for tests."""
    import pint

    registry = pint.UnitRegistry(on_redefinition="ignore")
    for line in (
        "USD = [money]", "cent = 0.01 USD", "board_foot = [board_foot] = _ = board_feet", "dBA = [sound_level]",
        "standard_m3 = [standard_volume]", "standard_L = 0.001 standard_m3", "standard_ft3 = 0.3048**3 standard_m3",
        "scfm = standard_ft3 / minute", "kft = 1000 foot", "gpm = gallon / minute", "cfm = foot**3 / minute",
        "psig = psi", "pcf = pound / foot**3", "cps = centipoise", "volt_ampere = [apparent_power] = VA",
        "volt_ampere_reactive = [reactive_power] = var", "m2 = meter**2", "ft2 = foot**2", "in2 = inch**2",
        "cm2 = centimeter**2", "mm2 = millimeter**2", "m3 = meter**3", "ft3 = foot**3", "in3 = inch**3",
        "cm3 = centimeter**3",
    ):  # fmt: skip
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
                return dimension, float(first - zero), float(zero)
        return (f"a quantity of dimension {one.dimensionality}", 1.0, 0.0) if wanted else None
    except Exception:  # pint raises many kinds for a text that is no unit; all mean the same here
        return None
