"""The insist table, for people: class by class, what each item would cost more, or what excludes it.

Contents: `insist_text`.
"""

from __future__ import annotations

from solver.answers.insist import Extra, Insist
from solver.report.layout import Table, heading, paragraph
from solver.report.pick_text import amount, assumed_lines, caution_lines, conflict_lines, mass, money
from solver.report.rivals_text import rules_words

_MORE = {"price": "costs more", "weight": "weighs more", "yearly-cost": "more a year"}
_MOST = 4
"""Rules of a set that are told; all are in the JSON."""


def insist_text(answer: Insist, width: int, units: str = "us") -> str:
    """The whole table in at most `width` columns."""
    lines = [answer.title]
    if answer.total is None:
        lines += conflict_lines(answer.conflicts, width, units)
    else:
        lines += _table(answer, width, units)
    lines += assumed_lines(answer.assumptions, answer.waived, width) + caution_lines(answer.cautions, width)
    return "\n".join(lines) + "\n"


def _table(answer: Insist, width: int, units: str) -> list[str]:
    total = answer.total
    if total is None:
        return []
    possible = sum(one.extra is not None for one in answer.items)
    lines = ["", *paragraph(
        f"The pick: {money(total.price)}, {mass(total.weight, units)}. For each item, how much more the best rig with it "
        f"{'weighs' if answer.by == 'weight' else 'costs'}; 0 where a best rig holds it. {possible} of {len(answer.items)} "
        f"items can be had. All proven, with {_count(answer.solves, 'solve')} for the extras and "
        f"{_count(answer.rule_solves, 'question')} for the rules that exclude an item.", width)]  # fmt: skip
    for name in dict.fromkeys(one.item_class for one in answer.items):
        own = [one for one in answer.items if one.item_class == name]
        title = name.replace("_", " ")
        lines += heading(title[:1].upper() + title[1:])
        had = [one for one in own if one.extra is not None]
        rows = [(one.item, one.label + (" (picked)" if one.picked else ""), _extra(one, answer.by, units)) for one in had]
        if rows:
            lines += Table(("item", "", _MORE[answer.by]), rows, "<<>", flexible=1).lines(width)
        lines += _excluded([one for one in own if one.extra is None], width)
    return lines


def _count(number: int, word: str) -> str:
    return f"{number:,} {word}{'' if number == 1 else 's'}"


def _extra(one: Extra, by: str, units: str) -> str:
    if not one.extra:
        return "0"
    text = amount(one.extra, by, units)
    return "under " + text.replace("0", "1", 1) if text.split()[0] in ("0", "$0") else text


def _excluded(items: list[Extra], width: int) -> list[str]:
    """Items that no rig can have, those with the same rules together; single rules first."""
    lines: list[str] = []
    for rules in sorted(dict.fromkeys(one.rules for one in items), key=lambda rules: len(rules) > 1):
        names = ", ".join(one.item for one in items if one.rules == rules)
        lines += ["", *paragraph(f"In no rig: {names}. Excluded by {_rules(rules)}.", width)]
    return lines


def _rules(rules: tuple[str, ...]) -> str:
    """The first few rules in words, and how many more there are."""
    more = len(rules) - _MOST
    return rules_words(rules[:_MOST]) + (f"; and {more} more" if more > 0 else "")
