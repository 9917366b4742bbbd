"""What settled cells of a what-if tell of others: the best rig and the savings of most cells without the engine.

Contents: `Settled`, `Told` (a cell that was solved), `Best`.

Everything rests on one comparison. Where every row of a cell follows from the row of the same place in another, whatever
options are taken, the other is at least as loose: each rig of the cell is a rig there. So what is best there and fits here
is best here, ties included, since the others in the tie are all there too; and where no rig fits there, none fits here.
The same holds with a rule left out of both: what the best rig costs without it there is a lower bound here, reached where
that rig fits. Nothing is assumed of how a requirement acts; the rows are compared as numbers, each pair of rows once.
"""

from __future__ import annotations

from dataclasses import dataclass, field

import numpy as np

from solver.answers.ask import Asked
from solver.answers.whatif_rows import ROWS, Laid
from solver.errors import NotProven
from solver.program.matrix import Ints, Program

_MOST_TOLD = 96
"""Solved cells that are remembered; the oldest are forgotten."""

_MOST_PAIRS = 500_000
"""Comparisons of two rows that are remembered."""
Broken = dict[int, frozenset[str]]


@dataclass(frozen=True, eq=False)
class Told:
    """A cell that was solved: its rows by number, its best rig, and for each rule the best rig without it."""

    rows: Ints
    columns: Ints | None
    cost: int
    without: dict[str, tuple[int, Ints]] = field(default_factory=dict)


@dataclass(frozen=True, eq=False)
class Best:
    """The best rig of a cell, its cost, and what each binding rule saves."""

    columns: Ints | None
    cost: int = 0
    savings: tuple[tuple[str, int], ...] = ()


class Settled:
    """Solved cells, and what they tell of others."""

    def __init__(self, laid: Laid, offsets: Ints) -> None:
        self._laid, self._starts = laid, offsets[:-1]
        self._told: dict[object, list[Told]] = {}
        self._tighter: dict[tuple[int, int], bool] = {}
        self.solves = 0

    def best(self, asked: Asked, by: str, binding: bool) -> Best:
        """The best rig of a cell and the savings of its rules, if asked for. NotProven where a limit of work ends before."""
        told = self._told.setdefault(kind_of(asked), [])
        near = [(other, rules) for other in reversed(told) if (rules := self._short(other.rows, asked)) is not None]
        known = next((other for other, rules in near if not rules and _holds(other, asked.program)), None)
        if known is not None:
            columns, cost = known.columns, known.cost
        else:
            columns = self._solved(asked, by)
            cost = 0 if columns is None else asked.program.cost(columns, by)
        without: dict[str, tuple[int, Ints]] = {}
        asked_for = known is None
        if columns is not None and binding:
            without, left = _without(asked, columns, cost, near)
            asked_for = asked_for or bool(left)
            without.update(self._dropped(asked, by, columns, cost, left))
        if asked_for:
            told.append(Told(asked._kept[ROWS], columns, cost, without))
            del told[:-_MOST_TOLD]
        savings = tuple((rule, cost - without[rule][0]) for rule in without if without[rule][0] < cost)
        return Best(columns, cost, savings)

    def looser_first(self, cells: list[Asked]) -> list[int]:
        """The cells, those first that are looser than most: what is found there holds in many."""
        count = [sum(self._short(one._kept[ROWS], other) == frozenset() for other in cells) for one in cells]
        return sorted(range(len(cells)), key=lambda k: (-count[k], k))

    def _solved(self, asked: Asked, by: str) -> Ints | None:
        from solver.search.best import Question, best

        self.solves += 1
        found = best(Question(asked.program, by))
        if not found.proven:
            raise NotProven("the limit of work ended before every better rig was excluded")
        return found.columns

    def _dropped(self, asked: Asked, by: str, columns: Ints, cost: int, rules: list[str]) -> dict[str, tuple[int, Ints]]:
        """For each of these rules what the best rig without it costs, and such a rig."""
        from solver.search.savings import savings

        if not rules:
            return {}
        self.solves += len(rules)
        groups = np.array(asked.program.groups)
        found = savings(asked.program, by, columns, [groups == rule for rule in rules])
        return {
            rule: (cost - saving.amount, columns if saving.rig is None else saving.rig)
            for rule, saving in zip(rules, found, strict=True)
        }

    def _short(self, rows: Ints, asked: Asked) -> frozenset[str] | None:
        """Rules of which some row of the other cell may be the tighter one, if that is one rule at most; else None."""
        here = asked._kept[ROWS]
        places = np.flatnonzero(rows != here).tolist()
        groups = asked.program.groups
        found: set[str] = set()
        for i in places:
            if groups[i] not in found and self.is_tighter(int(rows[i]), int(here[i])):
                found.add(groups[i])
                if len(found) > 1:
                    return None
        return frozenset(found)

    def is_tighter(self, one: int, other: int) -> bool:
        """Whether some choice of options might keep row `other` and break row `one`."""
        key = (one, other)
        if len(self._tighter) > _MOST_PAIRS:
            self._tighter.clear()
        if key not in self._tighter:
            a, b = self._laid.rows[one], self._laid.rows[other]
            more = int(np.maximum.reduceat(a.row - b.row, self._starts).sum())
            self._tighter[key] = more > a.rhs - b.rhs
        return self._tighter[key]


def kind_of(asked: Asked) -> object:
    """Cells that may tell of each other: the same rows by name, the same costs of what is made least."""
    return (asked.program.labels, asked.costs[asked.by].tobytes() if asked.by == "yearly-cost" else None)


def _holds(other: Told, program: Program) -> bool:
    return other.columns is None or program.fits(other.columns)


def _without(
    asked: Asked, columns: Ints, cost: int, near: list[tuple[Told, frozenset[str]]]
) -> tuple[dict[str, tuple[int, Ints]], list[str]]:
    """For each rule what the best rig without it costs, as far as other cells tell, and the rules they leave open."""
    program = asked.program
    broken: Broken = {}
    found: dict[str, tuple[int, Ints]] = {}
    left: list[str] = []
    for rule in asked.droppable:
        for other, rules in near:
            if rule not in other.without or not rules <= {rule}:
                continue
            least, rig = other.without[rule]
            if least >= cost:
                found[rule] = (cost, columns)
            elif _breaks(program, rig, broken) <= {rule}:
                found[rule] = (least, rig)
            if rule in found:
                break
        if rule not in found:
            left.append(rule)
    return found, left


def _breaks(program: Program, columns: Ints, known: Broken) -> frozenset[str]:
    """Rules that a rig breaks. `known` is by the identity of rigs, all of which live as long as it does."""
    key = id(columns)
    if key not in known:
        places = np.flatnonzero(program.rows[:, columns].sum(axis=1) > program.rhs)
        known[key] = frozenset(program.groups[i] for i in places.tolist())
    return known[key]
