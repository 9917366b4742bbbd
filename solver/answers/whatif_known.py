"""What is known of many programs that no rig fits: which sets of rules a rig can keep in each.

Contents: `Known`.

Two kinds of knowledge settle most questions without the engine. A rig once found shows that every set of rules is possible
that it keeps in a program. A set of rules found impossible in one program is impossible in every other whose rows of these
rules are all at least as tight, with whatever rules are added. A row is at least as tight as another if the other follows
from it whichever options are taken.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from solver.answers.whatif_pool import joint_of
from solver.program.matrix import Ints, Program


class Known:
    """Programs with the same rows by name; `possible` says what `exists` would say of each alone."""

    def __init__(self, programs: Sequence[Program], by: str) -> None:
        self._programs, self._by = tuple(programs), by
        self._joint: Program | None = None
        self._rigs: list[Ints] = []
        self._breaks: list[list[frozenset[str]]] = [[] for _ in programs]
        self._impossible: list[tuple[int, frozenset[str]]] = []
        self._looser: dict[tuple[int, int], frozenset[str]] = {}

    def order(self) -> tuple[int, ...]:
        """The programs, those first that are looser than most: what is impossible there is so in many."""
        everywhere = range(len(self._programs))
        count = [sum(not self._tightened(k, other) for other in everywhere) for k in everywhere]
        return tuple(sorted(everywhere, key=lambda k: (-count[k], k)))

    def possible(self, k: int, kept: frozenset[str]) -> bool:
        """Whether a rig keeps all rows of these rules and of the background in program k; NotProven where it is open."""
        wanted = kept | self._programs[k].background
        for source, less in self._impossible:
            if less <= wanted and (source < 0 or less.isdisjoint(self._tightened(source, k))):
                return False
        if self._shown(k, wanted):
            return True
        if len(self._programs) > 1 and self._asked(-1, wanted) is None:
            return False
        return self._shown(k, wanted) or self._asked(k, wanted) is not None

    def _asked(self, source: int, wanted: frozenset[str]) -> Ints | None:
        """A rig of program `source` (the one looser than all where it is -1) that keeps these rules."""
        from solver.search.best import Question, any_rig

        if self._joint is None and source < 0:
            self._joint = joint_of(self._programs)
        program = self._joint if source < 0 and self._joint is not None else self._programs[source]
        rows = np.array([group in wanted for group in program.groups])
        columns = any_rig(Question(program, self._by, rows))
        if columns is None:
            self._impossible.append((source, wanted))
        else:
            self._rigs.append(columns)
        return columns

    def _shown(self, k: int, wanted: frozenset[str]) -> bool:
        """Whether a rig that is known keeps these rules in program k."""
        program, breaks = self._programs[k], self._breaks[k]
        for columns in self._rigs[len(breaks) :]:
            broken = np.flatnonzero(program.rows[:, columns].sum(axis=1) > program.rhs)
            breaks.append(frozenset(program.groups[i] for i in broken.tolist()))
        return any(wanted.isdisjoint(broken) for broken in breaks)

    def _tightened(self, source: int, k: int) -> frozenset[str]:
        """Rules of which some row is tighter in program `source` than in program k."""
        if (source, k) not in self._looser:
            own, other = self._programs[source], self._programs[k]
            differ = np.flatnonzero((own.rhs != other.rhs) | (own.rows != other.rows).any(axis=1))
            more = np.maximum.reduceat(own.rows[differ] - other.rows[differ], own.offsets[:-1], axis=1).sum(axis=1)
            tighter = differ[more > own.rhs[differ] - other.rhs[differ]]
            self._looser[source, k] = frozenset(own.groups[i] for i in tighter.tolist())
        return self._looser[source, k]
