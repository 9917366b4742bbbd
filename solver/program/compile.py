"""From rules over a brief to one integer matrix.

Contents: `compile_program`, `scale_of`.

Per slot, the needs of a row are summed and rounded up, the supplies rounded down, at the resolution of the rule's unit
(a hundred-thousandth of the resolution is taken as floating-point noise). What belongs to the brief alone goes to the
right-hand side. A guarded row gets, in each option outside its guard, as much supply as the other slots can need at the
most, so that it is switched off there and untouched elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable
from math import ceil, floor

import numpy as np
from numpy.typing import NDArray

from solver.program.matrix import BOUND, Ints, Program, RowTooLarge, TooLarge
from solver.quantities import factor_of
from solver.rules.balance import RESOLUTION
from solver.rules.case import Case
from solver.rules.instances import Instance, Setting
from solver.rules.record import Side, Term

Floats = NDArray[np.float64]
NOISE = 1e-5


def scale_of(unit: str) -> float:
    """How many steps of resolution an SI value of 1 makes in this unit (offsets of temperatures cancel in a margin)."""
    factor = 1.0 if unit in ("1", "set") else factor_of(unit)
    return 1.0 / (factor * RESOLUTION[unit])


def _whole(values: Floats, up: bool) -> Ints:
    with np.errstate(invalid="ignore"):
        rounded = np.ceil(values - NOISE) if up else np.floor(values + NOISE)
        good = np.abs(rounded) <= BOUND
    if not good.all():
        raise _BeyondError(int(np.flatnonzero(~good)[0]))
    return rounded.astype(np.int64)


class _BeyondError(Exception):
    """The column of a figure that no exact integer can hold."""

    def __init__(self, column: int) -> None:
        self.column = column


class _Sheet:
    """The columns of all slots side by side, and what each term comes to in them; each term is worked out once a case."""

    def __init__(self, setting: Setting):
        self.setting = setting
        sizes = [len(table) for table in setting.slots.values()]
        self.offsets = np.concatenate([[0], np.cumsum(sizes)]).astype(np.int64)
        self.slices = {
            name: slice(a, b)
            for name, a, b in zip(setting.slots, self.offsets[:-1].tolist(), self.offsets[1:].tolist(), strict=True)
        }
        self._slots: dict[int, tuple[str, ...]] = {}
        self._memo: dict[tuple[int, int], tuple[Floats, frozenset[str]]] = {}

    def values(self, term: Term, case: Case) -> tuple[Floats, frozenset[str]]:
        """The term over all columns (0 where it is not taken), and the requirements it read."""
        key = (id(term), id(case))
        if key not in self._memo:
            if id(term) not in self._slots:
                self._slots[id(term)] = self.setting.slots_of(term)
            outer = case.reads
            case.start_noting()
            full = np.zeros(int(self.offsets[-1]))
            for name in self._slots[id(term)]:
                full[self.slices[name]] += term.of(self.setting.slots[name], case)
            self._memo[key] = (full, case.reads)
            case.note(*outer)
        return self._memo[key]

    def row(self, instance: Instance) -> tuple[Ints, int, frozenset[str]]:
        """Row, right-hand side and reads of one instance."""
        case, scale, reads = instance.case, scale_of(instance.rule.unit), instance.reads
        case.start_noting()
        sums = {Side.NEED: np.zeros(int(self.offsets[-1])), Side.SUPPLY: np.zeros(int(self.offsets[-1]))}
        constant = {Side.NEED: 0.0, Side.SUPPLY: 0.0}
        for term in instance.terms:
            if term.slot is None:
                constant[term.side] += float(term.of(None, case))
            else:
                values, read = self.values(term, case)
                sums[term.side] += values
                reads |= read
        try:
            row = _whole(sums[Side.NEED] * scale, up=True) - _whole(sums[Side.SUPPLY] * scale, up=False)
        except _BeyondError as beyond:
            raise self.too_large(instance, beyond.column) from None
        if not all(abs(value * scale) <= BOUND for value in constant.values()):
            raise TooLarge(f"figures of the brief that {instance.rule.id} ({instance.rule.title}) cannot count")
        rhs = floor(constant[Side.SUPPLY] * scale + NOISE) - ceil(constant[Side.NEED] * scale - NOISE)
        return self._guarded(instance, row, rhs), rhs, reads | case.reads

    def too_large(self, instance: Instance, column: int) -> TooLarge:
        """What to say of the item in this column."""
        slot = int(np.searchsorted(self.offsets, column, side="right")) - 1
        table = tuple(self.setting.slots.values())[slot]
        item = table.items[column - int(self.offsets[slot])]
        rule = instance.rule
        return TooLarge(f'a figure of the item "{item}" that {rule.id} ({rule.title}) cannot count', item)

    def _guarded(self, instance: Instance, row: Ints, rhs: int) -> Ints:
        guard = instance.guard
        if guard is None:
            return row
        own = self.slices[guard.slot]
        inside = np.zeros(own.stop - own.start) + guard.when(self.setting.slots[guard.slot], instance.case) > 0.5
        most = np.maximum.reduceat(row, self.offsets[:-1]).sum() - row[own].max()
        row[own] = np.where(inside, row[own], min(rhs - int(most), 0))
        return row


def compile_program(setting: Setting, instances: Iterable[Instance], costs: dict[str, Ints]) -> Program:
    """The program of these instances with these integer costs (one entry per option, slots in order)."""
    sheet = _Sheet(setting)
    found = tuple(instances)
    rows = np.zeros((len(found), int(sheet.offsets[-1])), np.int64)
    rhs = np.zeros(len(found), np.int64)
    reads = []
    for i, instance in enumerate(found):
        rows[i], rhs[i], read = sheet.row(instance)
        reads.append(read)
    try:
        return Program(
            rows,
            rhs,
            sheet.offsets,
            costs,
            tuple(instance.place for instance in found),
            tuple(instance.rule.id for instance in found),
            frozenset(instance.rule.id for instance in found if instance.rule.background),
            tuple(reads),
        )
    except RowTooLarge as error:
        raise sheet.too_large(found[error.row], int(np.abs(rows[error.row]).argmax())) from None
