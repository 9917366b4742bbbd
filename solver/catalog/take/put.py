"""A catalog into a workbook: one sheet a class, figures as numbers under headings with units; `take` reads it back.

Contents: `put_workbook`, `Workbook`.

A figure is a number in its column's unit if fifteen digits give its value exactly, else text with its own unit. Text is
written as text, whatever it begins with. The same catalog gives the same bytes: a workbook's times are set to one day.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cache
from pathlib import Path
from typing import Any

from solver.catalog.base import Item, Record, item_classes
from solver.catalog.notes import notes_of
from solver.catalog.read import natural_order
from solver.catalog.reading_errors import expected_of, model_at, words_of
from solver.catalog.take.exact import digits_of, exact_number, exact_text
from solver.catalog.take.open import NOTES
from solver.catalog.take.place import items_in
from solver.catalog.take.sheet import letter_of
from solver.catalog.take.values import example_of
from solver.catalog.take.xlsx_in import library
from solver.errors import EntryError, InternalError
from solver.quantities import UNITS, display_unit

_LEAST_WIDTH, _MOST_WIDTH = 8, 60
_DAY = (1980, 1, 1, 0, 0, 0)
"""The first day that a ZIP archive can name."""
_TIMES = re.compile(rb"(<dcterms:(created|modified)[^>]*>)[^<]*")
_HOW = (
    "One sheet for each class; the heading of a figure names its unit, and a cell may name another one: 3/8 in, 2 kg.",
    "A list stands in one cell: words apart by commas, none for an empty list; mappings apart by semicolons, the values "
    "of each in the order that this sheet shows.",
    "An empty cell takes the default. Columns may be moved or left out if a default or --fill stands for them.",
    "Reading it back: rigset catalog take THIS_FILE.xlsx --into FOLDER",
)


@dataclass(frozen=True)
class Workbook:
    """A workbook as it goes into a file."""

    content: bytes
    counts: Mapping[str, int]
    """Items per sheet."""


def put_workbook(folder: Path, out: Path, class_name: str = "", system: str = "us") -> Workbook:
    """The workbook of a catalog, or of one class of it; `system` is `us` or `si`."""
    if out.suffix.lower() != ".xlsx":
        raise EntryError(f'the file name "{out.name}"', "a name that ends in .xlsx", f"{out.stem}.xlsx")
    found = {name: items for name, items in items_in(folder).items() if items}
    if class_name:
        found = _one_class(folder, found, class_name)
    classes = item_classes()
    book = library().Workbook()
    book.remove(book.active)
    for name, items in found.items():
        _sheet(book, name, classes[name], sorted(items, key=lambda item: natural_order(item.id)), system)
    _notes(book, [classes[name] for name in found])
    content = io.BytesIO()
    book.save(content)
    return Workbook(_steady(content.getvalue()), {name: len(items) for name, items in found.items()})


def _one_class(folder: Path, found: Mapping[str, list[Item]], name: str) -> dict[str, list[Item]]:
    if name not in item_classes():
        near = get_close_matches(name, item_classes(), 1, 0.5)
        raise EntryError(f'class "{name}"', f"one of {', '.join(item_classes())}", near[0] if near else "")
    if name not in found:
        raise EntryError(f"no items of class {name} in {folder}", "a class that the catalog has", ", ".join(found))
    return {name: found[name]}


def unit_of(model: type[Record], name: str, system: str, items: Sequence[Record] = ()) -> str:
    """The unit of a field's column, empty if it has none: in the US system the first in which most figures are exact."""
    quantity = model.quantity(name)
    if quantity is None:
        return ""
    if system == "si":
        return display_unit(quantity.dimension, system)
    units = dict.fromkeys((quantity.unit, display_unit(quantity.dimension), *UNITS[quantity.dimension]))
    values = {getattr(item, name) for item in items}
    return min(units, key=lambda unit: sum(exact_number(value, quantity.dimension, unit) is None for value in values))


def _heading(name: str, unit: str) -> str:
    words = name.replace("_", " ")
    return f"{words} ({unit})" if unit else words


def _value(item: Record, name: str, unit: str) -> str | float | int:
    """What stands in the cell of a field."""
    value, model = getattr(item, name), type(item)
    inner = model_at(model, (name,))
    if inner is not model:
        return "; ".join(_flat(part) for part in value)
    quantity = model.quantity(name)
    if quantity is not None:
        number = exact_number(value, quantity.dimension, unit)
        if number is None:
            return exact_text(value, quantity.dimension, quantity.unit, display_unit(quantity.dimension))
        return int(number) if number.is_integer() and abs(number) < 1e15 else number
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ", ".join(value) or "none"
    if isinstance(value, str | int):
        return value
    raise InternalError(f"{model.__name__}.{name} has no form in a cell")


