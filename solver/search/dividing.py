"""Where a part of a large question is split: at the slot and row on which its relaxation mixes most.

Contents: `division`.
"""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from solver.program.matrix import Mask
from solver.search.linear import Relaxed
from solver.search.sheet import Sheet

Floats = NDArray[np.float64]


def division(sheet: Sheet, relaxed: Relaxed, scale: Floats) -> tuple[int, Mask]:
    """The slot to split and which of its options come first: those on the heavier side of the mean of the row that is
    mixed most, weighted by the row's multiplier."""
    places = np.searchsorted(sheet.columns, relaxed.columns)
    good = (places < len(sheet)) & (sheet.columns[np.minimum(places, len(sheet) - 1)] == relaxed.columns)
    places, shares = places[good], relaxed.shares[good]
    weights = relaxed.multipliers if relaxed.against is None else relaxed.multipliers + relaxed.against
    best: tuple[float, int, int, float] | None = None
    for weighted in (weights, 1e-9 / scale):
        for slot in np.unique(sheet.slots[places]).tolist():
            own = sheet.slots[places] == slot
            if own.sum() < 2:
                continue
            entries, share = sheet.rows[:, places[own]].astype(float), shares[own]
            mean = entries @ share / share.sum()
            mixed = weighted * (np.abs(entries - mean[:, None]) @ share)
            row = int(mixed.argmax())
            if mixed[row] > 0.0 and (best is None or mixed[row] > best[0]):
                best = float(mixed[row]), slot, row, float(mean[row])
        if best is not None:
            _, slot, row, mean_ = best
            own = sheet.slots == slot
            low = sheet.rows[row, own] <= mean_
            if low.any() and not low.all():
                inside = sheet.slots[places] == slot
                light = shares[inside][sheet.rows[row, places[inside]] <= mean_].sum()
                return slot, low if light >= 0.5 else ~low
    return _halves(sheet, places)


def _halves(sheet: Sheet, places: NDArray[np.int64]) -> tuple[int, Mask]:
    """Where the relaxation mixes nothing that rows tell apart: the options it takes against the others."""
    count = np.bincount(sheet.slots[places], minlength=int(sheet.slots[-1]) + 1)
    sizes = np.bincount(sheet.slots, minlength=len(count))
    slot = int(np.where(sizes > 1, count * 10**9 + sizes, -1).argmax())
    own = np.flatnonzero(sheet.slots == slot)
    taken = own == (places[sheet.slots[places] == slot][0] if count[slot] else own[0])
    return slot, np.asarray(taken)
