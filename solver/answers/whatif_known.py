"""What is known of many cells that no rig fits: which sets of rules a rig can keep in each.

Contents: `Met` (kept from piece to piece), `Known` (the cells of a piece).

Two kinds of knowledge settle most questions without the engine. A rig once found shows that every set of rules is possible
that it keeps in a cell. A set of rules found impossible in one cell is impossible in every other whose rows of these rules
are all at least as tight, with whatever rules are added. A row is at least as tight as another if the other follows from it
whichever options are taken.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, field

import numpy as np

from solver.answers.ask import Asked
from solver.answers.whatif_pool import joint_of
from solver.answers.whatif_rows import ROWS
from solver.program.matrix import Ints, Program

_MOST_RIGS, _MOST_CELLS = 96, 64
"""Rigs and cells that are remembered from piece to piece; the oldest are forgotten."""


@dataclass(eq=False)
class Met:
    """Rigs that were met, and by the rows of the cells where it was shown the sets of rules that no rig keeps."""

    rigs: list[Ints] = field(default_factory=list)
    impossible: list[tuple[Ints, list[frozenset[str]]]] = field(default_factory=list)


class Known:
    """Cells with the same rows by name; `possible` says what `exists` would say of each alone."""

    def __init__(self, cells: Sequence[Asked], by: str, met: Met, tighter: Callable[[int, int], bool]) -> None:
        """`tighter` says of two rows by number whether the first may be the tighter one, as in `Settled`."""
        self._programs, self._by = tuple(cell.program for cell in cells), by
        self._rows = [cell._kept[ROWS] for cell in cells]
        self._met, self._is_tighter = met, tighter
        self._joint: Program | None = None
        self._none_of_all: list[frozenset[str]] = []
        self._breaks: list[list[frozenset[str]]] = [[] for _ in cells]
        self._tight: dict[tuple[int, int], frozenset[str]] = {}
        del met.rigs[:-_MOST_RIGS]
        del met.impossible[:-_MOST_CELLS]

    def order(self) -> tuple[int, ...]:
        """The cells, those first that are looser than most: what is impossible there is so in many."""
        everywhere = range(len(self._programs))
        count = [sum(not self._tightened(rows, other) for other in everywhere) for rows in self._rows]
        return tuple(sorted(everywhere, key=lambda k: (-count[k], k)))

    def possible(self, k: int, kept: frozenset[str]) -> bool:
        """Whether a rig keeps all rows of these rules and of the background in cell k; NotProven where it is open."""
        wanted = kept | self._programs[k].background
        if any(less <= wanted for less in self._none_of_all) or self._refuted(k, wanted):
            return False
        if self._shown(k, wanted):
            return True
        if len(self._programs) > 1 and self._found(self._all(), wanted) is None:
            self._none_of_all.append(wanted)
            self._note(k, wanted)
            return False
        if self._shown(k, wanted) or self._found(self._programs[k], wanted) is not None:
            return True
        self._note(k, wanted)
        return False

    def _all(self) -> Program:
        if self._joint is None:
            self._joint = joint_of(self._programs)
        return self._joint

    def _found(self, program: Program, wanted: frozenset[str]) -> Ints | None:
        """A rig of a program that keeps these rules; it is remembered."""
        from solver.search.best import Question, any_rig

        columns = any_rig(Question(program, self._by, np.array([group in wanted for group in program.groups])))
        if columns is not None:
            self._met.rigs.append(columns)
        return columns

    def _note(self, k: int, wanted: frozenset[str]) -> None:
        """Remember that no rig keeps these rules in cell k."""
        for rows, sets in self._met.impossible:
            if rows is self._rows[k]:
                sets.append(wanted)
                return
        self._met.impossible.append((self._rows[k], [wanted]))

    def _refuted(self, k: int, wanted: frozenset[str]) -> bool:
        """Whether a set of rules that is impossible in a cell no tighter than this one shows that these are."""
        for rows, sets in reversed(self._met.impossible):
            for less in sets:
                if less <= wanted and less.isdisjoint(self._tightened(rows, k)):
                    return True
        return False

    def _shown(self, k: int, wanted: frozenset[str]) -> bool:
        """Whether a rig that is known keeps these rules in cell k."""
        program, breaks = self._programs[k], self._breaks[k]
        for columns in self._met.rigs[len(breaks) :]:
            broken = np.flatnonzero(program.rows[:, columns].sum(axis=1) > program.rhs)
            breaks.append(frozenset(program.groups[i] for i in broken.tolist()))
        return any(wanted.isdisjoint(broken) for broken in breaks)

    def _tightened(self, rows: Ints, k: int) -> frozenset[str]:
        """Rules of which some row may be tighter in the cell of these rows than in cell k."""
        key = (id(rows), k)
        if key not in self._tight:
            here, groups = self._rows[k], self._programs[k].groups
            found: set[str] = set()
            for i in np.flatnonzero(rows != here).tolist():
                if groups[i] not in found and self._is_tighter(int(rows[i]), int(here[i])):
                    found.add(groups[i])
            self._tight[key] = frozenset(found)
        return self._tight[key]
