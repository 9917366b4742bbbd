"""What-ifs as plain data: JSON, one flat row a cell, CSV, frames and Parquet. Units stand in the headings.

Contents: `whatif_data`, `flat_rows`, `to_csv`, `to_frame`, `to_parquet`, `check_parquet`, `heading_of`.

CSV and JSON need nothing but this program; a frame needs pandas and Parquet pyarrow too (the extra `study`).
"""

from __future__ import annotations

import csv
from io import BytesIO, StringIO
from typing import Any

from solver.answers.facts import Line
from solver.answers.whatif import WhatIf
from solver.answers.whatif_facts import Cell
from solver.answers.whatif_summary import Switch
from solver.answers.whatif_values import Axis
from solver.errors import EntryError
from solver.quantities import dimension_of, display_unit, to_unit
from solver.report.as_data import balance_data, line_data, number, pounds
from solver.report.money_text import FIGURES, money_data
from solver.rules.balance import Balance
from solver.rules.sentence import sentence

SAVING_UNIT = {"price": "USD", "weight": "lb", "yearly-cost": "USD/yr"}
_MONEY_UNIT = {
    "loan_payment": "USD/month", "loan_months": "months", "delivery_weeks": "weeks", "yearly_cost": "USD/yr",
    "fixed_yearly_cost": "USD/yr", "fuel_a_year": "USD/yr", "days_a_year": "days", "board_feet_a_year": "board_feet/yr",
    "break_even_board_feet": "board_feet/yr", "break_even_days": "days/yr", "break_even_share": "1",
    "foam_price": "USD/board_feet",
}  # fmt: skip


def unit_of(axis: Axis, units: str) -> str:
    """The unit in which an axis is shown."""
    unit = axis.requirement.unit
    if units == "us" or unit == "1":
        return unit
    return display_unit(dimension_of(unit), "si")


def shown_value(axis: Axis, value: float | None, units: str) -> float | None:
    """A value of an axis [SI] as a figure in its unit of display."""
    unit = unit_of(axis, units)
    return None if value is None else number(value if unit == "1" else float(to_unit(value, unit)), 9)


def heading_of(axis: Axis, units: str) -> str:
    """Path and unit: `duty.hose_reach (ft)`."""
    unit = unit_of(axis, units)
    return axis.path if unit == "1" else f"{axis.path} ({unit})"


def whatif_data(found: WhatIf, units: str = "us") -> dict[str, Any]:
    """The whole answer; rigs are given once and named by their place in `rigs`."""
    places = {options: place for place, options in enumerate(found.rigs)}
    return {
        "title": found.title,
        "by": found.by,
        "one_at_a_time": found.one_at_a_time,
        "vary": [
            {
                "path": axis.path,
                "requirement": axis.requirement.id,
                "kind": axis.requirement.kind.value,
                "duties": list(axis.duties),
                "unit": unit_of(axis, units),
                "values": [shown_value(axis, value, units) for value in axis.values],
            }
            for axis in found.axes
        ],
        "saving_unit": SAVING_UNIT[found.by],
        "base": _cell(found, found.base, places, units),
        "cells": [_cell(found, cell, places, units) for cell in found.cells],
        "switches": [_switch(found, switch, units) for switch in found.switches],
        "rigs": [[line_data(line) for line in rig] for rig in found.rigs.values()],
        "assumptions": [{"name": a.name, "value": a.value, "why": a.why} for a in found.assumptions],
        "waived": list(found.waived),
        "cautions": [{"id": caution.id, "text": caution.text} for caution in found.cautions],
    }


def saving(found: WhatIf, value: float | None) -> float | None:
    """A saving in the unit of the objective; None where only the rules were asked for."""
    if value is None:
        return None
    return pounds(value) if found.by == "weight" else number(value, 2)


def _cell(found: WhatIf, cell: Cell, places: dict[tuple[int, ...], int], units: str) -> dict[str, Any]:
    total = cell.total
    return {
        "cell": cell.number,
        "values": [shown_value(axis, value, units) for axis, value in zip(found.axes, cell.values, strict=True)],
        "status": cell.status,
        "proven": cell.proven,
        "message": cell.message,
        "total": None if total is None else {
            "price": number(total.price, 2),
            "weight_lb": pounds(total.weight),
            "yearly_cost": number(total.yearly_cost, 2),
        },
        "money": None if cell.money is None else money_data(cell.money),
        "binding": [{"rule": rule, "saving": saving(found, value)} for rule, value in cell.binding]
        if found.binding != "none" else None,
        "conflict": list(cell.conflict),
        "changed": [{"slot": swap.slot, "before": swap.before, "after": swap.after} for swap in cell.changed],
        "rig": places.get(cell.options),
    }  # fmt: skip


