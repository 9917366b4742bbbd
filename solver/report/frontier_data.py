"""The answer to frontier as plain data for `--json`, and as CSV.

Contents: `frontier_data`, `frontier_json`, `frontier_csv`.
"""

from __future__ import annotations

import csv
from collections.abc import Iterator
from io import StringIO
from typing import Any

from solver.answers.frontier import Frontier, FrontPoint
from solver.options.slots import ACCESSORY_CLASSES, FIXED_SLOTS
from solver.report.as_data import conflict_data, json_by_line, number, pounds
from solver.report.rivals_data import swap_data, total_data
from solver.report.swaps_text import swap_words


def _items(point: FrontPoint) -> list[dict[str, Any]]:
    return [{"slot": line.slot, "item": line.item, "choice": line.choice, "count": line.count} for line in point.rig]


def _point(point: FrontPoint) -> dict[str, Any]:
    changed = [
        {key: None if side is None else {"item": side["item"], "choice": side["choice"], "count": side["count"]}
         for key, side in (("before", data["before"]), ("after", data["after"]))} | {"slot": data["slot"]}
        for data in map(swap_data, point.swaps)
    ]  # fmt: skip
    return {"total": total_data(point.total), "rig": _items(point), "changed": changed}


def _around(answer: Frontier, units: str) -> dict[str, Any]:
    """All but the points."""
    return {
        "status": answer.status,
        "title": answer.title,
        "costs": list(answer.costs),
        "count": len(answer.points),
        "points": [],
        "shown": list(answer.shown),
        "solves": answer.solves,
        "conflicts": [conflict_data(conflict, units) for conflict in answer.conflicts],
        "assumptions": [{"name": a.name, "value": a.value, "why": a.why} for a in answer.assumptions],
        "waived": list(answer.waived),
        "cautions": [{"id": caution.id, "text": caution.text} for caution in answer.cautions],
    }


def frontier_data(answer: Frontier, units: str = "us") -> dict[str, Any]:
    """The answer to frontier: every point, each rig by slots and items."""
    return _around(answer, units) | {"points": [_point(point) for point in answer.points]}


def frontier_json(answer: Frontier, units: str = "us") -> Iterator[str]:
    """The same as JSON text in pieces, a point a line: a front of three costs may have tens of thousands."""
    return json_by_line(_around(answer, units), "points", map(_point, answer.points))


def frontier_csv(answer: Frontier) -> str:
    """Every point as a line: totals, what changed from the line above, the item of every slot, and what else is aboard."""
    slots = [slot.name for slot in FIXED_SLOTS]
    file = StringIO()
    writer = csv.writer(file, lineterminator="\n")
    writer.writerow(["point", "price_usd", "weight_lb", "yearly_cost_usd", "changed", *slots, "aboard"])
    for place, point in enumerate(answer.points, start=1):
        held = {line.slot: f"{line.item} ({line.choice})" if line.choice else line.item for line in point.rig}
        aboard = [line.item for line in point.rig if line.item_class in ACCESSORY_CLASSES]
        total = point.total
        writer.writerow([place, number(total.price, 2), pounds(total.weight), number(total.yearly_cost, 2),
                         swap_words(point.swaps, 99) if place > 1 else "", *(held.get(name, "") for name in slots),
                         " ".join(aboard)])  # fmt: skip
    return file.getvalue()
