"""Sheets of an XLSX workbook: values, never formulas; units that number formats show; merged cells filled.

Contents: `read_xlsx`, `sheet_names`, `library`.

The workbook is read twice side by side, as values and as formulas, so that a formula whose value was never stored is
noticed instead of being taken for an empty cell. openpyxl is loaded here and in `put.py`, when a workbook is read or
written.
"""

from __future__ import annotations

import datetime
import re
from collections.abc import Iterator, Sequence
from contextlib import closing, contextmanager
from importlib import import_module
from pathlib import Path
from typing import Any

from solver.catalog.take.merges import check_archive, merged_ranges
from solver.catalog.take.sheet import LONGEST_CELL, MOST_COLUMNS, MOST_ROWS, Cell, Row, Sheet, file_mistake
from solver.errors import EntryError

_SYMBOL = re.compile(r"\[\$([^\]\-]*)(?:-[^\]]*)?\]")
_QUOTED = re.compile(r'"([^"]*)"')
_BROKEN = (KeyError, ValueError, TypeError, AttributeError, IndexError, OSError, EOFError, SyntaxError)
"""What openpyxl raises on a workbook whose parts do not fit together (an XML error is a SyntaxError)."""


def library(part: str = "openpyxl") -> Any:
    """openpyxl or a part of it; EntryError where the extra `sheet` is not installed."""
    try:
        return import_module(part)
    except ImportError:
        found = "no library for XLSX files"
        raise EntryError(found, "the extra `sheet`", "pip install 'rigset[sheet]', or a CSV file") from None


@contextmanager
def _opened(path: Path, values: bool) -> Iterator[Any]:
    openpyxl = library()
    try:
        book = openpyxl.load_workbook(path, read_only=True, data_only=values, keep_links=False)
    except _BROKEN as error:
        raise _unreadable(path, error) from None
    with closing(book):
        yield book


def _unreadable(path: Path, error: Exception) -> Exception:
    words = " ".join(str(error).split())[:80].rstrip(".")
    return file_mistake(str(path), f"no readable workbook ({words})", "an XLSX workbook", "saving it anew, or as CSV")


def sheet_names(path: Path) -> list[str]:
    """The names of the sheets that hold cells, in their order, hidden ones too."""
    check_archive(path, str(path))
    with _opened(path, True) as book:
        return [sheet.title for sheet in book.worksheets]


def read_xlsx(path: Path, names: Sequence[str]) -> list[Sheet]:
    """These sheets, in this order; `sheet_names` has checked the file before."""
    sheets = []
    with _opened(path, True) as values, _opened(path, False) as formulas:
        for name in names:
            try:
                rows = _rows(str(path), values[name], formulas[name])
            except _BROKEN as error:
                raise _unreadable(path, error) from None
            sheets.append(Sheet(str(path), name, _merged(rows, merged_ranges(path, name))))
    return sheets


def _rows(shown: str, values: Any, formulas: Any) -> list[Row]:
    values.reset_dimensions()
    formulas.reset_dimensions()
    rows: list[Row] = []
    for number, (row, typed) in enumerate(zip(values.iter_rows(), formulas.iter_rows(), strict=False), 1):
        cells = tuple(_cell(*pair) for pair in zip(row, typed, strict=False))
        if not any(cell.text or cell.wrong for cell in cells):
            continue
        if number > MOST_ROWS:
            raise file_mistake(shown, f"more than {MOST_ROWS:,} rows", "a price list", "several smaller files")
        if len(cells) > MOST_COLUMNS:
            cells = _narrow(shown, cells, number)
        rows.append(Row(number, cells))
    return rows


def _narrow(shown: str, cells: tuple[Cell, ...], number: int) -> tuple[Cell, ...]:
    if any(cell.text or cell.wrong for cell in cells[MOST_COLUMNS:]):
        raise file_mistake(shown, f"more than {MOST_COLUMNS} columns", f"at most {MOST_COLUMNS}", "", number)
    return cells[:MOST_COLUMNS]


def _cell(value: Any, typed: Any) -> Cell:
    """One cell from its two readings."""
    found = value.value
    if found is None:
        return Cell(wrong="a formula without a stored value" if typed.data_type == "f" else "")
    if value.data_type == "e":
        return Cell(wrong=f"the error {found}")
    if isinstance(found, bool):
        return Cell("true" if found else "false")
    if isinstance(found, int | float):
        return Cell(_digits(found), number=True, hint=_hint(str(value.number_format or "")))
    if isinstance(found, datetime.date | datetime.time | datetime.timedelta):
        return Cell(wrong=f"the date or time {found}")
    text = str(found).strip()
    if len(text) > LONGEST_CELL:
        return Cell(wrong=f"a text of {len(text):,} characters")
    return Cell(text)


def _digits(number: float) -> str:
    """The shortest digits of a number, without a point where it is whole."""
    if isinstance(number, int):
        return str(number)
    return str(int(number)) if number.is_integer() and abs(number) < 1e15 else repr(number)


def _hint(form: str) -> str:
    """The unit in a number format: a currency, a percent sign, or a quoted text."""
    first = form.split(";")[0]
    symbol = _SYMBOL.search(first)
    if symbol and symbol[1]:
        return symbol[1]
    plain = _QUOTED.sub("", first).replace("\\", "")
    for mark in ("$", "€", "£", "¥"):
        if mark in _SYMBOL.sub("", plain) or f'"{mark}"' in first:
            return mark
    if "%" in plain:
        return "%"
    quoted = [text.strip() for text in _QUOTED.findall(first) if text.strip()]
    return quoted[0] if len(quoted) == 1 else ""


def _merged(rows: list[Row], areas: list[tuple[int, int, int, int]]) -> tuple[Row, ...]:
    """The rows with every part of a merged cell saying what the whole says."""
    if not areas:
        return tuple(rows)
    by_number = {row.number: row for row in rows}
    for top, left, bottom, right in areas:
        source = by_number.get(top)
        if source is None or not (source.cell(left).text or source.cell(left).wrong):
            continue
        lead = source.cell(left)
        part = Cell(lead.text, lead.number, lead.hint, lead.wrong, (top, left))
        for number in range(top, min(bottom, rows[-1].number) + 1):
            if number in by_number:
                by_number[number] = _filled(by_number[number], left, min(right, MOST_COLUMNS), part)
    return tuple(by_number[number] for number in sorted(by_number))


def _filled(row: Row, left: int, right: int, part: Cell) -> Row:
    cells = list(row.cells) + [Cell()] * max(0, right + 1 - len(row.cells))
    cells[left : right + 1] = [part] * (right + 1 - left)
    return Row(row.number, tuple(cells))
