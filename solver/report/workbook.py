"""The sheet as a workbook (XLSX): list, money, balances, what binds, why each choice, inputs, cautions.

Contents: `workbook`, `Tab`.

Numbers are numbers, in the units that the headings name (a balance names its own). Text is text: a label that begins with
`=` is written as a string and never as a formula. The same answer gives the same bytes: times inside the file are fixed.
openpyxl is loaded when a workbook is made, not before.
"""

from __future__ import annotations

import re
import zipfile
from collections.abc import Sequence
from dataclasses import dataclass
from io import BytesIO
from typing import Any

from solver.errors import EntryError
from solver.quantities import from_unit, to_unit
from solver.report.as_data import number
from solver.report.pick_text import titled
from solver.report.sheet.bundle import Bundle, sheet_data
from solver.report.sheet.figures import typeset
from solver.report.sheet.reasons import reason_words
from solver.report.sheet.subjects import slot_words, subject_of
from solver.rules import RULES

Value = str | float | int | bool | None
NARROWEST, WIDEST = 8, 70


@dataclass(frozen=True)
class Tab:
    """One sheet of the workbook: its name, headings with units, rows."""

    name: str
    headings: tuple[str, ...]
    rows: tuple[tuple[Value, ...], ...]


def workbook(bundle: Bundle, units: str = "us") -> bytes:
    """The whole workbook as the bytes of an .xlsx file."""
    try:
        from openpyxl import Workbook
    except ModuleNotFoundError:
        raise EntryError("no spreadsheet library (openpyxl)", "an installation with the extra `sheet`",
                         "pip install 'rigset[sheet]'") from None  # fmt: skip
    book = Workbook()
    book.remove(book.active)
    for tab in tabs(bundle, units):
        _write(book.create_sheet(tab.name), tab)
    held = BytesIO()
    book.save(held)
    return _timeless(held.getvalue())


def tabs(bundle: Bundle, units: str = "us") -> tuple[Tab, ...]:
    """Every sheet that has something to say."""
    data = sheet_data(bundle, units)
    made = [_list(bundle, units), _conflict(data), _money(data), _balances(data), _binding(data, bundle.picked.by)]
    made += [*_more(bundle, data, units), _inputs(bundle), _cautions(bundle)]
    return tuple(tab for tab in made if tab.rows)


def _mass(units: str) -> tuple[str, str]:
    return ("lb", "lb") if units == "us" else ("kg", "kg")


def _list(bundle: Bundle, units: str) -> Tab:
    unit, word = _mass(units)
    picked, facts = bundle.picked, bundle.facts
    rows: list[tuple[Value, ...]] = []
    for i, line in enumerate(picked.rig):
        why = reason_words(facts.reasons[i], picked.by, units) if facts else ""
        weight = number(float(to_unit(line.weight, unit)), 2)
        rows.append((slot_words(line.slot, line.item_class), line.item, line.label, line.choice, line.count,
                     number(line.price, 2), weight, line.owned, why))  # fmt: skip
    if picked.total is not None:
        rows.append(("total", "", "", "", None, number(picked.total.price, 2),
                     number(float(to_unit(picked.total.weight, unit)), 2), None, ""))  # fmt: skip
    return Tab("List", ("slot", "item", "label", "choice", "count", "price (USD)", f"weight ({word})", "owned", "why"),
               tuple(rows))  # fmt: skip


def _conflict(data: dict[str, Any]) -> Tab:
    rows = [
        (clash["rule"], clash["title"], clash["basis"], typeset(clash["sentence"]))
        for conflict in data["pick"]["conflicts"]
        for clash in conflict["rules"]
    ]
    return Tab("Conflict", ("rule", "title", "basis", "the closest that a rig keeping the others comes"), tuple(rows))


_MONEY_UNITS = {
    "loan_months": "months", "delivery_weeks": "weeks", "days_a_year": "days", "board_feet_a_year": "board feet",
    "break_even_board_feet": "board feet a year", "break_even_days": "days", "break_even_share": "share",
    "foam_price": "USD a board foot", "yearly_cost": "USD a year", "fixed_yearly_cost": "USD a year",
    "fuel_a_year": "USD a year", "loan_payment": "USD a month",
}  # fmt: skip


def _money(data: dict[str, Any]) -> Tab:
    money = data["pick"]["money"] or {}
    rows = [
        (name.replace("_", " "), value, _MONEY_UNITS.get(name, "USD a board foot" if "per_board_foot" in name else "USD"))
        for name, value in money.items()
    ]
    return Tab("Money", ("figure", "value (unit beside it)", "unit"), tuple(rows))


def _balances(data: dict[str, Any]) -> Tab:
    rows = [
        (subject_of(b["rule"]).title, b["rule"], titled(RULES[b["rule"]]), b["duty"], b["state"], b["air"], b["part"],
         b["need"], b["supply"], b["margin"], typeset(b["unit"]) if b["unit"] != "1" else "count")
        for b in data["pick"]["balances"]
        if b["applies"]
    ]  # fmt: skip
    heads = ("subject", "rule", "title", "duty", "state", "air", "part", "need (unit of the row)",
             "supply (unit of the row)", "margin (unit of the row)", "unit")  # fmt: skip
    return Tab("Balances", heads, tuple(rows))


def _binding(data: dict[str, Any], by: str) -> Tab:
    unit = {"price": "USD", "weight": "lb", "yearly-cost": "USD a year"}[by]
    rows = [
        (entry["rule"], entry["title"], entry["basis"], entry["saving"], typeset(entry["sentence"]),
         ", ".join(name.replace("_", " ") for name in entry["reads"]))
        for entry in data["pick"]["binding"]
    ]  # fmt: skip
    return Tab("What binds", ("rule", "title", "basis", f"saving without it ({unit})", "what it forces", "moves with"),
               tuple(rows))  # fmt: skip


