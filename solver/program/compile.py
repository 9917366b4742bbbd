"""From rules over a brief to one integer matrix.

Contents: `compile_program`, `scale_of`.

Per slot, the needs of a row are summed and rounded up, the supplies rounded down, at the resolution of the rule's unit
(a hundred-thousandth of the resolution is taken as floating-point noise). What belongs to the brief alone goes to the
right-hand side. A guarded row gets, in each option outside its guard, as much supply as the other slots can need at the
most, so that it is switched off there and untouched elsewhere.
"""

from __future__ import annotations

from collections.abc import Iterable

import numpy as np
from numpy.typing import NDArray

from solver.errors import InternalError
from solver.program.matrix import BOUND, Ints, Program
from solver.options.table import SlotOptions
from solver.quantities import factor_of
from solver.rules.balance import RESOLUTION
from solver.rules.instances import Instance, Setting
from solver.rules.case import Case
from solver.rules.record import Side, Term

Floats = NDArray[np.float64]
NOISE = 1e-5


def scale_of(unit: str) -> float:
    """How many steps of resolution an SI value of 1 makes in this unit (offsets of temperatures cancel in a margin)."""
    factor = 1.0 if unit in ("1", "set") else factor_of(unit)
    return 1.0 / (factor * RESOLUTION[unit])


def _round(values: Floats, up: bool) -> Ints:
    rounded = np.ceil(values - NOISE) if up else np.floor(values + NOISE)
    if not np.isfinite(rounded).all() or float(np.abs(rounded).max(initial=0.0)) > BOUND:
        raise InternalError("a figure leaves the range of exact integers")
    return rounded.astype(np.int64)


Memo = dict[object, tuple[Floats, frozenset[str]]]


def _row(setting: Setting, instance: Instance, memo: Memo) -> tuple[dict[str, Ints], int, frozenset[str]]:
    case = instance.case
    case.start_noting()
    reads = instance.reads
    scale = scale_of(instance.rule.unit)
    sums: dict[tuple[str, Side], Floats] = {}
    constant = {Side.NEED: 0.0, Side.SUPPLY: 0.0}
    for term in instance.terms:
        if term.slot is None:
            constant[term.side] += float(term.of(None, case))
            continue
        for name in setting.slots_of(term):
            key = (id(term), name, id(case))
            if key not in memo:
                memo[key] = _values(setting.slots[name], term, case)
            values, read = memo[key]
            reads |= read
            place = (name, term.side)
            sums[place] = sums[place] + values if place in sums else values
    row: dict[str, Ints] = {}
    for (name, side), values in sums.items():
        whole = _round(values * scale, up=side is Side.NEED)
        signed = whole if side is Side.NEED else -whole
        row[name] = row[name] + signed if name in row else signed
    rhs = int(_round(np.array([constant[Side.SUPPLY] * scale]), up=False)[0]) - int(
        _round(np.array([constant[Side.NEED] * scale]), up=True)[0]
    )
    return row, rhs, reads | case.reads


def _values(table: SlotOptions, term: Term, case: Case) -> tuple[Floats, frozenset[str]]:
    outer = case.reads
    case.start_noting()
    values = np.broadcast_to(np.asarray(term.of(table, case), float), (len(table),))
    read = case.reads
    case.note(*outer)
    return values, read


def _guarded(setting: Setting, instance: Instance, row: dict[str, Ints], rhs: int) -> dict[str, Ints]:
    guard = instance.guard
    if guard is None:
        return row
    table = setting.slots[guard.slot]
    inside = np.broadcast_to(np.asarray(guard.when(table, instance.case), float), (len(table),)) > 0.5
    others = sum(int(column.max()) for name, column in row.items() if name != guard.slot)
    own = row.get(guard.slot, np.zeros(len(table), np.int64))
    return {**row, guard.slot: np.where(inside, own, min(rhs - others, 0))}


def compile_program(
    setting: Setting, instances: Iterable[Instance], costs: dict[str, Ints]
) -> Program:
    """The program of these instances with these integer costs (one entry per option, slots in order)."""
    names = tuple(setting.slots)
    sizes = [len(setting.slots[name]) for name in names]
    offsets = np.concatenate([[0], np.cumsum(sizes)]).astype(np.int64)
    start = dict(zip(names, offsets[:-1].tolist(), strict=True))
    found = tuple(instances)
    rows = np.zeros((len(found), int(offsets[-1])), np.int64)
    rhs = np.zeros(len(found), np.int64)
    memo: Memo = {}
    background = set()
    reads = []
    for i, instance in enumerate(found):
        row, limit, read = _row(setting, instance, memo)
        rhs[i] = limit
        reads.append(read)
        for name, column in _guarded(setting, instance, row, limit).items():
            rows[i, start[name] : start[name] + len(column)] = column
        if instance.rule.background:
            background.add(instance.rule.id)
    return Program(
        rows,
        rhs,
        offsets,
        costs,
        tuple(instance.place for instance in found),
        tuple(instance.rule.id for instance in found),
        frozenset(background),
        tuple(reads),
    )
