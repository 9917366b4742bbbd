"""What the best rig costs with each of many sets of options insisted on: bounds first, few solves, exact everywhere.

Contents: `insist`, `Insisted`, `Parts`, `parts_of`.

Slots that hang together by rows of their own (the yes/no slots of one kit) form a part, whose choices keep those rows; any
other slot is a part with its options as choices. Let c be the cost of the best rig.

- Above: a choice swapped into any rig found so far, if it fits, is a rig with its options.
- Below: if a choice q is no less in any row than a choice r of the same part, each rig with q becomes, with r instead, a rig
  that fits. That one costs at least c. So a rig with q costs at least c + cost(q) - cost(r). For a set of options, the least
  over the choices that hold one of them.

Where both meet the answer is known. Elsewhere the engine is asked for a rig cheaper than the one known; each rig it finds
serves the others. Questions are put in rounds of a fixed size, so that the number of solves is always the same.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from solver.errors import NotProven
from solver.program.matrix import Ints, Mask, Program
from solver.search.best import Question, cheapest
from solver.search.reduce import propagate

_ROUND = 4
"""Questions in a round."""
_MOST = 6
"""Yes/no slots in one part at most; more stay slots of their own."""
_FAR = 2**62


@dataclass(frozen=True, eq=False)
class Parts:
    """Every part's choices as rows of columns (choices, slots), and what they come to in rows and cost."""

    slots: tuple[tuple[int, ...], ...]
    choices: tuple[Ints, ...]


@dataclass(frozen=True)
class Insisted:
    """Least cost with one of the options, or None if no rig has any; whether the engine was asked for it."""

    cost: int | None
    asked: bool


def parts_of(program: Program) -> Parts:
    """The parts of a program: yes/no slots joined by rows that touch no wider slot; all other slots by themselves."""
    count = len(program.offsets) - 1
    small = np.diff(program.offsets) <= 2
    touched = np.add.reduceat((program.rows != 0).astype(np.int64), program.offsets[:-1], axis=1) > 0
    own = np.flatnonzero(touched.any(axis=1) & ~touched[:, ~small].any(axis=1) & (touched.sum(axis=1) <= _MOST))
    label = list(range(count))
    for row in own.tolist():
        slots = np.flatnonzero(touched[row]).tolist()
        names = {label[s] for s in slots}
        if sum(label.count(name) for name in names) <= _MOST:
            label = [min(names) if name in names else name for name in label]
    groups = [tuple(s for s in range(count) if label[s] == name) for name in dict.fromkeys(label)]
    choices = []
    for group in groups:
        grid = np.meshgrid(*(np.arange(*program.slices[s]) for s in group), indexing="ij")
        found = np.stack([axis.ravel() for axis in grid], axis=1)
        inside = [row for row in own.tolist() if set(np.flatnonzero(touched[row]).tolist()) <= set(group)]
        good = (program.rows[inside][:, found].sum(axis=2) <= program.rhs[inside][:, None]).all(axis=0)
        choices.append(np.asarray(found[good] if good.any() else found, np.int64))
    return Parts(tuple(groups), tuple(choices))


class _Bounds:
    """For every choice of every part: least cost as far as known, from below and from above."""

    def __init__(self, program: Program, by: str, best: Ints):
        self.program, self.by = program, by
        self.parts = parts_of(program)
        self.known = program.cost(best, by)
        cost = program.costs[by]
        self.prices = [cost[choices].sum(axis=1) for choices in self.parts.choices]
        self.sums = [program.rows[:, choices].sum(axis=2) for choices in self.parts.choices]
        self.above = [np.full(len(price), _FAR, np.int64) for price in self.prices]
        self.below = [self._below(k) for k in range(len(self.prices))]
        self.learn(best)

    def _below(self, k: int) -> Ints:
        sums, price = self.sums[k], self.prices[k]
        varied = sums[(sums != sums[:, :1]).any(axis=1)]
        least = price.copy()
        for q in range(len(price)):
            least[q] = price[(varied <= varied[:, q][:, None]).all(axis=0)].min()
        return np.asarray(self.known + price - least, np.int64)

    def learn(self, rig: Ints) -> None:
        """What a rig that fits, and each single swap in it that fits, say."""
        total = self.program.rows[:, rig].sum(axis=1)
        cost = self.program.cost(rig, self.by)
        for k, slots in enumerate(self.parts.slots):
            now = rig[list(slots)]
            rest = self.program.rhs - (total - self.program.rows[:, now].sum(axis=1))
            fits = (self.sums[k] <= rest[:, None]).all(axis=0)
            swapped = cost - int(self.program.costs[self.by][now].sum()) + self.prices[k]
            self.above[k] = np.where(fits, np.minimum(self.above[k], swapped), self.above[k])

    def of(self, options: Mask) -> tuple[int, int]:
        """(from below, from above) for rigs with one of the options."""
        low, high = _FAR, _FAR
        for k, choices in enumerate(self.parts.choices):
            own = options[choices].any(axis=1)
            if own.any():
                low, high = min(low, int(self.below[k][own].min())), min(high, int(self.above[k][own].min()))
        return low, high


