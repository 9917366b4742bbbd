"""What a robust pick answers.

Contents: `Robust`, `Scenario`, `Exchange`.
"""

from __future__ import annotations

from dataclasses import dataclass

from solver.answers.facts import Line, MoneyFacts, Totals
from solver.brief.models import Assumption
from solver.brief.ranges import Range
from solver.rules.balance import Balance
from solver.rules.cautions import Caution


@dataclass(frozen=True)
class Scenario:
    """One point of the ranges that the rig was made to hold at."""

    values: tuple[float, ...]
    """One per range, in SI."""
    corner: bool
    """Whether every value is an end of its range; else it was found inside."""
    saving: float
    """How much better the rig could be without this point alone [USD, kg or USD a year]; 0 where it decides nothing."""
    rules: tuple[str, ...]
    """Rules that the rig without this point breaks there."""
    cost: float | None
    """What the best rig for this point alone costs, worked out where it decides [USD, kg or USD a year]."""


@dataclass(frozen=True)
class Exchange:
    """A slot that holds something else than the nominal rig; empty text for an empty slot."""

    slot: str
    nominal: str
    robust: str


@dataclass(frozen=True)
class Robust:
    """The rig that holds over all ranges, or the rules that cannot hold together over them."""

    title: str
    by: str
    ranges: tuple[Range, ...]
    status: str
    """found, none or unknown."""
    proven: bool
    certified: bool
    """Whether every row of the rig that moves is monotone in each range, so that the corners speak for all between."""
    uncertified: tuple[str, ...]
    """Rules with a row that is not: for these it holds over the points that were tried."""
    grid_points: int
    random_points: int
    rounds: int
    """How often the program was solved."""
    total: Totals | None
    """Of the rig, at the nominal values."""
    money: MoneyFacts | None
    rig: tuple[Line, ...]
    options: tuple[int, ...]
    """The chosen option of every slot."""
    nominal: Totals | None
    """Of the best rig at the nominal values alone; None where there is none."""
    extra: float | None
    """What certainty costs: the robust rig's objective less the nominal rig's [USD, kg or USD a year]."""
    exchanges: tuple[Exchange, ...]
    scenarios: tuple[Scenario, ...]
    """The points that were needed: those that decide first, by their saving."""
    balances: tuple[Balance, ...]
    """Every balance at its tightest over the scenarios."""
    conflict: tuple[str, ...]
    """Rules that cannot hold together over the ranges, where no rig fits."""
    impossible: tuple[tuple[float, ...], ...]
    """Points at which no rig fits even alone, where no rig fits."""
    left_out: int
    """Points that no brief can say, such as a coldest air above the hottest."""
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    waived: tuple[str, ...]
