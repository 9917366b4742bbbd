"""Points of two or three costs: which of them no other one beats, and the corners of what they leave open.

Contents: `undominated_points`, `beaten`, `corners`, `inside`.

They are swept in the order of the last cost; of what was met before, the other two costs make a staircase, along which the
first rises and the second falls. References: H. T. Kung, F. Luccio, F. P. Preparata, On finding the maxima of a set of
vectors, J. ACM 22, 1975; K. Klamroth, R. Lacour, D. Vanderpooten, On the representation of the search region in
multi-objective optimization, EJOR 245, 2015 (both from memory).
"""

from __future__ import annotations

from bisect import bisect_left, bisect_right

import numpy as np

from solver.program.matrix import Ints, Mask

_FAR = 2**62
_AT_ONCE = 4_000_000
"""Comparisons made together."""


class _Staircase:
    """Steps `across`, `down`; between steps k and k + 1 lies a corner, (across[k + 1] - 1, down[k] - 1), since `since[k]`."""

    def __init__(self, across: int = _FAR, down: int = _FAR):
        """One corner, (across, down); what does not lie within it is not taken in."""
        self.across, self.down, self.since = [-_FAR - 1, across + 1], [down + 1, -_FAR - 1], [-_FAR]

    def corner(self, k: int) -> tuple[int, int, int]:
        """Corner k and since when it is there."""
        return self.across[k + 1] - 1, self.down[k] - 1, self.since[k]

    def is_beyond(self, x: int, y: int) -> bool:
        """Whether a step equals or beats a point."""
        return self.down[bisect_right(self.across, x) - 1] <= y

    def enter(self, x: int, y: int, now: int = 0) -> list[tuple[int, int, int]] | None:
        """The corners that a point closes; None if a step equals or beats it."""
        across, down, since = self.across, self.down, self.since
        if self.is_beyond(x, y):
            return None
        a = bisect_left(across, x)
        b = a
        while down[b] >= y:
            b += 1
        left = since[a - 1] if across[a] == x else now
        right = since[b - 1] if down[b - 1] == y else now
        closed = [self.corner(k) for k in range(a - (across[a] != x), b - (down[b - 1] == y))]
        since[a - 1 : b], across[a:b], down[a:b] = [left, right], [x], [y]
        return closed


def undominated_points(points: Ints) -> Ints:
    """Positions of the points (k, d) that no other one equals or beats in all coordinates; of equal ones the first."""
    if points.shape[1] == 2:
        order = np.lexsort(points.T[::-1])
        second = points[order, 1]
        lowest = np.minimum.accumulate(second)
        return np.sort(order[np.append(True, second[1:] < lowest[:-1])[: len(order)]]).astype(np.int64)
    if points.shape[1] == 3:
        order, steps = np.lexsort(points[:, [1, 0, 2]].T), _Staircase()
        kept = [steps.enter(x, y) is not None for x, y, _ in points[order].tolist()]
        return np.sort(order[np.array(kept, bool)]).astype(np.int64)
    _, first = np.unique(points, axis=0, return_index=True)
    first = np.sort(first)
    own = points[first]
    order = np.argsort(own.sum(axis=1), kind="stable")
    kept_points = np.zeros((0, points.shape[1]), points.dtype)
    places: list[int] = []
    for place in order.tolist():
        if not (kept_points <= own[place]).all(axis=1).any():
            kept_points = np.vstack([kept_points, own[place][None, :]])
            places.append(int(first[place]))
    return np.sort(np.array(places, np.int64))


def beaten(points: Ints, known: Ints) -> Mask:
    """Which of the points (k, d) one of the known (n, d) equals or beats in all coordinates; d is 2 or 3."""
    both = _flat(np.concatenate([known, points]))
    own = np.arange(len(both)) >= len(known)
    order, steps = np.lexsort([own, *both[:, [1, 0, 2]].T]), _Staircase()
    found = np.zeros(len(both), bool)
    for place, asked, (x, y, _) in zip(order.tolist(), own[order].tolist(), both[order].tolist(), strict=True):
        if asked:
            found[place] = steps.is_beyond(x, y)
        else:
            steps.enter(x, y)
    return found[len(known) :]


def _flat(points: Ints) -> Ints:
    """The points with three coordinates, the third of two being 0."""
    return points if points.shape[1] == 3 else np.column_stack([points, np.zeros(len(points), np.int64)])


def corners(points: Ints, least: Ints, most: Ints) -> Ints:
    """The corners (k, d) up to which a point could lie that none of the points (n, d) equals or beats; d is 2 or 3.

    Parameters
    ----------
    points : (n, d) ints
        Points, none of which equals or beats another.
    least, most : (d,) ints
        No point is looked for below `least` or above `most`.
    """
    top = int(np.append(most, 0)[2])
    points, steps = _flat(points), _Staircase(int(most[0]), int(most[1]))
    found: list[tuple[int, int, int]] = []
    for x, y, z in points[np.lexsort(points[:, [1, 0, 2]].T)].tolist():
        if z <= top:
            found += [(across, down, z - 1) for across, down, since in steps.enter(x, y, z) or () if since < z]
    found += [(*steps.corner(k)[:2], top) for k in range(len(steps.since))]
    table = np.array(found, np.int64)
    return np.unique(table[(table >= np.append(least, 0)[:3]).all(axis=1)], axis=0)[:, : len(least)]


def inside(points: Ints, larger: Ints) -> Mask:
    """Which of the points (k, d) lie at or below one of the larger ones (n, d) in every coordinate."""
    found = np.zeros(len(points), bool)
    size = max(1, _AT_ONCE // max(len(larger), 1))
    for a in range(0, len(points), size):
        part = points[a : a + size]
        below = np.ones((len(part), len(larger)), bool)
        for own, other in zip(part.T, larger.T, strict=True):
            below &= own[:, None] <= other[None, :]
        found[a : a + size] = below.any(axis=1)
    return found
