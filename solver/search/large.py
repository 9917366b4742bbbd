"""Questions about programs with thousands of options: the same answers as in `best.py`, by another way.

Contents: `cheapest_of_large`, `any_of_large`, `hopeless_of_large`, `narrowed_to_ties`.

What `best.py` does with a small program (compare all options of a slot, then ask the engine once) takes minutes with
thousands of options a slot. Here the linear relaxation shuts most of them at once, and the rest is closed part by part
(`parts.py`). Every step is exact, so that the answers are the same: proven, and the same one every time.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from solver.errors import NotProven
from solver.program.matrix import Ints, Mask
from solver.search.best import TIE, Found, Question
from solver.search.parts import SMALL, Search
from solver.search.reduce import broken_row
from solver.search.sheet import Sheet, narrowed_by_rows, sheet_of

_PASSES = 3
"""Passes over the single rows before the relaxation."""
_MOST_TIES = 24
"""Parts with nothing better than a tie that are gathered."""
_ORDER = "order"
"""Name under which the order of a slot's options stands as a cost."""


@dataclass(frozen=True, eq=False)
class _Ties:
    """What is kept of a question: the least cost, and the options that a rig of that cost can have."""

    cost: int
    open: Ints | None
    """None: too many to gather."""


def _root(question: Question) -> Sheet | None:
    """The question's rows over the options that no single row excludes; None if no rig is left."""
    limits = {name: most for name, most in question.at_most.items() if name != question.by}
    sheet = sheet_of(question.program, question.by, question.row_mask(), question.allowed, limits)
    if len(sheet.starts) < len(question.program.offsets) - 1:
        return None
    narrowed, _ = narrowed_by_rows(sheet, _PASSES)
    if narrowed is None:
        return None
    if question.broken is not None and len(question.broken):
        row, limit = broken_row(question.program, question.broken, narrowed.columns)
        narrowed = replace(narrowed, rows=np.vstack([narrowed.rows, row]), rhs=np.append(narrowed.rhs, limit),
                           places=np.append(narrowed.places, -1))  # fmt: skip
    return narrowed.deciding()


def _search(question: Question, root: Sheet, any_will_do: bool = False, most_ties: int = 0) -> Search:
    program = question.program
    most = int(np.maximum.reduceat(root.cost, root.starts).sum())
    cutoff = min(most, question.at_most.get(question.by, most))
    shape = len(program.offsets) - 1, program.rows.shape[1]
    return Search(root, shape, question.limits, cutoff, any_will_do=any_will_do, most_ties=most_ties)


def _key(question: Question) -> object:
    allowed = None if question.allowed is None else question.allowed.tobytes()
    limits = tuple(sorted((name, most) for name, most in question.at_most.items() if name != question.by))
    return "ties", question.by, question.row_mask().tobytes(), allowed, limits


def cheapest_of_large(question: Question) -> Found:
    """A best rig by cost alone, before ties are settled."""
    root = _root(question)
    if root is None:
        return Found(None, True, None, None, 0)
    search = _search(question, root, most_ties=_MOST_TIES)
    search.run()
    if search.best is None:
        return Found(None, search.proven, None, None if search.proven else int(search.unknown), search.solves)
    cost = question.program.cost(search.best, question.by)
    question.program.cores[_key(question)] = _Ties(cost, search.open_for_ties())
    bound = cost if search.proven else min(cost, int(search.unknown))
    return Found(search.best, search.proven, cost, bound, search.solves)


def _ties(question: Question, cost: int) -> Mask | None:
    """The options that a rig of the least cost, which is given, can have; None if there are too many to gather."""
    kept = question.program.cores.get(_key(question))
    if not isinstance(kept, _Ties) or kept.cost != cost:
        found = cheapest_of_large(replace(question, at_most={**question.at_most, question.by: cost}))
        if not found.proven:
            raise NotProven("the limit of work ended before ties in cost were settled")
        kept = question.program.cores.get(_key(question))
    if not isinstance(kept, _Ties) or kept.open is None:
        return None
    return _mask(question, kept.open)


def _mask(question: Question, columns: Ints) -> Mask:
    mask = np.zeros(question.program.rows.shape[1], bool)
    mask[columns] = True
    return mask


def narrowed_to_ties(question: Question, columns: Ints) -> Question:
    """The question with no more options than rigs as good as this one, which is best by cost, can have.

    As good first by cost, then, where that leaves too many, by the other cost as well, then in order: so that what is left
    is small, and every rig that could be preferred is in it.
    """
    by, tie = question.by, TIE[question.by]
    cost = question.program.cost(columns, by)
    mask = _ties(question, cost)
    if mask is not None:
        return replace(question, allowed=mask)
    question = replace(question, at_most={**question.at_most, by: cost})
    second = cheapest_of_large(replace(question, by=tie))
    if second.columns is None or not second.proven:
        raise NotProven("the limit of work ended before ties in cost were settled")
    question = replace(question, at_most={**question.at_most, tie: question.program.cost(second.columns, tie)})
    root = _root(question)
    left = np.zeros(0, np.int64) if root is None else _search(question, root).left_at_once()
    if len(left) <= SMALL:
        return replace(question, allowed=_mask(question, left))
    mask = _ties(replace(question, by=tie), question.at_most[tie])
    return replace(question, allowed=_first_in_order(question, second.columns) if mask is None else mask)


def _first_in_order(question: Question, columns: Ints) -> Mask:
    """The rig alone whose options come first, slot by slot, among those within the question's limits."""
    program = question.program
    rank = np.arange(program.rows.shape[1]) - np.repeat(program.offsets[:-1], np.diff(program.offsets))
    allowed = np.ones(len(rank), bool) if question.allowed is None else question.allowed.copy()
    for a, b in program.slices:
        slot = slice(a, b)
        here = int(np.flatnonzero((columns >= a) & (columns < b))[0])
        order = np.zeros(len(rank), np.int64)
        order[slot] = rank[slot]
        if order[columns[here]]:
            other = replace(program, costs={**program.costs, _ORDER: order}, memo={}, cores={})
            below = {**question.at_most, _ORDER: int(order[columns[here]]) - 1}
            found = cheapest_of_large(replace(question, program=other, by=_ORDER, allowed=allowed, at_most=below))
            if not found.proven:
                raise NotProven("the limit of work ended before ties in cost were settled")
            columns = columns if found.columns is None else found.columns
        allowed[slot] = False
        allowed[columns[here]] = True
    return allowed


def any_of_large(question: Question) -> Ints | None:
    """Columns of some rig that keeps the rows and the limits on costs, None if there is none."""
    root = _root(question)
    if root is None:
        return None
    search = _search(question, root, any_will_do=True)
    search.run()
    if search.best is None and not search.proven:
        raise NotProven("the limit of work ended before it was known whether a rig exists")
    return search.best


def hopeless_of_large(question: Question) -> bool:
    """Whether single rows and the relaxation alone show that no rig exists."""
    root = _root(question)
    return root is None or not len(_search(question, root).left_at_once())
