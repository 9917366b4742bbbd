"""A worksheet as text: each need and supply in its slot, the formula calls behind it with their figures, the balance.

Contents: `worksheet_lines`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from solver.formulas.record import FormulaCall
from solver.report.layout import paragraph
from solver.rules.record import Side
from solver.rules.sentence import difference, figure, place_words, sentence
from solver.rules.worksheet import Entry, Worksheet

MOST_OF_A_KIND = 4
"""Entries of one term that are listed one by one; more of them are summed in a line."""


def worksheet_lines(sheet: Worksheet, width: int = 110, units: str = "us") -> list[str]:
    """The worksheet in lines of at most `width` columns, an empty one at the end. Figures of formulas are in SI."""
    rule, balance = sheet.rule, sheet.balance
    part = f", {balance.place.part}" if balance.place.part else ""
    lines = paragraph(f"{rule.id} {rule.title} ({place_words(balance)}{part})", width)
    lines += paragraph(f"basis: {rule.basis.value}; source: {rule.source}", width, "  ")
    for side in (Side.NEED, Side.SUPPLY):
        for same in _by_term(sheet.shown, side):
            lines += _term_lines(same, rule.unit, units, width)
    need, supply = figure(balance.need, rule.unit, units), figure(balance.supply, rule.unit, units)
    margin = figure(balance.margin, difference(rule.unit), units)
    lines += paragraph(f"need {need}; supply {supply}; margin {margin}. {sentence(balance, units)}", width, "  ")
    return [*lines, ""]


def _by_term(entries: Sequence[Entry], side: Side) -> list[list[Entry]]:
    """Entries of one side, those of one term together."""
    found: dict[str, list[Entry]] = {}
    for entry in entries:
        if entry.side is side:
            found.setdefault(entry.what, []).append(entry)
    return list(found.values())


def _term_lines(entries: list[Entry], unit: str, units: str, width: int) -> Iterator[str]:
    first = entries[0]
    if len(entries) > MOST_OF_A_KIND:
        total = sum(entry.value for entry in entries)
        yield from _line(first.side, figure(total, unit, units), f"{first.what} (in {len(entries)} slots)", width)
        return
    for entry in entries:
        where = entry.item if entry.slot == entry.item else f"{entry.slot.replace('_', ' ')} {entry.item}".strip()
        yield from _line(
            entry.side, figure(entry.value, unit, units), entry.what + (f" ({where})" if where else ""), width
        )
        for call in entry.calls:
            if call.depth == 0:
                yield from _call_lines(call, width)


def _line(side: Side, value: str, what: str, width: int) -> list[str]:
    """A line of the sum; what does not fit goes on under the words."""
    start = f"  {side.value:6}  {value:>14}  "
    lines = paragraph(what, width, " " * len(start))
    return [start + lines[0].lstrip(), *lines[1:]]


def _call_lines(call: FormulaCall, width: int) -> Iterator[str]:
    """The formula as its source has it, then the call with its figures."""
    formula = " ".join(call.doc.formula.split())
    yield from paragraph(f"{call.name}: {formula}", width, " " * 6)
    told = ", ".join(f"{name} {_with_unit(value, name, call.units)}" for name, value in call.arguments.items())
    yield from paragraph(f"with {told}: {_with_unit(call.result, '', {'': call.unit})}", width, " " * 8)


def _with_unit(value: Any, name: str, units: Mapping[str, str]) -> str:
    unit = units.get(name, "-")
    return _number(value) + ("" if unit == "-" else f" {unit}")


def _number(value: Any) -> str:
    if isinstance(value, float | int):
        return f"{value:.5g}"
    if isinstance(value, list | tuple):
        return "(" + ", ".join(_number(v) for v in value) + ")"
    return str(value)
