"""What leaving out parts of a program saves, for many parts at once.

Contents: `Saving`, `savings`, `cheaper` (only whether anything is saved).

A part is a set of rows, such as all instances of a rule. Its saving is what the best rig costs less without them. Each is
one question to the engine, made smaller by what is known of the best rig:

- where a single swap from the best rig breaks one part alone and costs less, only larger savings are asked for;
- a smaller part saves as much as a larger one that holds it, where the larger one's rig breaks rows of the smaller only;
- parts whose rows touch yes/no slots only (kit lists) save what their own bundle costs less, if leaving out all of them
  makes no cheaper core possible: that is one question too.

All of it is exact; tested against exhaustive search.
"""

from __future__ import annotations

import os
from collections.abc import Collection, Mapping, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from solver.errors import NotProven
from solver.program.matrix import Ints, Mask, Program
from solver.search.best import Question, any_rig, cheapest, hopeless, is_large, live_costs
from solver.search.core import core_of, tail_edge
from solver.search.freed import freed
from solver.search.reduce import undominated

_THREADS = 4
"""Questions asked side by side at most. Each is answered by one worker with a fixed seed, so the answers do not depend on
how many run at once; the engine works outside the interpreter's lock."""


_TOGETHER = 8
"""From so many parts on one question is asked about all of them, whether any saves; fewer are asked one by one."""


@dataclass(frozen=True, eq=False)
class Saving:
    """What the best rig costs less without a part, in steps of the objective, and such a rig (None: nothing saved)."""

    amount: int
    rig: Ints | None


NOTHING = Saving(0, None)
"""Nothing is saved."""


@dataclass(frozen=True, eq=False)
class _Task:
    """The best rig of a program, its cost, and the parts that may be left out (masks of rows)."""

    program: Program
    by: str
    columns: Ints
    cost: int
    parts: Sequence[Mask]

    def question(self, dropped: Mask, saving: int = 0) -> Question:
        """The question for rigs that save more than so much without these rows."""
        return Question(self.program, self.by, ~dropped, at_most={self.by: self.cost - saving - 1},
                        broken=np.flatnonzero(dropped))  # fmt: skip

    def saving(self, k: int, known: Saving) -> Saving:
        """The saving of one part, where so much is known."""
        found = cheapest(self.question(self.parts[k], known.amount))
        if not found.proven:
            raise NotProven("the limit of work ended before it was known what a rule costs")
        return known if found.cost is None else Saving(self.cost - found.cost, found.columns)


def savings(
    program: Program, by: str, columns: Ints, parts: Sequence[Mask], within: Sequence[Saving] = (),
    met: Mapping[int, Saving] | None = None,
) -> list[Saving]:  # fmt: skip
    """Saving of each part.

    Parameters
    ----------
    program : Program
        All rows.
    by : str
        The objective.
    columns : (slots,) array of int
        The best rig of the program by this objective, proven.
    parts : sequence of (rows,) array of bool
        For each part the rows that are left out. No part holds a background row.
    within : sequence of Saving, optional
        For each part what a larger part saves that holds it. Its rig may settle the smaller one at once.
    met : mapping, optional
        By the number of a part a saving that some rig reaches without it: only larger ones are asked for.
    """
    task = _Task(program, by, columns, program.cost(columns, by), parts)
    found = dict.fromkeys(range(len(parts)), NOTHING)
    found.update(_shown(task, within))
    left = [k for k, part in enumerate(parts) if part.any() and found[k] is NOTHING]
    if is_large(program):
        from solver.search.large_savings import large_savings

        found.update(large_savings(program, by, columns, parts, left))
        return [found[k] for k in range(len(parts))]
    kits = [k for k in left if _of_yes_no(program, parts[k])]
    found.update(_kits(task, kits) if len(kits) > 1 else {})
    left = [k for k in left if found[k] is NOTHING]
    known = {k: max(saving, (met or {}).get(k, NOTHING), key=lambda one: one.amount)
             for k, saving in _by_one_swap(task, left).items()}  # fmt: skip
    with ThreadPoolExecutor(min(_THREADS, os.cpu_count() or 1)) as pool:
        asked = {k: pool.submit(task.saving, k, known[k]) for k in left if known[k].amount}
        for k in left:
            if k not in asked and not hopeless(task.question(parts[k])):
                asked[k] = pool.submit(task.saving, k, NOTHING)
        for k, future in asked.items():
            found[k] = future.result()
    return [found[k] for k in range(len(parts))]


