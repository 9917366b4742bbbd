"""A robust pick as plain data for `--json`.

Contents: `robust_data`.
"""

from __future__ import annotations

from typing import Any

from solver.answers.facts import Totals
from solver.answers.robust_facts import Robust
from solver.brief.ranges import Range
from solver.quantities import dimension_of, display_unit, to_unit
from solver.report.as_data import balance_data, line_data, number, pounds
from solver.report.money_text import money_data
from solver.rules import RULES


def unit_of_range(each: Range, units: str) -> str:
    """The unit in which a range is shown."""
    unit = each.requirement.unit
    return unit if units == "us" or unit == "1" else display_unit(dimension_of(unit), "si")


def shown_end(each: Range, value: float, units: str) -> float:
    """A value of a range [SI] as a figure in its unit of display."""
    unit = unit_of_range(each, units)
    return number(value if unit == "1" else float(to_unit(value, unit)), 9)


def robust_data(found: Robust, units: str = "us") -> dict[str, Any]:
    """The answer to a brief with ranges."""
    return {
        "status": found.status,
        "title": found.title,
        "by": found.by,
        "proven": found.proven,
        "ranges": [
            {
                "path": each.path,
                "unit": unit_of_range(each, units),
                "from": shown_end(each, each.low, units),
                "to": shown_end(each, each.high, units),
                "nominal": shown_end(each, each.nominal, units),
                "nominal_stated": each.stated,
            }
            for each in found.ranges
        ],
        "certified": found.certified,
        "uncertified": list(found.uncertified),
        "tried": {"grid": found.grid_points, "random": found.random_points, "left_out": found.left_out},
        "rounds": found.rounds,
        "total": _totals(found.total),
        "nominal_total": _totals(found.nominal),
        "extra": _amount(found, found.extra),
        "extra_unit": {"price": "USD", "weight": "lb", "yearly-cost": "USD/yr"}[found.by],
        "rig": [line_data(line) for line in found.rig],
        "exchanges": [{"slot": e.slot, "nominal": e.nominal, "robust": e.robust} for e in found.exchanges],
        "scenarios": [
            {
                "values": [shown_end(each, value, units) for each, value in zip(found.ranges, s.values, strict=True)],
                "corner": s.corner,
                "saving": _amount(found, s.saving),
                "rules": [{"rule": rule, "title": RULES[rule].title} for rule in s.rules],
                "cost_alone": _amount(found, s.cost),
            }
            for s in found.scenarios
        ],
        "money": None if found.money is None else money_data(found.money),
        "balances": [balance_data(balance, units) for balance in found.balances],
        "conflict": [{"rule": rule, "title": RULES[rule].title} for rule in found.conflict],
        "impossible": [
            [shown_end(each, value, units) for each, value in zip(found.ranges, point, strict=True)]
            for point in found.impossible
        ],
        "assumptions": [{"name": a.name, "value": a.value, "why": a.why} for a in found.assumptions],
        "waived": list(found.waived),
        "cautions": [{"id": caution.id, "text": caution.text} for caution in found.cautions],
    }


def _totals(total: Totals | None) -> dict[str, float] | None:
    if total is None:
        return None
    return {
        "price": number(total.price, 2),
        "weight_lb": pounds(total.weight),
        "yearly_cost": number(total.yearly_cost, 2),
    }


def _amount(found: Robust, value: float | None) -> float | None:
    if value is None:
        return None
    return pounds(value) if found.by == "weight" else number(value, 2)
