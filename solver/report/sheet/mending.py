"""What would make a rig possible, for the page of a conflict.

Contents: `RepairRow`, `repair_rows`, `repairs_json` (as `rigset why --json` gives them), `other_clashes`.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

from solver.brief.requirements import REQUIREMENTS
from solver.report.sheet.curves import cost_of, plain
from solver.report.sheet.figures import Figure, Text

if TYPE_CHECKING:
    from solver.answers.facts import Conflict, Repair
    from solver.answers.why import Why

_NOTHING: dict[str, list[Any]] = {"single": [], "together": []}


def repairs_json(answer: Why | None, units: str) -> dict[str, list[Any]]:
    """Single changes, and sets of changes that are enough together."""
    if answer is None:
        return _NOTHING
    from solver.report.why_data import why_data

    told = why_data(answer, units)
    return {"single": told["repairs"], "together": told["sets_of_changes"]}


@dataclass(frozen=True)
class RepairRow:
    """One change, or changes that are enough together; the best rig there; what should be known of it."""

    changes: tuple[Text, ...]
    cost: Figure
    remarks: tuple[str, ...]


def repair_rows(answer: Why | None, told: dict[str, list[Any]], units: str) -> tuple[RepairRow, ...]:
    """Every repair, single ones first; `told` is their JSON, whose place is `repairs`."""
    if answer is None:
        return ()
    rows = []
    for kind, repairs in (("single", answer.repairs), ("together", answer.sets)):
        for k, repair in enumerate(repairs):
            rows.append(_row(repair, told[kind][k], f"repairs.{kind}.{k}", answer.by, units))
    return tuple(rows)


def _row(repair: Repair, told: dict[str, Any], of: str, by: str, units: str) -> RepairRow:
    from solver.report.why_text import repair_remarks

    total = repair.total
    name, value = {
        "price": ("price", total.price),
        "weight": ("weight_lb", total.weight),
        "yearly-cost": ("yearly_cost", total.yearly_cost),
    }[by]  # fmt: skip
    changes = tuple(_change(change, f"{of}.changes.{j}") for j, change in enumerate(told["changes"]))
    return RepairRow(changes, cost_of(f"{of}.total.{name}", value, by, units), repair_remarks(repair))


_PLURAL = {"day": "days", "week": "weeks"}


def _change(told: dict[str, Any], of: str) -> Text:
    if "declined" in told:
        return (f"decline the duty {told['declined']}",)
    where = f" in {', '.join(told['duties'])}" if told["duties"] else ""
    words: list[str | Figure] = [f"{REQUIREMENTS[told['requirement']].title}{where}: "]
    words.append(plain(f"{of}.after", told["after"], _PLURAL.get(told["unit"], told["unit"])))
    if told["before"] is not None:
        words += [" instead of ", plain(f"{of}.before", told["before"], _PLURAL.get(told["unit"], told["unit"]))]
    return tuple(words)


def other_clashes(answer: Why | None, shown: tuple[Conflict, ...]) -> tuple[str, ...]:
    """Further conditions that cannot hold together, by their ids, beside those that are shown in full."""
    known = {_ids(conflict) for conflict in shown}
    others = answer.conflicts if answer is not None else ()
    return tuple(" with ".join(_ids(conflict)) for conflict in others if _ids(conflict) not in known)


def _ids(conflict: Conflict) -> tuple[str, ...]:
    return tuple(sorted(clash.rule for clash in conflict.members))
