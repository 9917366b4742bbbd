"""Small random programs whose rows move with one requirement, mildly or both ways, in the shape that steps and curves use.

Contents: `ToyMoves`, `ToyAsked`, `least` (least cost at a value by trying every rig).
"""

from __future__ import annotations

import itertools
from dataclasses import dataclass, field

import numpy as np

from solver.options.slots import Slot
from solver.options.table import SlotOptions
from solver.program.matrix import Program
from solver.rules.instances import Place
from solver.search.best import Question, best


@dataclass
class ToySetting:
    """Slots alone."""

    slots: dict[str, SlotOptions]


@dataclass
class ToyAsked:
    """A program with slots, to be asked for the best."""

    program: Program
    setting: ToySetting
    by: str = "price"
    unit: float = 1.0

    def best(self):
        """The best rig."""
        return best(Question(self.program, self.by))

    def rig_of(self, columns):
        """Option of every slot."""
        return {name: int(c - a) for name, c, (a, _) in zip(self.setting.slots, columns, self.program.slices, strict=True)}


@dataclass
class ToyMoves:
    """Rows base + value * slope: `one_way` has slopes of one sign against the right-hand side's, else of both."""

    seed: int
    one_way: bool
    costs_move: bool = False
    asked: ToyAsked = field(init=False)

    def __post_init__(self):
        rng = np.random.default_rng(self.seed)
        sizes = rng.integers(2, 5, int(rng.integers(3, 5))).tolist()
        offsets = np.concatenate([[0], np.cumsum(sizes)]).astype(np.int64)
        n, still, moving = int(offsets[-1]), 1, 3
        self.table = rng.integers(0, 12, (still + moving, n)).astype(np.int64)
        self.slope = rng.integers(0 if self.one_way else -2, 3, (moving, n)).astype(np.int64)
        self.drift = rng.integers(-3, 1 if self.one_way else 4, moving).astype(np.int64)
        middle = [int(rng.integers(a, b)) for a, b in itertools.pairwise(offsets.tolist())]
        self.limit = self.table[:, middle].sum(axis=1) + rng.integers(-3, 8, still + moving)
        self.price = rng.integers(1, 30, n).astype(np.int64)
        self.weight = rng.integers(1, 30, n).astype(np.int64)
        self.offsets, self.own = offsets, np.arange(still, still + moving)
        self.touched = np.arange(still + moving) >= still
        slots = {f"slot {s}": _table(f"slot {s}", size) for s, size in enumerate(sizes)}
        self.setting = ToySetting(slots)
        self.asked = self.asked_at(0.0)

    def asked_at(self, value):
        """The whole program at a value."""
        rows, rhs = self.table.copy(), self.limit.copy()
        rows[self.own] += int(value) * self.slope
        rhs[self.own] += int(value) * self.drift
        names = tuple(f"row {i}" for i in range(len(rhs)))
        costs = {"price": self.price, "weight": self.weight}
        return ToyAsked(Program(rows, rhs, self.offsets, costs, names, names), self.setting)

    def rows(self, value, only=None):
        """Rows that move, by place."""
        program = self.asked_at(value).program
        found = {Place(f"row {i}"): (program.rows[i], int(program.rhs[i])) for i in self.own.tolist()}
        return found if only is None else {place: found[place] for place in only}

    def cost(self, value):
        """Prices."""
        return self.price


def _table(name, size):
    items = tuple(f"{name}-{j}" for j in range(size))
    return SlotOptions(Slot(name, name, False), items, items, ("",) * size, (1,) * size, {}, {}, {})


def rigs(program):
    """Columns of every rig there is."""
    return np.array(list(itertools.product(*[range(a, b) for a, b in program.slices])), dtype=np.int64)


def fitting(program):
    """Columns of every rig that keeps all rows."""
    every = rigs(program)
    return every[(program.rows[:, every].sum(axis=2) <= program.rhs[:, None]).all(axis=0)]


def least(program):
    """Least price by trying every rig; None where none fits."""
    good = fitting(program)
    return int(program.costs["price"][good].sum(axis=1).min()) if len(good) else None
