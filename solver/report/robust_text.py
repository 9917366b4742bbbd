"""A robust pick for people: the rig that holds over the ranges, what certainty costs, and which points decide.

Contents: `robust_text`.
"""

from __future__ import annotations

from solver.answers.robust_facts import Exchange, Robust, Scenario
from solver.brief.ranges import Range
from solver.report.layout import Table, bullet, heading, paragraph
from solver.report.money_text import money_lines
from solver.report.pick_text import (
    TIGHT,
    amount,
    assumed_lines,
    balance_row,
    caution_lines,
    mass,
    money,
    shopping,
    tightest_balances,
    titled,
)
from solver.report.robust_data import shown_end, unit_of_range
from solver.rules import RULES

_BEST = {"price": "Cheapest rig", "weight": "Lightest rig", "yearly-cost": "Rig of least yearly cost"}
_WRITTEN = {"delta_degF": "degF", "1": ""}


def robust_text(found: Robust, width: int, units: str = "us") -> str:
    """The whole answer in at most `width` columns."""
    lines = [found.title]
    if found.status == "found":
        lines += _found(found, width, units)
    elif found.status == "none":
        lines += _none(found, width, units)
    else:
        lines += ["", "The limit of work ended before it was known whether any rig fits. Not proven either way."]
    lines += assumed_lines(found.assumptions, found.waived, width) + caution_lines(found.cautions, width)
    return "\n".join(lines) + "\n"


def end_words(each: Range, value: float, units: str) -> str:
    """A value of a range with its unit."""
    unit = unit_of_range(each, units)
    if unit == "USD":
        return money(value)
    return f"{round(shown_end(each, value, units), 2):,.10g} {_WRITTEN.get(unit, unit)}".strip()


def _point(found: Robust, values: tuple[float, ...], units: str) -> str:
    return ", ".join(f"{each.path} {end_words(each, value, units)}" for each, value in zip(found.ranges, values, strict=True))


def _found(found: Robust, width: int, units: str) -> list[str]:
    if found.total is None or found.money is None:
        return []
    words = (
        f"{_BEST[found.by]} that fits wherever the ranges may lie: {money(found.total.price)}; "
        f"{mass(found.total.weight, units)} of equipment and empty vehicle. Proven: a better one fails at one of the points "
        "tried."
    )
    lines = ["", *paragraph(words, width), "", *_ranges(found, units).lines(width), ""]
    lines += [*paragraph(_certainty(found, units), width), "", *paragraph(_held(found), width)]
    lines += heading("Which points decide") + _deciding(found, width, units)
    lines += heading("What to buy") + shopping(found.rig, found.total, units).lines(width)
    lines += heading("Money, at the nominal values") + money_lines(found.money, width)
    rows = [balance_row(balance, units) for balance in tightest_balances(found.balances)[:TIGHT]]
    table = Table(("rule", "what", "need", "supply", "margin"), rows, "<<>>>", flexible=1)
    return lines + heading("Tightest balances over the points of the program") + table.lines(width)


def _ranges(found: Robust, units: str) -> Table:
    rows = [
        (
            each.path,
            end_words(each, each.low, units),
            end_words(each, each.high, units),
            end_words(each, each.nominal, units),
            "as the brief says" if each.stated else "the middle",
        )
        for each in found.ranges
    ]
    return Table(("range", "from", "to", "nominal", "which is"), rows, "<>>><", flexible=0)


def _certainty(found: Robust, units: str) -> str:
    if found.nominal is None or found.extra is None:
        return "At the nominal values alone no rig is known to compare with."
    if found.extra <= 0.0:
        return "Certainty costs nothing: the best rig at the nominal values alone is as good."
    words = f"Certainty costs {amount(found.extra, found.by, units)}: at the nominal values alone "
    words += f"{money(found.nominal.price)}, {mass(found.nominal.weight, units)} would do."
    return f"{words} {_exchanges(found.exchanges)}"


def _exchanges(exchanges: tuple[Exchange, ...]) -> str:
    main = [e for e in exchanges if "-" not in e.slot]
    kit = len(exchanges) - len(main)
    words = [f"{e.slot.replace('_', ' ')}: {_exchange(e)}" for e in main]
    if kit:
        words.append(f"{kit} piece{'s' * (kit != 1)} of kit {'are others' if kit != 1 else 'is another'}")
    return f"What it buys: {'; '.join(words)}." if words else ""


def _exchange(e: Exchange) -> str:
    if not e.nominal:
        return f"{e.robust} added"
    return f"{e.robust} instead of {e.nominal}" if e.robust else f"{e.nominal} left out"


def _held(found: Robust) -> str:
    tried = f"{found.grid_points:,} points of a grid and {found.random_points:,} random ones"
    if found.certified:
        words = (
            f"It holds over the whole ranges: on {tried}, and every balance of this rig that moves is monotone along each "
            "range on the grid, so that the ends speak for all between."
        )
    else:
        rules = ", ".join(found.uncertified)
        words = (
            f"It holds over the grid: on {tried}. Between them it is not certified, since balances of these rules are not "
            f"monotone there: {rules}."
        )
    if found.left_out:
        words += f" {found.left_out:,} points were left out, since no brief can say them."
    return words


def _deciding(found: Robust, width: int, units: str) -> list[str]:
    deciding = [scenario for scenario in found.scenarios if scenario.saving > 0.0]
    if not deciding:
        return paragraph("No single one: without any one of them the rig would be the same.", width)
    lines = paragraph("Without the point named, the rig could be better by the saving given. Savings do not add up.", width)
    for scenario in deciding:
        lines += bullet(_scenario_words(found, scenario, units), width)
    return lines


def _scenario_words(found: Robust, scenario: Scenario, units: str) -> str:
    words = f"{_point(found, scenario.values, units)}: saves {amount(scenario.saving, found.by, units)}."
    if not scenario.corner and scenario.values != tuple(each.nominal for each in found.ranges):
        words += " Inside the ranges, found by trying."
    if scenario.rules:
        told = "; ".join(f"{rule} {titled(RULES[rule])}" for rule in scenario.rules)
        words += f" The better rig would break there: {told}."
    return words


def _none(found: Robust, width: int, units: str) -> list[str]:
    lines = ["", *paragraph("No rig in this catalog fits wherever the ranges may lie. Proven.", width), ""]
    lines += _ranges(found, units).lines(width)
    if found.impossible:
        lines += heading("Where no rig fits, even alone")
        for point in found.impossible:
            lines += bullet(_point(found, point, units), width)
    else:
        lines += ["", *paragraph("At each end alone some rig fits, but none at all of them.", width)]
    lines += heading("What cannot hold together over the ranges")
    lines += paragraph("These cannot all hold at all points; with any one of them left out, a rig keeps the others.", width)
    for rule in found.conflict:
        lines += bullet(f"{rule} {titled(RULES[rule])} ({RULES[rule].basis.value}).", width)
    return lines
