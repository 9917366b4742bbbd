"""Sentences about a balance, filled from the rule's own templates. Data first, words last.

Contents: `sentence` (fits or fails), `binding_sentence`, `figure`, `shown`, `place_words`.
"""

from __future__ import annotations

from collections.abc import Mapping

from solver.quantities import from_unit, to_unit
from solver.rules.balance import RESOLUTION, Balance
from solver.rules.record import RULES, Rule

SI_UNIT: dict[str, str] = {
    "lb/min": "kg/min", "psi": "kPa", "ft": "m", "W": "W", "kW": "kW", "kVA": "kVA", "kWh": "kWh", "scfm": "standard_L/s",
    "gal": "L", "lb": "kg", "USD": "USD", "ft2": "m2", "delta_degF": "K", "degF": "degC", "in": "mm", "h": "h",
    "day": "day", "week": "week", "set": "set", "1": "1", "gpm": "L/min",
}  # fmt: skip
"""The unit shown under `--units si` for each unit of a rule."""

_WRITTEN = {
    "standard_L/s": "L/s free air", "delta_degF": "degF", "K": "K", "1": "", "set": "sets", "USD": "", "day": "days",
    "week": "weeks", "h": "h",
}  # fmt: skip
_DIGITS = {
    "USD": 0, "in": 0, "day": 0, "week": 0, "h": 1, "standard_L/s": 1, "psi": 0, "kPa": 0, "W": 0, "lb": 0, "kg": 0, "ft2": 1,
    "degF": 1, "degC": 1, "mm": 0, "gpm": 2,
}  # fmt: skip


def shown(value: float, unit: str, units: str = "us") -> tuple[float, str]:
    """The figure and its unit in the wanted system."""
    if units == "us" or SI_UNIT[unit] == unit:
        return value, unit
    target = SI_UNIT[unit]
    return float(to_unit(from_unit(value, unit), target)), target


def figure(value: float, unit: str, units: str = "us") -> str:
    """A figure of a balance with its unit, at the fineness that a person reads.

    Examples
    --------
    >>> figure(12.3456, "kW")
    '12.35 kW'
    >>> figure(-1234.5, "USD")
    '-$1,234'
    """
    value, unit = shown(value, unit, units)
    if unit == "USD":
        return f"{'-' if round(value) < 0 else ''}${abs(value):,.0f}"
    if unit in ("1", "set"):
        text = f"{value:,.3g}"
    else:
        digits = _DIGITS.get(unit, 2)
        text = f"{value:,.{digits}f}"
        if text.lstrip("-").strip("0.,") == "":
            text = f"{0:.{digits}f}"
    word = _WRITTEN.get(unit, unit)
    return f"{text} {word}".strip()


def difference(unit: str) -> str:
    """The unit of a margin: temperatures differ in degrees without an offset."""
    return "delta_degF" if unit == "degF" else unit


def place_words(balance: Balance) -> str:
    """Duty and state in words, "the whole rig" where the rule applies once."""
    place = balance.place
    words = [word for word in (place.duty, place.state) if word]
    if place.end and place.state != "overnight":
        words.append(f"{place.end} air")
    return ", ".join(words) or "the whole rig"


def _fill(template: str, balance: Balance, units: str) -> str:
    unit = balance.unit
    text = template.format(
        need=figure(balance.need, unit, units),
        supply=figure(balance.supply, unit, units),
        margin=figure(balance.margin, difference(unit), units),
        short=figure(-balance.margin, difference(unit), units),
        place=place_words(balance),
        part=balance.place.part,
    )
    return text[:1].upper() + text[1:]


def sentence(balance: Balance, units: str = "us", rules: Mapping[str, Rule] = RULES) -> str:
    """What the balance says: the rule's sentence for a rig that fits or fails here."""
    words = rules[balance.place.rule].words
    text = _fill(words.fits if balance.holds else words.fails, balance, units)
    if not balance.holds and balance.unit not in ("1", "set") and -balance.margin <= RESOLUTION[balance.unit]:
        text += " (Within the resolution of the figures; counted as not fitting.)"
    return text


def binding_sentence(balance: Balance, units: str = "us", rules: Mapping[str, Rule] = RULES) -> str:
    """What the rule forces on the best rig."""
    return _fill(rules[balance.place.rule].words.binds, balance, units)
