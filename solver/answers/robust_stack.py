"""One program that holds at several points of the ranges at once: the rows of all points under one set of slots.

Contents: `Stack`.

A row that is the same at several points is held once. Costs are those at the first point.
"""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from solver.answers.ask import Asked
from solver.program.matrix import Mask, Program


class Stack:
    """The rows of several questions over the same options; `program`, and which question each row belongs to."""

    def __init__(self, points: Sequence[Asked]) -> None:
        self._owners: list[set[int]] = []
        places: dict[object, int] = {}
        picked: list[tuple[int, int]] = []
        for number, asked in enumerate(points):
            program = asked.program
            for i, label in enumerate(program.labels):
                key = (label, program.rows[i].tobytes(), int(program.rhs[i]))
                if key not in places:
                    places[key] = len(picked)
                    picked.append((number, i))
                    self._owners.append(set())
                self._owners[places[key]].add(number)
        programs = [asked.program for asked in points]
        self.program = Program(
            np.stack([programs[k].rows[i] for k, i in picked]),
            np.array([programs[k].rhs[i] for k, i in picked], np.int64),
            programs[0].offsets,
            programs[0].costs,
            tuple((k, programs[k].labels[i]) for k, i in picked),
            tuple(programs[k].groups[i] for k, i in picked),
            frozenset().union(*(program.background for program in programs)),
        )

    def without(self, number: int) -> Mask:
        """Rows that stay when one point is left out."""
        return np.array([owners != {number} for owners in self._owners], bool)

    def of_rules(self, rules: frozenset[str]) -> Mask:
        """Rows of these rules and of the background, at all points."""
        kept = rules | self.program.background
        return np.array([group in kept for group in self.program.groups], bool)
