"""Why each choice, in a few words: which rules the better choices of the slot would break, and by how much.

Contents: `reason_words`.
"""

from __future__ import annotations

from collections.abc import Iterator

from solver.answers.sheet import Hindrance, Reason
from solver.options.table import NONE
from solver.report.sheet.figures import typeset
from solver.rules import RULES
from solver.rules.sentence import figure

_LEAST = {
    "price": "The cheapest there is.", "weight": "The lightest there is.", "yearly-cost": "The least yearly cost there is.",
}  # fmt: skip
_BETTER = {"price": "cheaper", "weight": "lighter", "yearly-cost": "less costly"}
_KITS = ("SAFE-", "TOOL-", "SPARE-", "WINTER-")


def reason_words(reason: Reason, by: str, units: str) -> str:
    """The reason for one line of the list."""
    if reason.kind == "owned":
        return "Already owned."
    if reason.kind == "least":
        return _LEAST[by]
    if all(entry.item == NONE and entry.rule.startswith(_KITS) for entry in reason.hindrances):
        return f"On the list of {', '.join(entry.rule for entry in reason.hindrances)}."
    return typeset(" ".join(_words(reason, by, units)))


def _words(reason: Reason, by: str, units: str) -> Iterator[str]:
    """One sentence on what is better in price or weight, one on leaving the slot empty."""
    taken = [entry for entry in reason.hindrances if entry.item != NONE]
    if taken:
        total = reason.better
        subject = f"The one {_BETTER[by]} choice fails" if total == 1 else f"Of {total} {_BETTER[by]} choices"
        if total > 1 and len(taken) == 1 and taken[0].options == total:
            subject = f"All {total} {_BETTER[by]} choices fail"
        told = [_fails(entry, units, counted=subject.startswith("Of")) for entry in taken]
        yield f"{subject} {'; '.join(told)}."
    for entry in reason.hindrances:
        if entry.item == NONE:
            yield f"Without any: {_rule(entry)}{_numbers(entry, units, '')}."


def _fails(entry: Hindrance, units: str, counted: bool) -> str:
    count = f"{entry.options} fail{'s' * (entry.options == 1)} " if counted else ""
    return f"{count}{_rule(entry)}{_numbers(entry, units, 'the nearest ' if entry.options > 1 else '')}"


def _rule(entry: Hindrance) -> str:
    part = entry.balance.place.part if entry.balance.unit == "1" and _plain_part(entry) else ""
    title = RULES[entry.rule].title
    return f"“{title[:1].lower()}{title[1:]}” ({entry.rule}{', ' + part if part else ''})"


def _plain_part(entry: Hindrance) -> bool:
    return bool(entry.balance.place.part) and entry.balance.place.part != RULES[entry.rule].title


def _numbers(entry: Hindrance, units: str, nearest: str) -> str:
    balance = entry.balance
    if balance.unit in ("1", "set"):
        return ""
    need, supply = (figure(value, balance.unit, units) for value in (balance.need, balance.supply))
    return f": {nearest}needs {need}, has {supply}" if nearest else f": {need} needed, {supply} there"
