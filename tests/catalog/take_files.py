"""Price lists as people keep them, made for the tests.

Contents: `csv_file`, `book`, `taken`, `accounted` (every row once), `COMPRESSORS`, `FILLS`.
"""

from __future__ import annotations

import csv
import io
from pathlib import Path
from typing import Any

import openpyxl

from solver.catalog.take.open import Opening
from solver.catalog.take.rows import Taken
from solver.catalog.take.take import Result, take_file
from solver.catalog.take.understand import Wish

RECEIVERS = [
    [
        "Item",
        "Price ($)",
        "Weight, lbs",
        "Length (in)",
        "Width (in)",
        "Height (in)",
        "Mounting",
        "Volume (gal)",
        "Max. pressure",
    ],
    ["Receiver, steel, 20 gal", "290", "92", "0", "0", "0", "outside", "20", "150 psi"],
    ["Receiver, steel, 30 gal", "1,250.00", "120", "36", "24 1/2", "40", "floor", "30", "200 PSI"],
    ["Receiver, alloy, 30 gal", "$1,480", "40 kg", "36", "24", "40", "floor", "30", "10 bar"],
]
"""A plain list of a class that no one has to name."""
FILLS = ("upkeep_time=1 h", "upkeep_cost=15 USD", "delivery=1 week", "parts=2 day")
"""What such lists do not say."""


def csv_file(path: Path, rows: list[list[str]], separator: str = ",", encoding: str = "utf-8", before: str = "") -> Path:
    """A CSV file of these rows."""
    out = io.StringIO()
    csv.writer(out, delimiter=separator).writerows(rows)
    path.write_bytes((before + out.getvalue()).encode(encoding))
    return path


def book(path: Path, rows: list[list[Any]], name: str = "Sheet1", formats: dict[str, str] | None = None) -> Path:
    """A workbook with one sheet; `formats` are number formats of cells, a range for its merging by `merge`."""
    made = openpyxl.Workbook()
    sheet = made.active
    sheet.title = name
    for row in rows:
        sheet.append(row)
    for place, form in (formats or {}).items():
        if form == "merge":
            sheet.merge_cells(place)
        elif form == "text":
            sheet[place].data_type = "s"
        else:
            sheet[place].number_format = form
    made.save(path)
    return path


def taken(
    path: Path, into: Path | None = None, fills: tuple[str, ...] = FILLS, opening: Opening | None = None, **wish: Any
) -> Result:
    """What `take` makes of a file."""
    return take_file(path, opening or Opening(), Wish(fills=fills, **wish), into)


def accounted(one: Taken) -> list[int]:
    """The numbers of all rows under the headings, each as often as it was dealt with."""
    rows = [read.row.number for read in one.items] + [refused.row.number for refused in one.refused]
    return sorted(rows + [row.number for row, _ in one.no_items])
