"""Plain text that fits the terminal: tables, paragraphs, headings. No colour carries meaning alone.

Contents: `width_of_terminal`, `Table`, `paragraph`, `heading`, `bullet`.
"""

from __future__ import annotations

import shutil
import textwrap
from collections.abc import Sequence
from dataclasses import dataclass


def width_of_terminal() -> int:
    """Columns to write in: those of the terminal, at least 60 and at most 120."""
    return max(60, min(120, shutil.get_terminal_size((80, 24)).columns))


@dataclass(frozen=True)
class Table:
    """Rows under headings. `align` has one of "<" or ">" per column; the column `flexible` is cut or wrapped to fit."""

    headings: Sequence[str]
    rows: Sequence[Sequence[str]]
    align: str
    flexible: int = 0

    def lines(self, width: int) -> list[str]:
        """The table in at most `width` columns; long cells of the flexible column go on in the next line."""
        cells = [list(self.headings), *[list(row) for row in self.rows]]
        sizes = [max(len(row[i]) for row in cells) for i in range(len(self.headings))]
        over = sum(sizes) + 2 * (len(sizes) - 1) - width
        others = sorted((i for i in range(len(sizes)) if i != self.flexible), key=lambda i: -sizes[i])
        for i in (self.flexible, *others):
            words = [word for row in cells for word in row[i].split()]
            least = 12 if i == self.flexible else max(map(len, words), default=0)
            cut = min(max(0, over), max(0, sizes[i] - least))
            sizes[i], over = sizes[i] - cut, over - cut
        lines: list[str] = []
        for number, row in enumerate(cells):
            lines.extend(self._row(row, sizes))
            if number == 0:
                lines.append("  ".join("-" * size for size in sizes))
        return [line.rstrip() for line in lines]

    def _row(self, row: Sequence[str], sizes: Sequence[int]) -> list[str]:
        columns = [
            textwrap.wrap(cell, max(1, size), break_on_hyphens=False) or [""] for cell, size in zip(row, sizes, strict=True)
        ]
        lines = []
        for k in range(max(len(pieces) for pieces in columns)):
            cells = [
                f"{pieces[k] if k < len(pieces) else '':{self.align[i]}{sizes[i]}}" for i, pieces in enumerate(columns)
            ]
            lines.append("  ".join(cells))
        return lines


def paragraph(text: str, width: int, indent: str = "") -> list[str]:
    """Text wrapped to the width."""
    return textwrap.wrap(text, width, initial_indent=indent, subsequent_indent=indent, break_on_hyphens=False)


def bullet(text: str, width: int, mark: str = "- ") -> list[str]:
    """One point of a list."""
    return textwrap.wrap(
        text, width, initial_indent=mark, subsequent_indent=" " * len(mark), break_on_hyphens=False
    )


def heading(text: str) -> list[str]:
    """A heading with space above."""
    return ["", text, "=" * len(text)]
