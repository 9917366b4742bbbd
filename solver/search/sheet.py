"""The rows of a large question over the options that are still open, and what single rows exclude.

Contents: `Sheet`, `sheet_of`, `narrowed_by_rows`.

Unlike `reduce.py` nothing here compares options with each other: in a slot of thousands that takes longer than to solve.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cached_property

import numpy as np

from solver.program.matrix import Ints, Mask, Program

_FAR = 2**62


@dataclass(frozen=True, eq=False)
class Sheet:
    """Rows (m, n) over the open columns, sorted by slot; every slot has at least one.

    `columns` and `places` name columns and rows of the program; a limit on a cost stands at place -1.
    """

    rows: Ints
    rhs: Ints
    cost: Ints
    columns: Ints
    slots: Ints
    places: Ints

    def __len__(self) -> int:
        return len(self.columns)

    @cached_property
    def starts(self) -> Ints:
        """First position of every slot."""
        return np.flatnonzero(np.concatenate([[True], self.slots[1:] != self.slots[:-1]])).astype(np.int64)

    @cached_property
    def sizes(self) -> Ints:
        """Number of open options of every slot."""
        return np.diff(np.append(self.starts, len(self))).astype(np.int64)

    @cached_property
    def low(self) -> Ints:
        """Least entry of every row in every slot, (m, slots)."""
        return np.asarray(np.minimum.reduceat(self.rows, self.starts, axis=1))

    @cached_property
    def high(self) -> Ints:
        """Largest entry of every row in every slot, (m, slots)."""
        return np.asarray(np.maximum.reduceat(self.rows, self.starts, axis=1))

    def only(self, keep: Mask, rows: Mask | None = None) -> Sheet:
        """The same with these columns (and rows) only. Every slot must keep one."""
        places = np.flatnonzero(keep)
        if rows is None or rows.all():
            return Sheet(np.take(self.rows, places, axis=1), self.rhs, self.cost[places], self.columns[places],
                         self.slots[places], self.places)  # fmt: skip
        own = np.flatnonzero(rows)
        return Sheet(self.rows[np.ix_(own, places)], self.rhs[own], self.cost[places], self.columns[places],
                     self.slots[places], self.places[own])  # fmt: skip

    def deciding(self) -> Sheet:
        """Without rows that no rig can break."""
        rows = self.high.sum(axis=1) > self.rhs
        return self if rows.all() else self.only(np.ones(len(self), bool), rows)

    def has_all_slots(self, keep: Mask) -> bool:
        """Whether every slot keeps an option."""
        return bool(np.logical_or.reduceat(keep, self.starts).all())


def sheet_of(
    program: Program, by: str, rows: Mask, allowed: Mask | None = None, at_most: Mapping[str, int] | None = None
) -> Sheet:
    """All allowed columns and these rows of a program, with limits on costs as further rows."""
    limits = {} if at_most is None else at_most
    columns = np.arange(program.rows.shape[1], dtype=np.int64) if allowed is None else np.flatnonzero(allowed)
    own = np.flatnonzero(rows)
    table = program.rows if rows.all() else program.rows[own]
    table = table if allowed is None else np.take(table, columns, axis=1)
    rhs = program.rhs[own]
    if limits:
        table = np.concatenate([table, np.stack([program.costs[name][columns] for name in limits])])
        rhs = np.concatenate([rhs, np.array(list(limits.values()), np.int64)])
    places = np.concatenate([own, np.full(len(limits), -1)]).astype(np.int64)
    return Sheet(table, rhs, program.costs[by][columns], columns, program.slot_of[columns], places)


def _excluded(sheet: Sheet, row: int, open_: Mask) -> Mask:
    """Open options that break the row even with the best open options of all other slots."""
    entries = sheet.rows[row]
    whole = bool(open_.all())
    low = sheet.low[row] if whole else np.minimum.reduceat(np.where(open_, entries, _FAR), sheet.starts)
    spare = int(sheet.rhs[row]) - int(low.sum())
    found = np.zeros(len(sheet), bool)
    for k in np.flatnonzero(sheet.high[row] - low > spare).tolist():
        a, b = int(sheet.starts[k]), int(sheet.starts[k] + sheet.sizes[k])
        found[a:b] = entries[a:b] > spare + int(low[k])
    return found & open_


def narrowed_by_rows(sheet: Sheet, passes: int) -> tuple[Sheet | None, list[int]]:
    """Without options that a single row excludes, and the rows (of the sheet) that did it in their order; None if no rig
    is left.

    Each row speaks of what those before it left. At most so many passes over them: the linear bound does the rest.
    """
    steps: list[int] = []
    for _ in range(passes):
        spare = sheet.rhs - sheet.low.sum(axis=1)
        open_ = np.ones(len(sheet), bool)
        for row in np.flatnonzero(((sheet.high - sheet.low) > spare[:, None]).any(axis=1)).tolist():
            worse = _excluded(sheet, row, open_)
            if worse.any():
                open_ &= ~worse
                steps.append(row)
                if not sheet.has_all_slots(open_):
                    return None, steps
        if open_.all():
            break
        sheet = sheet.only(open_)
    return sheet, steps
