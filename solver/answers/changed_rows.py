"""Rows of a changed brief, with the terms that read nothing that moved worked out once for all changes.

Contents: `compile_moved`.

A row that moves is a sum of many terms of which few read what moved. The figures of the others are the same as in the brief
that was asked, whatever else was changed when they were first worked out; they are kept with it.
"""

from __future__ import annotations

from collections.abc import Iterable

from solver.answers.ask import Asked
from solver.program.compile import Floats, _Sheet
from solver.program.matrix import Ints
from solver.rules.case import Case
from solver.rules.instances import Instance, Setting
from solver.rules.record import Term

_Kept = dict[tuple[int, str, str, str], tuple[Floats, frozenset[str], Term]]
"""By term and place of the case: figures, reads, and the term itself, so that its identity is not given away."""


class _Terms(_Sheet):
    """The columns of all slots, where figures known from the brief that was asked are not worked out again."""

    def __init__(self, setting: Setting, moved: frozenset[str], kept: _Kept):
        super().__init__(setting)
        self._moved, self._kept = moved, kept

    def values(self, term: Term, case: Case) -> tuple[Floats, frozenset[str]]:
        """The term over all columns and what it read."""
        key = (id(term), case.duty_name, case.state, case.end)
        known = self._kept.get(key)
        if known is not None and not known[1] & self._moved:
            return known[0], known[1]
        full, reads = super().values(term, case)
        if not reads & self._moved:
            self._kept[key] = (full, reads, term)
        return full, reads


def compile_moved(
    asked: Asked, setting: Setting, instances: Iterable[Instance], moved: frozenset[str]
) -> list[tuple[Ints, int, frozenset[str]]]:
    """Row, right-hand side and reads of instances laid over a setting that differs from the brief asked in `moved` alone."""
    kept: _Kept = asked._kept.setdefault("terms", {})
    sheet = _Terms(setting, moved, kept)
    return [sheet.row(instance) for instance in instances]
