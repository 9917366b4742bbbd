"""The answer to why, for people.

Contents: `why_text`; `repair_remarks`, which the page says too.
"""

from __future__ import annotations

from solver.answers.facts import Argument, Binding, Change, Conflict, Reason, Repair
from solver.answers.why import Why
from solver.brief.requirements import REQUIREMENTS
from solver.report.layout import bullet, heading, paragraph
from solver.report.pick_text import amount, binding_lines, caution_lines, clash_words, mass, money, titled
from solver.report.steps_text import room_lines, step_lines, value_words, way_words
from solver.report.worksheet_text import worksheet_lines
from solver.rules import RULES
from solver.rules.sentence import binding_sentence

_BEST = {"price": "The cheapest rig", "weight": "The lightest rig", "yearly-cost": "The rig of least yearly cost"}
_BETTER = {"price": "cheaper", "weight": "lighter", "yearly-cost": "cheaper a year"}
_LEAST = {"price": "cheapest", "weight": "lightest", "yearly-cost": "cheapest"}
_KITS = ("safety-", "tool-", "spare-part-", "winter-kit-")
"""How the slots of small kit begin."""


def why_text(answer: Why, width: int, units: str = "us") -> str:
    """The whole answer in at most `width` columns."""
    lines = [answer.title]
    if answer.total is None:
        lines += _clashing(answer, width, units) + _mending(answer, width, units)
    else:
        told = f"{money(answer.total.price)}; {mass(answer.total.weight, units)} of equipment and empty vehicle."
        lines += ["", *paragraph(f"{_BEST[answer.by]} that fits: {told}", width)]
        lines += _working(answer, width, units) if answer.rules else _holding(answer, width, units)
    lines += caution_lines(answer.cautions, width)
    return "\n".join(lines) + "\n"


# --- a rig ------------------------------------------------------------------------------------------------------------
def _working(answer: Why, width: int, units: str) -> list[str]:
    lines = [line for sheet in answer.worksheets if sheet.balance.applies for line in worksheet_lines(sheet, width, units)]
    return heading("Working") + (lines or ["The rule does not come into play on this rig."])


def _holding(answer: Why, width: int, units: str) -> list[str]:
    lines = heading("What binds")
    if answer.binding:
        lines += binding_lines(answer.binding, answer.by, width, units)
        lines += heading("What each of them reads in the brief") + _reads(answer.binding, width)
    else:
        lines += _joint(answer, width)
    lines += heading("What a little less would save") + step_lines(answer.steps, answer.by, width, units)
    rooms = room_lines(answer.steps, width, units)
    if rooms:
        lines += heading("What a little more would cost") + rooms
    if answer.argument is not None:
        lines += _argued(answer.argument, answer.by, width, units)
    return lines


def _joint(answer: Why, width: int) -> list[str]:
    if not answer.jointly:
        return paragraph("Nothing: every slot holds its best item, whatever the rules.", width)
    lines = paragraph("No rule alone: whichever one is left out, the others hold the rig where it is. These hold it "
                      "together:", width)  # fmt: skip
    for rule in answer.jointly:
        lines += bullet(f"{rule} {titled(RULES[rule])} ({RULES[rule].basis.value}).", width)
    return lines


def _reads(binding: tuple[Binding, ...], width: int) -> list[str]:
    lines = []
    for entry in binding:
        titles = [REQUIREMENTS[name].title if name in REQUIREMENTS else name.replace("_", " ") for name in entry.reads]
        if titles:
            lines += bullet(f"{entry.rule}: {', '.join(titles)}.", width)
    others = [entry.rule for entry in binding if not entry.reads]
    if others:
        lines += bullet(f"Nothing that can be changed: {', '.join(others)}.", width)
    return lines


def _argued(argument: Argument, by: str, width: int, units: str) -> list[str]:
    lines = heading(f"Why nothing is {_percent(argument.share)} {_BETTER[by]}")
    count = len(argument.rules) + len(argument.at_least)
    lines += paragraph(
        f"Such a rig would come to {amount(argument.limit, by, units)} at most. No rig does that and keeps these {count} "
        "rules; with any one of them left out, a rig that keeps the others does.",
        width,
    )
    for reason in argument.rules:
        lines += bullet(_reason_words(reason, by, units), width)
    if argument.at_least:
        lines += bullet(_least_words(argument.at_least, by), width)
    return lines


def _percent(share: float) -> str:
    return f"{100.0 * share:.3g} %"


def _reason_words(reason: Reason, by: str, units: str) -> str:
    words = f"{reason.rule} {titled(RULES[reason.rule])}"
    if reason.saving:
        words += f" (alone {amount(reason.saving, by, units)})"
    if reason.balance is None:
        return f"{words}. This rig does not feel it; it shuts out others."
    return f"{words}. {binding_sentence(reason.balance, units)}"


