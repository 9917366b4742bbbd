"""What was solved of a what-if, and what it tells of a cell that is no looser.

Contents: `Told`, `Near`, `Settling` (a cell while it is settled); `holds`, `known_without`, `tell`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field

import numpy as np

from solver.answers.ask import Asked
from solver.program.matrix import Ints, Program

Broken = dict[int, frozenset[str]]
"""By the identity of a rig the rules that it breaks."""


@dataclass(frozen=True, eq=False)
class Told:
    """What was solved: rows by number, the best rig that keeps them, and for some rules the best rig without each, or some
    cheaper rig where only the rules that bind are wanted."""

    rows: Ints
    columns: Ints | None
    cost: int
    without: dict[str, tuple[int, Ints]] = field(default_factory=dict)


class Near:
    """What was solved that is no tighter than a cell, but perhaps in one rule: the latest first, compared when asked for."""

    def __init__(self, compared: Iterator[tuple[Told, frozenset[str]]]) -> None:
        self._compared = compared
        self._known: list[tuple[Told, frozenset[str]]] = []

    def __iter__(self) -> Iterator[tuple[Told, frozenset[str]]]:
        yield from self._known
        for pair in self._compared:
            self._known.append(pair)
            yield pair


@dataclass(eq=False)
class Settling:
    """A cell while it is settled: its best rig and what that costs, once known; the same without each rule; the rules left
    open."""

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


def holds(other: Told, program: Program) -> bool:
    """Whether what was solved holds in a tighter program: its rig fits there, or there is none."""
    return other.columns is None or program.fits(other.columns)


def known_without(cell: Settling) -> tuple[dict[str, tuple[int, Ints]], list[str]]:
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


def tell(cell: Settling, without: dict[str, tuple[int, Ints]]) -> None:
    """Give a cell what a looser program tells of its open rules."""
    broken: Broken = {}
    for rule in tuple(cell.left):
        if rule in without and (told := _told(cell, rule, without[rule], broken)):
            cell.without[rule] = told
            cell.left.remove(rule)


def _told(cell: Settling, rule: str, looser: tuple[int, Ints], broken: Broken) -> tuple[int, Ints] | None:
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
