"""Need against supply, subject by subject: one row for each rule, duty and state, the tightest first.

Contents: `BalanceRow`, `SubjectRows`, `balance_rows`, `TIGHT_SHARE`.
"""

from __future__ import annotations

from dataclasses import dataclass

from solver.report.pick_text import titled
from solver.report.sheet.figures import Figure, fig
from solver.report.sheet.subjects import OTHER, SUBJECTS, Subject, subject_of
from solver.rules import RULES
from solver.rules.balance import Balance
from solver.rules.sentence import difference, place_words

TIGHT_SHARE = 0.03
"""Margins below this share of the larger side are marked as tight."""


@dataclass(frozen=True)
class BalanceRow:
    """One row: the rule, where it is tightest, its three figures, and the bar (shares of the longer side, 0 to 100)."""

    rule: str
    title: str
    place: str
    need: Figure
    supply: Figure
    margin: Figure
    tight: bool
    need_bar: float
    supply_bar: float
    bar: bool
    """Whether a bar says anything: temperatures have no zero to be drawn from."""


@dataclass(frozen=True)
class SubjectRows:
    """The rows of one subject, and how many rules of it are plain yes or no."""

    subject: Subject
    rows: tuple[BalanceRow, ...]


def balance_rows(balances: tuple[Balance, ...], units: str, of: str = "pick.balances") -> tuple[SubjectRows, ...]:
    """The rows of every subject that has any; `of` is the place of the balances in the JSON of the answer."""
    tightest: dict[tuple[str, str, str], tuple[int, Balance]] = {}
    for i, balance in enumerate(balances):
        if not balance.applies or balance.unit == "1":
            continue
        key = (balance.place.rule, balance.place.duty, balance.place.state)
        held = tightest.get(key)
        if held is None or balance.slack_share < held[1].slack_share:
            tightest[key] = (i, balance)
    found: dict[str, list[tuple[int, Balance]]] = {}
    for i, balance in tightest.values():
        found.setdefault(subject_of(balance.place.rule).id, []).append((i, balance))
    return tuple(
        SubjectRows(subject, tuple(balance_row(f"{of}.{i}", b, units) for i, b in sorted(rows, key=_tightest_first)))
        for subject in (*SUBJECTS, OTHER)
        if (rows := found.get(subject.id))
    )


def _tightest_first(entry: tuple[int, Balance]) -> tuple[float, int]:
    return entry[1].slack_share, entry[0]


def balance_row(of: str, balance: Balance, units: str) -> BalanceRow:
    """One balance as a row."""
    rule = RULES[balance.place.rule]
    scale = max(abs(balance.need), abs(balance.supply))
    part = f", {balance.place.part}" if balance.place.part else ""
    return BalanceRow(
        rule=rule.id,
        title=titled(rule),
        place=place_words(balance) + part,
        need=_shown(of, "need", balance.need, balance.unit, units),
        supply=_shown(of, "supply", balance.supply, balance.unit, units),
        margin=_shown(of, "margin", balance.margin, difference(balance.unit), units),
        tight=balance.slack_share < TIGHT_SHARE,
        need_bar=_bar(balance.need, scale),
        supply_bar=_bar(balance.supply, scale),
        bar=balance.unit != "degF" and min(balance.need, balance.supply) >= 0.0 and scale > 0.0,
    )


def _shown(of: str, name: str, value: float, unit: str, units: str) -> Figure:
    """JSON gives balances in the units of the page."""
    from solver.rules.sentence import shown

    return fig(f"{of}.{name}", value, unit, units, shown=shown(value, unit, units)[0])


def _bar(value: float, scale: float) -> float:
    return round(100.0 * value / scale, 2) if scale else 0.0
