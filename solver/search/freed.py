"""Which of many parts of a program saves anything when it is left out: one question about all of them.

Contents: `freed`.

Instead of asking part by part whether some rig is cheap enough without its rows, the program gets one slot more. Its options
are the parts, and the part that is taken lets its own rows go, by an entry that lifts what the heaviest rig has too much. A
rig of the larger program within the limit names a part that saves; where there is none, no part does.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from solver.errors import NotProven
from solver.program.matrix import Ints, Mask, Program
from solver.search.best import live_costs
from solver.search.engine import Status, solve_rows
from solver.search.reduce import reduce_program, starts_of


def freed(program: Program, by: str, most: int, parts: Sequence[Mask]) -> tuple[int, Ints] | None:
    """Some part without whose rows a rig costs at most `most`.

    Parameters
    ----------
    program : Program
        All rows.
    by : str
        The cost.
    most : int
        Its limit.
    parts : sequence of (rows,) array of bool
        For each part the rows that are left out; at least one part, none with a background row.

    Returns
    -------
    (int, (slots,) array of int) or None
        The number of the part and the columns of such a rig; None if there is none for any part.

    Raises
    ------
    NotProven
        The limit of work ended before that was known.
    """
    soft = np.logical_or.reduce(parts)
    left = reduce_program(program, ~soft, live_costs(by), {by: most}, again=False)
    if not left.possible:
        return None
    places = np.flatnonzero(soft)
    over = np.maximum.reduceat(program.rows[np.ix_(places, left.columns)], starts_of(left.slots), axis=1).sum(axis=1)
    over -= program.rhs[places]
    places, over = places[over > 0], over[over > 0]
    table, rhs = program.rows[np.ix_(places, left.columns)], program.rhs[places]
    own = np.stack([part[places] for part in parts], axis=1)
    useful = np.flatnonzero(own.any(axis=0))
    if not len(useful):
        return None
    lifts = np.where(own[:, useful], -over[:, None], 0).astype(np.int64)
    fixed = np.zeros((len(left.rhs), len(useful)), np.int64)
    rows = np.block([[left.rows, fixed], [table, lifts]])
    sizes = [*np.bincount(left.slots, minlength=len(program.offsets) - 1).tolist(), len(useful)]
    outcome = solve_rows(rows, np.concatenate([left.rhs, rhs]), sizes, None)
    if outcome.status is Status.UNKNOWN:
        raise NotProven("the limit of work ended before it was known which rules bind")
    if outcome.chosen is None:
        return None
    *chosen, part = outcome.chosen.tolist()
    return int(useful[part - len(left.columns)]), left.columns[chosen]
