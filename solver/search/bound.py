"""A lower bound that needs no engine: for any multipliers of the rows, the sum of the slots' least reduced costs.

Contents: `Bound`, `bound_of`.

For multipliers k >= 0 every rig that keeps the rows costs at least L(k) = sum over slots of min(c + k R) - k rhs. Good
multipliers are sought by subgradient steps of Polyak's length towards the cutoff; they need not be the best ones, since
whatever they are, L is then worked out in integers and holds exactly. An option whose own reduced cost lifts L above the
cutoff is in no rig within it.
References: M. Held, P. Wolfe, H. Crowder, Validation of subgradient optimization, Math. Programming 6, 1974 (from memory).
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.program.matrix import Ints, Mask

Floats = NDArray[np.float64]
_DENOMINATOR = 2**20
"""Multipliers are whole numbers over this, so that the bound is exact."""
_LARGEST = 2.0**61
_PATIENCE = 6


@dataclass(frozen=True, eq=False)
class Bound:
    """Whether every rig costs more than the cutoff; if not, which options may be in a rig within it."""

    excluded: bool
    possible: Mask


def _steps(rows: Floats, rhs: Floats, cost: Floats, starts: Ints, order: Ints, target: float, most: int) -> Floats:
    """Multipliers of the (scaled) rows after at most so many steps."""
    columns = np.ascontiguousarray(rows.T)
    now = best = np.zeros(len(rhs))
    top, length, idle = -np.inf, 1.0, 0
    for _ in range(most):
        reduced = cost + columns @ now
        least = np.minimum.reduceat(reduced, starts)
        value = float(least.sum() - now @ rhs)
        if value > top + 1e-9 * abs(target):
            top, best, idle = value, now, 0
        else:
            idle += 1
            if idle >= _PATIENCE:
                length, idle, now = 0.5 * length, 0, best
                if length < 0.02:
                    break
                continue
        if top > target:
            break
        places = np.flatnonzero(reduced <= least[order])
        own = order[places]
        slope = columns[places[np.append(True, own[1:] != own[:-1])]].sum(axis=0) - rhs
        slope[(now <= 0.0) & (slope < 0.0)] = 0.0
        size = float(slope @ slope)
        if size < 1e-18:
            break
        now = np.maximum(0.0, now + length * (1.01 * target - value) / size * slope)
    return best


def bound_of(rows: Ints, rhs: Ints, cost: Ints, slots: Ints, cutoff: int, most: int = 120) -> Bound:
    """What the rows say about rigs of cost at most `cutoff`. rows: (m, n); columns sorted by slot."""
    everything = np.ones(len(slots), bool)
    if not len(rhs) or cutoff <= 0:
        return Bound(False, everything)
    starts = np.flatnonzero(np.append(True, slots[1:] != slots[:-1])).astype(np.int64)
    order = np.searchsorted(starts, np.arange(len(slots)), side="right") - 1
    least = np.minimum.reduceat(rows, starts, axis=1)
    table, limit = rows - least[:, order], rhs - least.sum(axis=1)
    scale = np.maximum(np.maximum.reduceat(table, starts, axis=1).sum(axis=1), 1).astype(float)
    found = _steps(table / scale[:, None], limit / scale, cost.astype(float), starts, order, float(cutoff), most)
    multipliers = np.floor(found / scale * _DENOMINATOR)
    size = float((multipliers * scale).sum()) + float(cost.max(initial=1)) * _DENOMINATOR * len(starts)
    if not np.isfinite(size) or size > _LARGEST:
        return Bound(False, everything)
    whole = multipliers.astype(np.int64)
    used = np.flatnonzero(whole)
    reduced = cost * _DENOMINATOR + whole[used] @ table[used]
    lowest = np.minimum.reduceat(reduced, starts)
    room = cutoff * _DENOMINATOR - (int(lowest.sum()) - int(whole[used] @ limit[used]))
    if room < 0:
        return Bound(True, everything)
    return Bound(False, reduced - lowest[order] <= room)
