"""Rows of the tables that only one kind of answer has: rivals, kinds, the insist table, points of a front, scenarios.

Contents: `OWN_FIELDS` (by the field of the answer). `frames.py` makes DataFrames of them.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from solver.answers.facts import Totals
from solver.quantities import show
from solver.report.as_data import number, pounds

if TYPE_CHECKING:
    from solver.answers.frontier import Frontier, FrontPoint
    from solver.answers.insist import Extra, Insist
    from solver.answers.rivals import Kind, Rival, Rivals
    from solver.answers.robust_facts import Exchange, Robust, Scenario

Row = dict[str, Any]
SAVING_UNIT = {"price": "USD", "weight": "lb", "yearly-cost": "USD/yr"}


@dataclass(frozen=True)
class Rows:
    """One kind of table: its columns, and the rows that a field of an answer makes (answer, field, units)."""

    columns: tuple[str, ...]
    of: Callable[[Any, Any, str], list[Row]]


def amount(value: float | None, by: str) -> float | None:
    """A difference of the objective [USD, kg or USD a year] in its unit of display."""
    if value is None:
        return None
    return pounds(value) if by == "weight" else number(value, 2)


def _totals(total: Totals | None) -> Row:
    return {
        "price": None if total is None else number(total.price, 2),
        "weight_lb": None if total is None else pounds(total.weight),
        "yearly_cost": None if total is None else number(total.yearly_cost, 2),
    }


def _other(rival: Rival | FrontPoint) -> Row:
    """What the pick (or the point before) has and what this rig has instead, item by item."""
    pairs = [
        f"{swap.slot}: {swap.after.item if swap.after else 'none'} for {swap.before.item if swap.before else 'none'}"
        for swap in rival.swaps
        if swap.item
    ]
    return {"swaps": "; ".join(pairs)}


def _rivals(answer: Rivals, rivals: tuple[Rival, ...], units: str) -> list[Row]:
    return [
        {"rival": place, **_totals(rival.total), **_other(rival), "proven": rival.proven}
        for place, rival in enumerate(rivals, 1)
    ]


def _kinds(answer: Rivals, kinds: tuple[Kind, ...], units: str) -> list[Row]:
    return [
        {
            "group": kind.group,
            "kind": kind.name,
            **_totals(None if kind.rival is None else kind.rival.total),
            "swaps": "" if kind.rival is None else _other(kind.rival)["swaps"],
            "rules": ", ".join(kind.rules),
        }
        for kind in kinds
    ]


def _items(answer: Insist, items: tuple[Extra, ...], units: str) -> list[Row]:
    return [
        {
            "item": extra.item,
            "class": extra.item_class,
            "label": extra.label,
            "picked": extra.picked,
            "possible": extra.extra is not None,
            "extra": amount(extra.extra, answer.by),
            "unit": SAVING_UNIT[answer.by],
            "rules": ", ".join(extra.rules),
        }
        for extra in items
    ]


def _points(answer: Frontier, points: tuple[FrontPoint, ...], units: str) -> list[Row]:
    return [
        {"point": place, **_totals(point.total), **_other(point), "shown": place - 1 in answer.shown}
        for place, point in enumerate(points, 1)
    ]


def _scenarios(answer: Robust, scenarios: tuple[Scenario, ...], units: str) -> list[Row]:
    return [
        {
            "scenario": place,
            "where": "; ".join(
                f"{one.path} {show(value, one.requirement.unit)}"
                for one, value in zip(answer.ranges, scenario.values, strict=True)
            ),
            "corner": scenario.corner,
            "saving": amount(scenario.saving, answer.by),
            "cost": amount(scenario.cost, answer.by),
            "unit": SAVING_UNIT[answer.by],
            "rules": ", ".join(scenario.rules),
        }
        for place, scenario in enumerate(scenarios, 1)
    ]


def _exchanges(answer: Robust, exchanges: tuple[Exchange, ...], units: str) -> list[Row]:
    return [{"slot": one.slot, "nominal": one.nominal, "robust": one.robust} for one in exchanges]


_TOTAL = ("price", "weight_lb", "yearly_cost")
OWN_FIELDS: Mapping[str, Rows] = {
    "rivals": Rows(("rival", *_TOTAL, "swaps", "proven"), _rivals),
    "kinds": Rows(("group", "kind", *_TOTAL, "swaps", "rules"), _kinds),
    "items": Rows(("item", "class", "label", "picked", "possible", "extra", "unit", "rules"), _items),
    "points": Rows(("point", *_TOTAL, "swaps", "shown"), _points),
    "scenarios": Rows(("scenario", "where", "corner", "saving", "cost", "unit", "rules"), _scenarios),
    "exchanges": Rows(("slot", "nominal", "robust"), _exchanges),
}
"""Tables by the field of an answer that they show."""
