"""A worksheet as text: each need and supply in its slot, the formulas behind it with figures and units, the sources.

Contents: `worksheet_lines`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from solver.formulas.record import FormulaCall
from solver.report.layout import paragraph
from solver.rules.record import Side
from solver.rules.sentence import difference, figure, place_words, sentence
from solver.rules.worksheet import Entry, Worksheet


def worksheet_lines(sheet: Worksheet, width: int = 110, units: str = "us") -> list[str]:
    """The worksheet in lines of at most `width` columns."""
    rule, balance = sheet.rule, sheet.balance
    part = f", {balance.place.part}" if balance.place.part else ""
    lines = [f"{rule.id} {rule.title} ({place_words(balance)}{part})"]
    lines += paragraph(f"basis: {rule.basis.value}; source: {rule.source}", width, "  ")
    for side in (Side.NEED, Side.SUPPLY):
        for entry in sheet.shown:
            if entry.side is side:
                lines += _entry_lines(entry, rule.unit, units, width)
    need, supply = figure(balance.need, rule.unit, units), figure(balance.supply, rule.unit, units)
    margin = figure(balance.margin, difference(rule.unit), units)
    lines += paragraph(f"need {need}; supply {supply}; margin {margin}. {sentence(balance, units)}", width, "  ")
    return [*lines, ""]


def _entry_lines(entry: Entry, unit: str, units: str, width: int) -> Iterator[str]:
    where = f"{entry.slot.replace('_', ' ')} {entry.item}".strip()
    yield f"  {entry.side.value:6}  {figure(entry.value, unit, units):>14}  {entry.what}" + (f" ({where})" if where else "")
    for call in entry.calls:
        if call.depth == 0:
            yield from paragraph(_call(call), width, "      ")


def _call(call: FormulaCall) -> str:
    units = call.units
    told = ", ".join(f"{name} {_number(value)}{_unit(units.get(name, '-'))}" for name, value in call.arguments.items())
    return f"{call.name}({told}) = {_number(call.result)}{_unit(call.unit)}   [{call.doc.formula}]"


def _unit(unit: str) -> str:
    return "" if unit == "-" else f" {unit}"


def _number(value: Any) -> str:
    if isinstance(value, float | int):
        return f"{value:.5g}"
    if isinstance(value, list | tuple):
        return "(" + ", ".join(_number(v) for v in value) + ")"
    return str(value)
