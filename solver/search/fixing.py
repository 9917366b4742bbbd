"""What multipliers of the rows exclude, in whole numbers.

Contents: `Judged`, `judged`, `row_judged`.

For multipliers m >= 0 of rows and a scale d >= 0 of the cost every rig that keeps the rows has

    d cost >= L = sum over slots of min(d cost + m R) - m rhs,

whatever m is; with an option taken in its slot, L grows by what the option lies above its slot's least. So real multipliers
are rounded down to whole numbers, and what follows from these is exact. Sums are kept below 2^61.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.program.matrix import Ints, Mask
from solver.search.sheet import Sheet

Floats = NDArray[np.float64]
_LARGEST = 2.0**61
_FINEST = 2**40


@dataclass(frozen=True, eq=False)
class Judged:
    """Whether the multipliers exclude every rig of cost at most the cutoff; if not, which columns they leave."""

    multipliers: tuple[tuple[int, int], ...]
    """(row of the program, multiplier), rows ascending."""
    scale: int
    closed: bool
    possible: Mask


def _largest(sheet: Sheet) -> Floats:
    """For every row the largest amount that a rig or its right-hand side can come to."""
    most = np.maximum(np.abs(sheet.low), np.abs(sheet.high)).astype(float).sum(axis=1)
    return np.asarray(most + np.abs(sheet.rhs.astype(float)) + 1.0)


def judged(sheet: Sheet, multipliers: Floats, cutoff: int | None) -> Judged:
    """What these multipliers (of the sheet's rows) exclude within the cutoff; without one, the rows alone are asked."""
    size = _largest(sheet)
    own = np.where(np.isfinite(multipliers) & (multipliers > 0.0), multipliers, 0.0)
    cost = 0.0 if cutoff is None else float(np.maximum.reduceat(np.abs(sheet.cost), sheet.starts).sum()) + abs(cutoff) + 1.0
    total = float(own @ size) + cost
    scale = _FINEST
    while scale > 1 and total * scale > _LARGEST:
        scale //= 2
    if total * scale > _LARGEST:
        return Judged((), 0, False, np.ones(len(sheet), bool))
    return _whole(sheet, np.floor(own * scale).astype(np.int64), 0 if cutoff is None else scale, cutoff)


def _whole(sheet: Sheet, whole: Ints, scale: int, cutoff: int | None) -> Judged:
    used = np.flatnonzero(whole)
    reduced = sheet.cost * scale
    for i in used.tolist():
        reduced += whole[i] * sheet.rows[i]
    least = np.minimum.reduceat(reduced, sheet.starts)
    bound = int(least.sum()) - int(whole[used] @ sheet.rhs[used])
    room = scale * (0 if cutoff is None else cutoff) - bound
    named = tuple(zip(sheet.places[used].tolist(), whole[used].tolist(), strict=True))
    if room < 0:
        return Judged(named, scale, True, np.zeros(len(sheet), bool))
    return Judged(named, scale, False, reduced <= np.repeat(least + room, sheet.sizes))


def row_judged(sheet: Sheet, row: int) -> tuple[tuple[int, int], ...]:
    """The multipliers that let one row speak alone."""
    return ((int(sheet.places[row]), 1),)
