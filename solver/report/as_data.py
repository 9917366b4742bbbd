"""Answers as plain data for `--json`: the same structure that the text renders, figures in the units named.

Contents: `pick_data`, `check_data`, `to_json`, `json_by_line`, and parts of answers (`line_data`, `balance_data`,
`binding_data`, `conflict_data`, `worksheet_data`).
"""

from __future__ import annotations

import json
from collections.abc import Iterable, Iterator
from typing import Any

from solver.answers.check import Checked
from solver.answers.facts import Binding, Conflict, Line, Picked
from solver.quantities import to_unit
from solver.report.money_text import money_data
from solver.report.pick_text import clash_words
from solver.rules import RULES
from solver.rules.balance import Balance
from solver.rules.sentence import binding_sentence, difference, sentence, shown
from solver.rules.worksheet import Worksheet


def to_json(data: dict[str, Any]) -> str:
    """JSON text, keys in the order given, one trailing newline."""
    return json.dumps(data, indent=2, ensure_ascii=False, allow_nan=False) + "\n"


def json_by_line(data: dict[str, Any], key: str, entries: Iterable[dict[str, Any]]) -> Iterator[str]:
    """The same in pieces, with a long list under a key of the data: an entry a line, each asked for when it is written."""
    place = f'\n  "{key}": ['
    # No string can hold the place: a quote within a string is written \".
    before, _, after = to_json(data | {key: []}).partition(place)
    yield before + place
    lead = "\n    "
    for entry in entries:
        yield lead + json.dumps(entry, ensure_ascii=False, allow_nan=False)
        lead = ",\n    "
    yield ("" if lead == "\n    " else "\n  ") + after


def number(value: float, digits: int = 6) -> float:
    """A figure without floating-point noise."""
    return round(float(value), digits) + 0.0


def pounds(value: float) -> float:
    """kg to lb, to the hundredth."""
    return number(float(to_unit(value, "lb")), 2)


def balance_data(balance: Balance, units: str) -> dict[str, Any]:
    """One balance."""
    need, unit = shown(balance.need, balance.unit, units)
    supply, _ = shown(balance.supply, balance.unit, units)
    margin, _ = shown(balance.margin, difference(balance.unit), units)
    return {
        "rule": balance.place.rule,
        "duty": balance.place.duty,
        "state": balance.place.state,
        "air": balance.place.end,
        "part": balance.place.part,
        "need": number(need),
        "supply": number(supply),
        "margin": number(margin),
        "unit": unit,
        "applies": balance.applies,
        "holds": balance.holds,
    }


def line_data(line: Line) -> dict[str, Any]:
    """One line of the shopping list."""
    return {
        "slot": line.slot,
        "item": line.item,
        "label": line.label,
        "choice": line.choice,
        "count": line.count,
        "price": number(line.price, 2),
        "weight_lb": pounds(line.weight),
        "owned": line.owned,
    }


def binding_data(entry: Binding, by: str, units: str) -> dict[str, Any]:
    """One binding rule."""
    convert = pounds if by == "weight" else (lambda value: number(value, 2))
    return {
        "rule": entry.rule,
        "title": RULES[entry.rule].title,
        "basis": RULES[entry.rule].basis.value,
        "saving": convert(entry.saving),
        "saving_unit": {"price": "USD", "weight": "lb", "yearly-cost": "USD/yr"}[by],
        "by_duty": {duty: convert(saving) for duty, saving in entry.by_duty.items()},
        "reads": list(entry.reads),
        "sentence": binding_sentence(entry.balance, units) if entry.balance is not None else "",
    }


def conflict_data(conflict: Conflict, units: str) -> dict[str, Any]:
    """One conflict."""
    return {
        "unavoidable": conflict.unavoidable,
        "rules": [
            {
                "rule": clash.rule,
                "title": RULES[clash.rule].title,
                "basis": RULES[clash.rule].basis.value,
                "closest": balance_data(clash.balance, units) if clash.balance is not None else None,
                "sentence": clash_words(clash, units),
                "suppliers": [
                    {"slot": part.slot, "item": part.item, "label": part.label, "choice": part.choice}
                    for part in clash.suppliers
                ],
            }
            for clash in conflict.members
        ],
    }


def _bound(picked: Picked) -> float | None:
    """What no rig can be better than, in the unit of the total; None where the rig is proven or nothing is known."""
    if picked.bound is None:
        return None
    return pounds(picked.bound) if picked.by == "weight" else number(picked.bound, 2)


def pick_data(picked: Picked, units: str = "us") -> dict[str, Any]:
    """The answer to pick."""
    total = picked.total
    money = picked.money
    return {
        "status": picked.status,
        "title": picked.title,
        "by": picked.by,
        "proven": picked.proven,
        "bound": _bound(picked),
        "total": None
        if total is None
        else {
            "price": number(total.price, 2),
            "weight_lb": pounds(total.weight),
            "yearly_cost": number(total.yearly_cost, 2),
        },
        "rig": [line_data(line) for line in picked.rig],
        "balances": [balance_data(balance, units) for balance in picked.balances],
        "binding": [binding_data(entry, picked.by, units) for entry in picked.binding],
        "conflicts": [conflict_data(conflict, units) for conflict in picked.conflicts],
        "reasons_known": picked.reasons,
        "money": None if money is None else money_data(money),
        "assumptions": [{"name": a.name, "value": a.value, "why": a.why} for a in picked.assumptions],
        "waived": list(picked.waived),
        "cautions": [{"id": caution.id, "text": caution.text} for caution in picked.cautions],
        "size": {"options": picked.options, "rows": picked.rows},
    }


def check_data(checked: Checked, units: str = "us") -> dict[str, Any]:
    """The answer to check."""
    return {
        "fits": checked.fits,
        "title": checked.title,
        "total": {"price": number(checked.total.price, 2), "weight_lb": pounds(checked.total.weight)},
        "rig": [line_data(line) for line in checked.rig],
        "failures": [{**balance_data(b, units), "sentence": sentence(b, units)} for b in checked.failures],
        "balances": [balance_data(balance, units) for balance in checked.balances],
        "money": money_data(checked.money),
        "assumptions": [{"name": a.name, "value": a.value, "why": a.why} for a in checked.assumptions],
        "waived": list(checked.waived),
        "cautions": [{"id": caution.id, "text": caution.text} for caution in checked.cautions],
    }


def worksheet_data(sheet: Worksheet, units: str) -> dict[str, Any]:
    """The working of one balance: every term with its formula calls."""
    unit = sheet.rule.unit
    entries = []
    for entry in sheet.shown:
        value, _ = shown(entry.value, unit, units)
        entries.append(
            {
                "side": entry.side.value,
                "what": entry.what,
                "slot": entry.slot,
                "item": entry.item,
                "value": number(value),
                "formulas": [
                    {
                        "name": call.name,
                        "formula": call.formula,
                        "arguments": {name: _plain(value) for name, value in call.arguments.items()},
                        "units": call.units,
                        "result": _plain(call.result),
                        "unit": call.unit,
                        "source": call.source,
                    }
                    for call in entry.calls
                ],
            }
        )
    return {"basis": sheet.rule.basis.value, "source": sheet.rule.source, "balance": balance_data(sheet.balance, units),
            "sentence": sentence(sheet.balance, units), "entries": entries}  # fmt: skip


def _plain(value: Any) -> Any:
    if isinstance(value, float | int) and not isinstance(value, bool):
        return number(value, 9)
    return [_plain(v) for v in value] if isinstance(value, list | tuple) else str(value)
