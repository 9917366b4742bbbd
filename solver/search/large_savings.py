"""What leaving out parts of a large program saves: from one record of why nothing costs less with all rows.

Contents: `large_savings`.

That no rig costs less than the best is closed once, as in `parts.py`, and what closed each part is kept. Where rows are left
out, a rig is sought that costs less; it must break one of them, since with them the best costs more. So, for each set of
rows that is left out:

- its multipliers are struck out of the record, and the record is gone through again: mostly it still closes;
- of each part that it does not close any more, options go that cannot have a share in breaking one of the rows;
- what is left is searched as any large question is, with the relaxation of the record, the rows free in it.

First some rigs are tried, so that only larger savings are asked for: one swap from the best rig, the cheapest choice of its
yes/no slots, and the rigs found for other sets of rows. Any multipliers give a true bound, struck out or not, so all of it
is exact; nothing compares options with each other. Tested against the way of small programs.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from solver.errors import InternalError, NotProven
from solver.program.matrix import Ints, Mask, Program
from solver.program.proof import Closed
from solver.search.core import tail_edge
from solver.search.engine import Limits, Status, solve_rows
from solver.search.fixing import judged
from solver.search.linear import Master
from solver.search.parts import Node, Search, Wrap
from solver.search.savings import NOTHING, Saving
from solver.search.sheet import Sheet, narrowed_by_rows, sheet_of

Floats = NDArray[np.float64]
MOST_PARTS = 300
"""Parts of the record; those that are open then are given to the engine, and are open again for every set of rows."""
_MOST_OPEN = 6
"""Parts with which a search starts at most."""
_PASSES = 3
"""Passes over the single rows of a part."""


class _Loose(Master):
    """A relaxation in which rows can be let go and taken back."""

    def __init__(self, sheet: Sheet, slots: int, columns: int) -> None:
        super().__init__(sheet, slots, columns)
        self._limits = [row.ub() for row in self._rows]
        self._gone = np.zeros(len(self._rows), bool)

    def let_go(self, rows: Mask) -> None:
        """Let these rows of the sheet go, and take all others back."""
        for k in np.flatnonzero(rows != self._gone).tolist():
            self._rows[k].SetBounds(-self._free, self._free if rows[k] else self._limits[k])
        self._gone = rows


class _Without(Search):
    """A search for rigs that must break one of the rows that are left out."""

    def __init__(self, record: _Record, dropped: Ints, cutoff: int) -> None:
        sheet, program = record.root, record.program
        gone = np.isin(sheet.places, dropped)
        record.master.let_go(gone)
        root = replace(sheet, rhs=np.where(gone, np.maximum(sheet.high.sum(axis=1), sheet.rhs), sheet.rhs))
        shape = len(program.offsets) - 1, program.rows.shape[1]
        super().__init__(root, shape, Limits(), cutoff, seek=False, master=record.master)
        self._program, self._dropped = program, dropped

    def _enter(self, node: Node, sheet: Sheet) -> None:
        narrowed = _able_to_break(self._program, self._dropped, sheet)
        if narrowed is None:
            self.parts += 1
        else:
            super()._enter(node, narrowed)


def _able_to_break(program: Program, rows: Ints, sheet: Sheet) -> Sheet | None:
    """The sheet without options that break none of these rows even with the heaviest of all other slots; None if no rig is
    left that breaks one."""
    table = program.rows[np.ix_(rows, sheet.columns)]
    high = np.maximum.reduceat(table, sheet.starts, axis=1)
    spare = program.rhs[rows] - high.sum(axis=1)
    able: Mask = np.asarray((table > np.repeat(spare[:, None] + high, sheet.sizes, axis=1)).any(axis=0))
    if able.all():
        return sheet
    return sheet.only(able) if sheet.has_all_slots(able) else None


@dataclass(frozen=True, eq=False)
class _Record:
    """Why no rig costs less than the best with all rows, and the rigs that were met since."""

    program: Program
    by: str
    cost: int
    root: Sheet
    """All rows that a rig can break, over all options."""
    used: Sheet
    """Of these the rows with a multiplier in the record."""
    top: Node
    steps: dict[Node, list[tuple[Floats, int]]]
    master: _Loose
    rigs: list[Ints] = field(default_factory=list)
    """Rigs of less cost that were found without some rows."""

    def left_open(self, dropped: Ints, cutoff: int) -> list[Ints]:
        """The columns of every part that the record does not close without these rows."""
        gone = np.isin(self.used.places, dropped)
        used = replace(self.used, rhs=np.where(gone, np.maximum(self.used.high.sum(axis=1), self.used.rhs), self.used.rhs))
        start = _able_to_break(self.program, dropped, used)
        stack: list[tuple[Node, Sheet, tuple[int, ...]]] = [] if start is None else [(self.top, start, ())]
        found: list[tuple[tuple[int, ...], Ints]] = []
        while stack:
            node, sheet, path = stack.pop()
            left = self._narrowed(node, sheet, ~gone, cutoff)
            left = None if left is None else _able_to_break(self.program, dropped, left)
            if left is None:
                continue
            if node.children:
                stack += [(child, part, (*path, k)) for k, (child, part) in enumerate(_shared(node, left))]
            else:
                found.append((path, left.columns))
        return _gathered(found)

    def _narrowed(self, node: Node, sheet: Sheet, kept: Mask, cutoff: int) -> Sheet | None:
        """What the record's multipliers for a part leave of it; None if they close it."""
        narrowed, _ = narrowed_by_rows(sheet, _PASSES)
        if narrowed is None:
            return None
        for multipliers, scale in self.steps[node]:
            one = judged(narrowed, np.where(kept, multipliers, 0.0), cutoff if scale else None)
            if one.closed or not narrowed.has_all_slots(one.possible):
                return None
            if not one.possible.all():
                narrowed = narrowed.only(one.possible)
        return narrowed