def _switch(found: WhatIf, switch: Switch, units: str) -> dict[str, Any]:
    axis = found.axes[switch.axis]
    return {
        "path": axis.path,
        "unit": unit_of(axis, units),
        "before": shown_value(axis, switch.before, units),
        "after": shown_value(axis, switch.after, units),
        "places": switch.places,
        "of": switch.of,
        "cells": list(switch.numbers),
        "status": list(switch.status),
        "price": [None if price is None else number(price, 2) for price in switch.price],
        "swaps": [{"slot": swap.slot, "before": swap.before, "after": swap.after} for swap in switch.swaps],
        "binding_came": list(switch.came),
        "binding_gone": list(switch.gone),
        "breaks_after": [_broken(balance, units) for balance in switch.breaks_after],
        "breaks_before": [_broken(balance, units) for balance in switch.breaks_before],
    }


def _broken(balance: Balance, units: str) -> dict[str, Any]:
    return {**balance_data(balance, units), "sentence": sentence(balance, units)}


def flat_rows(found: WhatIf, units: str = "us") -> list[dict[str, Any]]:
    """One row a cell, the brief as it is first (cell 0, its varied values empty); keys are headings with units."""
    return [_flat(found, cell, units) for cell in (found.base, *found.cells)]


def _flat(found: WhatIf, cell: Cell, units: str) -> dict[str, Any]:
    total = cell.total
    weight = "kg" if units == "si" else "lb"
    money = dict.fromkeys(FIGURES) if cell.money is None else money_data(cell.money)
    row: dict[str, Any] = {"cell": cell.number}
    for axis, value in zip(found.axes, cell.values, strict=True):
        row[heading_of(axis, units)] = shown_value(axis, value, units)
    row["status"] = cell.status
    row["price (USD)"] = None if total is None else number(total.price, 2)
    row[f"weight ({weight})"] = (
        None if total is None else (pounds(total.weight) if weight == "lb" else number(total.weight, 3))
    )
    for key in FIGURES:
        row[f"{key.replace('_', ' ')} ({money_unit(key)})"] = money[key]
    if found.binding == "savings":
        row[f"binding, saving ({SAVING_UNIT[found.by]})"] = "; ".join(
            f"{rule} {saving(found, value):g}" for rule, value in cell.binding
        )
    elif found.binding == "rules":
        row["binding"] = "; ".join(rule for rule, _ in cell.binding)
    row["conflict"] = "; ".join(cell.conflict)
    row["changed"] = "; ".join(f"{s.slot}: {s.before or 'nothing'} -> {s.after or 'nothing'}" for s in cell.changed)
    row["rig"] = "; ".join(_short(line) for line in found.rigs.get(cell.options, ()))
    row["message"] = cell.message
    return row


def money_unit(key: str) -> str:
    """The unit of a figure of money."""
    if key.endswith("_per_board_foot"):
        return "USD/board_feet"
    return _MONEY_UNIT.get(key, "USD")


def _short(line: Line) -> str:
    choice = f" ({line.choice})" if line.choice else ""
    return f"{line.slot}={line.item}{choice}"


def to_csv(found: WhatIf, units: str = "us") -> str:
    """All cells as CSV, one line each under a line of headings."""
    rows = flat_rows(found, units)
    text = StringIO()
    writer = csv.DictWriter(text, list(rows[0]), lineterminator="\n")
    writer.writeheader()
    writer.writerows(rows)
    return text.getvalue()


def _needed(name: str) -> Any:
    """A library of the extra `study`; EntryError where it is not installed."""
    from importlib import import_module

    try:
        return import_module(name)
    except ImportError:
        wanted = f"{name} to be installed, which comes with the extra `study`"
        raise EntryError(f"no {name}", wanted, "pip install 'rigset[study]', or a file that ends in .csv") from None


def to_frame(found: WhatIf, units: str = "us") -> Any:
    """All cells as a pandas DataFrame, one row each; EntryError where pandas is not installed."""
    pandas = _needed("pandas")
    return pandas.DataFrame(flat_rows(found, units))


def check_parquet() -> None:
    """That a Parquet file can be written at all; EntryError where pandas or pyarrow is not installed."""
    from importlib.util import find_spec

    for name in ("pandas", "pyarrow"):
        if find_spec(name) is None:
            _needed(name)


def to_parquet(found: WhatIf, units: str = "us") -> bytes:
    """All cells as a Parquet file; EntryError where pandas or pyarrow is not installed."""
    _needed("pyarrow")
    content = BytesIO()
    to_frame(found, units).to_parquet(content, engine="pyarrow", index=False)
    return content.getvalue()
