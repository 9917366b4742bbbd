"""The answer to why, for people.

Contents: `why_text`.
"""

from __future__ import annotations

from solver.answers.why import Why
from solver.report.layout import bullet, heading, paragraph
from solver.report.pick_text import binding_lines, caution_lines, conflict_lines, mass, money
from solver.report.worksheet_text import worksheet_lines

_BEST = {"price": "The cheapest rig", "weight": "The lightest rig", "yearly-cost": "The rig of least yearly cost"}


def why_text(answer: Why, width: int, units: str = "us") -> str:
    """The whole answer in at most `width` columns."""
    lines = [answer.title]
    if answer.total is None:
        lines += conflict_lines(answer.conflicts, width, units)
    else:
        told = f"{money(answer.total.price)}; {mass(answer.total.weight, units)} of equipment and empty vehicle."
        lines += ["", *paragraph(f"{_BEST[answer.by]} that fits: {told}", width)]
        if answer.rules:
            lines += heading("Working") + _working(answer, width, units)
        elif not answer.binding:
            lines += heading("What binds") + binding_lines((), answer.by, width, units)
        else:
            lines += heading("What binds") + binding_lines(answer.binding, answer.by, width, units)
            lines += heading("What each of them reads in the brief") + _reads(answer, width)
    lines += caution_lines(answer.cautions, width)
    return "\n".join(lines) + "\n"


def _working(answer: Why, width: int, units: str) -> list[str]:
    lines: list[str] = []
    for sheet in answer.worksheets:
        if sheet.balance.applies:
            lines += worksheet_lines(sheet, width, units)
    return lines or ["The rule does not come into play on this rig."]


def _reads(answer: Why, width: int) -> list[str]:
    lines = []
    for entry in answer.binding:
        names = ", ".join(name.replace("_", " ") for name in entry.reads) or "nothing that can be changed"
        lines += bullet(f"{entry.rule}: {names}", width)
    return lines