def _gathered(parts: list[tuple[tuple[int, ...], Ints]]) -> list[Ints]:
    """The columns of parts, given with their paths from the root; the last to part are put together until few are left."""
    depth = max((len(path) for path, _ in parts), default=0)
    while True:
        together: dict[tuple[int, ...], list[Ints]] = {}
        for path, columns in parts:
            together.setdefault(path[:depth], []).append(columns)
        if len(together) <= _MOST_OPEN:
            return [np.unique(np.concatenate(own)) for own in together.values()]
        depth -= 1


def _steps(top: Node, used: Sheet) -> dict[Node, list[tuple[Floats, int]]]:
    """For every part of a record its steps of more than one row: multipliers of the rows used, as cost over the unit of the
    row (without a cost, the largest as 1), and the scale."""
    found = {}
    stack = [top]
    while stack:
        node = stack.pop()
        stack += node.children
        found[node] = steps = list[tuple[Floats, int]]()
        for named, scale in [*node.wraps, *_end(node)]:
            if scale or len(named) > 1:
                multipliers = np.zeros(len(used.rhs))
                rows, values = np.array(named, np.int64).reshape(-1, 2).T
                multipliers[np.searchsorted(used.places, rows)] = values / (scale or values.max())
                steps.append((multipliers, scale))
    return found


def _end(node: Node) -> list[Wrap]:
    return [(node.end.multipliers, node.end.scale)] if isinstance(node.end, Closed) else []


def _shared(node: Node, sheet: Sheet) -> Iterator[tuple[Node, Sheet]]:
    """The parts of a part. Options that were shut when the record was made go with the first."""
    inside = sheet.slots == node.slot
    taken = [inside & np.isin(sheet.columns, np.array(group, np.int64)) for group in node.groups]
    taken[0] = inside & ~np.logical_or.reduce(taken[1:])
    for child, own in zip(node.children, taken, strict=True):
        if own.any():
            yield child, sheet.only(own | ~inside)


def _used_rows(top: Node) -> Ints:
    """Rows with a multiplier anywhere in a record."""
    found: set[int] = set()
    stack = [top]
    while stack:
        node = stack.pop()
        stack += node.children
        found.update(row for multipliers, _ in [*node.wraps, *_end(node)] for row, _ in multipliers)
    return np.array(sorted(found), np.int64)


