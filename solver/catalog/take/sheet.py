"""A sheet as read from a file of any kind: rows of cells, each with what it says and what is wrong with it.

Contents: `Cell`, `Row`, `Sheet`, `letter_of`, `short`, `file_mistake`.
"""

from __future__ import annotations

from dataclasses import dataclass

from solver.errors import InputError, Mistake

LARGEST = 20_000_000
"""Bytes of one file."""
MOST_ROWS, MOST_COLUMNS, LONGEST_CELL = 20_000, 400, 4_000
"""Rows and columns of one sheet that are read, and characters of one cell."""


@dataclass(frozen=True)
class Cell:
    """One cell. A number keeps its unit where its format shows one."""

    text: str = ""
    """What it says, without space around it; of a number its shortest digits, with a decimal point."""
    number: bool = False
    """Whether the file holds it as a number, so that there is no doubt about points and commas."""
    hint: str = ""
    """The unit that its number format shows: `$`, `%`, `lb`."""
    wrong: str = ""
    """What keeps it from being read: a date, an error, a formula without a value."""
    shared: tuple[int, int] | None = None
    """Row and column of the cell that speaks for it, if it is part of a merged one."""


@dataclass(frozen=True)
class Row:
    """One row with the number that the spreadsheet shows (of a CSV file: its first line)."""

    number: int
    cells: tuple[Cell, ...]

    def filled(self) -> list[tuple[int, Cell]]:
        """Cells that say something, with their columns; a merged cell counts once."""
        found: dict[object, tuple[int, Cell]] = {}
        for column, cell in enumerate(self.cells):
            if cell.text or cell.wrong:
                found.setdefault(cell.shared or column, (column, cell))
        return list(found.values())

    def cell(self, column: int) -> Cell:
        """The cell of a column; an empty one beyond the end."""
        return self.cells[column] if column < len(self.cells) else Cell()


@dataclass(frozen=True)
class Sheet:
    """A sheet of a file."""

    path: str
    """The file, as it was given."""
    name: str
    """Name of the sheet; empty for a CSV file."""
    rows: tuple[Row, ...]
    """Its rows from the top, blank ones left out."""
    notes: tuple[str, ...] = ()
    """What was found out while reading: separator, encoding."""
    comma_doubt: bool = False
    """Whether the file comes from a place that may write decimal commas."""

    @property
    def shown(self) -> str:
        """File and sheet as messages name them."""
        return f"{self.path} ({self.name})" if self.name else self.path


def letter_of(column: int) -> str:
    """The letter of a column, from 0: A, B, ... Z, AA."""
    letters = ""
    column += 1
    while column:
        column, rest = divmod(column - 1, 26)
        letters = chr(65 + rest) + letters
    return letters


def short(text: str, most: int = 40) -> str:
    """A text that fits a line of a report."""
    flat = " ".join("".join(c if c.isprintable() else " " for c in text).split())
    return flat if len(flat) <= most else f"{flat[: most - 3]}..."


def file_mistake(path: str, found: str, expected: str, advice: str = "", line: int = 0) -> InputError:
    """An error about a file as a whole, or about one line of it."""
    return InputError([Mistake(path, line, found, expected, advice)])
