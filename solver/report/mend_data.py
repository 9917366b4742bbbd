"""The answer to check --mend as plain data for `--json`.

Contents: `mend_data`. What it prints under `rig` is itself a rig file.
"""

from __future__ import annotations

from typing import Any

from solver.answers.facts import Totals
from solver.answers.mend import Mended, Swap
from solver.report.as_data import balance_data, conflict_data, line_data, number, pounds
from solver.report.mend_text import rewired_words, swap_words
from solver.report.money_text import money_data
from solver.rules.sentence import sentence


def mend_data(mended: Mended, units: str = "us") -> dict[str, Any]:
    """The answer to check --mend."""
    m = mended
    return {
        "status": m.status,
        "title": m.title,
        "order": "fewest swaps" if m.fewest else "least money",
        "proven": m.proven,
        "failures": [{**balance_data(b, units), "sentence": sentence(b, units)} for b in m.failures],
        "swaps": [_swap_data(swap, swap_words(swap)) for swap in m.swaps],
        "rewired": [_swap_data(swap, rewired_words(swap)) for swap in m.rewired],
        "spending": number(m.spending, 2),
        "before": _totals(m.before),
        "total": None if m.total is None else _totals(m.total),
        "rig": [line_data(line) for line in m.rig],
        "balances": [balance_data(balance, units) for balance in m.balances],
        "conflicts": [conflict_data(conflict, units) for conflict in m.conflicts],
        "money": None if m.money is None else money_data(m.money),
        "assumptions": [{"name": a.name, "value": a.value, "why": a.why} for a in m.assumptions],
        "waived": list(m.waived),
        "cautions": [{"id": caution.id, "text": caution.text} for caution in m.cautions],
    }


def _totals(total: Totals) -> dict[str, float]:
    return {"price": number(total.price, 2), "weight_lb": pounds(total.weight)}


def _swap_data(swap: Swap, words: str) -> dict[str, Any]:
    return {
        "slot": swap.slot,
        "before": line_data(swap.before),
        "after": line_data(swap.after),
        "cost": number(swap.cost, 2),
        "words": words,
    }
