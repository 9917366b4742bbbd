"""The rows under the headings to items; every row is an item, refused with its reason, or named as no item.

Contents: `Read`, `Refused`, `Taken`, `take_rows`, `Known` (ids that are used already).
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from pydantic import ValidationError

from solver.catalog.base import Item, item_classes
from solver.catalog.quick import quick_item
from solver.catalog.reading_errors import expected_of, mistakes_of
from solver.catalog.take.no_items import no_item
from solver.catalog.take.sheet import Cell, Row
from solver.catalog.take.understand import Understood
from solver.catalog.take.values import entry_of, says_nothing
from solver.errors import EntryError, InternalError, Mistake
from solver.files import Document

Known = Mapping[str, str]
"""Per id that is used already, the file and line where it stands."""


@dataclass(frozen=True)
class Read:
    """A row that is an item."""

    row: Row
    entry: dict[str, Any]
    """What stands in the YAML file."""
    item: Item


@dataclass(frozen=True)
class Refused:
    """A row that cannot be an item as it stands."""

    row: Row
    mistakes: tuple[Mistake, ...]


@dataclass(frozen=True)
class Taken:
    """Every row of a sheet, once."""

    of: Understood
    items: tuple[Read, ...]
    refused: tuple[Refused, ...]
    no_items: tuple[tuple[Row, str], ...]
    """Rows that are no items, each with what it is."""

    @property
    def model(self) -> type[Item]:
        """The class."""
        if self.of.model is None:
            raise InternalError("rows were read before their class was known")
        return self.of.model


def take_rows(of: Understood, known: Known) -> Taken:
    """The rows of a sheet without open questions; ids must not be among the known ones."""
    if of.model is None or of.heading is None or of.questions:
        raise InternalError("rows were read before all questions were answered")
    reading = _Reading(of, of.model, dict(known))
    for row in of.data:
        why = no_item(row, of.heading, of.columns)
        if why:
            reading.no_items.append((row, why))
        else:
            reading.row(row)
    return Taken(of, tuple(reading.items), tuple(reading.refused), tuple(reading.no_items))


class _Reading:
    """What is gathered row by row."""

    def __init__(self, of: Understood, model: type[Item], known: dict[str, str]) -> None:
        self.of, self.model, self.known = of, model, known
        self.columns = [column for column in of.columns if column.field]
        self.has_ids = any(column.field == "id" for column in self.columns)
        self.stem = model.class_name.replace("_", "-")
        self.number = _last_number(self.stem, known)
        self.items: list[Read] = []
        self.refused: list[Refused] = []
        self.no_items: list[tuple[Row, str]] = []

    def row(self, row: Row) -> None:
        """Read one row."""
        found: dict[str, Any] = {}
        mistakes: list[Mistake] = []
        for column in self.columns:
            cell = row.cell(column.index)
            place = f"{column.field} (column {column.letter})"
            try:
                entry = entry_of(cell, self.model, column.field, column.unit or None, self.of.convention)
            except EntryError as error:
                mistakes.append(error.at(self.of.sheet.shown, row.number, place))
                continue
            if entry is None:
                entry = self.of.fills.get(column.field)
            if entry is None and self.model.model_fields[column.field].is_required():
                mistakes.append(self._empty(row, column.field, place, cell))
            elif entry is not None:
                found[column.field] = entry
        if not self.has_ids:
            found["id"] = self._next_id()
        elif "id" in found:
            mistakes.extend(self._id_mistakes(row, found["id"]))
        self._item(row, {**self.of.fills, **found}, mistakes)

    def _empty(self, row: Row, field: str, place: str, cell: Cell) -> Mistake:
        what = f'"{cell.text}"' if says_nothing(cell) and cell.text else "nothing"
        advice = f'--fill "{field}=..." for all rows that say nothing' if field not in ("id", "label") else ""
        return Mistake(self.of.sheet.shown, row.number, f"{place} {what}", expected_of(self.model, field), advice)

    def _next_id(self) -> str:
        self.number += 1
        return f"{self.stem}-{self.number:02d}"

    def _id_mistakes(self, row: Row, item_id: str) -> list[Mistake]:
        shown = self.of.sheet.shown
        if item_id == "none" or item_id in item_classes():
            advice = f"{item_id.replace('_', '-')}-01" if item_id != "none" else ""
            return [Mistake(shown, row.number, f'id "{item_id}"', "an id that is no word of the program's own", advice)]
        if item_id in self.known:
            expected = f"each id once (first in {self.known[item_id]})"
            return [Mistake(shown, row.number, f'id "{item_id}" a second time', expected)]
        self.known[item_id] = f"{shown}:{row.number}"
        return []

    def _item(self, row: Row, entry: dict[str, Any], mistakes: list[Mistake]) -> None:
        """The item of a row whose cells are right one by one, or what cannot stand beside what."""
        ordered = {name: entry[name] for name in self.model.model_fields if name in entry}
        item = quick_item(self.model, ordered) if not mistakes else None
        if item is None and not mistakes:
            document = Document(self.of.sheet.shown, {}, {}, row.number)
            try:
                item = self.model.model_validate(ordered)
            except ValidationError as error:
                mistakes.extend(mistakes_of(error, document, (), self.model, ordered))
        if item is None:
            self.refused.append(Refused(row, tuple(sorted(set(mistakes)))))
        else:
            self.items.append(Read(row, ordered, item))


def _last_number(stem: str, known: Known) -> int:
    """The highest number that an id of this form has already."""
    numbers = [int(found[1]) for item_id in known if (found := re.fullmatch(rf"{re.escape(stem)}-([0-9]{{1,6}})", item_id))]
    return max(numbers, default=0)
