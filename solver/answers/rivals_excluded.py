"""Which rules exclude every rig that holds one of some options: by themselves if they can, else a minimal set of them.

Contents: `Barred`, `Bars`, `barred_alone`, `barred_by`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from solver.answers.ask import Asked
from solver.program.matrix import Ints, Mask
from solver.rules import RULES
from solver.rules.record import Basis

_PREFERENCE = {Basis.BRIEF: 0, Basis.PRACTICE: 1, Basis.RATING: 2, Basis.REGULATION: 3, Basis.PHYSICS: 4}
"""Order in which rules are kept in a set: what a person can change first, physics last."""


@dataclass(frozen=True)
class Barred:
    """Rules that no rig with the options in question keeps together. `solves`: questions asked.

    A single rule of the background says that the brief leaves the thing out, or keeps the owner's own instead.
    `minimal`: each of the rules is known to be needed; always so, unless known sets may be taken as they are.
    """

    rules: tuple[str, ...]
    solves: int
    minimal: bool = True


def _in_order(asked: Asked) -> tuple[str, ...]:
    return tuple(sorted(asked.droppable, key=lambda rule: _PREFERENCE[RULES[rule].basis]))


def barred_alone(asked: Asked, allowed: Mask) -> str | None:
    """A rule which, with the background, leaves some slot none of the allowed options: each breaks a row even with the best
    of all other slots. A background one first; None if there is none."""
    program = asked.program
    rows = np.where(allowed[None, :], program.rows, np.int64(2**53))
    least = np.minimum.reduceat(rows, program.offsets[:-1], axis=1)
    spare = program.rhs[:, None] - (least.sum(axis=1)[:, None] - least)
    breaks = np.zeros(program.rows.shape, bool)
    for s, (a, b) in enumerate(program.slices):
        breaks[:, a:b] = program.rows[:, a:b] > spare[:, s][:, None]
    groups = np.array(program.groups)
    background = [rule for rule in asked.groups if rule in program.background]
    always = ~allowed
    for rule in background:
        always = always | breaks[groups == rule].any(axis=0)
        if np.logical_and.reduceat(always, program.offsets[:-1]).any():
            return rule
    for rule in _in_order(asked):
        hit = always | breaks[groups == rule].any(axis=0)
        if np.logical_and.reduceat(hit, program.offsets[:-1]).any():
            return rule
    return None


class Bars:
    """Minimal sets of excluding rules, asked for one lot of options after the other.

    Rigs found on the way, with the options in question swapped in, answer what they can; a set that excluded earlier options
    is tried first, and made minimal anew.
    """

    def __init__(self, asked: Asked):
        self.asked = asked
        self.order = _in_order(asked)
        self.groups = np.array(asked.program.groups)
        self.rigs: list[Ints] = []
        self.known: list[tuple[str, ...]] = []

    def of(self, allowed: Mask, as_known: int | None = None) -> Barred | None:
        """A minimal set of rules that excludes every rig of the allowed options; None if there is such a rig.

        With `as_known`, a set of more rules than this that excluded earlier options is taken as it is.
        """
        from solver.search.best import Question, any_rig
        from solver.search.minimal import minimal_set

        alone = barred_alone(self.asked, allowed)
        if alone is not None:
            return Barred((alone,), 0)
        worthwhile = self._worthwhile(allowed)
        kept_by = [kept for rig in self.rigs for kept in self._swapped(rig, allowed)]
        count = 0

        def possible(kept: frozenset[str]) -> bool:
            nonlocal count
            if any(kept <= some for some in kept_by):
                return True
            count += 1
            rows = self.asked.rows_of(kept)
            rig = any_rig(Question(self.asked.program, self.asked.by, rows, allowed=worthwhile, domination=False))
            if rig is None:
                return False
            self.rigs.append(rig)
            kept_by.append(self._kept(rig))
            return True

        tried = next((known for known in sorted(self.known, key=len) if not possible(frozenset(known))), self.order)
        if as_known is not None and tried is not self.order and len(tried) > as_known:
            return Barred(tried, count, all(any(set(tried) - {one} <= some for some in kept_by) for one in tried))
        found = minimal_set(tried, possible)
        if found is None:
            return None
        if found not in self.known:
            self.known.append(found)
        return Barred(found, count)

    def _worthwhile(self, allowed: Mask) -> Mask:
        """The allowed options without those that others dominate, in slots where nothing is forbidden."""
        from solver.search.best import live_costs
        from solver.search.reduce import undominated

        program = self.asked.program
        free = np.logical_and.reduceat(allowed, program.offsets[:-1])[program.slot_of]
        stay = np.zeros(len(allowed), bool)
        stay[undominated(program, live_costs(self.asked.by), None, 1)] = True
        return np.asarray(allowed & (stay | ~free), bool)

    def _kept(self, rig: Ints) -> frozenset[str]:
        broken = self.asked.program.rows[:, rig].sum(axis=1) > self.asked.program.rhs
        return frozenset(self.asked.groups) - frozenset(self.groups[broken].tolist())

    def _swapped(self, rig: Ints, allowed: Mask) -> Iterator[frozenset[str]]:
        """What a rig keeps when its options that are not allowed give way to the first that is, and to the last."""
        program = self.asked.program
        bad = np.flatnonzero(~allowed[rig]).tolist()
        for end in (0, -1):
            other = rig.copy()
            for s in bad:
                a, b = program.slices[s]
                other[s] = a + np.flatnonzero(allowed[a:b])[end]
            kept = self._kept(other)
            if program.background <= kept | (program.background - frozenset(self.asked.groups)):
                yield kept


def barred_by(asked: Asked, allowed: Mask) -> Barred | None:
    """A minimal set of rules that excludes every rig of the allowed options; None if there is such a rig."""
    return Bars(asked).of(allowed)
