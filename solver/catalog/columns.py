"""The items of one class as columns: numpy arrays in SI, one entry per item, in the order of the items.

Contents: `Table`, `Words`, `table_of`.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cache
from typing import Any, NamedTuple, get_args, get_origin

import numpy as np
from numpy.typing import NDArray

from solver.catalog.base import Item
from solver.catalog.fields import Tags
from solver.errors import InternalError

Floats = NDArray[np.float64]
Bools = NDArray[np.bool_]


@dataclass(frozen=True, eq=False)
class Words:
    """A field of words: a small code per item, and the word of each code."""

    codes: NDArray[np.int8]
    names: tuple[str, ...]

    def is_(self, word: str) -> Bools:
        """Where the field has this word."""
        if word not in self.names:
            raise InternalError(f"{word} is none of {', '.join(self.names)}")
        where: Bools = self.codes == self.names.index(word)
        return where

    def __len__(self) -> int:
        return len(self.codes)

    def __getitem__(self, row: int) -> str:
        return self.names[int(self.codes[row])]

    def texts(self) -> tuple[str, ...]:
        """The word of each item."""
        return tuple(self.names[code] for code in self.codes)


@dataclass(frozen=True, eq=False)
class Table:
    """All items of one class, field by field."""

    item_class: str
    ids: tuple[str, ...]
    labels: tuple[str, ...]
    numbers: Mapping[str, Floats]
    """Quantities in SI, and whole numbers."""
    switches: Mapping[str, Bools]
    """Fields that are true or false."""
    words: Mapping[str, Words]
    """Fields that take one of a few words."""
    tags: Mapping[str, Bools]
    """Per tag of `features` and `provides`, which items carry it."""
    lists: Mapping[str, tuple[tuple[Any, ...], ...]]
    """Fields that are lists (connections, outputs, viscosity points, tags): a tuple per item."""

    def __len__(self) -> int:
        return len(self.ids)

    def column(self, name: str) -> Floats:
        """A field of numbers, or of true and false as 1 and 0."""
        if name in self.numbers:
            return self.numbers[name]
        if name in self.switches:
            return self.switches[name].astype(np.float64)
        raise InternalError(f"class {self.item_class} has no field {name} of numbers")

    def has(self, tag: str) -> Bools:
        """Which items carry the tag."""
        return self.tags.get(tag, np.zeros(len(self), dtype=np.bool_))

    def index(self, item_id: str) -> int:
        """Place of an item."""
        return self.ids.index(item_id)


class _Plan(NamedTuple):
    """The fields of a class, by the kind of their column."""

    numbers: tuple[str, ...]
    switches: tuple[str, ...]
    words: tuple[tuple[str, tuple[str, ...]], ...]
    lists: tuple[str, ...]
    tags: tuple[str, ...]


@cache
def _plan(item_class: type[Item]) -> _Plan:
    numbers, switches, words, lists, tags = [], [], [], [], []
    for name, info in item_class.model_fields.items():
        kind = info.annotation
        if kind in (float, int):
            numbers.append(name)
        elif kind is bool:
            switches.append(name)
        elif get_origin(kind) is tuple:
            lists.append(name)
            if any(isinstance(m, Tags) and not m.words for m in info.metadata):
                tags.append(name)
        elif kind is not str:
            words.append((name, get_args(kind)))
    return _Plan(tuple(numbers), tuple(switches), tuple(words), tuple(lists), tuple(tags))


def table_of(item_class: type[Item], items: Sequence[Item]) -> Table:
    """The columns of these items, which are all of one class."""
    plan = _plan(item_class)
    rows = [item.__dict__ for item in items]
    words = {}
    for name, names in plan.words:
        code_of = {word: code for code, word in enumerate(names)}
        words[name] = Words(_locked(np.array([code_of[row[name]] for row in rows], dtype=np.int8)), names)
    carried = [{tag for name in plan.tags for tag in row[name]} for row in rows]
    every = sorted(set().union(*carried)) if carried else []
    return Table(
        item_class.class_name,
        tuple(row["id"] for row in rows),
        tuple(row["label"] for row in rows),
        {name: _locked(np.array([row[name] for row in rows], dtype=np.float64)) for name in plan.numbers},
        {name: _locked(np.array([row[name] for row in rows], dtype=np.bool_)) for name in plan.switches},
        words,
        {tag: _locked(np.array([tag in own for own in carried], dtype=np.bool_)) for tag in every},
        {name: tuple(row[name] for row in rows) for name in plan.lists},
    )


def _locked(array: NDArray[Any]) -> NDArray[Any]:
    array.setflags(write=False)
    return array
