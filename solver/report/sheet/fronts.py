"""The front of price and weight: as a picture in the page of a rig, and as a page of its own.

Contents: `OfFront`, `Front`, `front_of`, `front_json`, `front_svg`, `trades` (the points worth looking at first), `changes`,
`FrontRow`, `front_rows`, `front_page`.

A point of the front is a rig that no other rig equals or beats in price and in weight. Of a long front the page lists the
trades: the corners of its convex hull, where the next pound saved gets dearer.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, Protocol

import numpy as np

from solver.answers.facts import Line, Totals
from solver.errors import EntryError
from solver.quantities import to_unit
from solver.report.pick_text import titled
from solver.report.sheet.charts import Axis, front_chart, padded
from solver.report.sheet.figures import Figure, dollars, pounds_of, typeset
from solver.report.sheet.subjects import is_kit, slot_words
from solver.rules import RULES

if TYPE_CHECKING:
    from solver.answers.frontier import Frontier

MOST_ROWS = 2000
"""Points of a front that a page lists; of more it lists those that the text shows, and draws one where many fall together."""
MOST_TRADES = 8


class OfFront(Protocol):
    """A point of a front: totals and lines of its rig."""

    @property
    def total(self) -> Totals: ...
    @property
    def rig(self) -> tuple[Line, ...]: ...


@dataclass(frozen=True)
class Front:
    """Points by rising price, and which of them is the pick (None where the pick is not on this front)."""

    points: tuple[OfFront, ...]
    pick: int | None = None


def front_of(points: Sequence[OfFront], picked: Totals | None = None) -> Front:
    """The front of these points, with the place of the pick."""
    same = (k for k, point in enumerate(points) if point.total == picked)
    return Front(tuple(points), next(same, None))


def front_json(front: Front | None) -> dict[str, Any]:
    """The totals of every point by rising price, in the shape of `rigset frontier --json`."""
    from solver.report.rivals_data import total_data

    return {"points": [{"total": total_data(point.total)} for point in (front.points if front else ())]}


def _drawn(prices: Sequence[float], weights: Sequence[float]) -> list[int]:
    """Places of the points to draw: all, or of very many one for each thousandth of both axes."""
    if len(prices) <= MOST_ROWS:
        return list(range(len(prices)))
    across, upwards = ((np.array(x) - min(x)) / (max(x) - min(x) or 1.0) * 1000.0 for x in (prices, weights))
    cells: dict[tuple[int, int], int] = {}
    for k, cell in enumerate(zip(across.astype(int).tolist(), upwards.astype(int).tolist(), strict=True)):
        cells.setdefault(cell, k)
    return list(cells.values())


def _by_two(front: Front) -> list[int]:
    """Places of the points that no other one equals or beats in price and weight alone."""
    found: list[int] = []
    for k, point in enumerate(front.points):
        if not found or point.total.weight < front.points[found[-1]].total.weight:
            found.append(k)
    return found


def front_svg(front: Front, name: str, units: str) -> str:
    """The picture: price to the right, weight upwards; the pick is a diamond."""
    weights = [point.total.weight if units == "si" else float(to_unit(point.total.weight, "lb")) for point in front.points]
    prices = [point.total.price for point in front.points]
    points = [(prices[k], weights[k], k == front.pick) for k in _drawn(prices, weights)]
    unit = "lb" if units == "us" else "kg"
    ends = [f"${prices[k]:,.0f} at {weights[k]:,.0f} {unit}" for k in (0, -1)]
    told = f"{len(front.points)} rigs, from {ends[0]} to {ends[1]}."
    x, y = Axis("price [USD]", *padded(prices), before="$"), Axis(f"weight [{unit}]", *padded(weights))
    return front_chart(name, "Front of price and weight", told, points, x, y).svg()


def trades(front: Front) -> tuple[int, ...]:
    """Corners of the lower convex hull, at most `MOST_TRADES` of them spread evenly, and the pick."""
    hull: list[int] = []
    for k, point in enumerate(front.points):
        while len(hull) > 1 and _turns(front.points[hull[-2]], front.points[hull[-1]], point) <= 0.0:
            hull.pop()
        hull.append(k)
    if len(hull) > MOST_TRADES:
        last = len(hull) - 1
        hull = [hull[round(j * last / (MOST_TRADES - 1))] for j in range(MOST_TRADES)]
    return tuple(sorted({*hull, *(() if front.pick is None else (front.pick,))}))


def _turns(a: OfFront, b: OfFront, c: OfFront) -> float:
    """Above zero where the way from a over b to c turns to the left."""
    right, up = b.total.price - a.total.price, b.total.weight - a.total.weight
    return right * (c.total.weight - a.total.weight) - up * (c.total.price - a.total.price)


def changes(before: Sequence[Line], after: Sequence[Line]) -> str:
    """Which slots hold other items, in words; pieces of kit are counted."""
    old, new = ({line.slot: line for line in rig} for rig in (before, after))
    words, kit = [], 0
    for slot in dict.fromkeys((*old, *new)):
        one, other = old.get(slot), new.get(slot)
        line = other or one
        if line is None or (one and other and (one.item, one.count) == (other.item, other.count)):
            continue
        if is_kit(line.item_class):
            kit += other is not None
        else:
            name = slot_words(slot, line.item_class)
            words.append(f"{name}: {other.label}" if other else f"no {name}")
    if kit:
        words.append(f"{kit} {'piece' if kit == 1 else 'pieces'} of kit otherwise")
    return typeset("; ".join(words))


@dataclass(frozen=True)
class FrontRow:
    """One point: its number, price, weight, yearly cost, what changes, whether it is the pick."""

    number: int
    price: Figure
    weight: Figure
    yearly: Figure
    changes: str
    pick: bool


def front_rows(front: Front, which: Sequence[int], units: str, of: str = "front.points") -> tuple[FrontRow, ...]:
    """These points as rows, each with what changes from the row above; `of` is the place of the front in the JSON."""
    rows = []
    before: OfFront | None = None
    for k in which:
        point = front.points[k]
        rows.append(
            FrontRow(
                k + 1,
                dollars(f"{of}.{k}.total.price", point.total.price),
                pounds_of(f"{of}.{k}.total.weight_lb", point.total.weight, units),
                dollars(f"{of}.{k}.total.yearly_cost", point.total.yearly_cost),
                changes(before.rig, point.rig) if before is not None else "",
                k == front.pick,
            )
        )
        before = point
    return tuple(rows)


def front_page(answer: Frontier, units: str = "us") -> str:
    """The page of an answer to frontier; figures name their place in `rigset frontier --json`.

    Raises
    ------
    EntryError
        No rig fits: there is no front to show, and `rigset sheet` has the page of the conflict.
    """
    from markupsafe import Markup

    from solver.report.sheet.page import render

    if not answer.points:
        raise EntryError("a front without a rig", "a brief that some rig fits", "`rigset why` for what cannot hold together")
    front = front_of(answer.points)
    count, two = len(front.points), _by_two(front)
    rows = front_rows(front, range(count) if count <= MOST_ROWS else answer.shown, units, "points")
    corners = [two[k] for k in trades(front_of([front.points[k] for k in two]))]
    shown = {
        "title": answer.title,
        "third": len(answer.costs) > 2,
        "whole": count <= MOST_ROWS,
        "count": Figure("count", count, f"{count:,}"),
        "first": rows[0],
        "last": rows[-1],
        "svg": Markup(front_svg(front, "front-chart", units)),
        "trades": front_rows(front, corners, units, "points"),
        "rows": rows,
        "cautions": answer.cautions,
        "assumptions": answer.assumptions,
        "waived": [(rule, titled(RULES[rule])) for rule in answer.waived],
    }
    return render("front.html", shown)
