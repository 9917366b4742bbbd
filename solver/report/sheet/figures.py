"""A figure on a page or in a drawing: its text, and where the same number stands in the JSON of the answer.

Contents: `Figure`, `fig` (a figure of a rule's unit), `dollars`, `pounds_of`, `bare` (a figure without its unit, for a
column that names it), `unit_word`, `typeset` (units in plain letters as print writes them), `Text` (a line of words and
figures).

A page can be read back by a program: every figure is an element that names its place (`data-of`) and the number there
(`value`). The text is that number as a person reads it, in the units of the page. A place is the keys from the top of the
JSON, joined by dots; inside a key `~1` stands for a dot and `~0` for `~` (`key`).
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import dataclass
from html import escape

from solver.report.as_data import number, pounds
from solver.report.pick_text import mass
from solver.rules.sentence import figure

Text = Sequence["str | Figure"]
"""A line of words and figures."""


@dataclass(frozen=True)
class Figure:
    """A number of the answer: its place in the JSON, the number there, the text shown."""

    of: str
    value: float
    text: str

    def __str__(self) -> str:
        return self.text

    def __html__(self) -> str:
        return f'<data value="{self.value!r}" data-of="{escape(self.of)}">{escape(self.text)}</data>'

    def svg(self) -> str:
        """The figure inside a line of SVG text."""
        return f'<tspan data-of="{escape(self.of)}" data-value="{self.value!r}">{escape(self.text)}</tspan>'


def fig(of: str, value: float, unit: str, units: str, shown: float | None = None) -> Figure:
    """A figure in a rule's unit; `shown` is the number in the JSON where that differs (it is in the units of the page)."""
    return Figure(of, number(value if shown is None else shown), typeset(figure(value, unit, units)))


def dollars(of: str, value: float, digits: int = 0) -> Figure:
    """Money, in whole dollars unless `digits` says how many decimals."""
    rounded = number(value, 2)
    sign = "-" if rounded < 0 else ""
    return Figure(of, rounded, f"{sign}${abs(rounded):,.{digits}f}")


def pounds_of(of: str, kilograms: float, units: str) -> Figure:
    """A mass [kg]: JSON has it in pounds to the hundredth."""
    return Figure(of, pounds(kilograms), mass(kilograms, units))


def key(name: str) -> str:
    """A name as one key of a place."""
    return name.replace("~", "~0").replace(".", "~1")


def bare(of: Figure) -> Figure:
    """The figure without its unit, for a column whose heading names it."""
    return Figure(of.of, of.value, of.text.split(" ")[0])


def unit_word(unit: str, units: str) -> str:
    """The unit as `fig` writes it behind a number."""
    return typeset(figure(0.0, unit, units)).partition(" ")[2]


_PRINTED = {
    "delta_degF": "°F", "degF": "°F", "delta_degC": "K", "degC": "°C", "ft2": "ft²", "m2": "m²", "ft3": "ft³", "m3": "m³",
}  # fmt: skip
_PLAIN = re.compile(r"\b(delta_degF|degF|delta_degC|degC|ft2|m2|ft3|m3)\b")


def typeset(text: str) -> str:
    """Text with units as print writes them.

    Examples
    --------
    >>> typeset("drums at 60.0 degF on 2 ft2")
    'drums at 60.0 °F on 2 ft²'
    """
    return _PLAIN.sub(lambda found: _PRINTED[found[0]], text)
