"""The top of the page: what each duty asks, totals, the first two sentences, and where the rig breaks even.

Contents: `DutyRow`, `duty_rows`, `duty_data`, `totals`, `kit_data`, `lede`, `even`.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import ceil
from typing import Any

from solver.answers.facts import MoneyFacts, Picked, Totals
from solver.brief.models import Brief
from solver.quantities import to_unit
from solver.report.as_data import number, pounds
from solver.report.sheet.figures import Figure, Text, dollars, fig, pounds_of, typeset
from solver.report.sheet.subjects import is_kit
from solver.rules.sentence import shown

_SITE = (("altitude", "ft"), ("coldest_air", "degF"), ("hottest_air", "degF"))


def duty_data(brief: Brief) -> list[dict[str, Any]]:
    """The site of each duty: altitude [ft], coldest and hottest air [degF]."""
    return [
        {"name": duty.name, **{name: number(float(to_unit(getattr(duty, name), unit))) for name, unit in _SITE}}
        for duty in brief.duties
    ]


def kit_data(picked: Picked) -> dict[str, Any]:
    """Safety, tools, spare parts and winter kit together."""
    lines = [line for line in picked.rig if is_kit(line.item_class)]
    return {
        "lines": len(lines),
        "price": number(sum(line.price for line in lines), 2),
        "weight_lb": pounds(sum(line.weight for line in lines)),
    }


@dataclass(frozen=True)
class DutyRow:
    """One duty: what is asked of the rig there."""

    name: str
    material: str
    output: Figure | None
    reach: Figure | None
    altitude: Figure
    coldest: Figure
    hottest: Figure


def duty_rows(brief: Brief, picked: Picked, labels: dict[str, str], units: str) -> tuple[DutyRow, ...]:
    """What each duty asks, output and reach as the balances have them."""
    places = {(b.place.rule, b.place.duty): (i, b) for i, b in enumerate(picked.balances)}

    def asked(rule: str, duty: str) -> Figure | None:
        if (rule, duty) not in places:
            return None
        i, balance = places[rule, duty]
        value = shown(balance.need, balance.unit, units)[0]
        return fig(f"pick.balances.{i}.need", balance.need, balance.unit, units, shown=value)

    rows = []
    for k, (duty, site) in enumerate(zip(brief.duties, duty_data(brief), strict=True)):
        material = duty.material or brief.materials[0].material
        figures = [_whole(f"duties.{k}.{name}", site[name], unit, units) for name, unit in _SITE]
        output, reach = asked("MAT-01", duty.name), asked("HOSE-01", duty.name)
        rows.append(DutyRow(duty.name, labels.get(material, material), output, reach, *figures))
    return tuple(rows)


def _whole(of: str, value: float, unit: str, units: str) -> Figure:
    """A site's figure without decimals that nobody measured."""
    there, word = shown(value, unit, units)
    return Figure(of, value, typeset(f"{there:,.0f} {word}"))


def totals(picked: Picked, total: Totals, units: str) -> dict[str, Figure]:
    """Totals of the list: all of it, and the kit."""
    kit = [line for line in picked.rig if is_kit(line.item_class)]
    return {
        "price": dollars("pick.total.price", total.price),
        "weight": pounds_of("pick.total.weight_lb", total.weight, units),
        "kit_lines": Figure("kit.lines", len(kit), str(len(kit))),
        "kit_price": dollars("kit.price", sum(line.price for line in kit)),
        "kit_weight": pounds_of("kit.weight_lb", sum(line.weight for line in kit), units),
    }


def even(money: dict[str, Any]) -> dict[str, Figure] | None:
    """Where the rig breaks even, None where it never does."""
    if money["break_even_board_feet"] is None:
        return None

    def at(name: str, text: str) -> Figure:
        return Figure(f"pick.money.{name}", money[name], text)

    return {
        "feet": at("break_even_board_feet", f"{money['break_even_board_feet']:,.0f}"),
        "days": at("break_even_days", f"{ceil(money['break_even_days'] - 1e-9):,}"),
        "share": at("break_even_share", f"{money['break_even_share']:.0%}"),
        "year": at("days_a_year", f"{money['days_a_year']:g}"),
        "year_feet": at("board_feet_a_year", f"{money['board_feet_a_year']:,.0f}"),
    }


_LESS = {"price": "costs less", "weight": "weighs less", "yearly-cost": "costs less a year"}


def lede(picked: Picked, total: Totals, money: MoneyFacts, duties: Sequence[DutyRow], units: str) -> tuple[Text, Text]:
    """What this rig does, and what it costs."""
    vehicle = next((line for line in picked.rig if line.slot == "tow_vehicle"), None)
    does: list[str | Figure] = [f"This {'trailer' if vehicle else 'truck'} rig "]
    for k, duty in enumerate(duties):
        does.append(f"{'serves' if k == 0 else '; it also serves' if k == 1 else '; and'} “{duty.name}”: ")
        if duty.output is not None:
            does += [duty.output, " of foam material "]
        if duty.reach is not None:
            does += ["at ", duty.reach, " of hose, "]
        does += [duty.altitude, " above the sea, ", duty.coldest, " to ", duty.hottest]
    does.append(".")
    proof = (
        f"; proven: no rig in this catalog that fits {_LESS[picked.by]}."
        if picked.proven
        else f"; not proven: a rig that {_LESS[picked.by]} may exist."
    )
    costs: list[str | Figure] = [
        "It costs ", dollars("pick.total.price", total.price), " to buy and ", dollars("pick.money.start_up", money.start_up),
        " to start, weighs ", pounds_of("pick.total.weight_lb", total.weight, units), " with its vehicle empty, and takes ",
        dollars("pick.money.yearly_cost", money.yearly_cost), " a year to own and fuel", proof,
    ]  # fmt: skip
    return tuple(does), tuple(costs)
