"""Requirement curves for the page: the least cost in steps, the present figure marked, and what changes at each step.

Contents: `CurveView`, `StretchRow`, `curve_view`, `curve_json` (the curve as `rigset curve --json` gives it, and what each
stretch costs more than the present one), `plain`, `OBJECTIVE`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from solver.brief.requirements import REQUIREMENTS
from solver.quantities import to_unit
from solver.report.as_data import number, pounds
from solver.report.sheet.charts import Axis, Run, padded, step_chart
from solver.report.sheet.figures import Figure, Text, dollars, pounds_of, typeset

if TYPE_CHECKING:
    from solver.answers.steps_facts import Curve, Stretch

OBJECTIVE = {"price": "price of the rig", "weight": "weight of the rig", "yearly-cost": "yearly cost of the rig"}
_MORE = {"price": ("dearer", "cheaper"), "weight": ("heavier", "lighter"), "yearly-cost": ("dearer a year", "cheaper a year")}
_BEYOND = 0.25
"""How far beyond the last value with a rig the chart goes, as a share of the stretch that has rigs."""


def plain(of: str, value: float, unit: str) -> Figure:
    """A value of a requirement in the unit of the page, with no more decimals than it has."""
    text = f"{value:,.2f}".rstrip("0").rstrip(".")
    if unit == "USD":
        return Figure(of, value, f"${text}")
    return Figure(of, value, typeset(f"{text} {'' if unit in ('1', 'set') else unit}".strip()))


def cost_of(of: str, value: float, by: str, units: str) -> Figure:
    """A cost of the objective: JSON has it in USD, lb or USD a year."""
    return pounds_of(of, value, units) if by == "weight" else dollars(of, value)


# --- JSON -------------------------------------------------------------------------------------------------------------
def curve_json(curve: Curve, units: str) -> dict[str, Any]:
    """A curve as data; `extras` says for each stretch what it costs more than the present one [USD, lb, USD a year]."""
    from solver.report.curve_data import curve_data

    here = present_stretch(curve)
    extras = [_extra(stretch, here) for stretch in curve.stretches]
    told = [None if extra is None else pounds(extra) if curve.by == "weight" else number(extra, 2) for extra in extras]
    return {**curve_data(curve, units), "extras": told}


def present_stretch(curve: Curve) -> Stretch | None:
    """The stretch of the present value; of two around it the dearer, on whose side the answer is known to hold."""
    if curve.present is None:
        return None
    for stretch in curve.stretches:
        if stretch.first <= curve.present <= stretch.last:
            return stretch
    around = [(a, b) for a, b in pairwise(curve.stretches) if a.last < curve.present < b.first]
    return max(around[0], key=lambda s: float("inf") if s.cost is None else s.cost) if around else None


def _extra(stretch: Stretch, here: Stretch | None) -> float | None:
    if stretch.cost is None or here is None or here.cost is None:
        return None
    return stretch.cost - here.cost


# --- the page ---------------------------------------------------------------------------------------------------------
@dataclass(frozen=True)
class StretchRow:
    """One stretch: from where to where, its cost, how much more than now, what changes there."""

    first: Figure
    last: Figure
    cost: Figure | None
    extra: Figure | None
    here: bool
    changes: str


@dataclass(frozen=True)
class CurveView:
    """One curve: title, the chart as SVG, what one step further costs, every stretch."""

    title: str
    svg: Any
    notes: tuple[Text, ...]
    rows: tuple[StretchRow, ...]


def curve_view(curve: Curve, told: dict[str, Any], name: str, of: str, units: str) -> CurveView:
    """A curve for the page; `told` is its JSON and `of` the place of that."""
    from markupsafe import Markup

    title = REQUIREMENTS[curve.requirement].title + (f", {', '.join(curve.duties)}" if len(curve.duties) == 1 else "")
    here = present_stretch(curve)
    rows = tuple(_row(curve, told, k, here, of, units) for k in range(len(curve.stretches)))
    drawn = _chart(curve, told, name, title, of, units)
    return CurveView(title[:1].upper() + title[1:], Markup(drawn), tuple(_notes(curve, rows, here)), rows)


def _row(curve: Curve, told: dict[str, Any], k: int, here: Stretch | None, of: str, units: str) -> StretchRow:
    stretch, data, unit = curve.stretches[k], told["stretches"][k], told["unit"]
    place, extra = f"{of}.stretches.{k}", _extra(stretch, here)
    return StretchRow(
        plain(f"{place}.first", data["first"], unit),
        plain(f"{place}.last", data["last"], unit),
        None if stretch.cost is None else cost_of(f"{place}.cost", stretch.cost, curve.by, units),
        None if extra is None else cost_of(f"{of}.extras.{k}", extra, curve.by, units),
        stretch is here,
        typeset(data["what_changes"]),
    )


def _notes(curve: Curve, rows: Sequence[StretchRow], here: Stretch | None) -> list[Text]:
    """What the next step on either side costs or saves."""
    if here is None:
        return []
    at = curve.stretches.index(here)
    found: list[Text] = []
    for k, words, end in ((at + 1, "From", "first"), (at - 1, "Down to", "last")):
        if not 0 <= k < len(rows):
            continue
        row, value = rows[k], getattr(rows[k], end)
        if row.cost is None:
            found.append((f"{words} ", value, " no rig fits."))
        elif row.extra is not None and row.extra.value:
            more = Figure(row.extra.of, row.extra.value, row.extra.text.lstrip("-"))
            found.append((f"{words} ", value, ": ", more, f" {_MORE[curve.by][row.extra.value < 0]}."))
    return found


def _chart(curve: Curve, told: dict[str, Any], name: str, title: str, of: str, units: str) -> str:
    unit = typeset(told["unit"])
    runs = [
        Run(data["first"], data["last"], None if s.cost is None else _plotted(s.cost, curve.by, units))
        for s, data in zip(curve.stretches, told["stretches"], strict=True)
    ]
    runs = _near(runs, told["present"], 2.0 * (runs[-1].end - runs[0].start) / max(1, len(curve.points) - 1))
    costs = [run.cost for run in runs if run.cost is not None] or [0.0]
    x = Axis(f"{title}{f' [{unit}]' if unit not in ('1', 'set') else ''}", runs[0].start, runs[-1].end)
    y = _cost_axis(costs, curve.by, units)
    present = None if told["present"] is None else plain(f"{of}.present", told["present"], told["unit"])
    here = present_stretch(curve)
    now = (told["present"] or 0.0, None if here is None or here.cost is None else _plotted(here.cost, curve.by, units))
    words = f"The least {OBJECTIVE[curve.by]} over {title}, in {len(runs)} steps from {min(costs):,.0f} to {max(costs):,.0f}."
    return step_chart(name, f"{OBJECTIVE[curve.by]} over {title}", words, runs, present, now, x, y).svg()


def _near(runs: list[Run], present: float | None, least: float) -> list[Run]:
    """The runs that have rigs, with a little of what lies beyond on either side, at least this much."""
    ends = [end for run in runs if run.cost is not None for end in (run.start, run.end)]
    ends += [present] if present is not None else []
    if not ends:
        return runs
    room = max((max(ends) - min(ends)) * _BEYOND, least)
    low, high = min(ends) - room, max(ends) + room
    kept = [Run(max(run.start, low), min(run.end, high), run.cost) for run in runs if run.end >= low and run.start <= high]
    return kept or runs


def _plotted(cost: float, by: str, units: str) -> float:
    return cost if by != "weight" or units == "si" else float(to_unit(cost, "lb"))


def _cost_axis(costs: Sequence[float], by: str, units: str) -> Axis:
    low, high = padded(costs)
    unit = {"price": "USD", "yearly-cost": "USD a year", "weight": "lb" if units == "us" else "kg"}[by]
    return Axis(f"{OBJECTIVE[by]} [{unit}]", low, high, "" if by == "weight" else "$")
