"""The answer to frontier, for people: a plot, and a readable number of its points with what changes from one to the next.

Contents: `frontier_text`.
"""

from __future__ import annotations

from solver.answers.frontier import Frontier
from solver.report.layout import Table, heading, paragraph
from solver.report.pick_text import assumed_lines, caution_lines, conflict_lines, mass, money
from solver.report.plot import scatter
from solver.report.swaps_text import swap_words

_HEIGHT = 16


def frontier_text(answer: Frontier, width: int, units: str = "us", plain: bool = False) -> str:
    """The whole answer in at most `width` columns; ASCII only if `plain`."""
    lines = [answer.title]
    if answer.status == "none":
        lines += conflict_lines(answer.conflicts, width, units)
    else:
        lines += _found(answer, width, units, plain)
    lines += assumed_lines(answer.assumptions, answer.waived, width) + caution_lines(answer.cautions, width)
    return "\n".join(lines) + "\n"


def _found(answer: Frontier, width: int, units: str, plain: bool) -> list[str]:
    count, third = len(answer.points), len(answer.costs) > 2
    names = "price, weight and yearly cost" if third else "price and weight"
    lines = ["", *paragraph(
        f"{count:,} {'rig makes' if count == 1 else 'rigs make'} the front of {names}: none of them can be bettered in one "
        f"without losing in another, and none is missing. Proven, with {answer.solves:,} solves.", width)]  # fmt: skip
    lines += heading("Price against weight") + _plot(answer, width, units, plain)
    lines += heading("Along the front, from the cheapest")
    if len(answer.shown) < count:
        lines += [*paragraph(
            f"{len(answer.shown)} of {count:,} points, spread over the front; each line says what changed from the line "
            "above. All of them are in --csv and --json.", width), ""]  # fmt: skip
    return lines + _table(answer, units, third).lines(width)


def _plot(answer: Frontier, width: int, units: str, plain: bool) -> list[str]:
    points = [(point.total.price, point.total.weight) for point in answer.points]
    prices, weights = [x for x, _ in points], [y for _, y in points]
    ends = ((money(min(prices)), money(max(prices))), (mass(min(weights), units), mass(max(weights), units)))
    return scatter(points, width, _HEIGHT, ("price", "weight of equipment and empty vehicle"), ends, plain)


def _table(answer: Frontier, units: str, third: bool) -> Table:
    rows = []
    for place, step in zip(answer.shown, answer.steps, strict=True):
        total = answer.points[place].total
        yearly = (money(total.yearly_cost),) if third else ()
        words = "the cheapest" if place == 0 else swap_words(step)
        rows.append((f"{place + 1:,}", money(total.price), mass(total.weight, units), *yearly, words))
    extra = ("a year",) if third else ()
    headings = ("point", "price", "weight", *extra, "what changed")
    return Table(headings, rows, ">" * (len(headings) - 1) + "<", flexible=len(headings) - 1)
