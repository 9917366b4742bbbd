"""Pages of a what-if study, in the same style as the page of a rig: charts, where the answer switches, every cell.

Contents: `study_page`. Figures name their place in the JSON of the study (`rigset whatif --json`).

One requirement gives a chart with a point for each value; two give a map of costs; more give a map for each setting of the
others. With `--one-at-a-time` each requirement has a chart of its own.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any

from solver.answers.whatif import WhatIf
from solver.answers.whatif_facts import Cell
from solver.answers.whatif_summary import Switch
from solver.answers.whatif_values import Axis as Varied
from solver.quantities import to_unit
from solver.report.pick_text import titled
from solver.report.sheet.charts import Axis, Run, heat_map, padded, step_chart
from solver.report.sheet.curves import OBJECTIVE
from solver.report.sheet.figures import Figure, Text, dollars, pounds_of, typeset
from solver.report.sheet.page import render
from solver.report.whatif_data import shown_value, unit_of
from solver.report.whatif_text import swap_words, value_words
from solver.rules import RULES
from solver.rules.sentence import sentence

MOST_CELLS = 300
"""Cells listed on the page; all of them stand in the data."""
MOST_MAPS = 12
"""Maps drawn where more than two requirements are varied."""


def study_page(found: WhatIf, units: str = "us") -> str:
    """The whole page of a study."""
    shown = {
        "title": found.title,
        "opening": opening(found, units),
        "charts": list(_charts(found, units)),
        "skipped_charts": max(0, _settings(found) - MOST_MAPS),
        "switches": [_switch_row(found, k, units) for k in range(len(found.switches))],
        "heads": [typeset(_head(axis, units)) for axis in found.axes],
        "cells": [_cell_row(found, k, units) for k in range(min(MOST_CELLS, len(found.cells)))],
        "more_cells": max(0, len(found.cells) - MOST_CELLS),
        "cautions": found.cautions,
        "assumptions": found.assumptions,
        "waived": [(rule, titled(RULES[rule])) for rule in found.waived],
    }
    return render("study.html", shown)


def opening(found: WhatIf, units: str) -> Text:
    """What was asked and what came of it."""
    fits = sum(cell.status == "found" for cell in found.cells)
    what = " and ".join(axis.path for axis in found.axes)
    told: list[str | Figure] = [
        f"What if {what} were other? {len(found.cells):,} cells, {fits:,} of them with a rig; {len(found.rigs):,} different "
        "rigs in all. "
    ]
    if found.base.total is not None:
        told += ["The brief as it is: ", _cost("base", found.base, found.by, units), "."]
    else:
        told.append("The brief as it is has no rig.")
    return tuple(told)


def _head(axis: Varied, units: str) -> str:
    unit = unit_of(axis, units)
    return axis.path if unit == "1" else f"{axis.path} ({unit})"


def _cost(place: str, cell: Cell, by: str, units: str) -> Figure:
    """The objective of a cell that has a rig."""
    total = cell.total
    if total is None:
        return Figure(f"{place}.status", 0.0, "no rig")
    if by == "weight":
        return pounds_of(f"{place}.total.weight_lb", total.weight, units)
    if by == "price":
        return dollars(f"{place}.total.price", total.price)
    return dollars(f"{place}.total.yearly_cost", total.yearly_cost)


# --- charts -----------------------------------------------------------------------------------------------------------
def _settings(found: WhatIf) -> int:
    """How many maps every setting of the requirements beyond the first two would take."""
    count = 1
    for axis in () if found.one_at_a_time else found.axes[2:]:
        count *= len(axis.values)
    return count


def _charts(found: WhatIf, units: str) -> Iterator[Any]:
    from markupsafe import Markup

    if found.one_at_a_time or len(found.axes) == 1:
        for k in range(len(found.axes)):
            chart = _line(found, k, units)
            if chart is not None:
                yield {"caption": f"{found.axes[k].path}, all else as the brief has it", "svg": Markup(chart)}
        return
    settings = list(dict.fromkeys(cell.values[2:] for cell in found.cells))
    for number, rest in enumerate(settings[:MOST_MAPS], 1):
        words = [f"{axis.path} {value_words(axis, v, units)}" for axis, v in zip(found.axes[2:], rest, strict=True)]
        caption = f"{OBJECTIVE[found.by]}, {', '.join(words)}" if words else f"The {OBJECTIVE[found.by]} in each cell"
        yield {"caption": typeset(caption), "svg": Markup(_map(found, rest, number, units))}


def _line(found: WhatIf, k: int, units: str) -> str | None:
    axis = found.axes[k]
    own = [c for c in found.cells if c.values[k] is not None and all(v is None for j, v in enumerate(c.values) if j != k)]
    if not own:
        return None
    points = sorted((shown_value(axis, cell.values[k], units) or 0.0, _plotted(found, cell, units)) for cell in own)
    costs = [cost for _, cost in points if cost is not None] or [0.0]
    runs = [Run(value, value, cost) for value, cost in points]
    x = Axis(typeset(_head(axis, units)), points[0][0], points[-1][0] if len(points) > 1 else points[0][0] + 1.0)
    unit = {"price": "USD", "yearly-cost": "USD a year", "weight": "lb" if units == "us" else "kg"}[found.by]
    y = Axis(f"{OBJECTIVE[found.by]} [{unit}]", *padded(costs), before="" if found.by == "weight" else "$")
    told = f"{OBJECTIVE[found.by]} at {len(points)} values of {axis.path}, from {min(costs):,.0f} to {max(costs):,.0f}."
    return step_chart(f"line-{k + 1}", f"{OBJECTIVE[found.by]} over {axis.path}", told, runs, None, (0.0, None), x, y).svg()


def _plotted(found: WhatIf, cell: Cell, units: str) -> float | None:
    total = cell.total
    if total is None:
        return None
    if found.by == "weight":
        return total.weight if units == "si" else float(to_unit(total.weight, "lb"))
    return total.price if found.by == "price" else total.yearly_cost


def _map(found: WhatIf, rest: Sequence[float | None], number: int, units: str) -> str:
    down, across = found.axes[:2]
    places = {cell.values: k for k, cell in enumerate(found.cells)}
    rows = sorted(down.values, reverse=True)
    columns = sorted(across.values)
    cells = []
    for a in rows:
        row = []
        for b in columns:
            k = places.get((a, b, *rest))
            cell = None if k is None else found.cells[k]
            row.append(_short(_cost(f"cells.{k}", cell, found.by, units)) if cell is not None and cell.total else None)
        cells.append(row)
    heads = [typeset(value_words(across, value, units)) for value in columns]
    names = [typeset(value_words(down, value, units)) for value in rows]
    told = f"{OBJECTIVE[found.by]} for {len(rows)} values of {down.path} and {len(columns)} of {across.path}."
    return heat_map(
        f"map-{number}", f"{OBJECTIVE[found.by]} over {down.path} and {across.path}", told, heads, names, cells,
        across.path, down.path,
    ).svg()  # fmt: skip


def _short(cost: Figure) -> Figure:
    """A cost that fits into a cell: dollars in thousands."""
    if not cost.text.startswith("$"):
        return Figure(cost.of, cost.value, cost.text.split(" ")[0])
    return Figure(cost.of, cost.value, f"{cost.value / 1000.0:,.1f}k")


# --- tables -----------------------------------------------------------------------------------------------------------
@dataclass(frozen=True)
class SwitchRow:
    """Where the answer switches: between which values, in how many places, from what to what, and why."""

    path: str
    before: Figure
    after: Figure
    places: str
    money: Text
    changes: str
    why: tuple[str, ...]


def _value(of: str, axis: Varied, value: float, units: str) -> Figure:
    return Figure(of, shown_value(axis, value, units) or 0.0, typeset(value_words(axis, value, units)))


def _switch_row(found: WhatIf, k: int, units: str) -> SwitchRow:
    switch = found.switches[k]
    axis = found.axes[switch.axis]
    place = f"switches.{k}"
    why = [f"Above: {sentence(b, units)}" for b in switch.breaks_after[:1]]
    why += [f"Below: {sentence(b, units)}" for b in switch.breaks_before[:1]]
    return SwitchRow(
        axis.path,
        _value(f"{place}.before", axis, switch.before, units),
        _value(f"{place}.after", axis, switch.after, units),
        f"{switch.places:,} of {switch.of:,}",
        _prices(place, switch),
        typeset(swap_words(switch.swaps)) if switch.swaps else "",
        tuple(typeset(words) for words in why),
    )


def _prices(place: str, switch: Switch) -> Text:
    told: list[str | Figure] = []
    for j, price in enumerate(switch.price):
        told.append(" becomes " if j else "")
        told.append("no rig" if price is None else dollars(f"{place}.price.{j}", price))
    return tuple(told)


def _cell_row(found: WhatIf, k: int, units: str) -> dict[str, Any]:
    cell = found.cells[k]
    values = [
        "as is" if value is None else _value(f"cells.{k}.values.{j}", axis, value, units)
        for j, (axis, value) in enumerate(zip(found.axes, cell.values, strict=True))
    ]
    words = {"found": "", "none": "no rig fits", "invalid": "cannot be said", "unknown": "not proven"}[cell.status]
    total = cell.total
    return {
        "values": values,
        "words": words,
        "price": None if total is None else dollars(f"cells.{k}.total.price", total.price),
        "weight": None if total is None else pounds_of(f"cells.{k}.total.weight_lb", total.weight, units),
        "binds": ", ".join(cell.conflict or tuple(rule for rule, _ in cell.binding[:4])),
    }
