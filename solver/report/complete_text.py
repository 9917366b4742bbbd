"""The answer to check --complete, for people: what was added and what it costs; or what stands in the way.

Contents: `complete_text`, `named_line`, `slot_words`.
"""

from __future__ import annotations

from solver.answers.complete import Completed
from solver.answers.facts import Line
from solver.options.slots import ACCESSORY_CLASSES
from solver.options.table import NONE
from solver.report.layout import Table, bullet, heading, paragraph
from solver.report.money_text import money_lines
from solver.report.pick_text import (
    TIGHT,
    assumed_lines,
    balance_row,
    caution_lines,
    clash_words,
    mass,
    money,
    shopping,
    tightest_balances,
    titled,
)
from solver.rules import RULES
from solver.rules.sentence import sentence

_LEAST = {"price": "at least price", "weight": "at least weight", "yearly-cost": "at least yearly cost"}
_LESS = {"price": "costs less", "weight": "weighs less", "yearly-cost": "costs less a year"}


def named_line(line: Line) -> str:
    """An item as it is named: label, choice, id; "nothing" for an empty slot."""
    if line.item == NONE:
        return "nothing"
    return line.label + (f" ({line.choice})" if line.choice else "") + f" [{line.item}]"


def slot_words(line: Line) -> str:
    """The slot in words; safety items, tools, spares and winter kit by what they are."""
    return (line.item_class if line.item_class in ACCESSORY_CLASSES else line.slot).replace("_", " ")


def complete_text(completed: Completed, width: int, units: str = "us") -> str:
    """The whole answer in at most `width` columns."""
    lines = [completed.title, ""]
    lines += _found(completed, width, units) if completed.status == "found" else _stuck(completed, width, units)
    lines += assumed_lines(completed.assumptions, completed.waived, width)
    lines += caution_lines(completed.cautions, width)
    return "\n".join(lines) + "\n"


def _found(c: Completed, width: int, units: str) -> list[str]:
    if c.total is None or c.money is None:
        return []
    proof = (
        f"Proven: no rig with what is named that fits {_LESS[c.by]}."
        if c.proven
        else "NOT PROVEN: the limit of work ended before every better rig was excluded."
    )
    count = len(c.added)
    added = f"{count} thing{'' if count == 1 else 's'} added for {money(c.added_price)}" if count else "nothing to add"
    lines = paragraph(
        f"Completed {_LEAST[c.by]}: {added}; the whole rig {money(c.total.price)}, {mass(c.total.weight, units)} of "
        f"equipment and empty vehicle. {proof}",
        width,
    )
    rows = [(slot_words(line), named_line(line), money(line.price) if not line.owned else "owned",
             mass(line.weight, units)) for line in c.added]  # fmt: skip
    if rows:
        rows.append(("added", "", money(c.added_price), mass(sum(line.weight for line in c.added), units)))
        lines += heading("What was added")
        lines += Table(("slot", "item", "price", "weight"), rows, "<<>>", flexible=1).lines(width)
    lines += heading("The whole rig") + shopping(c.rig, c.total, units).lines(width)
    lines += heading("Money") + money_lines(c.money, width)
    tight = [balance_row(b, units) for b in tightest_balances(c.balances)[:TIGHT]]
    lines += heading("Tightest balances")
    return lines + Table(("rule", "what", "need", "supply", "margin"), tight, "<<>>>", flexible=1).lines(width)


def _stuck(c: Completed, width: int, units: str) -> list[str]:
    if not c.any_rig:
        lines = paragraph("No rig in this catalog fits this brief, whatever is named. Proven.", width)
        return lines + _conflict(c, "", width, units)
    lines = paragraph(
        "What is named cannot be completed: no rig in this catalog that has it all fits this brief. Proven.", width
    )
    lines += _ways(c, width, units)
    if c.against:
        lines += heading("What the brief says against it")
        for balance in c.against:
            rule = RULES[balance.place.rule]
            lines += bullet(f"{rule.id} {titled(rule)} ({rule.basis.value}). {sentence(balance, units)}", width)
        return lines
    return lines + _conflict(c, " that has what is named", width, units)


def _conflict(c: Completed, which: str, width: int, units: str) -> list[str]:
    lines: list[str] = []
    for conflict in c.conflicts:
        lines += heading("What cannot hold together")
        if conflict.unavoidable:
            lines += paragraph(
                f"Physics, ratings and regulation alone exclude every rig{which}: no change of limits or practice helps.",
                width,
            )
        told = (
            f"On a rig{which} these cannot all hold; all but any one of them can. With each is the closest that a rig "
            "keeping all the others comes to it."
            if len(conflict.members) > 1
            else f"On a rig{which} this cannot hold, even if nothing else is asked. With it is the closest that a rig comes."
        )
        lines += paragraph(told, width)
        for clash in conflict.members:
            rule = RULES[clash.rule]
            words = f"{rule.id} {titled(rule)} ({rule.basis.value}). {clash_words(clash, units)}"
            lines += bullet(words.strip(), width)
    return lines


def _ways(c: Completed, width: int, units: str) -> list[str]:
    size = len(c.ways[0].slots)
    told = f"{'One named slot' if size == 1 else f'{size} named slots'} must be let go; fewer are not enough. Proven."
    if len(c.ways) > 1:
        told += " Any one of these ways will do, the best rig first."
    lines = heading("What stands in the way") + paragraph(told, width)
    for way in c.ways:
        *most, last = (slot_words(line) for line in way.instead)
        slots = f"{', '.join(most)} and {last}" if most else last
        whole = f"{money(way.total.price)}, {mass(way.total.weight, units)}"
        lines += bullet(f"Let go of {slots}: the best rig that keeps the rest is {whole}.", width)
        for before, after in zip(way.named, way.instead, strict=True):
            pair = f"{slot_words(after)}: {named_line(after)} instead of {named_line(before)}"
            lines += bullet(pair, width, "  - ")
    if c.more_ways:
        lines += paragraph("There are further sets as small, with rigs no better than these.", width)
    return lines
