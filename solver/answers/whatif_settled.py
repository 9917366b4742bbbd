"""Cells of a what-if settled many at a time: the best rig and the savings of most of them without the engine.

Contents: `Settled`, `Told` (what was solved), `Best`.

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
from dataclasses import dataclass, field
from typing import TYPE_CHECKING

import numpy as np

from solver.answers.ask import Asked
from solver.answers.whatif_facts import Binding
from solver.answers.whatif_rows import ROWS, Laid
from solver.errors import NotProven
from solver.program.matrix import Ints, Program

if TYPE_CHECKING:
    from solver.search.savings import Saving

_MOST_TOLD = 96
"""Solved programs that are remembered; the oldest are forgotten."""

_MOST_MET = 24
"""Rigs that are remembered of a rule left out; the oldest are forgotten."""

_MOST_PAIRS = 500_000
"""Comparisons of two rows that are remembered."""
Broken = dict[int, frozenset[str]]


@dataclass(frozen=True, eq=False)
class Told:
    """What was solved: rows by number, the best rig that keeps them, and for some rules the best rig without each, or some
    cheaper rig where only the rules that bind are wanted."""

    rows: Ints
    columns: Ints | None
    cost: int
    without: dict[str, tuple[int, Ints]] = field(default_factory=dict)


Near = list[tuple[Told, frozenset[str]]]
"""What was solved that is no tighter than a cell, but perhaps in one rule."""


@dataclass(eq=False)
class Best:
    """A cell: its best rig and what that costs, once known; what it costs without each rule; the rules left open."""

    asked: Asked
    near: Near
    columns: Ints | None = None
    cost: int = 0
    without: dict[str, tuple[int, Ints]] = field(default_factory=dict)
    left: list[str] = field(default_factory=list)
    open: str = ""
    """What a limit of work left unknown of it."""

    @property
    def savings(self) -> tuple[tuple[str, int], ...]:
        """What each rule that binds saves; at least so much where only the rules that bind were wanted."""
        rules = (rule for rule in self.asked.droppable if rule in self.without)
        return tuple((rule, saved) for rule in rules if (saved := self.cost - self.without[rule][0]) > 0)


class Settled:
    """What was solved, and what it tells of cells."""

    def __init__(self, laid: Laid, offsets: Ints) -> None:
        self._laid, self._starts = laid, offsets[:-1]
        self._told: dict[object, list[Told]] = {}
        self._tighter: dict[tuple[int, int], bool] = {}
        self._exact = True
        self._met: dict[str, dict[bytes, Ints]] = {}
        """By rule the rigs that were best somewhere without it."""
        self.solves = 0

    def best(self, cells: Sequence[Asked], by: str, binding: Binding) -> list[Best]:
        """The best rig of each cell, and as much of its binding rules as is asked for. The cells are all of one kind."""
        told = self._told.setdefault(kind_of(cells[0]), [])
        found = [Best(asked, self._near(told, asked)) for asked in cells]
        unknown = []
        for cell in found:
            known = next((one for one, rules in cell.near if not rules and _holds(one, cell.asked.program)), None)
            if known is None:
                unknown.append(cell)
            else:
                cell.columns, cell.cost = known.columns, known.cost
        self._best(unknown, by, told)
        if binding != "none":
            self._exact = binding == "savings"
            self._bind([cell for cell in found if cell.columns is not None and not cell.open], by, told)
        del told[:-_MOST_TOLD]
        return found

    def _near(self, told: list[Told], asked: Asked) -> Near:
        return [(one, rules) for one in reversed(told) if (rules := self._short(one.rows, asked)) is not None]

    def _best(self, cells: Sequence[Best], by: str, told: list[Told]) -> None:
        """The best rig of each cell, from their joint program where that fits, else by halves."""
        if not cells:
            return
        rows, program = self._laid.joint([cell.asked for cell in cells])
        try:
            columns = self._solved(program, by)
        except NotProven as error:
            if len(cells) == 1:
                cells[0].open = str(error)
                return
            left = list(cells)
        else:
            cost = 0 if columns is None else program.cost(columns, by)
            told.append(Told(rows, columns, cost))
            left = [cell for cell in cells if not _holds(told[-1], cell.asked.program)]
            for cell in cells:
                if cell not in left:
                    cell.columns, cell.cost = columns, cost
        for half in _halves(left):
            self._best(half, by, told)

    def _bind(self, cells: Sequence[Best], by: str, told: list[Told]) -> None:
        """The savings of the rules of each cell, those with the same rig together."""
        rigs: dict[bytes, list[Best]] = {}
        for cell in cells:
            cell.without, cell.left = _without(cell)
            if cell.left and cell.columns is not None:
                rigs.setdefault(cell.columns.tobytes(), []).append(cell)
        for same in rigs.values():
            self._savings(same, by, told, len(same) == 1)

    def _savings(self, cells: Sequence[Best], by: str, told: list[Told], shown: bool) -> None:
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
            _tell(cell, without)
        if without:
            told.append(Told(rows, columns, cost, dict(cells[0].without) if len(cells) == 1 else without))
        left = [cell for cell in cells if cell.left]
        for part in [[cell] for cell in left] if shown and not self._exact else _halves(left):
            self._savings(part, by, told, shown or len(part) == 1)

    def _is_open(self, cell: Best, by: str) -> bool:
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

    def _solved(self, program: Program, by: str) -> Ints | None:
        from solver.search.best import Question, best

        self.solves += 1
        found = best(Question(program, by))
        if not found.proven:
            raise NotProven("the limit of work ended before every better rig was excluded")
        return found.columns

    def _dropped(self, program: Program, by: str, columns: Ints, cost: int, rules: list[str]) -> dict[str, tuple[int, Ints]]:
        """For each of these rules what the best rig without it costs, and such a rig; or what some cheaper rig costs, if it
        is not the savings that are wanted but the rules that bind."""
        from solver.search.savings import cheaper, savings

        self.solves += len(rules)
        groups = np.array(program.groups)
        reached = self._reached(program, by, cost, rules)
        find = savings if self._exact else cheaper
        found = find(program, by, columns, [groups == rule for rule in rules], met=reached)
        without = {}
        for rule, saving in zip(rules, found, strict=True):
            without[rule] = (cost - saving.amount, columns if saving.rig is None else saving.rig)
            if saving.rig is not None:
                met = self._met.setdefault(rule, {})
                met[saving.rig.tobytes()] = saving.rig
                if len(met) > _MOST_MET:
                    del met[next(iter(met))]
        return without

    def _reached(self, program: Program, by: str, cost: int, rules: list[str]) -> dict[int, Saving]:
        """By the place of a rule what a rig saves that was met without it elsewhere and keeps all others here: the cheapest,
        or any where only the rules that bind are wanted."""
        from solver.search.savings import Saving

        broken: Broken = {}
        found: dict[int, Saving] = {}
        for k, rule in enumerate(rules):
            least = cost
            for rig in reversed(self._met.get(rule, {}).values()):
                if k in found and not self._exact:
                    break
                spent = program.cost(rig, by)
                if spent < least and _breaks(program, rig, broken) <= {rule}:
                    least = spent
                    found[k] = Saving(cost - least, rig)
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


def _holds(other: Told, program: Program) -> bool:
    return other.columns is None or program.fits(other.columns)


def _halves(cells: Sequence[Best]) -> list[Sequence[Best]]:
    half = (len(cells) + 1) // 2
    return [part for part in (cells[:half], cells[half:]) if part]


def _without(cell: Best) -> tuple[dict[str, tuple[int, Ints]], list[str]]:
    """For each rule what the best rig without it costs, as far as what was solved tells, and the rules that leaves open."""
    if cell.columns is None:
        return {}, []
    broken: Broken = {}
    found: dict[str, tuple[int, Ints]] = {}
    for rule in cell.asked.droppable:
        for other, rules in cell.near:
            if rule in other.without and rules <= {rule} and (told := _told(cell, rule, other.without[rule], broken)):
                found[rule] = told
                break
    return found, [rule for rule in cell.asked.droppable if rule not in found]


def _tell(cell: Best, without: dict[str, tuple[int, Ints]]) -> None:
    """Give a cell what a looser program tells of its open rules."""
    broken: Broken = {}
    for rule in tuple(cell.left):
        if rule in without and (told := _told(cell, rule, without[rule], broken)):
            cell.without[rule] = told
            cell.left.remove(rule)


def _told(cell: Best, rule: str, looser: tuple[int, Ints], broken: Broken) -> tuple[int, Ints] | None:
    """What the best rig of a cell costs without a rule, where it is known of a program that is looser without it."""
    least, rig = looser
    if cell.columns is not None and least >= cell.cost:
        return cell.cost, cell.columns
    return looser if _breaks(cell.asked.program, rig, broken) <= {rule} else None


def _breaks(program: Program, columns: Ints, known: Broken) -> frozenset[str]:
    """Rules that a rig breaks. `known` is by the identity of rigs, all of which live as long as it does."""
    key = id(columns)
    if key not in known:
        places = np.flatnonzero(program.rows[:, columns].sum(axis=1) > program.rhs)
        known[key] = frozenset(program.groups[i] for i in places.tolist())
    return known[key]
