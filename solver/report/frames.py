"""Answers as tables for pandas, which comes with the extra `study`.

Contents: `to_frame` (one table of an answer as a DataFrame), `tables_of` (which tables an answer has). `frames_own.py` has
the rows of tables that only one kind of answer has.

A table is a list of flat rows; units stand in the column's name or in a column of their own. Every table keeps its columns
where it has no rows.
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import Any

from solver.answers.facts import Binding, Conflict, Line, MoneyFacts
from solver.brief.models import Assumption
from solver.errors import EntryError
from solver.report.as_data import balance_data, line_data, number
from solver.report.frames_own import OWN_FIELDS, SAVING_UNIT, Row, Rows, amount
from solver.report.money_text import FIGURES, money_data
from solver.report.pick_text import clash_words
from solver.rules import RULES
from solver.rules.balance import Balance
from solver.rules.cautions import Caution
from solver.rules.sentence import binding_sentence, sentence


def _lines(answer: Any, lines: tuple[Line, ...], units: str) -> list[Row]:
    return [line_data(line) for line in lines]


def _balances(answer: Any, balances: tuple[Balance, ...], units: str) -> list[Row]:
    return [{**balance_data(b, units), "sentence": sentence(b, units)} for b in balances]


def _binding(answer: Any, entries: tuple[Binding, ...], units: str) -> list[Row]:
    return [
        {
            "rule": entry.rule,
            "title": RULES[entry.rule].title,
            "basis": RULES[entry.rule].basis.value,
            "saving": amount(entry.saving, answer.by),
            "unit": SAVING_UNIT[answer.by],
            "reads": ", ".join(entry.reads),
            "sentence": binding_sentence(entry.balance, units) if entry.balance is not None else "",
        }
        for entry in entries
    ]


def _conflicts(answer: Any, conflicts: tuple[Conflict, ...], units: str) -> list[Row]:
    return [
        {
            "conflict": place,
            "rule": clash.rule,
            "title": RULES[clash.rule].title,
            "basis": RULES[clash.rule].basis.value,
            "sentence": clash_words(clash, units),
        }
        for place, conflict in enumerate(conflicts, 1)
        for clash in conflict.members
    ]


def _money(answer: Any, money: MoneyFacts | None, units: str) -> list[Row]:
    return [] if money is None else [money_data(money)]


def _swaps(answer: Any, swaps: tuple[Any, ...], units: str) -> list[Row]:
    return [
        {
            "slot": swap.slot,
            "before": swap.before.item,
            "before_choice": swap.before.choice,
            "after": swap.after.item,
            "after_choice": swap.after.choice,
            "cost": number(swap.cost, 2),
        }
        for swap in swaps
    ]


def _assumptions(answer: Any, assumptions: tuple[Assumption, ...], units: str) -> list[Row]:
    return [{"name": a.name, "value": a.value, "why": a.why} for a in assumptions]


def _cautions(answer: Any, cautions: tuple[Caution, ...], units: str) -> list[Row]:
    return [{"id": caution.id, "text": caution.text} for caution in cautions]


_LINES = Rows(("slot", "item", "label", "choice", "count", "price", "weight_lb", "owned"), _lines)
_BALANCES = Rows(
    ("rule", "duty", "state", "air", "part", "need", "supply", "margin", "unit", "applies", "holds", "sentence"), _balances
)
_SWAPS = Rows(("slot", "before", "before_choice", "after", "after_choice", "cost"), _swaps)
FIELDS: Mapping[str, Rows] = {
    "rig": _LINES,
    "added": _LINES,
    "swaps": _SWAPS,
    "rewired": _SWAPS,
    "balances": _BALANCES,
    "failures": _BALANCES,
    "against": _BALANCES,
    "binding": Rows(("rule", "title", "basis", "saving", "unit", "reads", "sentence"), _binding),
    "conflicts": Rows(("conflict", "rule", "title", "basis", "sentence"), _conflicts),
    **OWN_FIELDS,
    "money": Rows(tuple(FIGURES), _money),
    "assumptions": Rows(("name", "value", "why"), _assumptions),
    "cautions": Rows(("id", "text"), _cautions),
}
"""Tables by the field of an answer that they show."""

FIRST = {
    "Checked": "balances", "Completed": "added", "Frontier": "points", "Insist": "items", "Mended": "swaps", "Picked": "rig",
    "Rivals": "rivals", "Robust": "rig", "Why": "binding",
}  # fmt: skip
"""The table that is meant where none is named."""

OWN: Mapping[str, tuple[str, str, str]] = {"WhatIf": ("cells", "solver.report.whatif_data", "flat_rows")}
"""Answers that make the rows of their own table themselves: its name, module and function (answer, units)."""


def tables_of(answer: Any) -> tuple[str, ...]:
    """Names of the tables that an answer has, the one that is meant where none is named first."""
    name = type(answer).__name__
    own = [OWN[name][0]] if name in OWN else []
    if name not in FIRST and not own:
        raise EntryError(f"a {name}", "an answer, such as that of pick or check")
    found = [*own, *(field for field in FIELDS if hasattr(answer, field) and (field != "binding" or name not in OWN))]
    return tuple(sorted(found, key=lambda table: table != FIRST.get(name, found[0])))


def to_frame(answer: Any, table: str | None = None, units: str = "us") -> Any:
    """One table of an answer as a pandas DataFrame.

    Parameters
    ----------
    answer : an answer of this package
        What `pick`, `check`, `rivals` or any other function of the door gave.
    table : str, optional
        One of `tables_of(answer)`; the first of them if not given.
    units : {"us", "si"}
        Units of balances and of what is varied. Columns whose name ends in a unit keep it.

    Returns
    -------
    pandas.DataFrame
        One row a line, balance, swap or cell.

    Raises
    ------
    EntryError
        No answer, no such table, or pandas is not installed.
    """
    tables = tables_of(answer)
    wanted = tables[0] if table is None else table
    if wanted not in tables:
        raise EntryError(f'table "{wanted}"', f"one of {', '.join(tables)}")
    pandas = _pandas()
    name = type(answer).__name__
    if name in OWN and wanted == OWN[name][0]:
        _, module, function = OWN[name]
        return pandas.DataFrame(getattr(import_module(module), function)(answer, units))
    rows = FIELDS[wanted]
    return pandas.DataFrame(rows.of(answer, getattr(answer, wanted), units), columns=list(rows.columns))


def _pandas() -> Any:
    try:
        return import_module("pandas")
    except ImportError:
        expected = "pandas to be installed, which comes with the extra `study`"
        raise EntryError("no pandas", expected, "pip install 'rigset[study]'") from None
