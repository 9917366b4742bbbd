"""Rows of a table that are no items: the headings once more, a sum, a title or note.

Contents: `no_item`.
"""

from __future__ import annotations

import re
from collections.abc import Sequence

from solver.catalog.take.headings import Column
from solver.catalog.take.sheet import Row, short

_SUM = re.compile(r"(?:grand |sub[ -]?)?totals?|sums?|averages?|means?|counts?|subtotals?|number of items", re.I)
"""What a row begins with that adds up others."""


def no_item(row: Row, heading: Row, columns: Sequence[Column]) -> str:
    """What a row is that is no item, in words; empty for one that should be one.

    A row is no item if all it says stands in the headings too, if it begins like a sum and has neither id nor label
    beside that word, or if one single text is all of it (in a table of several fields).
    """
    filled = row.filled()
    texts = [cell.text for _, cell in filled]
    if len(texts) > 1 and set(texts) <= {cell.text for _, cell in heading.filled()}:
        return "the headings once more"
    first = texts[0] if texts else ""
    if _SUM.fullmatch(first.strip(" :")) and not _named(row, columns, first):
        return f'a sum: "{short(first)}"'
    several = not columns or sum(bool(column.field) for column in columns) > 1
    if several and len(filled) == 1 and not filled[0][1].number and not filled[0][1].wrong:
        return f'a title or note: "{short(first, 60)}"'
    return ""


def _named(row: Row, columns: Sequence[Column], first: str) -> bool:
    """Whether a row has an id or label that is not the word which it begins with."""
    own = [row.cell(column.index).text for column in columns if column.field in ("id", "label")]
    return any(text and text != first for text in own)
