"""What was understood of a spreadsheet, for people: columns, what was left aside, rows refused and why.

Contents: `take_text` (the whole report), `unsure_text`, `refused_lines`, `written_lines`. `take_data.py` has the same
for programs.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import Any

from solver.catalog.take.headings import Column, Question
from solver.catalog.take.place import Placed
from solver.catalog.take.rows import Taken
from solver.catalog.take.sheet import Cell, short
from solver.catalog.take.take import Result
from solver.catalog.take.understand import Understood
from solver.catalog.take.values import says_nothing
from solver.report.layout import Table, bullet, paragraph

CHECK = "Figures are taken as the list gives them. Hold them against the data sheets before a rig is built on them."
_MOST_ROWS_NAMED = 30


def take_text(result: Result, width: int) -> str:
    """Everything that was understood, one part for each sheet."""
    lines: list[str] = []
    for at, one in enumerate(result.understood):
        lines += [""] * bool(at)
        lines += _sheet(one, result.taken[at] if result.taken else None, width)
    return "\n".join(lines) + "\n" if lines else ""


def _sheet(one: Understood, taken: Taken | None, width: int) -> list[str]:
    lines = paragraph(_first(one), width)
    if one.model is None:
        return lines
    used = [column for column in one.columns if column.field]
    lines += ["", *Table(("column", "heading", "field", "unit", "first found"), [_row(c, one, taken) for c in used],
                         "<<<<<", 4).lines(width)] if used else []  # fmt: skip
    aside = [column for column in one.columns if not column.field]
    lines += _part("Columns left aside", [_aside(column) for column in aside], width)
    fills = [f"{name}: {_entry(entry)}, as --fill says" for name, entry in one.fills.items()]
    lines += _part("For every row that does not say it", fills, width)
    if one.defaults:
        lines += ["", *paragraph(f"Nothing says {_and(one.defaults)}: the default is taken.", width)]
    if taken is not None:
        lines += _part("Rows that are no items", list(_no_items(taken)), width)
        lines += ["", *paragraph(_count(taken), width)]
    return lines


def _first(one: Understood) -> str:
    notes = f" ({', '.join(one.sheet.notes)})" if one.sheet.notes else ""
    if one.model is None or one.heading is None:
        return f"{one.sheet.shown}{notes}: the class of its items is not known."
    rows = len(one.data)
    units = f", units in row {one.units.number}" if one.units else ""
    return (
        f"{one.sheet.shown}{notes}: headings in row {one.heading.number}{units}, {rows} row{'s' * (rows != 1)} below; "
        f"taken for items of the class {one.model.class_name}, {one.why}."
    )


def _row(column: Column, one: Understood, taken: Taken | None) -> tuple[str, ...]:
    return column.letter, short(column.heading, 26), column.field, column.unit, short(_example(column, one, taken))


def _example(column: Column, one: Understood, taken: Taken | None) -> str:
    """The first entry that was made of a column; before rows are read, what stands in it."""
    if taken is not None:
        for read in taken.items:
            cell = read.row.cell(column.index)
            if not says_nothing(cell):
                return _entry(read.entry.get(column.field, ""))
    cells = [row.cell(column.index) for row in one.data]
    return next((_cell(cell) for cell in cells if not says_nothing(cell)), "")


def _cell(cell: Cell) -> str:
    return f"({cell.wrong})" if cell.wrong else cell.text


def _entry(entry: Any) -> str:
    """An entry of a YAML file on one line."""
    if isinstance(entry, list):
        return "; ".join(_entry(part) for part in entry) or "none"
    if isinstance(entry, dict):
        return " ".join(str(part) for part in entry.values())
    return str(entry)


def _aside(column: Column) -> str:
    heading = f' "{short(column.heading)}"' if column.heading else ""
    return f"{column.letter}{heading}: {column.aside}"


def _no_items(taken: Taken) -> Iterator[str]:
    for row, why in taken.no_items[:_MOST_ROWS_NAMED]:
        yield f"row {row.number}, {why}"
    if len(taken.no_items) > _MOST_ROWS_NAMED:
        numbers = ", ".join(str(row.number) for row, _ in taken.no_items[_MOST_ROWS_NAMED:])
        yield f"and of the same kinds the rows {numbers}"


def _count(taken: Taken) -> str:
    items, refused = len(taken.items), len(taken.refused)
    ids = f": {taken.items[0].item.id}" + (f" to {taken.items[-1].item.id}" if items > 1 else "") if items else ""
    text = f"{items} item{'s' * (items != 1)}{ids}."
    return f"{text} {refused} row{'s' * (refused != 1)} refused." if refused else f"{text} No row is refused."


def _part(title: str, points: Sequence[str], width: int) -> list[str]:
    if not points:
        return []
    return ["", f"{title}:", *(line for point in points for line in bullet(point, width))]


def _and(names: Sequence[str]) -> str:
    return " and ".join([", ".join(names[:-1]), names[-1]]) if len(names) > 1 else names[0]


def unsure_text(questions: Sequence[Question], width: int) -> str:
    """What must be said before anything is taken, with the options to copy; these are never broken into lines."""
    lines = ["Nothing was written. Please say:"]
    for question in questions:
        about = question.about if question.about.endswith((".", "?")) else f"{question.about}."
        lines += ["", *bullet(about, width), *(f"    {option}" for option in question.options)]
    return "\n".join(lines) + "\n"


def refused_lines(taken: Sequence[Taken]) -> list[str]:
    """Every mistake of every refused row, with file and row."""
    return [str(mistake) for one in taken for refused in one.refused for mistake in refused.mistakes]


def refused_text(taken: Sequence[Taken], nothing_right: bool) -> str:
    """Refused rows when they keep everything from being written."""
    count = sum(len(one.refused) for one in taken)
    rows = f"{count} row{'s are' if count != 1 else ' is'}"
    others = "" if nothing_right else ", or --leave-out to take the others"
    return "\n".join([*refused_lines(taken), f"Nothing was written: {rows} refused. Try: mending the rows{others}"]) + "\n"


def written_lines(placed: Placed, dry: bool, width: int) -> list[str]:
    """What was written, and what the folder still lacks."""
    word = "would be written" if dry else "written"
    lines = ["", *(f"{word}: {path}" for path in (*placed.files, *placed.beside))]
    lines += ["", *paragraph(CHECK, width)]
    if placed.lacks:
        text = f"Not a whole catalog yet: it still needs items of the classes {_and(placed.lacks)}."
        lines += ["", *paragraph(text, width)]
    return lines
