"""From rules over a brief to one integer matrix.

Contents: `compile_program`, `scale_of`.

Per slot, the needs of a row are summed and rounded up, the supplies rounded down, at the resolution of the rule's unit
(`NOISE` of a step is taken as what floating point added). What belongs to the brief alone goes to the
right-hand side. A guarded row gets, in each option outside its guard, as much supply as the other slots can need at the
most, so that it is switched off there and untouched elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
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
NOISE = 5e-8
"""Share of a step that counts as nothing, slot by slot: above the digits that a double loses on ten million steps, and so
small that all slots together stay below what `Balance.margin` forgives the sum."""


def scale_of(unit: str) -> float:
    """How many steps of resolution an SI value of 1 makes in this unit (offsets of temperatures cancel in a margin)."""
    factor = 1.0 if unit in ("1", "set") else factor_of(unit)
    return 1.0 / (factor * RESOLUTION[unit])


def _whole(values: Floats, up: bool) -> Ints:
    """Rounded to the safe side, row by row."""
    with np.errstate(invalid="ignore"):
        rounded = np.ceil(values - NOISE) if up else np.floor(values + NOISE)
        good = np.abs(rounded) <= BOUND
    if not good.all():
        raise _BeyondError(*np.argwhere(~good)[0].tolist())
    return rounded.astype(np.int64)


class _BeyondError(Exception):
    """The row and column of a figure that no exact integer can hold."""

    def __init__(self, row: int, column: int) -> None:
        self.row, self.column = row, column


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

    def rows(self, instances: Sequence[Instance]) -> tuple[Ints, Ints, list[frozenset[str]]]:
        """Rows, right-hand sides and reads of some instances, rounded together."""
        shape = (len(instances), int(self.offsets[-1]))
        sums = {Side.NEED: np.zeros(shape), Side.SUPPLY: np.zeros(shape)}
        scales, rhs, reads = np.empty(len(instances)), np.zeros(len(instances), np.int64), []
        for k, instance in enumerate(instances):
            scales[k] = scale = scale_of(instance.rule.unit)
            need, supply, read = self.summed(instance, sums[Side.NEED][k], sums[Side.SUPPLY][k])
            reads.append(read)
            if not (abs(need * scale) <= BOUND and abs(supply * scale) <= BOUND):
                raise TooLarge(f"figures of the brief that {instance.rule.id} ({instance.rule.title}) cannot count")
            rhs[k] = floor(supply * scale + NOISE) - ceil(need * scale - NOISE)
        try:
            rows = _whole(sums[Side.NEED] * scales[:, None], up=True)
            rows -= _whole(sums[Side.SUPPLY] * scales[:, None], up=False)
        except _BeyondError as beyond:
            raise self.too_large(instances[beyond.row], beyond.column) from None
        for k, instance in enumerate(instances):
            self._guard(instance, rows[k], int(rhs[k]))
        return rows, rhs, reads

    def summed(self, instance: Instance, need: Floats, supply: Floats) -> tuple[float, float, frozenset[str]]:
        """Adds an instance's terms to its needs and supplies (options,); gives those of the brief alone, and its reads."""
        case, reads = instance.case, [instance.reads]
        case.start_noting()
        constant = {Side.NEED: 0.0, Side.SUPPLY: 0.0}
        for term in instance.terms:
            if term.slot is None:
                constant[term.side] += float(term.of(None, case))
                continue
            values, read = self.values(term, case)
            if term.side is Side.NEED:
                need += values
            else:
                supply += values
            reads.append(read)
        return constant[Side.NEED], constant[Side.SUPPLY], frozenset().union(*reads, case.reads)

    def too_large(self, instance: Instance, column: int) -> TooLarge:
        """What to say of the item in this column."""
        slot = int(np.searchsorted(self.offsets, column, side="right")) - 1
        table = tuple(self.setting.slots.values())[slot]
        item = table.items[column - int(self.offsets[slot])]
        rule = instance.rule
        return TooLarge(f'a figure of the item "{item}" that {rule.id} ({rule.title}) cannot count', item)

    def _guard(self, instance: Instance, row: Ints, rhs: int) -> None:
        """Switch the row off in the options outside its guard."""
        guard = instance.guard
        if guard is None:
            return
        own = self.slices[guard.slot]
        inside = np.zeros(own.stop - own.start) + guard.when(self.setting.slots[guard.slot], instance.case) > 0.5
        most = np.maximum.reduceat(row, self.offsets[:-1]).sum() - row[own].max()
        row[own] = np.where(inside, row[own], min(rhs - int(most), 0))


def compile_program(setting: Setting, instances: Iterable[Instance], costs: dict[str, Ints]) -> Program:
    """The program of these instances with these integer costs (one entry per option, slots in order)."""
    sheet = _Sheet(setting)
    found = tuple(instances)
    rows, rhs, reads = sheet.rows(found)
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
