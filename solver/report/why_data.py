"""The answer to why for `--json`: everything that the text says.

Contents: `why_data`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

from solver.answers.facts import Argument, Change, Reason, Repair
from solver.answers.why import Why
from solver.brief.requirements import REQUIREMENTS
from solver.quantities import from_unit, to_unit
from solver.report.as_data import balance_data, binding_data, conflict_data, line_data, number, pounds, worksheet_data
from solver.report.curve_data import steps_data
from solver.report.steps_text import SI
from solver.rules import RULES
from solver.rules.sentence import binding_sentence


def why_data(answer: Why, units: str = "us") -> dict[str, Any]:
    """The answer to why."""
    total = answer.total
    return {
        "status": answer.status,
        "title": answer.title,
        "by": answer.by,
        "total": None if total is None else {"price": number(total.price, 2), "weight_lb": pounds(total.weight)},
        "binding": [binding_data(entry, answer.by, units) for entry in answer.binding],
        "jointly": list(answer.jointly),
        "steps": steps_data(answer.steps, answer.by, units),
        "not_better": None if answer.argument is None else _argument_data(answer.argument, answer.by, units),
        "conflicts": [conflict_data(conflict, units) for conflict in answer.conflicts],
        "all_conflicts": answer.all_conflicts,
        "repairs": [_repair_data(repair, units) for repair in answer.repairs],
        "sets_of_changes": [_repair_data(repair, units) for repair in answer.sets],
        "worksheets": [worksheet_data(sheet, units) for sheet in answer.worksheets],
        "cautions": [{"id": caution.id, "text": caution.text} for caution in answer.cautions],
    }


def _cost(by: str) -> Callable[[float], float]:
    """A cost of the objective: USD, USD a year, or lb."""
    return pounds if by == "weight" else lambda value: number(value, 2)


def _argument_data(argument: Argument, by: str, units: str) -> dict[str, Any]:
    return {
        "share": argument.share,
        "limit": _cost(by)(argument.limit),
        "rules": [_reason_data(reason, by, units) for reason in argument.rules],
        "holds_the_least": [_reason_data(reason, by, units) for reason in argument.at_least],
    }


def _reason_data(reason: Reason, by: str, units: str) -> dict[str, Any]:
    balance = reason.balance
    return {
        "rule": reason.rule,
        "title": RULES[reason.rule].title,
        "saving": _cost(by)(reason.saving),
        "slots": list(reason.slots),
        "balance": None if balance is None else balance_data(balance, units),
        "sentence": "" if balance is None else binding_sentence(balance, units),
    }


def _repair_data(repair: Repair, units: str) -> dict[str, Any]:
    total = repair.total
    return {
        "changes": [_change_data(change, units) for change in repair.changes],
        "total": {
            "price": number(total.price, 2),
            "weight_lb": pounds(total.weight),
            "yearly_cost": number(total.yearly_cost, 2),
        },
        "rig": [line_data(line) for line in repair.rig],
    }


def _change_data(change: Change, units: str) -> dict[str, Any]:
    if not change.requirement:
        return {"declined": change.duties[0]}
    unit = REQUIREMENTS[change.requirement].unit
    target = SI.get(unit, unit) if units == "si" else unit

    def shown(value: float | None) -> float | None:
        if value is None or target == unit:
            return value
        return number(float(to_unit(from_unit(value, unit), target)))

    return {
        "requirement": change.requirement,
        "kind": REQUIREMENTS[change.requirement].kind.value,
        "duties": list(change.duties),
        "unit": target,
        "before": shown(change.before),
        "after": shown(change.after),
        "share_of_the_way": number(change.share),
        "margin": change.margin,
    }
