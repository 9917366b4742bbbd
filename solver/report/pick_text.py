"""The answer to pick, for people: what to buy, what it costs, what is tight, what binds, what was assumed, what to mind.

Contents: `pick_text`, and the parts of it that other answers share.
"""

from __future__ import annotations

from solver.answers.facts import Binding, Clash, Conflict, Line, Picked, Totals
from solver.brief.models import Assumption
from solver.quantities import to_unit
from solver.report.layout import Table, bullet, heading, paragraph
from solver.report.money_text import money_lines
from solver.rules import RULES
from solver.rules.balance import Balance
from solver.rules.cautions import Caution
from solver.rules.record import Rule
from solver.rules.sentence import binding_sentence, difference, figure, place_words, sentence, shown

_BEST = {"price": "Cheapest rig", "weight": "Lightest rig", "yearly-cost": "Rig of least yearly cost"}
_LESS = {"price": "costs less", "weight": "weighs less", "yearly-cost": "costs less a year"}
TIGHT = 12
"""How many of the tightest balances are listed."""


SMALL = 10.0
"""Differences of weight below this are shown to two digits."""


def titled(rule: Rule) -> str:
    """The rule's title as it stands in a list."""
    return rule.title[:1].upper() + rule.title[1:]


def money(value: float) -> str:
    """Whole dollars."""
    return figure(value, "USD")


def mass(value: float, units: str) -> str:
    """A mass [kg] in the wanted units."""
    return figure(float(to_unit(value, "lb")), "lb", units)


def amount(value: float, by: str, units: str) -> str:
    """A difference of the objective, in its own unit."""
    if by == "weight":
        shown_value, unit = shown(float(to_unit(value, "lb")), "lb", units)
        return mass(value, units) if abs(shown_value) >= SMALL else f"{shown_value:.2g} {unit}"
    return money(value) + (" a year" if by == "yearly-cost" else "")


def pick_text(picked: Picked, width: int, units: str = "us") -> str:
    """The whole answer in at most `width` columns."""
    lines = [picked.title]
    if picked.status == "found":
        lines += _found(picked, width, units)
    elif picked.status == "none":
        lines += conflict_lines(picked.conflicts, width, units)
        if not picked.reasons:
            lines += paragraph("What cannot hold together was not worked out: the limit of work ended before.", width)
    else:
        lines += ["", "The limit of work ended before it was known whether any rig fits. Not proven either way."]
    lines += assumed_lines(picked.assumptions, picked.waived, width) + caution_lines(picked.cautions, width)
    return "\n".join(lines) + "\n"


def _found(picked: Picked, width: int, units: str) -> list[str]:
    total = picked.total
    if total is None or picked.money is None:
        return []
    proof = (
        f"Proven: no rig in this catalog that fits {_LESS[picked.by]} ({picked.options:,} options, {picked.rows:,} "
        "balances)."
        if picked.proven
        else _unproven(picked, total, units)
    )
    lines = ["", *paragraph(
        f"{_BEST[picked.by]} that fits: {money(total.price)}; {mass(total.weight, units)} of equipment and empty vehicle. "
        + proof, width)]  # fmt: skip
    lines += heading("What to buy") + shopping(picked.rig, total, units).lines(width)
    lines += heading("Money") + money_lines(picked.money, width)
    lines += heading("Tightest balances") + _tightest(picked, units).lines(width)
    lines += heading("What binds")
    lines += binding_lines(picked.binding, picked.by, width, units) if picked.reasons else [_NO_REASONS]
    return lines


_NO_REASONS = "Not worked out: the limit of work ended before."


def _unproven(picked: Picked, total: Totals, units: str) -> str:
    """That a better rig may exist, and how much better it can be at the most."""
    words = "NOT PROVEN: the limit of work ended before every better rig was excluded."
    if picked.bound is None or picked.bound <= 0.0:
        return words
    cost = {"price": total.price, "weight": total.weight, "yearly-cost": total.yearly_cost}[picked.by]
    if picked.bound >= cost:
        return f"Proven: none {_LESS[picked.by]}. NOT PROVEN: which of the rigs that are as good comes first."
    gap = amount(cost - picked.bound, picked.by, units)
    share = f"{100.0 * (cost - picked.bound) / cost:.2g} %"
    return f"{words} None can be better by more than {gap} ({share})."


def shopping(rig: tuple[Line, ...], total: Totals, units: str) -> Table:
    """The rig slot by slot, with its totals."""
    rows = []
    for line in rig:
        what = line.label + (f" ({line.choice})" if line.choice else "")
        slot = line.item_class if line.item_class in _GROUPED else line.slot
        price = "owned" if line.owned else money(line.price)
        rows.append((slot.replace("_", " "), f"{what} [{line.item}]", price, mass(line.weight, units)))
    rows.append(("total", "", money(total.price), mass(total.weight, units)))
    return Table(("slot", "item", "price", "weight"), rows, "<<>>", flexible=1)


