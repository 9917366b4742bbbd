"""The options of one slot as configured columns, and the two ways of reading them.

Contents: `SlotOptions` (all options of a slot, numpy columns in SI), `OneOption` (the same columns of a single option as
plain floats, for worksheets), `View` (what a rule's term may use: fields, `is_`, `has`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import Protocol

import numpy as np
from numpy.typing import NDArray

from solver.errors import InternalError
from solver.formulas.record import is_recording
from solver.options.slots import Slot

Column = NDArray[np.float64]
Value = Column | float
NONE = "none"


class View(Protocol):
    """What a term sees of a slot: every field by name, words and tags as 0 or 1."""

    def __getattr__(self, name: str) -> Value: ...
    def is_(self, name: str, word: str) -> Value: ...
    def has(self, tag: str) -> Value: ...
    def among(self, ids: frozenset[str]) -> Value: ...


Derived = Callable[[View], Value]
DERIVED: dict[str, Derived] = {}
"""Fields worked out from an option's own fields by formulas (running power, starting kVA). Filled by `derived.py`."""


@dataclass(frozen=True, eq=False)
class SlotOptions:
    """Every option of one slot. Arrays have one entry per option; the option "none" has zeros unless stated."""

    slot: Slot
    items: tuple[str, ...]
    labels: tuple[str, ...]
    choices: tuple[str, ...]
    counts: tuple[int, ...]
    numbers: Mapping[str, Column]
    words: Mapping[str, tuple[str, ...]]
    tags: Mapping[str, Column]
    _cache: dict[str, Column] = field(default_factory=dict, repr=False)

    def __len__(self) -> int:
        return len(self.items)

    def __getattr__(self, name: str) -> Column:
        if name.startswith("__"):
            raise AttributeError(name)
        numbers: Mapping[str, Column] = self.__dict__["numbers"]
        if name in numbers:
            return numbers[name]
        cache: dict[str, Column] = self.__dict__["_cache"]
        if name not in cache:
            if name not in DERIVED:
                raise InternalError(f"slot {self.slot.name} has no field {name}")
            cache[name] = np.broadcast_to(np.asarray(DERIVED[name](self), float), (len(self),))
        return cache[name]

    def is_(self, name: str, word: str) -> Column:
        """1 where the field in words has this word, else 0."""
        key = f"{name}={word}"
        if key not in self._cache:
            self._cache[key] = np.array([float(found == word) for found in self.words[name]])
        return self._cache[key]

    def has(self, tag: str) -> Column:
        """1 where the item carries the tag, else 0."""
        found = self.tags.get(tag)
        return found if found is not None else np.zeros(len(self))

    def among(self, ids: frozenset[str]) -> Column:
        """1 where the item is one of these, else 0."""
        return np.array([float(item in ids) for item in self.items])

    def one(self, index: int) -> OneOption:
        """The option at `index`, its fields as plain floats."""
        return OneOption(self, index)


@dataclass(frozen=True, eq=False)
class OneOption:
    """One option: the same names as `SlotOptions`, one float each. While formulas are recorded, derived fields are worked
    out anew."""

    table: SlotOptions
    index: int

    def __getattr__(self, name: str) -> float:
        if name.startswith("__"):
            raise AttributeError(name)
        table: SlotOptions = self.__dict__["table"]
        if name in table.numbers:
            return float(table.numbers[name][self.__dict__["index"]])
        if name in DERIVED:
            return float(DERIVED[name](self) if is_recording() else getattr(table, name)[self.__dict__["index"]])
        raise InternalError(f"slot {table.slot.name} has no field {name}")

    def is_(self, name: str, word: str) -> float:
        """1 if the field in words has this word, else 0."""
        return float(self.table.words[name][self.index] == word)

    def has(self, tag: str) -> float:
        """1 if the item carries the tag, else 0."""
        return float(self.table.has(tag)[self.index])

    def among(self, ids: frozenset[str]) -> float:
        """1 if the item is one of these, else 0."""
        return float(self.item in ids)

    @property
    def slot(self) -> Slot:
        """The slot that the option fills."""
        return self.table.slot

    @property
    def item(self) -> str:
        """Id of the item, or "none"."""
        return self.table.items[self.index]

    @property
    def choice(self) -> str:
        """How the item is configured, in words."""
        return self.table.choices[self.index]

    @property
    def label(self) -> str:
        """The item's label."""
        return self.table.labels[self.index]

    @property
    def count(self) -> int:
        """How many of the item."""
        return self.table.counts[self.index]
