"""The answer to check --complete as plain data for `--json`.

Contents: `complete_data`. What it prints under `rig` is itself a rig file.
"""

from __future__ import annotations

from typing import Any

from solver.answers.complete import Completed, Way
from solver.report.as_data import balance_data, conflict_data, line_data, number, pounds
from solver.report.money_text import money_data
from solver.rules.sentence import sentence


def complete_data(completed: Completed, units: str = "us") -> dict[str, Any]:
    """The answer to check --complete."""
    c, total = completed, completed.total
    return {
        "status": c.status,
        "title": c.title,
        "by": c.by,
        "proven": c.proven,
        "named": list(c.named),
        "total": None if total is None else {"price": number(total.price, 2), "weight_lb": pounds(total.weight)},
        "rig": [line_data(line) for line in c.rig],
        "added": [line_data(line) for line in c.added],
        "added_price": number(c.added_price, 2),
        "balances": [balance_data(balance, units) for balance in c.balances],
        "any_rig": c.any_rig,
        "conflicts": [conflict_data(conflict, units) for conflict in c.conflicts],
        "against": [{**balance_data(b, units), "sentence": sentence(b, units)} for b in c.against],
        "ways": [_way_data(way) for way in c.ways],
        "more_ways": c.more_ways,
        "money": None if c.money is None else money_data(c.money),
        "assumptions": [{"name": a.name, "value": a.value, "why": a.why} for a in c.assumptions],
        "waived": list(c.waived),
        "cautions": [{"id": caution.id, "text": caution.text} for caution in c.cautions],
    }


def _way_data(way: Way) -> dict[str, Any]:
    return {
        "slots": list(way.slots),
        "named": [line_data(line) for line in way.named],
        "instead": [line_data(line) for line in way.instead],
        "total": {"price": number(way.total.price, 2), "weight_lb": pounds(way.total.weight)},
    }