_GROUPED = ("safety_item", "tool", "spare_part", "winter_kit")


def tightest_balances(balances: tuple[Balance, ...]) -> list[Balance]:
    """One balance per rule, its tightest, the tightest rules first; yes-or-no rules left out."""
    best: dict[str, Balance] = {}
    for balance in balances:
        if not balance.applies or balance.unit == "1":
            continue
        held = best.get(balance.place.rule)
        if held is None or balance.slack_share < held.slack_share:
            best[balance.place.rule] = balance
    return sorted(best.values(), key=lambda b: (b.slack_share, b.place))


def balance_row(balance: Balance, units: str) -> tuple[str, str, str, str, str]:
    """Rule, title with place, need, supply and margin as text."""
    rule = RULES[balance.place.rule]
    part = f", {balance.place.part}" if balance.place.part else ""
    return (
        rule.id,
        f"{titled(rule)} ({place_words(balance)}{part})",
        figure(balance.need, balance.unit, units),
        figure(balance.supply, balance.unit, units),
        figure(balance.margin, difference(balance.unit), units),
    )


def _tightest(picked: Picked, units: str) -> Table:
    rows = [balance_row(b, units) for b in tightest_balances(picked.balances)[:TIGHT]]
    return Table(("rule", "what", "need", "supply", "margin"), rows, "<<>>>", flexible=1)


def binding_lines(binding: tuple[Binding, ...], by: str, width: int, units: str) -> list[str]:
    """Every binding rule with its saving, and what it forces."""
    if not binding:
        return ["No single rule: leaving out any one of them alone would not make the best rig better."]
    lines = paragraph(
        "Without the rule named, the best rig would be better by the saving given. Savings do not add up.", width
    )
    for entry in binding:
        lines += bullet(_binding_words(entry, by, units), width)
    return lines


def _binding_words(entry: Binding, by: str, units: str) -> str:
    rule = RULES[entry.rule]
    words = f"{entry.rule} {titled(rule)} ({rule.basis.value}): saves {amount(entry.saving, by, units)}."
    if entry.balance is not None:
        words += " " + binding_sentence(entry.balance, units)
    if len(entry.by_duty) > 1:
        told = [f"{duty} {amount(saving, by, units)}" for duty, saving in entry.by_duty.items() if saving > 0]
        words += (
            f" Dropped in one duty only: {'; '.join(told)}."
            if told
            else f" Needed by any one of the duties {', '.join(entry.by_duty)}."
        )
    return words


def clash_words(clash: Clash, units: str) -> str:
    """How close a rig that keeps all the others comes to this rule, and with which options."""
    if clash.balance is None:
        return ""
    if clash.balance.holds:
        return "It can be kept where each of its places is looked at alone, but not in all of them with the others."
    words = sentence(clash.balance, units)
    named = [f"{part.label} [{part.item}]" for part in clash.suppliers]
    return f"{words} Closest with: {', '.join(named)}." if 0 < len(named) <= _NAMED else words


def conflict_lines(conflicts: tuple[Conflict, ...], width: int, units: str) -> list[str]:
    """That no rig fits, and the conditions that cannot hold together."""
    lines = ["", "No rig in this catalog fits this brief. Proven."]
    for conflict in conflicts:
        lines += heading("What cannot hold together")
        if conflict.unavoidable:
            lines += paragraph(
                "Physics, ratings and regulation alone exclude every rig: no change of limits or practice helps; only "
                "the work can change.",
                width,
            )
        lines += paragraph(
            "These cannot all hold; with any one of them left out, a rig keeps the others. With each is the closest that "
            "such a rig comes to it.",
            width,
        )
        for clash in conflict.members:
            rule = RULES[clash.rule]
            words = f"{clash.rule} {titled(rule)} ({rule.basis.value})."
            lines += bullet(f"{words} {clash_words(clash, units)}".strip(), width)
    return lines


_NAMED = 2
"""Options that are named one by one beside a clash."""
_PRACTICE = "Common practice, no source."


def assumed_lines(assumptions: tuple[Assumption, ...], waived: tuple[str, ...], width: int) -> list[str]:
    """Every default used, with its reason, and the practices waived."""
    lines = []
    if assumptions:
        rows = [(a.name, a.value, a.why.replace(_PRACTICE, "").strip()) for a in assumptions]
        lines += heading("Assumed, since the brief does not say otherwise")
        lines += [*paragraph("Common practice, no source, unless the line says otherwise. Change any of it in the brief.",
                             width), ""]  # fmt: skip
        lines += Table(("figure", "value", "why"), rows, "<<<", flexible=2).lines(width)
    if waived:
        lines += ["", *paragraph("Practices waived by the brief: " + ", ".join(waived) + ".", width)]
    return lines


def caution_lines(cautions: tuple[Caution, ...], width: int) -> list[str]:
    """The cautions that belong to what is shown."""
    lines = heading("Cautions")
    for caution in cautions:
        lines += bullet(caution.text, width)
    return lines