def insist(
    program: Program,
    by: str,
    best: Ints,
    wanted: Sequence[Mask],
    done: Callable[[float], None] | None = None,
    domination: bool = True,
) -> tuple[tuple[Insisted, ...], int]:
    """The least cost of a rig with one of the options of each mask, and how many questions the engine was asked.

    Parameters
    ----------
    program : Program
    by : str
        The objective.
    best : (slots,) int64
        Columns of a best rig.
    wanted : sequence of (n,) bool
        Options, of one slot or of several.
    done : callable, optional
        Told the share done.
    domination : bool
        Whether options that cannot matter are left out before each question.
    """
    bounds = _Bounds(program, by, best)
    stay, _, _ = propagate(program.rows, program.rhs, program.slot_of)
    found: dict[int, Insisted] = {k: Insisted(None, False) for k, options in enumerate(wanted) if not (options & stay).any()}
    solves = 0
    with ThreadPoolExecutor(max(1, min(_ROUND, os.cpu_count() or 1))) as pool:
        while True:
            open_ones = []
            for k, options in enumerate(wanted):
                if k not in found:
                    low, high = bounds.of(options)
                    if low == high < _FAR:
                        found[k] = Insisted(high, False)
                    else:
                        open_ones.append(k)
            if done is not None:
                done(len(found) / max(1, len(wanted)))
            if not open_ones:
                return tuple(found[k] for k in range(len(wanted))), solves
            batch = _spread(open_ones)
            limits = [bounds.of(wanted[k])[1] for k in batch]
            questions = [
                question for k, most in zip(batch, limits, strict=True)
                for question in _questions(program, by, wanted[k], most, domination)
            ]  # fmt: skip
            owner = [k for k in batch for _ in _slots(program, wanted[k])]
            answers = list(pool.map(_cheapest, questions))
            solves += len(questions)
            for k, most in zip(batch, limits, strict=True):
                rigs = [rig for j, rig in zip(owner, answers, strict=True) if j == k and rig is not None]
                for rig in rigs:
                    bounds.learn(rig)
                cost = min((program.cost(rig, by) for rig in rigs), default=most)
                found[k] = Insisted(None if cost == _FAR else cost, True)


def _spread(places: list[int]) -> list[int]:
    """A few of the open ones, far from each other, so that what one finds may spare the next."""
    step = max(1, len(places) // _ROUND)
    return places[::step][:_ROUND]


def _slots(program: Program, options: Mask) -> list[int]:
    return [s for s, (a, b) in enumerate(program.slices) if options[a:b].any()]


def _questions(program: Program, by: str, options: Mask, most: int, domination: bool) -> list[Question]:
    """One question for each slot that has some of the options."""
    questions = []
    for s in _slots(program, options):
        own = slice(*program.slices[s])
        allowed = np.ones(len(options), bool)
        allowed[own] = options[own]
        at_most = {} if most == _FAR else {by: most - 1}
        questions.append(Question(program, by, allowed=allowed, at_most=at_most, domination=domination))
    return questions


def _cheapest(question: Question) -> Ints | None:
    found = cheapest(question)
    if not found.proven:
        raise NotProven("the limit of work ended before the best rig with an item was proven")
    return found.columns
