"""The unit that a heading or a cell names, spelled as the trade spells it, within the dimension that a field wants.

Contents: `unit_in` (a text that is a unit of a dimension), `is_unit` (of any), `choices_of` (units to offer).

A dimension is known before a unit is read, so `F` is degF for a temperature and a step of it for a difference, and `KW`
is kW. What differs in meaning is not taken for the same: `cfm` is no standard flow, `dB` no A-weighted level, `kVA` no
power.
"""

from __future__ import annotations

import re
from functools import cache

from solver.quantities import UNITS, display_unit
from solver.unit_table import SPELLINGS

_TRADE: dict[str, dict[str, str]] = {
    "length": {'"': "in", "''": "in", "'": "ft", "inch": "in", "meters": "m", "metres": "m", "meter": "m"},
    "mass": {"#": "lb", "pound": "lb", "kgs": "kg", "kilograms": "kg", "kilogram": "kg", "lbm": "lb"},
    "money": {"$": "USD", "us$": "USD", "usd$": "USD", "us dollars": "USD", "dollar": "USD"},
    "temperature": {"f": "degF", "c": "degC", "fahrenheit": "degF", "celsius": "degC"},
    "temperature_difference": {
        "f": "delta_degF",
        "c": "delta_degC",
        "degf": "delta_degF",
        "degc": "delta_degC",
        "fahrenheit": "delta_degF",
        "celsius": "delta_degC",
    },
    "power": {
        "kilowatt": "kW",
        "kilowatts": "kW",
        "watt": "W",
        "watts": "W",
        "horsepower": "hp",
        "btuh": "Btu/h",
        "mbh": "kBtu/h",
    },
    "voltage": {"volt": "V", "volts": "V", "vac": "V"},
    "share": {"pct": "%", "fraction": "1"},
    "time": {"hours a year": "h", "h/yr": "h", "d": "day", "wk": "week", "wks": "week"},
    "money_per_time": {"$/h": "USD/h"},
    "volume": {"us gal": "gal", "u.s. gal": "gal", "litre": "L", "litres": "L"},
    "density": {"ppg": "lb/gal", "lb/cu ft": "lb/ft3"},
    "viscosity": {"mpas": "mPa s", "mpa.s": "mPa s", "centipoise": "cP"},
    "rotation_speed": {"r/min": "rpm", "1/min": "rpm", "min-1": "rpm"},
    "sound_level": {"db a": "dBA"},
    "volume_per_energy": {"gal/kw-h": "gal/kWh"},
}
"""Spellings of price lists, in small letters."""

_SIGNS = str.maketrans({"°": "deg", "º": "deg", "℉": "degF", "℃": "degC", "²": "2", "³": "3", "·": " ", "⋅": " ",
                        "\u00a0": " ", "Δ": "delta_", "∆": "delta_", "″": '"', "′": "'", "”": '"', "’": "'"})  # fmt: skip
_WORDS = ((r"\blbs\b\.?", "lb"), (r"\bhrs?\b", "h"), (r"\bper\b", "/"), (r"\s*/\s*", "/"), (r"\bdeg\.? (?=[fck]\b)", "deg"),
          (r"\bbtu\b", "btu"))  # fmt: skip


def unit_in(text: str, dimension: str) -> str | None:
    """The known unit of this dimension that a text names; None if it names none.

    Examples
    --------
    >>> unit_in("LBS.", "mass"), unit_in("°F", "temperature_difference"), unit_in("CFM", "standard_flow")
    ('lb', 'delta_degF', None)
    """
    bare = _bare(text)
    if bare in UNITS.get(dimension, {}):
        return bare
    return _folded(dimension).get(_normal(bare))


def is_unit(text: str) -> bool:
    """Whether a text names a unit of any dimension."""
    return bool(text) and any(unit_in(text, dimension) for dimension in UNITS)


def choices_of(dimension: str, first: str) -> tuple[str, ...]:
    """Units to offer for a dimension: the one of its example, that of the US system, that of SI."""
    return tuple(dict.fromkeys((first, display_unit(dimension), display_unit(dimension, "si"))))


def _bare(text: str) -> str:
    bare = " ".join(text.translate(_SIGNS).split())
    while len(bare) > 1 and (bare[0], bare[-1]) in {("(", ")"), ("[", "]"), ("{", "}")} and _encloses(bare):
        bare = bare[1:-1].strip()
    return bare.strip(" ,;:")


def _encloses(text: str) -> bool:
    """Whether the first bracket closes only at the end."""
    depth = 0
    for at, letter in enumerate(text):
        depth += (letter in "([{") - (letter in ")]}")
        if depth == 0:
            return at == len(text) - 1
    return False


def _normal(bare: str) -> str:
    low = bare.lower()
    for pattern, word in _WORDS:
        low = re.sub(pattern, word, low)
    return low if low.endswith("u.s. gal") else low.rstrip(".")


@cache
def _folded(dimension: str) -> dict[str, str]:
    """Small letters to the unit, where only one unit of the dimension is spelled so."""
    units = UNITS.get(dimension, {})
    ways: dict[str, set[str]] = {}
    for unit in units:
        ways.setdefault(_normal(unit), set()).add(unit)
    for spelling, unit in SPELLINGS.items():
        if unit in units:
            ways.setdefault(_normal(spelling), set()).add(unit)
    found = {text: min(meant) for text, meant in ways.items() if len(meant) == 1}
    return {**found, **_TRADE.get(dimension, {})}
