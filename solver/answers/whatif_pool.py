"""Many programs that differ a little, asked the same question: each is answered as if it were asked alone.

Contents: `Pool`, `Joint`, `cheapest`.

For any set of programs there is a joint one that is looser than each: every row takes the least of their entries and the
largest of their right-hand sides, so that a rig which keeps the row of any of them keeps the joint row. What is best in
the joint program and keeps all rows of one of them is best there too, and where the joint program has no rig none of
them has one. So a question is first put to the joint program of all; only those that it does not settle are asked again
in halves, in the end alone. Nothing is assumed of how a requirement acts. The tie between rigs of equal cost is settled in
the joint program, of which the others are parts: the first there is the first here.

Where a question says that a better rig must break one of the rows left out (the best of a program costs more than what is
asked for), the joint program holds those rows in their tightest form: a rig that breaks such a row somewhere breaks the
tightest one.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING

import numpy as np

from solver.errors import NotProven
from solver.program.matrix import Ints, Mask, Program

if TYPE_CHECKING:
    from solver.search.best import Question

Keep = Callable[[str], bool]
Ask = Callable[["Joint"], "Ints | None"]


@dataclass(frozen=True, eq=False)
class Joint:
    """A program looser than several; `tight` are its further rows, each the tightest form of the row in `tight_of`."""

    program: Program
    count: int
    """How many rows there are without the tight ones; those are in the order of the programs' own."""
    tight_of: Ints

    def rows(self, keep: Keep) -> Mask:
        """The loose rows of the groups that are kept; no tight ones."""
        groups = self.program.groups[: self.count]
        return np.array([*(keep(group) for group in groups), *([False] * len(self.tight_of))], bool)

    def tightest(self, rows: Ints) -> Ints:
        """Places of these rows in their tightest form."""
        place = np.arange(self.count)
        place[self.tight_of] = self.count + np.arange(len(self.tight_of))
        return place[rows]


def _joint(programs: Sequence[Program]) -> Joint:
    first = programs[0]
    count = len(first.rhs)
    if len(programs) == 1:
        return Joint(first, count, np.zeros(0, np.int64))
    differ = np.zeros(count, bool)
    loose, wide = first.rows.copy(), first.rhs.copy()
    tight, narrow = first.rows.copy(), first.rhs.copy()
    for program in programs[1:]:
        differ |= (program.rhs != first.rhs) | (program.rows != first.rows).any(axis=1)
        np.minimum(loose, program.rows, out=loose)
        np.maximum(wide, program.rhs, out=wide)
        np.maximum(tight, program.rows, out=tight)
        np.minimum(narrow, program.rhs, out=narrow)
    own = np.flatnonzero(differ)
    places = own.tolist()
    joint = replace(
        first,
        rows=np.concatenate([loose, tight[own]]),
        rhs=np.concatenate([wide, narrow[own]]),
        labels=(*first.labels, *(("tightest", first.labels[i]) for i in places)),
        groups=(*first.groups, *(f"tightest {first.groups[i]}" for i in places)),
        reads=(),
        memo={},
        cores={},
    )
    return Joint(joint, count, own)


class Pool:
    """Programs with the same rows by name and the same costs, in an order in which neighbours are alike."""

    def __init__(self, programs: Sequence[Program]) -> None:
        self._programs = tuple(programs)
        self._joint: dict[tuple[int, int], Joint] = {}
        self.solves = 0

    def answers(self, ask: Ask, mask: Mask, members: Sequence[int] | None = None) -> dict[int, Ints | None]:
        """Columns of the rig, or None, for each of these programs (all if not said).

        `ask` puts the question to a joint program, counting the rows of the mask; an answer holds where it keeps those.
        """
        found: dict[int, Ints | None] = {}
        wanted = list(range(len(self._programs)) if members is None else members)
        self._settle(0, len(self._programs), wanted, ask, mask, found)
        return found

    def _settle(self, start: int, stop: int, members: list[int], ask: Ask, mask: Mask, found: dict[int, Ints | None]) -> None:
        if not members:
            return
        if len(members) == 1:
            start, stop = members[0], members[0] + 1
        self.solves += 1
        columns = ask(self.joint(start, stop))
        left = []
        for k in members:
            if columns is None or stop - start == 1 or self._programs[k].fits(columns, mask):
                found[k] = columns
            else:
                left.append(k)
        middle = (start + stop) // 2
        self._settle(start, middle, [k for k in left if k < middle], ask, mask, found)
        self._settle(middle, stop, [k for k in left if k >= middle], ask, mask, found)

    def joint(self, start: int, stop: int) -> Joint:
        """The joint program of these, kept."""
        key = (start, stop)
        if key not in self._joint:
            self._joint[key] = _joint(self._programs[start:stop])
        return self._joint[key]


def cheapest(question: Question) -> Ints | None:
    """Columns of a best rig by cost alone, or None; NotProven where the limit of work leaves it open."""
    from solver.search.best import cheapest as found_by

    found = found_by(question)
    if not found.proven:
        raise NotProven("the limit of work ended before the best rig was proven")
    return found.columns
