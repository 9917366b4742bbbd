"""frontier: the exact front of price and weight (and yearly cost): every trade that a rig can make, none missing.

Contents: `frontier`, `Frontier`, `FrontPoint`.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from solver.answers.ask import Asked, Progress, ask
from solver.answers.clashes import conflict
from solver.answers.facts import Conflict, Line, Totals
from solver.answers.swaps import Swap, swaps
from solver.brief.models import Assumption, Brief
from solver.catalog import Catalog
from solver.errors import InternalError
from solver.rules.balance import Rig, chosen
from solver.rules.cautions import Caution, cautions

SHOWN = 24
"""Points picked out to be read; all are there."""
_TWO = ("price", "weight")
_THREE = ("price", "weight", "yearly-cost")


@dataclass(frozen=True)
class FrontPoint:
    """One point: totals, the rig, and what changed from the point before it (nothing for the first)."""

    total: Totals
    rig: tuple[Line, ...]
    swaps: tuple[Swap, ...]


@dataclass(frozen=True)
class Frontier:
    """All points from the cheapest to the dearest.

    `shown` are places of some points spread over the front, with `steps`: what changed from each one shown to the next.
    """

    title: str
    status: str
    costs: tuple[str, ...]
    points: tuple[FrontPoint, ...]
    shown: tuple[int, ...]
    steps: tuple[tuple[Swap, ...], ...]
    solves: int
    conflicts: tuple[Conflict, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    waived: tuple[str, ...]


def frontier(catalog: Catalog, brief: Brief, with_yearly_cost: bool = False, progress: Progress | None = None) -> Frontier:
    """The exact front of price and weight for a brief.

    Parameters
    ----------
    catalog : Catalog
        What can be bought.
    brief : Brief
        What is asked.
    with_yearly_cost : bool
        Take yearly cost as a third thing to make least. That can make far more points.
    progress : callable, optional
        Told what is being done, and the share done as far as it can be guessed.

    Raises
    ------
    NotProven
        The limit of work ended before the front was complete.
    """
    from solver.search.front import front

    asked = ask(catalog, brief)
    costs = _THREE if with_yearly_cost else _TWO
    told = progress or (lambda words, share: None)
    found = front(asked.program, costs, told=lambda known, zones: told(f"{known:,} rigs known, {zones:,} zones open", 0.0))
    told("front", 1.0)
    if found is None:
        return Frontier(brief.title, "none", costs, (), (), (), 0, (conflict(asked),), cautions(brief, None, ()),
                        brief.assumed(), tuple(brief.waived))  # fmt: skip
    rigs = []
    for point in found.points:
        if not asked.program.fits(point.columns):
            raise InternalError("a rig of the front breaks an integer row")
        rigs.append(asked.rig_of(point.columns))
    before = (rigs[0], *rigs[:-1])
    points = tuple(
        FrontPoint(asked.totals(rig), asked.lines(rig), swaps(asked, last, rig))
        for last, rig in zip(before, rigs, strict=True)
    )
    shown = _spread(np.array([point.costs for point in found.points], float))
    for place in shown:
        asked.recheck(found.points[place].columns)
    steps = tuple(swaps(asked, rigs[a], rigs[b]) for a, b in zip((shown[0], *shown[:-1]), shown, strict=True))
    return Frontier(brief.title, "found", costs, points, shown, steps, found.solves, (),
                    _cautions(asked, [rigs[k] for k in shown]), brief.assumed(), tuple(brief.waived))  # fmt: skip


def _spread(costs: np.ndarray[tuple[int, int], np.dtype[np.float64]], most: int = SHOWN) -> tuple[int, ...]:
    """Places of at most so many points: the ends of each cost, and others at even steps along the front."""
    if len(costs) <= most:
        return tuple(range(len(costs)))
    span = np.ptp(costs, axis=0)
    scaled = (costs - costs.min(axis=0)) / np.where(span > 0.0, span, 1.0)
    along = np.concatenate([[0.0], np.cumsum(np.linalg.norm(np.diff(scaled, axis=0), axis=1))])
    ends = {0, len(costs) - 1, *costs.argmin(axis=0).tolist()}
    even = np.searchsorted(along, np.linspace(0.0, float(along[-1]), most - len(ends) + 2))
    return tuple(sorted(ends | {min(int(k), len(costs) - 1) for k in even[1:-1]}))


def _cautions(asked: Asked, rigs: list[Rig]) -> tuple[Caution, ...]:
    """The cautions of all these rigs, each once, in their order."""
    found: dict[str, Caution] = {}
    for rig in rigs:
        for caution in cautions(asked.brief, chosen(asked.setting, rig), asked.balances(rig)):
            found.setdefault(caution.id, caution)
    return tuple(found.values())