def _least_words(reasons: tuple[Reason, ...], by: str) -> str:
    slots: dict[str, list[str]] = {}
    kits = []
    for reason in reasons:
        if reason.slots and all(slot.startswith(_KITS) for slot in reason.slots):
            kits.append(reason.rule)
            continue
        for slot in reason.slots:
            slots.setdefault(slot.replace("_", " "), []).append(reason.rule)
    told = [f"{slot} ({', '.join(rules)})" for slot, rules in slots.items()]
    if kits:
        told.append(f"safety items, tools and spares ({', '.join(kits)})")
    return f"The rig already holds the {_LEAST[by]} that the rules named allow as {_listed(told)}."


def _listed(words: list[str]) -> str:
    return words[0] if len(words) == 1 else f"{', '.join(words[:-1])} and {words[-1]}"


# --- no rig -----------------------------------------------------------------------------------------------------------
def _clashing(answer: Why, width: int, units: str) -> list[str]:
    lines = ["", "No rig in this catalog fits this brief. Proven."]
    groups = _merged(answer.conflicts)
    for number, (conflict, others) in enumerate(groups, 1):
        lines += heading("What cannot hold together" + (f" ({number} of {len(groups)})" if len(groups) > 1 else ""))
        if conflict.unavoidable:
            lines += paragraph("Physics, ratings and regulation alone exclude every rig: no change of limits or practice "
                               "helps; only the work can change.", width)  # fmt: skip
        if number == 1:
            lines += paragraph("These cannot all hold; with any one of them left out, a rig keeps the others. With each is "
                               "the closest that such a rig comes to it.", width)  # fmt: skip
        for clash in conflict.members:
            rule = RULES[clash.rule]
            words = f"{clash.rule} {titled(rule)} ({rule.basis.value}). {clash_words(clash, units)}".strip()
            lines += bullet(words, width)
        for out, into in others:
            lines += bullet(f"The same with {into} {titled(RULES[into])} in place of {out}.", width, "  or ")
    if not answer.all_conflicts:
        lines += ["", *paragraph("There are further conflicts, none of them with fewer rules of physics, regulation and "
                                 "rating than these." if len(answer.conflicts) > 1 else "There may be further conflicts.",
                                 width)]  # fmt: skip
    return lines


def _merged(conflicts: tuple[Conflict, ...]) -> list[tuple[Conflict, list[tuple[str, str]]]]:
    """Conflicts with those that differ from them in one rule only: which rule goes, and which stands in its place."""
    groups: list[tuple[Conflict, list[tuple[str, str]]]] = []
    for conflict in conflicts:
        own = {clash.rule for clash in conflict.members}
        for first, others in groups:
            known = {clash.rule for clash in first.members}
            if len(own) == len(known) and len(own - known) == 1:
                others.append((next(iter(known - own)), next(iter(own - known))))
                break
        else:
            groups.append((conflict, []))
    return groups


def _mending(answer: Why, width: int, units: str) -> list[str]:
    changes = [change for repair in answer.repairs + answer.sets for change in repair.changes]
    several = len({name for change in changes for name in change.duties}) > 1
    lines = heading("What would make a rig possible")
    if answer.repairs:
        lines += paragraph("Each of these alone is enough, in the least amount that is:", width)
        for repair in answer.repairs:
            lines += bullet(_repair_words(repair, answer.by, units, several), width)
    else:
        lines += paragraph("No single change of a wish, a limit or a margin is enough, as far as makes sense.", width)
    if answer.sets:
        also = "Also enough, together:" if answer.repairs else "Enough together, each in the least amount that is:"
        lines += ["", *paragraph(also, width)]
        for repair in answer.sets:
            lines += bullet(_repair_words(repair, answer.by, units, several), width)
    elif not answer.repairs:
        lines += paragraph("No set of such changes that was tried is enough either: the site or the catalog decides.", width)
    return lines


def _repair_words(repair: Repair, by: str, units: str, several: bool) -> str:
    changes = _listed([_change_words(change, units, several) for change in repair.changes])
    total = repair.total
    yearly = f"{money(total.yearly_cost)} a year"
    worth = {"price": money(total.price), "weight": mass(total.weight, units), "yearly-cost": yearly}[by]
    said = f"{changes[:1].upper()}{changes[1:]}: then {_BEST[by].lower()} comes to {worth}."
    return " ".join((said, *repair_remarks(repair)))


def repair_remarks(repair: Repair) -> tuple[str, ...]:
    """What a person should know of a repair before following it."""
    budget = any(change.requirement == "budget" for change in repair.changes)
    margin = any(change.margin for change in repair.changes)
    return (
        *(["The budget is for the start-up total: tax, freight, training and first material too."] if budget else []),
        *(["A margin is kept for a reason: this takes from what is held in hand."] if margin else []),
    )


def _change_words(change: Change, units: str, several: bool) -> str:
    if not change.requirement:
        return f"decline the duty {change.duties[0]}"
    requirement = REQUIREMENTS[change.requirement]
    name = way_words(change.requirement, change.duties, several)
    before = value_words(change.before or 0.0, requirement, units)
    return f"{name} {value_words(change.after or 0.0, requirement, units)} instead of {before}"
