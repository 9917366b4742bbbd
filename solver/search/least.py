"""The rig of least cost by costs that a question brings with it: the first, then the next, then slot and item order.

Contents: `least`, `and_rows`.

The costs of the program itself take no part, so that what is counted can be anything whole: slots that change, money that
is spent anew, things that must be let go.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

import numpy as np

from solver.program.matrix import Ints, Program
from solver.search.best import TIE, Found, Question, best, cost_of_best

_FIRST = "price"
_NEXT = TIE[_FIRST]
"""Names under which the engine room compares two costs and then the order."""


def least(program: Program, costs: Sequence[Ints], domination: bool = True) -> Found:
    """The best rig by two or more costs in their order, ties by slot and item order.

    Parameters
    ----------
    program : Program
        Its rows and slots count, its own costs do not.
    costs : sequence of (n,) int64
        At least two, the most important first.
    domination : bool
        Whether options that cannot matter are left out first.

    Returns
    -------
    Found
        Its `cost` is that of the last cost but one. No columns and `proven` if no rig keeps the rows.

    Raises
    ------
    NotProven
        The limit of work ended before the least of an earlier cost was known.
    """
    *early, last, tie = costs
    limits: dict[str, int] = {}
    settled: dict[str, Ints] = {}
    for place, cost in enumerate(early):
        found = cost_of_best(_question(program, settled, cost, costs[place + 1], limits, domination))
        if found is None:
            return Found(None, True, None, None, place + 1)
        settled[f"cost {place}"] = cost
        limits[f"cost {place}"] = found
    return best(_question(program, settled, last, tie, limits, domination))


def _question(
    program: Program, settled: dict[str, Ints], cost: Ints, tie: Ints, limits: dict[str, int], domination: bool
) -> Question:
    own = replace(program, costs={_FIRST: cost, _NEXT: tie, **settled}, memo={}, cores={})
    return Question(own, _FIRST, at_most=dict(limits), domination=domination)


def and_rows(program: Program, rows: Ints, rhs: Ints, group: str) -> Program:
    """The program with further rows of one name on top, which are part of the background."""
    count = len(rhs)
    return replace(
        program,
        rows=np.concatenate([program.rows, rows]),
        rhs=np.concatenate([program.rhs, rhs]),
        labels=(*program.labels, *(f"{group} {k + 1}" for k in range(count))),
        groups=(*program.groups, *(group,) * count),
        background=program.background | {group},
        reads=(*program.reads, *(frozenset[str](),) * count),
        memo={},
        cores={},
    )
