"""What steps and curves are made of: data first, words in `report/`.

Contents: `Swap`, `swaps_between`, `changes_from`, `FirstStep`, `Side`, `Step`; `Stretch`, `Curve`.

Values of a requirement are in its own unit (`REQUIREMENTS[id].unit`). Costs and savings are in USD, kg or USD a year, as the
objective is.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from solver.answers.ask import Asked
from solver.answers.facts import Line
from solver.program.matrix import Ints
from solver.rules.balance import Rig
from solver.rules.cautions import Caution

_ANOTHER, _OTHERWISE = 8, 1


@dataclass(frozen=True)
class Swap:
    """One slot that is filled otherwise: what was in it and what is; None where it is empty."""

    slot: str
    before: Line | None
    after: Line | None


@dataclass(frozen=True)
class FirstStep:
    """The nearest value at which the least cost is lower; a rig of that cost with the fewest changes, and what changed."""

    value: float
    cost: float
    saving: float
    price: float
    """Its price [USD]."""
    weight: float
    """Its weight with the empty vehicle [kg]."""
    rig: tuple[Line, ...]
    swaps: tuple[Swap, ...]


@dataclass(frozen=True)
class Side:
    """One side of the present value of a requirement."""

    upwards: bool
    easing: bool
    """Whether the requirement gets easier to meet on this side; True on both where either way can help."""
    step: FirstStep | None
    """None where nothing is saved up to the end of what is admissible, or where it was not asked for."""
    room: float | None
    """Last value of the grid up to which the least cost stays the same; None where it was not asked for."""
    room_to_end: bool
    """Whether that is the end of what is admissible."""
    cheaper_beyond: bool
    """Whether the least cost is lower at the next value of the grid; else it is higher there, or no rig fits."""
    holds_to: float | None
    """Last value, to the resolution, up to which the very rig fits; None where it was not asked for."""
    holds_to_end: bool
    """Whether that is the end of what is admissible."""


@dataclass(frozen=True)
class Step:
    """What one requirement does from its present value: in one duty, in several at once, or in the whole brief (none)."""

    requirement: str
    duties: tuple[str, ...]
    present: float
    sides: tuple[Side, ...]


@dataclass(frozen=True)
class Stretch:
    """Neighbouring values of the grid with the same rig; no rig fits where the costs are None."""

    first: float
    last: float
    cost: float | None
    """Least cost at the first value."""
    cost_last: float | None
    """Least cost at the last value; another one only where the requirement moves costs themselves (fuel)."""
    price: float | None
    weight: float | None
    rig: tuple[Line, ...]
    swaps: tuple[Swap, ...]
    """What changed from the nearest stretch before it that has a rig."""


@dataclass(frozen=True)
class Curve:
    """Least cost over the grid of a requirement, from its least value up."""

    title: str
    by: str
    requirement: str
    duties: tuple[str, ...]
    present: float | None
    points: tuple[tuple[float, float | None], ...]
    """Every value of the grid with the least cost there; None where no rig fits."""
    stretches: tuple[Stretch, ...]
    skipped: tuple[float, ...]
    """Values of the grid that the brief cannot have, as the rest of it stands."""
    one_way: bool
    """Whether all rows move one way over the whole grid, judged on the numbers."""
    solves: int
    """Values and ranges for which the engine was asked."""
    cautions: tuple[Caution, ...] = ()
    """Those of every rig that is told."""


def swaps_between(asked: Asked, before: Rig, after: Rig) -> tuple[Swap, ...]:
    """Slots that two rigs fill otherwise, in the order of the slots."""
    old = {line.slot: line for line in asked.lines(before)}
    new = {line.slot: line for line in asked.lines(after)}
    moved = [slot for slot in asked.setting.slots if before[slot] != after[slot]]
    return tuple(Swap(slot, old.get(slot), new.get(slot)) for slot in moved)


def changes_from(asked: Asked, rig: Rig) -> Ints:
    """For each option how much of a change from the rig it is: another item counts more than the same one taken otherwise."""
    found = []
    for name, table in asked.setting.slots.items():
        own = rig[name]
        same = np.array([item == table.items[own] for item in table.items], bool)
        change = np.where(same, _OTHERWISE, _ANOTHER)
        change[own] = 0
        found.append(change)
    return np.concatenate(found).astype(np.int64)


def price_and_weight(asked: Asked, columns: Ints) -> tuple[float, float]:
    """Price [USD] and weight [kg] of a rig; no requirement moves them."""
    return int(asked.costs["price"][columns].sum()) / 100.0, int(asked.costs["weight"][columns].sum()) / 1000.0
