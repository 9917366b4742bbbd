"""From a folder of YAML files to a catalog, or to every mistake in it at once.

Contents: `Catalog`, `Source`, `read_catalog`.

A file has the keys `class` and `items` (and may have a `note`); a class may be spread over several files; names and
order of files and items change nothing, for items are sorted by their id (`pump-2` before `pump-10`).
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches
from functools import cached_property
from pathlib import Path
from typing import Any, NamedTuple

from pydantic import ValidationError

from solver.catalog.base import Item, item_classes
from solver.catalog.columns import Table, table_of
from solver.catalog.fields import found
from solver.catalog.quick import quick_item
from solver.catalog.reading_errors import mistakes_of
from solver.errors import InputError, InternalError, Mistake
from solver.files import Document, find_yaml, read_yaml
from solver.yaml_events import MOST_MISTAKES

_TOP_KEYS = ("class", "items", "note")


class Source(NamedTuple):
    """Where an item stands."""

    file: str
    line: int


@dataclass(frozen=True, eq=False)
class Catalog:
    """All that can be bought."""

    folder: str
    """The folder, as it was given."""
    classes: Mapping[str, tuple[Item, ...]]
    """Per class its items in the natural order of their ids; every known class is there, if only with no items."""
    tables: Mapping[str, Table]
    """The same as columns."""
    sources: Mapping[str, Source] = field(default_factory=dict)
    """Per id where the item stands."""

    @cached_property
    def items(self) -> Mapping[str, Item]:
        """Every item by its id."""
        return {item.id: item for items in self.classes.values() for item in items}

    def item(self, item_id: str) -> Item:
        """The item of this id."""
        if item_id not in self.items:
            raise InternalError(f"the catalog has no item {item_id}")
        return self.items[item_id]

    def __contains__(self, item_id: object) -> bool:
        return item_id in self.items

    def class_of(self, item_id: str) -> str:
        """The class of the item of this id."""
        return self.item(item_id).class_name

    def nearest(self, item_id: str, item_class: str | None = None) -> str | None:
        """The id that is spelled most like this one, in the whole catalog or in one class; None if none is near."""
        ids = [item.id for item in self.classes[item_class]] if item_class else list(self.items)
        near = get_close_matches(item_id, ids, 1, 0.6)
        return near[0] if near else None


def natural_order(item_id: str) -> tuple[object, ...]:
    """A key that sorts numbers inside of ids by their value."""
    parts = re.split(r"([0-9]+)", item_id)
    return (*(int(part) if k % 2 else part for k, part in enumerate(parts)), item_id)


def read_catalog(folder: Path | str) -> Catalog:
    """Read all YAML files under a folder; InputError with every mistake of all of them, sorted by file and line."""
    reading = _Reading(item_classes())
    paths = find_yaml(Path(folder))
    if not paths:
        raise InputError([Mistake(str(folder), 0, "no YAML files", "files with the keys class and items")])
    for path in paths:
        reading.file(path)
        if reading.full:
            raise InputError([*reading.mistakes, reading.rest(str(folder))])
    reading.check_required(str(folder))
    if reading.mistakes:
        raise InputError(reading.mistakes)
    return build_catalog(str(folder), reading.items, reading.sources)


def build_catalog(folder: str, items: list[Item], sources: Mapping[str, Source] | None = None) -> Catalog:
    """A catalog of these items, in whatever order they come."""
    by_class: dict[str, list[Item]] = {name: [] for name in item_classes()}
    for item in items:
        by_class[item.class_name].append(item)
    classes = {
        name: tuple(sorted(found_items, key=lambda item: natural_order(item.id)))
        for name, found_items in by_class.items()
    }
    tables = {name: table_of(item_classes()[name], found_items) for name, found_items in classes.items()}
    return Catalog(folder, classes, tables, sources or {})


class _Reading:
    """What is gathered while the files are read one by one."""

    def __init__(self, classes: Mapping[str, type[Item]]) -> None:
        self.classes = classes
        self.mistakes: list[Mistake] = []
        self.items: list[Item] = []
        self.sources: dict[str, Source] = {}
        self.seen_classes: set[str] = set()
        self.all_classes_known = True

    def file(self, path: Path) -> None:
        """Read one file."""
        try:
            document = read_yaml(path)
        except InputError as error:
            self.mistakes.extend(error.mistakes)
            self.all_classes_known = False
            return
        item_class = self._class_of(document)
        if item_class is None:
            self.all_classes_known = False
            return
        self.seen_classes.add(item_class.class_name)
        for position, entry in self._entries(document, item_class):
            self._item(document, item_class, position, entry)
            if self.full:
                return

    @property
    def full(self) -> bool:
        """Whether there are so many mistakes that reading on helps nobody."""
        return len(self.mistakes) >= MOST_MISTAKES

    def rest(self, folder: str) -> Mistake:
        """That there may be more."""
        what = f"{len(self.mistakes):,} mistakes, and the rest not read"
        return Mistake(folder, 0, what, "the files of a catalog", "mending these first")

    def _class_of(self, document: Document) -> type[Item] | None:
        data = document.data
        if not isinstance(data, dict):
            self.mistakes.append(document.mistake((), found(data), "a mapping with the keys class and items"))
            return None
        for key in data:
            if key not in _TOP_KEYS:
                near = get_close_matches(key, _TOP_KEYS, 1, 0.5)
                advice = near[0] if near else ""
                self.mistakes.append(document.mistake((key,), f'the key "{key}"', "class, items or note", advice))
        name = data.get("class")
        if isinstance(name, str) and name in self.classes:
            return self.classes[name]
        if name is None:
            self.mistakes.append(document.mistake((), "no class", "class: and the name of a class", "class: gun"))
            return None
        near = get_close_matches(name, self.classes, 1, 0.5) if isinstance(name, str) else []
        expected = f"one of {', '.join(self.classes)}"
        self.mistakes.append(document.mistake(("class",), f"class {found(name)}", expected, near[0] if near else ""))
        return None

    def _entries(self, document: Document, item_class: type[Item]) -> Iterator[tuple[int, Any]]:
        data: Any = document.data
        entries = data.get("items")
        if not isinstance(entries, list) or not entries:
            what = "no items" if not entries else f"items {found(entries)}"
            expected = f"a list of items of class {item_class.class_name}"
            self.mistakes.append(document.mistake(("items",), what, expected))
            return
        yield from enumerate(entries)

    def _item(self, document: Document, item_class: type[Item], position: int, entry: Any) -> None:
        place = ("items", position)
        if not isinstance(entry, dict):
            self.mistakes.append(document.mistake(place, found(entry), "an item, a mapping of fields"))
            return
        self._note_id(document, place, entry.get("id"))
        quick = quick_item(item_class, entry)
        if quick is not None:
            self.items.append(quick)
            return
        try:
            self.items.append(item_class.model_validate(entry))
        except ValidationError as error:
            self.mistakes.extend(mistakes_of(error, document, place, item_class, entry))

    def _note_id(self, document: Document, place: tuple[str | int, ...], item_id: Any) -> None:
        if not isinstance(item_id, str):
            return
        if item_id == "none" or item_id in self.classes:
            advice = f"{item_id}-01" if item_id != "none" else ""
            expected = "an id that is no word of the program's own"
            self.mistakes.append(document.mistake((*place, "id"), f'id "{item_id}"', expected, advice))
        line = document.line((*place, "id"))
        first = self.sources.setdefault(item_id, Source(document.path, line))
        if first != (document.path, line):
            expected = f"each id once (first in {first.file}:{first.line})"
            self.mistakes.append(Mistake(document.path, line, f'id "{item_id}" a second time', expected))

    def check_required(self, folder: str) -> None:
        """Classes whose slot may not stay empty must have items; not judged while a file's class is unknown."""
        if not self.all_classes_known:
            return
        for name, item_class in self.classes.items():
            if item_class.required and name not in self.seen_classes:
                what = f"no items of class {name}"
                self.mistakes.append(Mistake(folder, 0, what, "at least one", f"a file with class: {name}"))
