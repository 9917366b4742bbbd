"""Cells of a what-if settled many at a time: the best rig and the savings of most of them without the engine.

Contents: `Settled`, `Best` (of a cell), `kind_of` (which cells may tell of each other).

Everything rests on one comparison. Where every row of a cell follows from the row of the same place in a looser program,
whatever options are taken, each rig of the cell is a rig there. So what is best there and fits here is best here, ties
included, since the others in the tie are all there too; and where no rig fits there, none fits here. The same holds with a
rule left out of both: what the best rig costs without it there is a lower bound here, reached where that rig fits.

Looser programs are those of cells solved before, and the joint program of cells that are settled together: it is asked
first, what it settles is done, and the others are asked again by halves, down to single cells. Nothing is assumed of how a
requirement acts; the rows are compared as numbers, each pair of rows once.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING

import numpy as np

from solver.answers.ask import Asked
from solver.answers.whatif_facts import Binding
from solver.answers.whatif_rows import ROWS, Laid
from solver.answers.whatif_told import Near, Settling, Told, holds, known_without, tell
from solver.errors import NotProven
from solver.program.matrix import Ints, Program

if TYPE_CHECKING:
    from solver.search.savings import Saving

_MOST_TOLD = 96
"""Solved programs that are remembered; the oldest are forgotten."""

_MOST_MET = 160
"""Rigs that are remembered; the oldest are forgotten."""

_MOST_PAIRS = 500_000
"""Comparisons of two rows that are remembered."""


@dataclass(frozen=True, eq=False)
class Best:
    """The best rig of a cell, what each rule saves that binds, and what a limit of work left unknown, if anything."""

    columns: Ints | None
    savings: tuple[tuple[str, int], ...]
    open: str


class Settled:
    """What was solved, and what it tells of cells."""

    def __init__(self, laid: Laid, offsets: Ints, binding: Binding) -> None:
        self._laid, self._starts = laid, offsets[:-1]
        self._told: dict[object, list[Told]] = {}
        self._tighter: dict[tuple[int, int], bool] = {}
        self._binding, self._exact = binding, binding == "savings"
        self._met: dict[bytes, Ints] = {}
        """Rigs that were best somewhere, or without a rule."""
        self._bound: set[str] = set()
        """Rules that bound somewhere."""
        self.solves = 0

    def best(self, cells: Sequence[Asked], by: str) -> list[Best]:
        """The best rig of each cell, and as much of what binds as the study asks for. The cells are all of one kind."""
        told = self._told.setdefault(kind_of(cells[0]), [])
        found = [Settling(asked, self._near(told, asked)) for asked in cells]
        unknown = []
        for cell in found:
            known = next((one for one, rules in cell.near if not rules and holds(one, cell.asked.program)), None)
            if known is None:
                unknown.append(cell)
            else:
                cell.columns, cell.cost = known.columns, known.cost
        self._best(unknown, by, told)
        if self._binding != "none":
            self._bind([cell for cell in found if cell.columns is not None and not cell.open], by, told)
        del told[:-_MOST_TOLD]
        return [Best(cell.columns, cell.savings, cell.open) for cell in found]

    def _near(self, told: list[Told], asked: Asked) -> Near:
        latest = tuple(reversed(told))
        return Near((one, rules) for one in latest if (rules := self._short(one.rows, asked)) is not None)

    def _best(self, cells: Sequence[Settling], by: str, told: list[Told]) -> None:
        """The best rig of each cell, from their joint program where that fits, else by halves."""
        if not cells:
            return
        rows, program = self._laid.joint([cell.asked for cell in cells])
        try:
            one = self._solved(rows, program, by, cells)
        except NotProven as error:
            if len(cells) == 1:
                cells[0].open = str(error)
                return
            one = None
        left = list(cells)
        if one is not None:
            told.append(one)
            left = [cell for cell in cells if not holds(one, cell.asked.program)]
            for cell in cells:
                if cell not in left:
                    cell.columns, cell.cost = one.columns, one.cost
        for half in _halves(left):
            self._best(half, by, told)

    def _bind(self, cells: Sequence[Settling], by: str, told: list[Told]) -> None:
        """The savings of the rules of each cell, those with the same rig together."""
        rigs: dict[bytes, list[Settling]] = {}
        for cell in cells:
            cell.without, cell.left = known_without(cell)
            if cell.left and cell.columns is not None:
                rigs.setdefault(cell.columns.tobytes(), []).append(cell)
        for same in rigs.values():
            self._savings(same, by, told, len(same) == 1)

    def _savings(self, cells: Sequence[Settling], by: str, told: list[Told], shown: bool) -> None:
        """The savings of the rules that are open in cells with one rig, from the joint program where that tells them.

        `shown` says whether the joint program is known to have no cheaper rig.
        """
        if not self._exact:
            cells = [cell for cell in cells if self._is_open(cell, by)]
        if not cells or cells[0].columns is None:
            return
        columns, cost = cells[0].columns, cells[0].cost
        rows, program = self._laid.joint([cell.asked for cell in cells])
        rules = list(dict.fromkeys(rule for cell in cells for rule in cell.left))
        without: dict[str, tuple[int, Ints]] = {}
        try:
            shown = shown or self._is_best(program, by, cost)
            without = self._dropped(program, by, columns, cost, rules) if shown else {}
        except NotProven as error:
            if len(cells) == 1:
                cells[0].open = str(error)
                return
        for cell in cells:
            tell(cell, without)
        if without:
            told.append(Told(rows, columns, cost, dict(cells[0].without) if len(cells) == 1 else without))
        left = [cell for cell in cells if cell.left]
        for part in [[cell] for cell in left] if shown and not self._exact else _halves(left):
            self._savings(part, by, told, shown or len(part) == 1)

    def _is_open(self, cell: Settling, by: str) -> bool:
        """Whether rules of a cell are open for which no cheaper rig is known that was met elsewhere."""
        for k, saving in self._reached(cell.asked.program, by, cell.cost, cell.left).items():
            if saving.rig is not None:
                cell.without[cell.left[k]] = (cell.cost - saving.amount, saving.rig)
        cell.left = [rule for rule in cell.left if rule not in cell.without]
        return bool(cell.left)

    def _is_best(self, program: Program, by: str, cost: int) -> bool:
        """Whether no rig of the program costs less."""
        from solver.search.best import Question, any_rig

        return any_rig(Question(program, by, at_most={by: cost - 1})) is None

    def _solved(self, rows: Ints, program: Program, by: str, cells: Sequence[Settling]) -> Told | None:
        """The best rig of the joint program of cells; None where a rig of its cost fits none of them, so that settling ties
        would mostly be in vain."""
        from solver.search.best import Question, cheapest, settled

        self.solves += 1
        question = Question(program, by)
        found = cheapest(question)
        if found.columns is not None:
            self._note(found.columns)
            if found.proven and not any(cell.asked.program.fits(found.columns) for cell in cells):
                return None
            found = settled(question, found)
        if not found.proven:
            raise NotProven("the limit of work ended before every better rig was excluded")
        return Told(rows, found.columns, 0 if found.columns is None else program.cost(found.columns, by))

    def _dropped(self, program: Program, by: str, columns: Ints, cost: int, rules: list[str]) -> dict[str, tuple[int, Ints]]:
        """For each of these rules what the best rig without it costs, and such a rig; or what some cheaper rig costs, if it
        is not the savings that are wanted but the rules that bind."""
        from solver.search.savings import cheaper, savings

        self.solves += len(rules)
        groups = np.array(program.groups)
        reached = self._reached(program, by, cost, rules)
        parts = [groups == rule for rule in rules]
        if self._exact:
            found = savings(program, by, columns, parts, met=reached)
        else:
            likely = {k for k, rule in enumerate(rules) if rule in self._bound}
            found = cheaper(program, by, columns, parts, reached, likely)
            self._bound.update(rule for rule, saving in zip(rules, found, strict=True) if saving.amount)
        without = {}
        for rule, saving in zip(rules, found, strict=True):
            without[rule] = (cost - saving.amount, columns if saving.rig is None else saving.rig)
            if saving.rig is not None:
                self._note(saving.rig)
        return without

    def _note(self, columns: Ints) -> None:
        """Remember a rig that was met."""
        self._met[columns.tobytes()] = columns
        if len(self._met) > _MOST_MET:
            del self._met[next(iter(self._met))]

    def _reached(self, program: Program, by: str, cost: int, rules: list[str]) -> dict[int, Saving]:
        """By the place of a rule what the cheapest rig saves that was met elsewhere and breaks no other rule here."""
        from solver.search.savings import Saving

        rigs = [rig for rig in self._met.values() if program.cost(rig, by) < cost]
        if not rigs:
            return {}
        places = {rule: k for k, rule in enumerate(rules)}
        broken = program.rows[:, np.stack(rigs)].sum(axis=2) > program.rhs[:, None]
        found: dict[int, Saving] = {}
        for rig, rows in zip(rigs, broken.T, strict=True):
            own = {program.groups[i] for i in np.flatnonzero(rows).tolist()}
            saved = cost - program.cost(rig, by)
            if len(own) == 1 and (k := places.get(own.pop(), -1)) >= 0 and (k not in found or saved > found[k].amount):
                found[k] = Saving(saved, rig)
        return found

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


def _halves(cells: Sequence[Settling]) -> list[Sequence[Settling]]:
    half = (len(cells) + 1) // 2
    return [part for part in (cells[:half], cells[half:]) if part]