def _more(bundle: Bundle, data: dict[str, Any], units: str) -> list[Tab]:
    """Alternatives, front and curves, as far as they were asked for."""
    found = data["alternatives"]
    others = [
        (k or "the pick", rig["price"], rig["more_price"], _weight(rig["weight_lb"], units),
         _weight(rig["more_weight_lb"], units), rig["yearly_cost"], "; ".join(rig["differs"]))
        for k, rig in enumerate(found["rigs"] if found else ())
    ]  # fmt: skip
    front = [
        (k, point["total"]["price"], _weight(point["total"]["weight_lb"], units), point["total"]["yearly_cost"])
        for k, point in enumerate(data["front"]["points"], 1)
    ]
    _, word = _mass(units)
    unit = {"price": "USD", "weight": "lb", "yearly-cost": "USD a year"}[bundle.picked.by]
    steps = [
        (curve["requirement"].replace("_", " "), ", ".join(curve["duties"]), row["first"], row["last"],
         "count" if curve["unit"] == "1" else typeset(curve["unit"]), row["cost"], extra, typeset(row["what_changes"]))
        for curve in data["curves"]
        for row, extra in zip(curve["stretches"], curve["extras"], strict=True)
    ]  # fmt: skip
    return [
        Tab("Alternatives", ("rig", "price (USD)", "more than the pick (USD)", f"weight ({word})",
                             f"more than the pick ({word})", "yearly cost (USD a year)", "how it differs"), tuple(others)),
        Tab("Front", ("rig", "price (USD)", f"weight ({word})", "yearly cost (USD a year)"), tuple(front)),
        Tab("Curves", ("requirement", "duties", "from (unit of the row)", "to (unit of the row)", "unit",
                       f"least cost ({unit})", f"more than now ({unit})", "what changes"), tuple(steps)),
    ]  # fmt: skip


def _weight(pounds: float, units: str) -> float:
    """Pounds of the JSON in the unit of the heading."""
    return pounds if units == "us" else number(float(to_unit(from_unit(pounds, "lb"), "kg")), 2)


def _inputs(bundle: Bundle) -> Tab:
    rows = [(a.name, typeset(a.value), "stated by the brief") for a in bundle.brief.stated()]
    rows += [(a.name, typeset(a.value), typeset(a.why)) for a in bundle.picked.assumptions]
    rows += [(f"waived: {rule}", titled(RULES[rule]), "waived by the brief") for rule in bundle.picked.waived]
    return Tab("Inputs", ("figure", "value with its unit", "on what it stands"), tuple(rows))


def _cautions(bundle: Bundle) -> Tab:
    return Tab("Cautions", ("caution",), tuple((typeset(caution.text),) for caution in bundle.picked.cautions))


# --- writing ----------------------------------------------------------------------------------------------------------
def _write(sheet: Any, tab: Tab) -> None:
    from openpyxl.styles import Alignment, Font

    for j, heading in enumerate(tab.headings, 1):
        cell = _put(sheet, 1, j, heading)
        cell.font = Font(bold=True)
        cell.alignment = Alignment(wrap_text=True, vertical="top")
    for i, row in enumerate(tab.rows, 2):
        for j, value in enumerate(row, 1):
            cell = _put(sheet, i, j, value)
            cell.alignment = Alignment(wrap_text=isinstance(value, str), vertical="top")
            if isinstance(value, float | int) and not isinstance(value, bool):
                cell.number_format = _format(tab.headings[j - 1])
    sheet.freeze_panes = "A2"
    sheet.auto_filter.ref = sheet.dimensions
    for j, heading in enumerate(tab.headings, 1):
        widest = max([len(str(row[j - 1])) for row in tab.rows if row[j - 1] is not None] + [len(heading)])
        sheet.column_dimensions[sheet.cell(1, j).column_letter].width = max(NARROWEST, min(WIDEST, widest + 2))
    sheet.page_setup.orientation = "landscape"
    sheet.page_setup.fitToHeight = 0
    sheet.sheet_properties.pageSetUpPr.fitToPage = True
    sheet.print_title_rows = "1:1"


def _put(sheet: Any, row: int, column: int, value: Value) -> Any:
    """A value in its cell; text stays text whatever it begins with."""
    cell = sheet.cell(row, column)
    cell.value = value
    if isinstance(value, str):
        cell.data_type = "s"
    return cell


def _format(heading: str) -> str:
    if heading.startswith(("price (USD)", "saving")):
        return "#,##0.00"
    return "General" if heading in ("count",) else "#,##0.####"


_TIMES = re.compile(rb"(<dcterms:(created|modified)[^>]*>)[^<]*(</dcterms:\2>)")


def _timeless(data: bytes) -> bytes:
    """The same workbook without the time of its making."""
    held = BytesIO()
    with zipfile.ZipFile(BytesIO(data)) as old, zipfile.ZipFile(held, "w", zipfile.ZIP_DEFLATED) as new:
        for name in old.namelist():
            content = _TIMES.sub(rb"\g<1>2000-01-01T00:00:00Z\g<3>", old.read(name))
            entry = zipfile.ZipInfo(name, (2000, 1, 1, 0, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            new.writestr(entry, content)
    return held.getvalue()


__all__: Sequence[str] = ("Tab", "tabs", "workbook")
