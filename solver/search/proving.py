"""A proof that no rig of a program costs less than so much, in whole numbers.

Contents: `prove`, `rows_needed`, `MOST_PARTS`.

The question is closed part by part as in `parts.py`, with the least cost known beforehand, over all rows and all options of
the program. What closed each part is recorded as `solver/program/proof.py` describes it and can be checked without any
solver. Where the engine closed a part, the proof says so; asked to be exact, such parts are split further instead.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from solver.errors import InternalError, NotProven
from solver.program.matrix import Program
from solver.program.proof import ByEngine, Closed, LeftOut, Narrowed, Part, Proof, Split
from solver.search.engine import Limits
from solver.search.parts import Search
from solver.search.sheet import sheet_of

MOST_PARTS = 3_000
"""Parts of an exact proof; those that are open then are given to the engine."""


def prove(
    program: Program, by: str, least: int | None, work: float = 600.0, exact: bool = False, parts: int = MOST_PARTS
) -> Proof:
    """The proof that no rig costs less than `least`.

    Parameters
    ----------
    program : Program
        All rows and all options.
    by : str
        The cost.
    least : int or None
        Cost of the best rig; None if no rig keeps the rows. Then the proof speaks of rows alone: every scale is 0, and its
        `least` is the sum of the largest costs of all slots, plus 1, which no rig can reach.
    work : float
        Most work of the engine for one part, in its own units.
    exact : bool
        Whether parts that the engine would close are split until multipliers close them.
    parts : int
        Most parts of an exact proof.

    NotProven if the work ends before. A rig that costs less is an InternalError: the claim was false.
    """
    root = sheet_of(program, by, np.ones(len(program.rhs), bool))
    most = int(np.maximum.reduceat(root.cost, root.starts).sum())
    if least is None:
        root = replace(root, cost=np.zeros(len(root), np.int64))
    cutoff = None if least is None else least - 1
    shape = len(program.offsets) - 1, len(root)
    search = Search(root, shape, Limits(work), cutoff, parts if exact else None, seek=False)
    top = search.run()
    if search.best is not None:
        raise InternalError("a rig was found that the proof says cannot be")
    if not search.proven:
        raise NotProven("the limit of work ended before the proof was complete")
    return Proof(by, most + 1 if least is None else least, top.record())


def rows_needed(program: Program, by: str, least: int) -> tuple[int, ...] | None:
    """Rows whose multipliers show that no rig costs less than `least`, which is known.

    None where the engine is needed for it, or a limit of work ended before.

    The rows alone exclude every such rig: with all others left out the same multipliers say so.
    """
    found: set[int] = set()
    try:
        parts: list[Part] = [prove(program, by, least).root]
    except NotProven:
        return None
    while parts:
        part = parts.pop()
        match part:
            case ByEngine():
                return None
            case Closed():
                found.update(row for row, _ in part.multipliers)
            case Narrowed():
                found.update(row for row, _ in part.multipliers)
                parts += [part.rest] if part.rest is not None else []
            case LeftOut():
                return None
            case Split():
                parts += part.parts
    return tuple(sorted(found))
