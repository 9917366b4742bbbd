"""What was made of a spreadsheet, for programs.

Contents: `take_data`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from solver.catalog.take.place import Placed
from solver.catalog.take.rows import Taken
from solver.catalog.take.take import Result
from solver.catalog.take.understand import Understood
from solver.errors import Mistake
from solver.report.take_text import CHECK


def take_data(result: Result, status: str, placed: Placed | None = None) -> Mapping[str, Any]:
    """Status (`taken`, `dry`, `unsure`, `refused`), questions, sheets with columns and rows, files."""
    sheets = [_sheet(one, result.taken[at] if result.taken else None) for at, one in enumerate(result.understood)]
    return {
        "status": status,
        "questions": [{"about": one.about, "options": list(one.options)} for one in result.questions],
        "sheets": sheets,
        "files": [str(path) for path in placed.files] if placed else [],
        "refused_files": [str(path) for path in placed.beside] if placed else [],
        "lacks": list(placed.lacks) if placed else [],
        "cautions": [CHECK],
    }


def _sheet(one: Understood, taken: Taken | None) -> dict[str, Any]:
    return {
        "file": one.sheet.path,
        "sheet": one.sheet.name,
        "class": one.model.class_name if one.model else None,
        "class_from": one.why,
        "heading_row": one.heading.number if one.heading else None,
        "columns": [
            {"column": c.letter, "heading": c.heading, "field": c.field or None, "unit": c.unit or None, "aside": c.aside}
            for c in one.columns
        ],
        "fills": dict(one.fills),
        "defaults": list(one.defaults),
        **(_rows(taken) if taken else {"items": [], "refused": [], "no_items": []}),
    }


def _rows(taken: Taken) -> dict[str, Any]:
    return {
        "items": [{"row": read.row.number, **read.entry} for read in taken.items],
        "refused": [{"row": r.row.number, "mistakes": [_mistake(m) for m in r.mistakes]} for r in taken.refused],
        "no_items": [{"row": row.number, "why": why} for row, why in taken.no_items],
    }


def _mistake(mistake: Mistake) -> dict[str, Any]:
    return {"found": mistake.found, "expected": mistake.expected, "try": mistake.advice}
