"""The answers to rivals and to the insist table as plain data for `--json`.

Contents: `rivals_data`, `insist_data`, `swap_data`, `total_data`.
"""

from __future__ import annotations

from typing import Any

from solver.answers.facts import Totals
from solver.answers.insist import Insist
from solver.answers.rivals import Rival, Rivals
from solver.answers.swaps import Swap
from solver.report.as_data import conflict_data, line_data, number, pounds
from solver.report.money_text import money_data
from solver.rules import RULES


def total_data(total: Totals | None) -> dict[str, float] | None:
    """Totals of a rig."""
    if total is None:
        return None
    return {"price": number(total.price, 2), "weight_lb": pounds(total.weight), "yearly_cost": number(total.yearly_cost, 2)}


def swap_data(swap: Swap) -> dict[str, Any]:
    """One slot that is filled otherwise."""
    return {
        "slot": swap.slot,
        "before": None if swap.before is None else line_data(swap.before),
        "after": None if swap.after is None else line_data(swap.after),
    }


def _rival_data(rival: Rival) -> dict[str, Any]:
    return {
        "total": total_data(rival.total),
        "proven": rival.proven,
        "rig": [line_data(line) for line in rival.rig],
        "difference": [swap_data(swap) for swap in rival.swaps],
        "money": money_data(rival.money),
    }


def _rules_data(rules: tuple[str, ...]) -> list[dict[str, str]]:
    return [{"rule": rule, "title": RULES[rule].title, "basis": RULES[rule].basis.value} for rule in rules]


def _foot(answer: Rivals | Insist, units: str) -> dict[str, Any]:
    return {
        "conflicts": [conflict_data(conflict, units) for conflict in answer.conflicts],
        "assumptions": [{"name": a.name, "value": a.value, "why": a.why} for a in answer.assumptions],
        "waived": list(answer.waived),
        "cautions": [{"id": caution.id, "text": caution.text} for caution in answer.cautions],
    }


def rivals_data(answer: Rivals, units: str = "us") -> dict[str, Any]:
    """The answer to rivals."""
    return {
        "status": answer.status,
        "title": answer.title,
        "by": answer.by,
        "differ": list(answer.differ),
        "exhausted": answer.exhausted,
        "rivals": [_rival_data(rival) for rival in answer.rivals],
        "kinds": [
            {
                "group": kind.group,
                "kind": kind.name,
                "rival": None if kind.rival is None else _rival_data(kind.rival),
                "rules": _rules_data(kind.rules),
            }
            for kind in answer.kinds
        ],
        **_foot(answer, units),
    }


def insist_data(answer: Insist, units: str = "us") -> dict[str, Any]:
    """The insist table."""
    convert = pounds if answer.by == "weight" else (lambda value: number(value, 2))
    return {
        "status": answer.status,
        "title": answer.title,
        "by": answer.by,
        "total": total_data(answer.total),
        "extra_unit": {"price": "USD", "weight": "lb", "yearly-cost": "USD/yr"}[answer.by],
        "items": [
            {
                "item": one.item,
                "class": one.item_class,
                "label": one.label,
                "slots": list(one.slots),
                "picked": one.picked,
                "extra": None if one.extra is None else convert(one.extra),
                "rules": _rules_data(one.rules),
                "rules_all_needed": one.minimal,
            }
            for one in answer.items
        ],
        "solves": {"extras": answer.solves, "rules": answer.rule_solves},
        **_foot(answer, units),
    }