def _record_of(program: Program, by: str, cost: int) -> _Record:
    """The record for a program and the cost of its best rig; kept with the program."""
    key = "savings", by, cost
    kept = program.cores.get(key)
    if isinstance(kept, _Record):
        return kept
    root = sheet_of(program, by, np.ones(len(program.rhs), bool)).deciding()
    shape = len(program.offsets) - 1, program.rows.shape[1]
    master = _Loose(root, *shape)
    search = Search(root, shape, Limits(), cost - 1, MOST_PARTS, seek=False, master=master)
    top = search.run()
    if search.best is not None:
        raise InternalError("a rig was found that costs less than the best")
    if not search.proven:
        raise NotProven("the limit of work ended before it was known what a rule costs")
    used = root.only(np.ones(len(root), bool), np.isin(root.places, _used_rows(top)))
    program.cores[key] = found = _Record(program, by, cost, root, used, top, _steps(top, used), master)
    return found


def large_savings(program: Program, by: str, columns: Ints, parts: Sequence[Mask], left: Sequence[int]) -> dict[int, Saving]:
    """Saving of each of the parts named in `left`; the rest as in `savings`.

    NotProven if the limit of work ends before all are known.
    """
    record = _record_of(program, by, program.cost(columns, by))
    known = _by_one_swap(record, columns, parts, left)
    found = {}
    for k in left:
        dropped = np.flatnonzero(parts[k])
        tried = [known[k], _by_yes_no(record, columns, dropped), _by_known_rigs(record, parts[k])]
        found[k] = _saving(record, dropped, max(tried, key=lambda saving: saving.amount))
        rig = found[k].rig
        if rig is not None:
            record.rigs.append(rig)
    return found


def _saving(record: _Record, dropped: Ints, known: Saving) -> Saving:
    """The saving without these rows, where so much is known."""
    cutoff = record.cost - known.amount - 1
    parts = record.left_open(dropped, cutoff)
    if not parts:
        return known
    search = _Without(record, dropped, cutoff)
    search.close([(Node(), search.root.only(np.isin(search.root.columns, own))) for own in parts])
    if not search.proven:
        raise NotProven("the limit of work ended before it was known what a rule costs")
    if search.best is None:
        return known
    return Saving(record.cost - record.program.cost(search.best, record.by), search.best)


def _by_one_swap(record: _Record, rig: Ints, parts: Sequence[Mask], left: Sequence[int]) -> dict[int, Saving]:
    """For each part the most that one swap from the best rig saves which breaks rows of this part only."""
    program, cost = record.program, record.program.costs[record.by]
    sums = program.rows[:, rig].sum(axis=1)
    found = dict.fromkeys(left, NOTHING)
    for slot, (a, b) in enumerate(program.slices):
        saved = cost[rig[slot]] - cost[a:b]
        own = np.flatnonzero(saved > 0)
        own = own[np.argsort(-saved[own], kind="stable")]
        without = (program.rhs - sums + program.rows[:, rig[slot]])[:, None]
        broken = program.rows[:, a:b][:, own] > without
        count = broken.sum(axis=0)
        for k in left:
            alone = np.flatnonzero(broken[parts[k]].sum(axis=0) == count)
            if len(alone) and saved[own[alone[0]]] > found[k].amount:
                new = rig.copy()
                new[slot] = a + own[alone[0]]
                found[k] = Saving(int(saved[own[alone[0]]]), new)
    return found


def _by_yes_no(record: _Record, rig: Ints, dropped: Ints) -> Saving:
    """What the best rig saves without these rows by other choices in the yes/no slots at the end."""
    program, edge = record.program, tail_edge(record.program)
    if not (program.rows[dropped][:, edge:] != 0).any():
        return NOTHING
    own = np.concatenate([rig[rig < edge], np.arange(edge, program.rows.shape[1])])
    rows = np.ones(len(program.rhs), bool)
    rows[dropped] = False
    table, rhs = program.rows[np.ix_(rows, own)], program.rhs[rows]
    sizes = np.bincount(program.slot_of[own]).tolist()
    cost = program.costs[record.by][own]
    outcome = solve_rows(table, rhs, sizes, cost, record.cost - 1, Limits())
    if outcome.status is Status.INFEASIBLE or outcome.chosen is None:
        return NOTHING
    return Saving(record.cost - int(cost[outcome.chosen].sum()), own[outcome.chosen])


def _by_known_rigs(record: _Record, part: Mask) -> Saving:
    """The most that a rig met before saves which keeps all rows but those of the part."""
    good = [rig for rig in record.rigs if record.program.fits(rig, ~part)]
    saved = [record.cost - record.program.cost(rig, record.by) for rig in good]
    return Saving(max(saved), good[int(np.argmax(saved))]) if saved else NOTHING
