"""Curves and steps for `--json`.

Contents: `curve_data`, `steps_data`.
"""

from __future__ import annotations

from typing import Any

from solver.answers.steps_facts import Curve, Side, Step, Swap
from solver.brief.requirements import REQUIREMENTS
from solver.quantities import from_unit, to_unit
from solver.report.as_data import line_data, number, pounds
from solver.report.steps_text import SI, swap_words


def _value(value: float | None, requirement: str, units: str) -> float | None:
    if value is None:
        return None
    unit = REQUIREMENTS[requirement].unit
    target = _unit(requirement, units)
    return number(value if target == unit else float(to_unit(from_unit(value, unit), target)))


def _unit(requirement: str, units: str) -> str:
    unit = REQUIREMENTS[requirement].unit
    return SI.get(unit, unit) if units == "si" else unit


def _cost(value: float | None, by: str) -> float | None:
    """A cost of the objective: USD, USD a year, or lb."""
    if value is None:
        return None
    return pounds(value) if by == "weight" else number(value, 2)


def _swap_data(swap: Swap) -> dict[str, Any]:
    return {
        "slot": swap.slot,
        "before": None if swap.before is None else line_data(swap.before),
        "after": None if swap.after is None else line_data(swap.after),
    }


def curve_data(curve: Curve, units: str = "us") -> dict[str, Any]:
    """The whole curve: every value with its least cost, and the stretches with their rigs."""
    name = curve.requirement
    return {
        "title": curve.title,
        "by": curve.by,
        "requirement": name,
        "duties": list(curve.duties),
        "unit": _unit(name, units),
        "present": _value(curve.present, name, units),
        "points": [{"value": _value(value, name, units), "cost": _cost(cost, curve.by)} for value, cost in curve.points],
        "stretches": [
            {
                "first": _value(stretch.first, name, units),
                "last": _value(stretch.last, name, units),
                "cost": _cost(stretch.cost, curve.by),
                "cost_last": _cost(stretch.cost_last, curve.by),
                "price": None if stretch.price is None else number(stretch.price, 2),
                "weight_lb": None if stretch.weight is None else pounds(stretch.weight),
                "rig": [line_data(line) for line in stretch.rig],
                "changes": [_swap_data(swap) for swap in stretch.swaps],
                "what_changes": swap_words(stretch.swaps, curve.by, units) if stretch.swaps else "",
            }
            for stretch in curve.stretches
        ],
        "skipped": [_value(value, name, units) for value in curve.skipped],
        "one_way": curve.one_way,
        "solves": curve.solves,
        "cautions": [{"id": caution.id, "text": caution.text} for caution in curve.cautions],
    }


def steps_data(steps: tuple[Step, ...], by: str, units: str = "us") -> list[dict[str, Any]]:
    """First steps, rooms and holds of every requirement."""
    return [
        {
            "requirement": step.requirement,
            "kind": REQUIREMENTS[step.requirement].kind.value,
            "duties": list(step.duties),
            "unit": _unit(step.requirement, units),
            "present": _value(step.present, step.requirement, units),
            "sides": [_side_data(step.requirement, side, by, units) for side in step.sides],
        }
        for step in steps
    ]


def _side_data(name: str, side: Side, by: str, units: str) -> dict[str, Any]:
    first = side.step
    return {
        "way": "up" if side.upwards else "down",
        "easing": side.easing,
        "first_step": None
        if first is None
        else {
            "value": _value(first.value, name, units),
            "cost": _cost(first.cost, by),
            "saving": _cost(first.saving, by),
            "price": number(first.price, 2),
            "weight_lb": pounds(first.weight),
            "rig": [line_data(line) for line in first.rig],
            "changes": [_swap_data(swap) for swap in first.swaps],
            "what_changes": swap_words(first.swaps, by, units),
        },
        "room_to": _value(side.room, name, units),
        "room_to_end": side.room_to_end,
        "cheaper_beyond": side.cheaper_beyond,
        "holds_to": _value(side.holds_to, name, units),
        "holds_to_end": side.holds_to_end,
    }
