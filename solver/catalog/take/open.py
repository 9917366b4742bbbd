"""A file of any kind to the sheets that are to be taken from it.

Contents: `Opening` (what was said of the file), `open_sheets`, `NOTES`.

A workbook with one sheet gives that one. One whose sheets are all named after classes, as `rigset catalog put` writes
it, gives all of them. Of any other the sheet must be named.
"""

from __future__ import annotations

from dataclasses import dataclass
from difflib import get_close_matches
from pathlib import Path

from solver.catalog.base import item_classes
from solver.catalog.take.csv_in import read_csv
from solver.catalog.take.headings import Question, headings_in
from solver.catalog.take.sheet import Row, Sheet, file_mistake

NOTES = "notes"
"""Name of the sheet that `put` adds and that holds no items."""
_CSV, _XLSX = frozenset({".csv", ".tsv", ".txt", ".tab"}), frozenset({".xlsx", ".xlsm"})


@dataclass(frozen=True)
class Opening:
    """What a person said of a file."""

    sheet: str = ""
    encoding: str = ""
    separator: str = ""
    class_name: str = ""


def open_sheets(path: Path, said: Opening) -> tuple[list[Sheet], list[Question]]:
    """The sheets of a file, or the question which is meant; InputError if it cannot be read."""
    kind = path.suffix.lower()
    if kind not in _CSV | _XLSX:
        found = f'a file that ends in "{kind}"' if kind else "a file without ending"
        raise file_mistake(str(path), found, "a .csv or .xlsx file", "saving it as XLSX, or as CSV in UTF-8")
    if kind in _CSV:
        if said.sheet:
            raise file_mistake(str(path), f'no sheet "{said.sheet}": a CSV file has none', "an XLSX workbook with --sheet")
        sheet = read_csv(path, _score, said.encoding, said.separator)
        if not sheet.rows:
            raise file_mistake(str(path), "nothing in it", "headings and rows")
        return [sheet], []
    return _of_workbook(path, said)


def _score(rows: tuple[Row, ...]) -> int:
    return max((headings_in(row) for row in rows[:40]), default=0)


def _of_workbook(path: Path, said: Opening) -> tuple[list[Sheet], list[Question]]:
    from solver.catalog.take.xlsx_in import read_xlsx, sheet_names

    names = sheet_names(path)
    if said.sheet:
        return [_filled(sheet) for sheet in read_xlsx(path, [_one_of(path, names, said.sheet)])], []
    classes = [name for name in names if name in item_classes()]
    put = classes and all(name in classes or name == NOTES for name in names)
    if put and said.class_name in ("", *classes):
        wanted = [said.class_name] if said.class_name else classes
        return [_filled(sheet) for sheet in read_xlsx(path, wanted)], []
    filled = [sheet for sheet in read_xlsx(path, names[:20]) if sheet.rows]
    if len(filled) == 1 and len(names) <= 20:
        return filled, []
    if not filled:
        raise file_mistake(str(path), "nothing in it", "headings and rows")
    shown = [sheet.name for sheet in filled] + names[20:]
    options = tuple(f'--sheet "{name}"' for name in shown)
    return [], [Question(f"the workbook has {len(shown)} sheets", options)]


def _one_of(path: Path, names: list[str], wanted: str) -> str:
    same = [name for name in names if name == wanted] or [name for name in names if name.casefold() == wanted.casefold()]
    if len(same) == 1:
        return same[0]
    near = get_close_matches(wanted, names, 1, 0.4)
    raise file_mistake(str(path), f'no sheet "{wanted}"', f"one of {', '.join(names)}", near[0] if near else "")


def _filled(sheet: Sheet) -> Sheet:
    if not sheet.rows:
        raise file_mistake(sheet.shown, "nothing in it", "headings and rows")
    return sheet
