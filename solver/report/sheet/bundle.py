"""What the page of a rig is made of, gathered from the answers, and the same as JSON.

Contents: `Bundle`, `sheet_data`.

Every figure on the page stands in this JSON too, and the page says where. The parts that other commands print keep their
form: `pick` is what `rigset pick --json` gives.
"""

from __future__ import annotations

from dataclasses import asdict, dataclass
from typing import Any

from solver.answers.facts import Picked
from solver.answers.rivals import Rivals
from solver.answers.sheet import Reason, SheetFacts
from solver.answers.steps_facts import Curve
from solver.answers.why import Why
from solver.brief.models import Brief
from solver.report.as_data import balance_data, number, pick_data, worksheet_data
from solver.report.drawings.flows import Drawn
from solver.report.sheet.alternatives import alternatives_json
from solver.report.sheet.curves import curve_json
from solver.report.sheet.fronts import Front, front_json
from solver.report.sheet.mending import repairs_json
from solver.report.sheet.overview import duty_data, kit_data
from solver.report.sheet.shares import Share, money_shares, weight_shares
from solver.report.sheet.working import tightest_sheets
from solver.rules.sentence import sentence


@dataclass(frozen=True)
class Bundle:
    """Everything a page is made of. Answers that were not asked for, or that a conflict leaves without sense, are absent."""

    brief: Brief
    picked: Picked
    facts: SheetFacts | None
    drawn: Drawn | None
    labels: dict[str, str]
    """Labels of all items and materials by their id."""
    curves: tuple[Curve, ...] = ()
    """Requirement curves, in the order in which they are shown."""
    rivals: Rivals | None = None
    """The next best rigs, the pick first."""
    front: Front | None = None
    """Points of the front of price and weight."""
    why: Why | None = None
    """What clashes and what would make a rig possible, where none fits."""


def sheet_data(bundle: Bundle, units: str = "us") -> dict[str, Any]:
    """The whole answer as plain data."""
    facts = bundle.facts
    return {
        "pick": pick_data(bundle.picked, units),
        "reasons": [_reason_data(reason, units) for reason in facts.reasons] if facts else [],
        "money_shares": [_share_data(share) for share in money_shares(bundle.picked)],
        "weight_shares": [_share_data(share) for share in weight_shares(facts)] if facts else [],
        "drawings": _rounded([asdict(duty) for duty in bundle.drawn.duties]) if bundle.drawn else [],
        "duties": duty_data(bundle.brief),
        "kit": kit_data(bundle.picked),
        "worksheets": [worksheet_data(sheet, units) for sheet in tightest_sheets(facts.worksheets)] if facts else [],
        "curves": [curve_json(curve, units) for curve in bundle.curves],
        "front": front_json(bundle.front),
        "repairs": repairs_json(bundle.why, units),
        "alternatives": alternatives_json(bundle.rivals),
        "stated": [{"name": a.name, "value": a.value} for a in bundle.brief.stated()],
    }


def _reason_data(reason: Reason, units: str) -> dict[str, Any]:
    return {
        "slot": reason.slot,
        "kind": reason.kind,
        "better": reason.better,
        "rules": [
            {
                "rule": entry.rule,
                "options": entry.options,
                "nearest": entry.item,
                "choice": entry.choice,
                "balance": balance_data(entry.balance, units),
                "sentence": sentence(entry.balance, units),
            }
            for entry in reason.hindrances
        ],
    }


def _share_data(share: Share) -> dict[str, Any]:
    return {"what": share.what, "value": share.value, "unit": share.unit}


def _rounded(data: Any) -> Any:
    """The same data with figures free of floating-point noise."""
    if isinstance(data, dict):
        return {key: _rounded(value) for key, value in data.items()}
    if isinstance(data, list | tuple):
        return [_rounded(value) for value in data]
    return number(data) if isinstance(data, float) else data
