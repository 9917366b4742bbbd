"""Rigs that differ in chosen slots: each the best one whose kinds there differ from those of all before it.

Contents: `rivals`, `staying`.

A combination of kinds (items) is excluded by one plain row: the sum over the chosen slots of [kind = that one] is at most
one less than their number. With k combinations excluded, an option of a chosen slot may be left out if another of its own
kind dominates it, or if others of more than k further kinds do: swapping it for one of them gives another combination, and
one of those is not excluded. In the other slots domination is as ever.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace

import numpy as np

from solver.program.matrix import Ints, Mask, Program
from solver.search.best import Found, Question, best, live_costs
from solver.search.least import and_rows
from solver.search.reduce import undominated

GROUP = "rivals"


def _beaten(table: Ints, costs: Ints, kinds: Ints, most: int) -> Mask:
    """Options of one slot that one of their own kind dominates, or others of more than `most` kinds."""
    columns, price = np.concatenate([table, costs]).T, costs.T
    earlier = np.arange(len(kinds))
    out = np.zeros(len(kinds), bool)
    for j in range(len(kinds)):
        by = (columns <= columns[j]).all(axis=1) & ((price < price[j]).any(axis=1) | (earlier < j))
        by[j] = False
        found = kinds[by]
        out[j] = bool((found == kinds[j]).any()) or len(np.unique(found)) > most
    return out


def staying(program: Program, by: str, slots: Sequence[int], kinds: Ints, most: int) -> Mask:
    """Options that may be in the best rig when up to `most` combinations of kinds in these slots are excluded.

    Parameters
    ----------
    program : Program
    by : str
        The objective.
    slots : sequence of int
        Positions of the slots in which rigs must differ.
    kinds : (n,) int64
        Kind (item) of every column.
    most : int
        How many combinations are excluded.
    """
    live = live_costs(by)
    stay = np.zeros(program.rows.shape[1], bool)
    stay[undominated(program, live, None, 1)] = True
    costs = np.stack([program.costs[name] for name in live])
    touched = np.add.reduceat((program.rows != 0).astype(np.int64), program.offsets[:-1], axis=1) > 0
    single = (touched.sum(axis=1) == 1)[:, None]
    for s in slots:
        own = slice(*program.slices[s])
        part = program.rows[:, own]
        judged = np.where(single, (part > program.rhs[:, None]).astype(np.int64), part)
        varied = judged[(judged != judged[:, :1]).any(axis=1)]
        stay[own] = ~_beaten(varied, costs[:, own], kinds[own], most)
    return stay


def rivals(question: Question, slots: Sequence[int], kinds: Ints, count: int) -> Iterator[Found]:
    """The best rig, then again and again the best that differs in kinds from all before, up to `count` of them.

    The last one given has no columns if no further rig exists, or is not proven if the limit of work ended.
    """
    program, chosen = question.program, list(slots)
    rows: list[Ints] = []
    for place in range(count):
        whole = program
        if rows:
            whole = and_rows(program, np.stack(rows), np.full(len(rows), len(chosen) - 1, np.int64), GROUP)
        asked = replace(question, program=whole)
        if rows and question.domination:
            asked = replace(asked, domination=False, allowed=staying(program, question.by, chosen, kinds, place))
        found = best(asked)
        yield found
        if found.columns is None or not found.proven:
            return
        row = np.zeros(program.rows.shape[1], np.int64)
        for s in chosen:
            own = slice(*program.slices[s])
            row[own] = kinds[own] == kinds[found.columns[s]]
        rows.append(row)
