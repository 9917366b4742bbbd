"""One cell to the entry of one field, as it will stand in the YAML file; EntryError where it cannot be read in one way.

Contents: `entry_of`, `figure_text`, `needs_unit`, `says_nothing`, `example_of`.

A flat spelling stands for a list of mappings: entries apart by `;`, inside an entry the values in the order of its
fields, such as `split 12 kW 12 kVA; wye 20 kW 25 kVA`. Lists of words are apart by `,` or `;`; `none` is an empty one.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

from solver.catalog.base import Record, checks_of
from solver.catalog.checks import Count, Name, Quantity, Slug, Switch, Tags
from solver.catalog.reading_errors import expected_of, model_at, words_of
from solver.catalog.take.numbers import Convention, cleaned, plain_number, split_figure
from solver.catalog.take.sheet import Cell
from solver.catalog.take.units import unit_in
from solver.errors import EntryError, QuantityError, UnitForgotten

_NOTHING = frozenset({"", "-", "--", "–", "—", "n/a", "na", "n.a.", "#n/a"})
"""What people write into a cell that has nothing to say."""
_YES, _NO = frozenset({"true", "yes", "y"}), frozenset({"false", "no", "n"})
_PIECES = re.compile(r",\s+|\s+(?=[+-]?[0-9.])")
_FOREIGN = re.compile(r"[€£¥]|\b(?:EUR|GBP|CAD|AUD|CHF|MXN|CNY|JPY)\b", re.I)
_DOLLARS = re.compile(r"([+-]?) ?(?:US ?\$|USD|\$) ?(?=[0-9.])", re.I)
_EACH = re.compile(r"(?:(?:/|per) ?)?(?:ea\.?|each|piece|pc\.?)$", re.I)
_PHASES = re.compile(r"(?:3|three)[ -]?(?:phase|ph)", re.I)
_VOLTS = re.compile(r"(120|240) ?v(?:olts?|ac)?", re.I)


def says_nothing(cell: Cell) -> bool:
    """Whether a cell is empty or says `-` or `n/a`."""
    return not cell.wrong and cell.text.lower() in _NOTHING


def needs_unit(cell: Cell) -> bool:
    """Whether a cell holds a bare number, so that its column must say the unit."""
    if cell.wrong or cell.hint or not cell.text:
        return False
    try:
        number, rest = split_figure(cleaned(cell.text))
    except EntryError:
        return False
    return bool(number) and not rest


def entry_of(cell: Cell, model: type[Record], name: str, unit: str | None, way: Convention) -> Any:
    """The entry that a cell makes for a field; None if it says nothing. `unit` is that of the column."""
    if cell.wrong:
        raise EntryError(cell.wrong, expected_of(model, name), "the value itself, as a number or text")
    words = words_of(model, (name,))
    if says_nothing(cell) and cell.text.lower() not in words:
        return None
    inner = model_at(model, (name,))
    if inner is not model:
        return [_mapping(part.strip(), inner, way) for part in cell.text.split(";") if part.strip()]
    if words:
        return _word(cell.text, words)
    check = next(iter(checks_of(model.model_fields[name])), None)
    if isinstance(check, Quantity):
        text = figure_text(cell, check, unit, way)
        check.checker()(text)
        return text
    if isinstance(check, Count):
        text = _count(cell, check, way)
        check.checker()(text)
        return text
    if isinstance(check, Switch):
        return _switch(cell.text)
    if isinstance(check, Tags):
        tags = _tags(cell.text, check)
        return tags if tags or check.least == 0 else None
    return _checked_text(cell.text, check)


def _checked_text(text: str, check: Any) -> str:
    """Text as it stands, if it is one line; an id if it is one."""
    flat = " ".join(text.split()) if isinstance(check, Name) else text
    if isinstance(check, Name | Slug):
        check.checker()(flat)
    return flat


def figure_text(cell: Cell, check: Quantity, unit: str | None, way: Convention) -> str:
    """A figure with its unit, such as `1250 lb` for `1,250 lbs`; QuantityError if there is any doubt.

    The cell's own unit goes before that of its number format, and that before the column's.
    """
    if cell.number:
        return _from_number(cell, check, unit)
    expected = check.expected()
    foreign = _FOREIGN.search(cell.text)
    if foreign and check.dimension.startswith("money"):
        raise QuantityError(f'"{cell.text[:60]}", an amount in {foreign[0]}', expected, "the amount in US dollars")
    text = cleaned(cell.text)
    dollars = _DOLLARS.match(text)
    if dollars:
        text = dollars[1] + text[dollars.end() :]
    number, rest = _split(text, cell, expected)
    if dollars:
        rest = f"USD{rest}" if not rest or rest.startswith("/") else f"USD {rest}"
        rest = "USD" if rest.upper() in ("USD USD", "USD US$") else rest
    if check.dimension == "money":
        rest = _EACH.sub("", rest).strip()
    rest = rest or unit or ""
    if not rest:
        raise UnitForgotten(f'"{cell.text}", without a unit', expected, f"{cell.text} {check.unit}")
    return f"{plain_number(number, way)} {unit_in(rest, check.dimension) or rest}"


def _split(text: str, cell: Cell, expected: str) -> tuple[str, str]:
    number, rest = split_figure(text)
    if not number:
        raise QuantityError(f'"{cell.text[:60]}", which does not begin with a number', expected)
    return number, rest


def _from_number(cell: Cell, check: Quantity, unit: str | None) -> str:
    """A figure that the file holds as a number: its format's unit and the column's must agree."""
    if cell.hint == "%":
        return _percent(cell, check, unit)
    shown = unit_in(cell.hint, check.dimension) if cell.hint else None
    if cell.hint and shown is None and (check.dimension.startswith("money") or not unit):
        found = f"{cell.text}, which its format shows in {cell.hint}"
        raise QuantityError(found, check.expected(), "the number with its unit as text")
    unit_found = shown or unit
    if not unit_found:
        raise UnitForgotten(f"{cell.text}, without a unit", check.expected(), f"{cell.text} {check.unit}")
    return f"{cell.text} {unit_found}"


def _percent(cell: Cell, check: Quantity, unit: str | None) -> str:
    """A number that is shown as percent: 0.125 is 12.5 %."""
    column = unit or "%"
    if check.dimension != "share" and not column.startswith("%/"):
        raise QuantityError(f"{cell.text}, which its format shows in percent", check.expected())
    return f"{(Decimal(cell.text) * 100).normalize():f} {'%' if check.dimension == 'share' else column}"


def _count(cell: Cell, check: Count, way: Convention) -> str:
    if cell.number:
        return cell.text
    number, rest = split_figure(cleaned(cell.text))
    if not number or rest:
        raise EntryError(f'"{cell.text[:60]}"', check.expected())
    return plain_number(number, way)


def _switch(text: str) -> str:
    low = text.lower()
    if low in _YES or low in _NO:
        return "true" if low in _YES else "false"
    raise EntryError(f'"{text[:60]}"', "yes or no, true or false")


def _plain(text: str) -> str:
    return re.sub(r"[\s_-]+", "-", text.strip().lower())


def _word(text: str, words: tuple[str, ...]) -> str:
    """One of the words of a field, whatever its capitals and hyphens."""
    meant = [word for word in words if _plain(word) == _plain(text)]
    if len(meant) == 1:
        return meant[0]
    raise EntryError(f'"{text[:60]}"', f"one of {', '.join(words)}")


def _tags(text: str, check: Tags) -> list[str]:
    """A list of words; `none` is an empty one."""
    if text.lower() == "none":
        return []
    parts = [part.strip() for part in re.split(r"[;,]", text) if part.strip()]
    tags = [_tag(part, check) for part in parts]
    return list(check.checker()(tags))


def _tag(part: str, check: Tags) -> str:
    if "240 V" in check.words:
        volts = _VOLTS.fullmatch(part)
        if volts:
            return f"{volts[1]} V"
        if _PHASES.fullmatch(part):
            return "3-phase"
    if check.words:
        return _word(part, check.words)
    return _plain(part)


def _mapping(part: str, inner: type[Record], way: Convention) -> dict[str, Any]:
    """One entry of a flat spelling: its values in the order of the fields."""
    names = list(inner.model_fields)
    expected = f"{' '.join(names)}, entries apart by ;"
    pieces = _PIECES.split(part)
    if len(pieces) != len(names):
        raise EntryError(f'"{part[:60]}", with {len(pieces)} values', expected, example_of(inner))
    entry = {}
    for name, piece in zip(names, pieces, strict=True):
        try:
            value = entry_of(Cell(piece), inner, name, None, way)
        except EntryError as error:
            raise EntryError(f"{name} {error.found}", error.expected, error.advice) from None
        if value is None:
            raise EntryError(f'"{part[:60]}", without {name}', expected, example_of(inner))
        entry[name] = value
    return entry


def example_of(inner: type[Record]) -> str:
    """One entry in the flat spelling."""
    pieces = []
    for name in inner.model_fields:
        quantity = inner.quantity(name)
        pieces.append(quantity.example if quantity else words_of(inner, (name,))[0])
    return " ".join(pieces)