def cheaper(
    program: Program, by: str, columns: Ints, parts: Sequence[Mask], met: Mapping[int, Saving] | None = None,
    likely: Collection[int] = (),
) -> list[Saving]:  # fmt: skip
    """For each part what some rig saves without it, or nothing where no rig is cheaper: less work than `savings`.

    Parameters as there; `likely` names parts that are expected to save something, which are asked one by one. Of many others
    it is asked at once whether any does.
    """
    if is_large(program):
        return savings(program, by, columns, parts)
    task = _Task(program, by, columns, program.cost(columns, by), parts)
    found = {k: (met or {}).get(k, NOTHING) for k in range(len(parts))}
    left = [k for k, part in enumerate(parts) if part.any() and found[k] is NOTHING]
    found.update(_by_one_swap(task, left))
    left = [k for k in left if found[k] is NOTHING and not hopeless(task.question(parts[k]))]
    many = [k for k in left if k not in likely]
    alone = left if len(many) < _TOGETHER else [k for k in left if k in likely]
    for k in alone:
        rig = any_rig(task.question(parts[k]))
        found[k] = NOTHING if rig is None else Saving(task.cost - program.cost(rig, by), rig)
    while many and len(alone) < len(left):
        one = freed(program, by, task.cost - 1, [parts[k] for k in many])
        if one is None:
            break
        k = many.pop(one[0])
        found[k] = Saving(task.cost - program.cost(one[1], by), one[1])
    return [found[k] for k in range(len(parts))]


def _shown(task: _Task, within: Sequence[Saving]) -> dict[int, Saving]:
    """Parts that save as much as a larger one, since its rig keeps all rows but those of the part."""
    good = [saving.rig is not None and task.program.fits(saving.rig, ~part)
            for part, saving in zip(task.parts, within, strict=False)]  # fmt: skip
    return {k: within[k] for k, shown in enumerate(good) if shown}


def _by_one_swap(task: _Task, parts: list[int]) -> dict[int, Saving]:
    """For each part the most that one swap from the best rig saves which breaks rows of this part only."""
    program, rig = task.program, task.columns
    columns = undominated(program, live_costs(task.by), None, 1)
    slots = program.slot_of[columns]
    saved = program.costs[task.by][rig][slots] - program.costs[task.by][columns]
    cheaper = np.flatnonzero(saved > 0)
    saved, columns, slots = saved[cheaper], columns[cheaper], slots[cheaper]
    sums = program.rows[:, rig].sum(axis=1)
    broken = sums[:, None] - program.rows[:, rig][:, slots] + program.rows[:, columns] > program.rhs[:, None]
    count = broken.sum(axis=0)
    found = {}
    for k in parts:
        alone = np.flatnonzero(broken[task.parts[k]].sum(axis=0) == count)
        most = alone[saved[alone].argmax()] if len(alone) else None
        found[k] = NOTHING if most is None else Saving(int(saved[most]), _swapped(rig, int(slots[most]), columns[most]))
    return found


def _swapped(rig: Ints, slot: int, column: np.int64) -> Ints:
    new = rig.copy()
    new[slot] = column
    return new


def _of_yes_no(program: Program, part: Mask) -> bool:
    """Whether the rows of the part touch nothing but the yes/no slots at the end."""
    return not (program.rows[part][:, : tail_edge(program)] != 0).any()


def _kits(task: _Task, kits: list[int]) -> dict[int, Saving]:
    """Savings of the kit lists, if no cheaper core is possible even without all of them; else nothing."""
    program, by = task.program, task.by
    dropped = np.logical_or.reduce([task.parts[k] for k in kits])
    core = core_of(program, ~dropped, live_costs(by))
    edge = tail_edge(program)
    own = task.columns[task.columns < edge]
    if core is None:
        return {}
    price = int(program.costs[by][own].sum())
    tail = int(core.program.costs[by][-1])
    question = Question(core.program, by, ~dropped[core.rows], at_most={by: price - 1 + tail})
    if any_rig(question) is not None:
        return {}
    found = {}
    for k in kits:
        single = core_of(program, ~task.parts[k], live_costs(by))
        if single is None:
            continue
        rig = np.concatenate([own, single.bundles[by]])
        if program.fits(rig, ~task.parts[k]):
            found[k] = Saving(task.cost - program.cost(rig, by), rig)
    return found
