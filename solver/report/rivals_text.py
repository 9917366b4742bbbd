"""The answer to rivals, for people: the rigs side by side, and how each differs from the pick.

Contents: `rivals_text`, `rules_words`.
"""

from __future__ import annotations

from collections.abc import Sequence

from solver.answers.rivals import Kind, Rival, Rivals
from solver.report.layout import Table, bullet, heading, paragraph
from solver.report.pick_text import assumed_lines, caution_lines, conflict_lines, mass, money, titled
from solver.report.swaps_text import swap_lines
from solver.rules import RULES

_ORDER = {"price": "price", "weight": "weight", "yearly-cost": "yearly cost"}
_GROUPS = {"power": "Power", "vehicle": "Truck or trailer", "drive": "Drive of the proportioner",
           "condition": "New or used", "delivery": "Delivery"}  # fmt: skip
_MOST = 8
"""Rules that are named with their titles."""


def rivals_text(answer: Rivals, width: int, units: str = "us") -> str:
    """The whole answer in at most `width` columns."""
    lines = [answer.title]
    if answer.status == "none":
        lines += conflict_lines(answer.conflicts, width, units)
    elif answer.status == "unknown":
        lines += ["", "The limit of work ended before it was known whether any rig fits. Not proven either way."]
    elif answer.kinds:
        lines += _kinds(answer, width, units)
    else:
        lines += _rivals(answer, width, units)
    lines += assumed_lines(answer.assumptions, answer.waived, width) + caution_lines(answer.cautions, width)
    return "\n".join(lines) + "\n"


def _rivals(answer: Rivals, width: int, units: str) -> list[str]:
    names = [name.replace("_", " ") for name in answer.differ]
    where = names[0] if len(names) == 1 else ", ".join(names[:-1]) + " or " + names[-1]
    lines = ["", *paragraph(
        f"The next best rigs by {_ORDER[answer.by]}. Each differs from every one above it in the {where}. "
        + ("All proven." if all(rival.proven for rival in answer.rivals) else "NOT all proven: the limit of work ended."),
        width)]  # fmt: skip
    lines += heading("Side by side") + _table(answer, units).lines(width)
    lines += heading("Money") + _money(answer).lines(width)
    if answer.exhausted:
        lines += ["", *paragraph("No further rig that fits differs there. Proven.", width)]
    for place, rival in enumerate(answer.rivals[1:], start=2):
        lines += heading(f"{_title(place)}: how it differs from the pick")
        lines += [line for words in swap_lines(rival.swaps) for line in bullet(words, width)]
    return lines


def _title(place: int) -> str:
    return "Pick" if place == 1 else f"Rival {place}"


def _table(answer: Rivals, units: str) -> Table:
    pick = answer.rivals[0]
    rows = []
    for place, rival in enumerate(answer.rivals, start=1):
        items = {line.slot: line.item for line in rival.rig}
        held = ", ".join(items.get(name, f"no {name.replace('_', ' ')}") for name in answer.differ)
        rows.append((str(place), held, money(rival.total.price), _more(rival, pick, units)[0],
                     mass(rival.total.weight, units), _more(rival, pick, units)[1]))  # fmt: skip
    return Table(("", "items", "price", "more", "weight", "more"), rows, "><>>>>", flexible=1)


def _money(answer: Rivals) -> Table:
    rows = []
    for place, rival in enumerate(answer.rivals, start=1):
        told = rival.money
        even = "never" if told.break_even_board_feet is None else f"{told.break_even_board_feet:,.0f}"
        rows.append((str(place), money(told.start_up), money(told.cash_until_delivery), money(told.loan_payment),
                     money(told.yearly_cost), f"${told.cost_per_board_foot:.3f}", even))  # fmt: skip
    headings = ("", "start-up", "cash until delivery", "loan a month", "rig a year", "board foot", "breaks even [board feet]")
    return Table(headings, rows, ">>>>>>>", flexible=6)


def _more(rival: Rival, pick: Rival, units: str) -> tuple[str, str]:
    """What a rival costs and weighs more than the pick, with its sign."""
    price, weight = rival.total.price - pick.total.price, rival.total.weight - pick.total.weight
    return _signed(money(price), price), _signed(mass(weight, units), weight)


def _signed(text: str, value: float) -> str:
    return f"+{text}" if value > 0 and not text.startswith("-") else text


def rules_words(rules: Sequence[str]) -> str:
    """Rules by id and title; the rest of a long list by id alone."""
    if not rules:
        return "what the brief owns and leaves out"
    named = [f"{rule} {titled(RULES[rule])}" for rule in rules[:_MOST]]
    return "; ".join(named) + (f"; with {', '.join(rules[_MOST:])}" if len(rules) > _MOST else "")


def _kinds(answer: Rivals, width: int, units: str) -> list[str]:
    pick = answer.rivals[0]
    lines = ["", *paragraph(
        f"The best rig of each kind by {_ORDER[answer.by]}, beside the pick: {money(pick.total.price)}, "
        f"{mass(pick.total.weight, units)}.", width)]  # fmt: skip
    for group in dict.fromkeys(kind.group for kind in answer.kinds):
        own = [kind for kind in answer.kinds if kind.group == group]
        lines += heading(_GROUPS[group]) + _kind_table(own, pick, units).lines(width)
        for kind in own:
            if kind.rival is None:
                lines += ["", *paragraph(f"{_upper(kind.name)}: no rig fits. Excluded by {rules_words(kind.rules)}.", width)]
            elif kind.rival.swaps:
                lines += ["", f"{_upper(kind.name)}, beside the pick:"]
                lines += [line for words in swap_lines(kind.rival.swaps) for line in bullet(words, width)]
    return lines


def _upper(text: str) -> str:
    return text[:1].upper() + text[1:]


def _kind_table(kinds: Sequence[Kind], pick: Rival, units: str) -> Table:
    rows = []
    for kind in kinds:
        if kind.rival is None:
            rows.append((kind.name, "none fits", "", "", ""))
            continue
        total, more = kind.rival.total, _more(kind.rival, pick, units)
        note = ("the pick", "") if not kind.rival.swaps else more
        rows.append((kind.name, money(total.price), note[0], mass(total.weight, units), note[1]))
    return Table(("kind", "price", "more", "weight", "more"), rows, "<>>>>", flexible=0)
