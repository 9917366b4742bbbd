"""Worksheets of all rules for the page: each rule at its tightest place, worked through, and its other places in a table.

Contents: `Working`, `Step`, `Call`, `workings`, `tightest_sheets` (the worksheets shown, in the order of the register).
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from solver.formulas.record import FormulaCall
from solver.report.pick_text import titled
from solver.report.sheet.balances import BalanceRow, balance_row
from solver.report.sheet.figures import Figure, fig, typeset
from solver.rules import RULES
from solver.rules.balance import Balance
from solver.rules.record import Rule
from solver.rules.sentence import sentence, shown
from solver.rules.worksheet import Entry, Worksheet


@dataclass(frozen=True)
class Call:
    """One formula call: its name, the formula as its source has it, the arguments and the result, the source."""

    name: str
    formula: str
    arguments: tuple[tuple[str, Figure | str, str], ...]
    result: Figure | str
    unit: str
    source: str


@dataclass(frozen=True)
class Step:
    """One need or supply: side, what, where, its figure, the calls behind it."""

    side: str
    what: str
    where: str
    value: Figure
    calls: tuple[Call, ...]


@dataclass(frozen=True)
class Working:
    """A rule with its tightest place worked through and its other places."""

    rule: Rule
    title: str
    row: BalanceRow
    sentence: str
    applies: bool
    steps: tuple[Step, ...]
    others: tuple[BalanceRow, ...]


def tightest_sheets(worksheets: tuple[Worksheet, ...]) -> tuple[Worksheet, ...]:
    """One worksheet of each rule, where it is tightest; places where it applies come first."""
    best: dict[str, Worksheet] = {}
    for sheet in worksheets:
        held = best.get(sheet.rule.id)
        if held is None or _order(sheet.balance) < _order(held.balance):
            best[sheet.rule.id] = sheet
    return tuple(best[rule] for rule in RULES if rule in best)


def _order(balance: Balance) -> tuple[bool, float]:
    return not balance.applies, balance.slack_share


def workings(worksheets: tuple[Worksheet, ...], balances: tuple[Balance, ...], units: str) -> tuple[Working, ...]:
    """The appendix. Places in the JSON: `worksheets` for the steps, `pick.balances` for the balances."""
    index = {balance.place: i for i, balance in enumerate(balances)}
    found = []
    for k, sheet in enumerate(tightest_sheets(worksheets)):
        place = sheet.balance.place
        others = [b for b in balances if b.place.rule == place.rule and b.place != place and b.applies]
        others.sort(key=lambda b: b.slack_share)
        found.append(
            Working(
                rule=sheet.rule,
                title=titled(sheet.rule),
                row=balance_row(f"pick.balances.{index[place]}", sheet.balance, units),
                sentence=typeset(sentence(sheet.balance, units)),
                applies=sheet.balance.applies,
                steps=tuple(
                    _step(f"worksheets.{k}.entries.{j}", entry, sheet.rule.unit, units) for j, entry in enumerate(sheet.shown)
                ),
                others=tuple(balance_row(f"pick.balances.{index[b.place]}", b, units) for b in others),
            )
        )
    return tuple(found)


def _step(of: str, entry: Entry, unit: str, units: str) -> Step:
    where = "" if entry.slot == entry.item else entry.slot.replace("_", " ")
    value = fig(f"{of}.value", entry.value, unit, units, shown=shown(entry.value, unit, units)[0])
    calls = tuple(_call(f"{of}.formulas.{i}", call) for i, call in enumerate(entry.calls) if call.depth == 0)
    return Step(entry.side.value, entry.what, f"{where} {entry.item}".strip(), value, calls)


def _call(of: str, call: FormulaCall) -> Call:
    return Call(
        call.name,
        " ".join(call.doc.formula.split()),
        tuple(
            (name, _plain(f"{of}.arguments.{name}", value), _unit(call.units, name)) for name, value in call.arguments.items()
        ),
        _plain(f"{of}.result", call.result),
        "" if call.unit == "-" else call.unit,
        call.source,
    )


def _unit(units: Mapping[str, str], name: str) -> str:
    unit = units.get(name, "-")
    return "" if unit == "-" else unit


def _plain(of: str, value: Any) -> Figure | str:
    if isinstance(value, float | int) and not isinstance(value, bool):
        return Figure(of, round(float(value), 9) + 0.0, f"{value:.5g}")
    if isinstance(value, list | tuple):
        return "(" + ", ".join(_text(v) for v in value) + ")"
    return str(value)


def _text(value: float | int | str | Sequence[Any]) -> str:
    return f"{value:.5g}" if isinstance(value, float | int) else str(value)
