"""The answer to check, for people: what fails, then every balance, the tightest first.

Contents: `check_text`, `failure_lines`.
"""

from __future__ import annotations

from solver.answers.check import Checked
from solver.report.layout import Table, bullet, heading, paragraph
from solver.report.money_text import money_lines
from solver.report.pick_text import assumed_lines, balance_row, caution_lines, mass, money, shopping, titled
from solver.rules import RULES
from solver.rules.balance import Balance
from solver.rules.sentence import sentence


def check_text(checked: Checked, width: int, units: str = "us") -> str:
    """The whole answer in at most `width` columns."""
    failed = dict.fromkeys(b.place.rule for b in checked.failures)
    lines = [checked.title, ""]
    totals = f"{money(checked.total.price)}; {mass(checked.total.weight, units)} of equipment and empty vehicle."
    verdict = "This rig fits the brief: every rule holds." if checked.fits else (
        f"This rig does not fit: {len(failed)} rule{'s' if len(failed) != 1 else ''} broken in "
        f"{len(checked.failures)} place{'s' if len(checked.failures) != 1 else ''}.")  # fmt: skip
    lines += paragraph(f"{verdict} {totals}", width)
    if failed:
        lines += heading("What fails") + failure_lines(checked.failures, width, units)
        lines += ["", *paragraph("The swaps that mend it at least money: the same command with --mend.", width)]
    lines += heading("The rig") + shopping(checked.rig, checked.total, units).lines(width)
    if checked.fits:
        lines += heading("Money") + money_lines(checked.money, width)
    held = sorted((b for b in checked.balances if b.applies and b.unit != "1"), key=lambda b: (b.slack_share, b.place))
    rows = [balance_row(b, units) for b in held]
    lines += heading("Every balance, tightest first")
    lines += Table(("rule", "what", "need", "supply", "margin"), rows, "<<>>>", flexible=1).lines(width)
    lines += assumed_lines(checked.assumptions, checked.waived, width) + caution_lines(checked.cautions, width)
    return "\n".join(lines) + "\n"


def failure_lines(failures: tuple[Balance, ...], width: int, units: str) -> list[str]:
    """Every rule that is broken once, at its worst place, with the number of further places."""
    lines = []
    for rule in dict.fromkeys(b.place.rule for b in failures):
        own = [b for b in failures if b.place.rule == rule]
        words = f"{rule} {titled(RULES[rule])} ({RULES[rule].basis.value}). {sentence(own[0], units)}"
        if len(own) > 1:
            words += f" And in {len(own) - 1} more place{'s' if len(own) > 2 else ''}."
        lines += bullet(words, width)
    return lines
