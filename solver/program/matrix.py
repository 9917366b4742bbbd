"""The question in numbers: rows R x <= rhs over the options of all slots, and integer costs. Knows no engine.

Contents: `Program`, `TooLarge`, `BOUND`.

Exactly one option of every slot is taken (slot s owns the columns offsets[s] .. offsets[s+1]). Every row is a plain sum
in 64-bit integers; the largest sum that any rig can reach is checked against 2^53, so that no arithmetic on rows can
overflow or lose a unit even where an engine works in doubles.
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field

import numpy as np
from numpy.typing import NDArray

from solver.errors import EntryError, InternalError

Ints = NDArray[np.int64]
Mask = NDArray[np.bool_]
BOUND = 2**53


class TooLarge(EntryError):  # noqa: N818 (named by what went wrong)
    """A figure for which whole numbers are not exact any more; `item` is the id of what it belongs to, if to one."""

    def __init__(self, what: str, item: str = "") -> None:
        self.item = item
        super().__init__(what, "a figure that can be counted exactly", "a look at its unit and at how many digits it has")


class RowTooLarge(TooLarge):
    """A row whose sum over some rig no exact integer can hold."""

    def __init__(self, row: int, labels: tuple[object, ...]) -> None:
        self.row = row
        super().__init__(f"figures that the balance {labels[row]} cannot count")


@dataclass(frozen=True, eq=False)
class Program:
    """rows: (m, n) int64; rhs: (m,) int64; offsets: (slots + 1,); costs: name -> (n,) int64 (cents, grams).

    `labels[i]` is any hashable name of row i (the rules' `Place`), `groups[i]` the name by which it is dropped (rule id).
    """

    rows: Ints
    rhs: Ints
    offsets: Ints
    costs: dict[str, Ints]
    labels: tuple[object, ...]
    groups: tuple[str, ...]
    background: frozenset[str] = field(default_factory=frozenset)
    reads: tuple[frozenset[str], ...] = ()
    """Ids of the requirements that each row read."""
    memo: dict[object, Ints] = field(default_factory=dict, repr=False)
    cores: dict[object, object] = field(default_factory=dict, repr=False)
    """What the search keeps between questions about the same rows."""

    def __post_init__(self) -> None:
        m, n = self.rows.shape
        if self.rhs.shape != (m,) or len(self.labels) != m or len(self.groups) != m or int(self.offsets[-1]) != n:
            raise InternalError("rows, right-hand sides and labels of the program do not belong together")
        if m and n:
            largest = sum(
                np.abs(self.rows[:, a:b].astype(float)).max(axis=1) for a, b in self.slices if b > a
            ) + np.abs(self.rhs.astype(float))
            if float(np.max(largest)) > BOUND:
                raise RowTooLarge(int(np.argmax(largest)), self.labels)

    @property
    def slices(self) -> tuple[tuple[int, int], ...]:
        """Column range of every slot."""
        edges = self.offsets.tolist()
        return tuple(itertools.pairwise(edges))

    @property
    def slot_of(self) -> Ints:
        """Slot of every column."""
        return np.repeat(np.arange(len(self.offsets) - 1), np.diff(self.offsets)).astype(np.int64)

    def fits(self, columns: Ints, rows: Mask | None = None) -> bool:
        """Whether the rig given by its columns keeps every row (or the rows in the mask)."""
        total = self.rows[:, columns].sum(axis=1)
        good = total <= self.rhs
        return bool(good.all() if rows is None else good[rows].all())

    def cost(self, columns: Ints, by: str) -> int:
        """Integer cost of a rig."""
        return int(self.costs[by][columns].sum())
