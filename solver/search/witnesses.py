"""What earlier questions about one program have shown: rigs that were met, and rows that no rig keeps together.

Contents: `Witnesses`.

Many questions of one answer differ only in the rows that count. A rig met once answers every later question whose rows it
keeps; rows refuted once refute every question that has them all. Only what these leave open is searched.
"""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from solver.program.matrix import Ints, Mask
from solver.search.best import Question, any_rig


class Witnesses:
    """Rigs met within one limit on cost, and sets of rows that no rig within it keeps."""

    def __init__(self, question: Question):
        """`question` is asked again and again with other rows; its program and limits on cost stay."""
        self._question = question
        self._rigs: list[Ints] = []
        self._keeps: list[Mask] = []
        self._refuted: list[Mask] = []

    def add(self, columns: Ints) -> None:
        """A rig within the limits on cost, met elsewhere."""
        program = self._question.program
        self._rigs.append(columns)
        self._keeps.append(np.asarray(program.rows[:, columns].sum(axis=1) <= program.rhs))

    def any_rig(self, rows: Mask, broken: Ints | None = None) -> Ints | None:
        """Columns of some rig that keeps these rows within the limits, None if there is none; `broken` as in `Question`.

        NotProven if the limit of work ends before that is known.
        """
        for columns, keeps in zip(self._rigs, self._keeps, strict=True):
            if keeps[rows].all():
                return columns
        if any(not (refuted & ~rows).any() for refuted in self._refuted):
            return None
        found = any_rig(replace(self._question, rows=rows, broken=broken))
        if found is None:
            self._refuted.append(rows)
        else:
            self.add(found)
        return found