def _flat(part: Record) -> str:
    """A mapping in the flat spelling: its values in the order of its fields."""
    pieces = []
    for name in type(part).model_fields:
        quantity = type(part).quantity(name)
        value = getattr(part, name)
        pieces.append(exact_text(value, quantity.dimension, quantity.unit) if quantity else str(value))
    return " ".join(pieces)


def _sheet(book: Any, name: str, model: type[Item], items: Sequence[Item], system: str) -> None:
    sheet = book.create_sheet(name)
    fields = list(model.model_fields)
    units = {field: unit_of(model, field, system, items) for field in fields}
    headings = [_heading(field, units[field]) for field in fields]
    _row(sheet, 1, headings, bold=True)
    widths = [min(len(heading), 18) for heading in headings]
    for number, item in enumerate(items, 2):
        values = [_value(item, field, units[field]) for field in fields]
        _row(sheet, number, values)
        widths = [max(width, _length(value)) for width, value in zip(widths, values, strict=True)]
    _finish(sheet, widths, "C2")


def _length(value: str | float | int) -> int:
    return len(value if isinstance(value, str) else digits_of(float(value)))


def _row(sheet: Any, number: int, values: Sequence[str | float | int], bold: bool = False) -> None:
    """A row of cells: numbers as numbers, everything else as text, never as a formula."""
    styles = library("openpyxl.styles")
    for column, value in enumerate(values, 1):
        cell = sheet.cell(row=number, column=column)
        if isinstance(value, str):
            cell.value = value
            cell.data_type = "s"
            cell.quotePrefix = value[:1] in ("=", "+", "-", "@", "'")
        else:
            cell.value = value
        if bold:
            cell.font = styles.Font(bold=True)
            cell.alignment = styles.Alignment(wrap_text=True, vertical="top")


def _finish(sheet: Any, widths: Sequence[int], frozen: str) -> None:
    sheet.freeze_panes = frozen
    for column, width in enumerate(widths):
        sheet.column_dimensions[letter_of(column)].width = max(_LEAST_WIDTH, min(width + 2, _MOST_WIDTH))
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_title_rows = "1:1"


def _notes(book: Any, models: Sequence[type[Item]]) -> None:
    """The last sheet: how to read the workbook back, and what each field means."""
    styles = library("openpyxl.styles")
    sheet = book.create_sheet(NOTES)
    _row(sheet, 1, ("class", "heading", "expected", "meaning"), bold=True)
    rows = [("", "", "", text) for text in _HOW]
    common = set(Item.model_fields)
    rows += [("every class", *_note(Item, name)) for name in Item.model_fields]
    for model in models:
        rows += [(model.class_name, *_note(model, name)) for name in model.model_fields if name not in common]
    for number, row in enumerate(rows, 2):
        _row(sheet, number, row)
        for cell in sheet[number][2:]:
            cell.alignment = styles.Alignment(wrap_text=True, vertical="top")
    _finish(sheet, (18, 28, 50, 58), "A2")


_meanings = cache(notes_of)


def _note(model: type[Item], name: str) -> tuple[str, str, str]:
    expected = expected_of(model, name)
    inner = model_at(model, (name,))
    if inner is not model:
        expected = f"{' '.join(inner.model_fields)}; and so on, such as: {example_of(inner)}"
    elif expected == "true or false":
        expected = "yes or no"
    elif not words_of(model, (name,)) and expected.startswith("a list"):
        expected = f"{expected}, apart by commas"
    if not model.model_fields[name].is_required():
        expected = f"{expected}; may be empty"
    return name.replace("_", " "), expected, _meanings(model).get(name, "")


def _steady(content: bytes) -> bytes:
    """The same workbook with its times set to one day."""
    steady = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(content)) as old, zipfile.ZipFile(steady, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            data = old.read(name)
            if name == "docProps/core.xml":
                data = _TIMES.sub(rb"\g<1>1980-01-01T00:00:00Z", data)
            part = zipfile.ZipInfo(name, _DAY)
            part.compress_type = zipfile.ZIP_DEFLATED
            part.external_attr = 0o600 << 16
            new.writestr(part, data)
    return steady.getvalue()
