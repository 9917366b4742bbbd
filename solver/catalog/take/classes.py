"""Which class a sheet holds, where nobody said it: by its name, by that of its file, or by its headings.

Contents: `class_named`, `class_of`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from pathlib import Path

from solver.catalog.base import Item, item_classes
from solver.catalog.take.headings import Question, heading_row, headings_in
from solver.catalog.take.sheet import Sheet
from solver.catalog.take.words import plain


def class_named(text: str) -> str:
    """The one class that a name speaks of, in the singular or plural; empty if there is none or more than one."""
    words = f" {plain(re.sub('[_-]', ' ', text))} "
    found = [name for name in item_classes() if re.search(rf" {plain(name)}(?:s|es)? ", words)]
    longest = [name for name in found if not any(name != other and plain(name) in plain(other) for other in found)]
    return longest[0] if len(longest) == 1 else ""


def class_of(sheet: Sheet) -> tuple[str, str, list[Question]]:
    """The class, on what it stands, and what to ask if that is not plain."""
    for text, what in ((sheet.name, "the name of the sheet"), (Path(sheet.path).stem, "the name of the file")):
        name = class_named(text)
        if name:
            return name, f"by {what}", []
    scores = _scores(sheet, item_classes())
    best = max(scores.values(), default=0)
    first = [name for name, score in scores.items() if score == best]
    if best >= 2 and len(first) == 1:
        return first[0], "by its headings", []
    likely = first if best > 0 and len(first) <= 6 else list(item_classes())
    return "", "", [Question("the class of the items is not known", tuple(f"--class {name}" for name in likely))]


def _scores(sheet: Sheet, classes: Mapping[str, type[Item]]) -> dict[str, int]:
    """Per class how many headings the best row has beyond those that every class knows."""
    common = heading_row(sheet, [Item], ())
    scores = {}
    for name, model in classes.items():
        at = heading_row(sheet, [model], ())
        if at >= 0:
            base = headings_in(sheet.rows[at], [Item]) if common >= 0 else 0
            scores[name] = headings_in(sheet.rows[at], [model]) - base
    return scores
