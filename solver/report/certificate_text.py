"""What a certificate shows, for people and as data: the claim, how it was checked, what was left to the engine.

Contents: `verified_text`, `verified_data`, `written_words` (what is said when one is written).
"""

from __future__ import annotations

from typing import Any

from solver.answers.certificate import LeftPart, Verified
from solver.answers.facts import Part
from solver.options.table import NONE
from solver.program.fingerprint import short
from solver.program.proof_check import Findings
from solver.report.as_data import line_data, number, pounds
from solver.report.layout import bullet, heading, paragraph
from solver.report.pick_text import assumed_lines, caution_lines, mass, shopping

_LESS = {"price": "costs less than", "weight": "weighs less than", "yearly-cost": "costs less than"}
_DOES = {"price": "costs just that", "weight": "weighs just that", "yearly-cost": "costs just that"}
_MOST_LEFT = 20
"""Parts left to the engine that are told one by one."""
_NAMED = 3
"""Options of a slot that are named one by one."""
NOT_SHOWN = (
    "This checks the arithmetic on the figures of this catalog and brief, with the rules of this version of rigset. It does "
    "not show that the figures, the brief or the rules are right, nor that a rig is safe. The data sheets of the actual "
    "equipment, local code, the authority having jurisdiction, licensed electricians and engineers come first."
)


def verified_text(verified: Verified, width: int, units: str = "us") -> str:
    """The whole answer in at most `width` columns."""
    lines = [verified.title, "", *paragraph(_verdict(verified, units), width)]
    if verified.findings is None:
        lines += ["", *paragraph("Nothing that it claims was shown. Do not rely on it.", width)]
    else:
        lines += ["", *paragraph(_checked(verified, verified.findings), width)]
        lines += _left_lines(verified, width)
    if verified.total is not None:
        lines += heading("The rig") + shopping(verified.rig, verified.total, units).lines(width)
    lines += heading("What this does not show") + paragraph(NOT_SHOWN, width)
    lines += assumed_lines(verified.assumptions, verified.waived, width) + caution_lines(verified.cautions, width)
    return "\n".join(lines) + "\n"


def amount_words(steps: int, by: str, units: str) -> str:
    """A cost to its last step: cents or grams."""
    if by == "weight":
        return f"{mass(steps / 1000.0, units)} ({steps:,} g)"
    return f"${steps // 100:,}.{steps % 100:02d}" + (" a year" if by == "yearly-cost" else "")


def _claim(verified: Verified, units: str) -> str:
    if verified.least is None:
        return "no rig of this catalog meets this brief, at any cost"
    least = amount_words(verified.least, verified.by, units)
    return f"no rig of this catalog that meets this brief {_LESS[verified.by]} {least}"


def _verdict(verified: Verified, units: str) -> str:
    if verified.status == "refused":
        return f"This certificate does not hold: {verified.refusal}."
    claim = _claim(verified, units)
    own = "" if verified.least is None else f" The rig below meets it and {_DOES[verified.by]}."
    if verified.status == "shown":
        return f"Shown: {claim}.{own}"
    if verified.findings is None or verified.findings.nothing_shown:
        return f"Not shown: that {claim}. The certificate leaves the whole question to the engine.{own}"
    count = _counted(len(verified.left), "part")
    return f"Shown in part: outside of {count} that only the engine closed, {claim}. What is in there was not checked.{own}"


def _checked(verified: Verified, findings: Findings) -> str:
    left = f", {len(findings.left):,} left to the engine" if findings.left else ""
    return (
        f"Checked in whole numbers, no solver used: {_counted(findings.parts, 'part')}, {findings.closed:,} closed by "
        f"multipliers of balances{left}; {_counted(findings.splits, 'split')}; {_counted(findings.narrowings, 'step')} that "
        f"shut options by multipliers; {_counted(findings.left_out, 'option')} no better than another. The question: "
        f"{verified.options:,} options, {verified.rows:,} balances, fingerprint {short(verified.fingerprint)}"
    )


def _counted(count: int, what: str) -> str:
    return f"{count:,} {what}{'' if count == 1 else 's'}"


def _left_lines(verified: Verified, width: int) -> list[str]:
    findings = verified.findings
    if findings is None or not findings.left:
        return []
    lines = heading("Left to the engine")
    lines += paragraph(
        "Taken on trust: that these parts hold nothing better. `rigset pick BRIEF --certificate FILE --exact` splits them "
        f"as far as its limit of work goes. All options together make {_size(findings.choices)} choices.",
        width,
    )
    for left in verified.left[:_MOST_LEFT]:
        lines += bullet(left_words(left), width)
    if len(verified.left) > _MOST_LEFT:
        lines += bullet(f"and {len(verified.left) - _MOST_LEFT:,} more; --json has all.", width)
    return lines


def left_words(left: LeftPart) -> str:
    """One part left to the engine: what is fixed in it, and how many choices it holds."""
    fixed = [_fixed(slot.replace("_", " "), parts) for slot, parts, of in left.fixed if len(parts) < of]
    where = f"Part {left.part}" if left.part else "The whole"
    return (
        f"{where}: {'; '.join(fixed) or 'no slot shared out'}. {_counted(left.single, 'slot')} with one option left, "
        f"{_size(left.choices)} choices of options."
    )


def _fixed(slot: str, parts: tuple[Part, ...]) -> str:
    """What is left of a slot."""
    if len(parts) > _NAMED:
        return f"{slot}: one of {len(parts)} options"
    if len(parts) == 1 and parts[0].item in (NONE, parts[0].slot):
        return f"{'no' if parts[0].item == NONE else 'with'} {slot}"
    return f"{slot}: " + " or ".join(part.item + (f" ({part.choice})" if part.choice else "") for part in parts)


def _size(count: int) -> str:
    digits = int((count.bit_length() - 1) * 0.30103)
    return f"{count:,}" if count < 10**7 else f"about 10^{digits}"


def written_words(path: str, findings: Findings) -> str:
    """What is said of a certificate that was written."""
    if not findings.left:
        return f"written: {path} ({_counted(findings.parts, 'part')}, none left to the engine)"
    return f"written: {path} ({_counted(findings.parts, 'part')}, {len(findings.left):,} left to the engine)"


def verified_data(verified: Verified) -> dict[str, Any]:
    """The answer to verify as plain data."""
    findings, total = verified.findings, verified.total
    return {
        "status": verified.status,
        "title": verified.title,
        "claim": "none" if verified.least is None else "least",
        "by": verified.by,
        "least": verified.least,
        "refusal": verified.refusal,
        "fingerprint": verified.fingerprint,
        "proof": None if findings is None else {
            "parts": findings.parts,
            "closed": findings.closed,
            "left_to_engine": len(findings.left),
            "splits": findings.splits,
            "narrowings": findings.narrowings,
            "left_out": findings.left_out,
            "choices": findings.choices,
        },
        "left": [_left_data(left) for left in verified.left],
        "total": None if total is None else {"price": number(total.price, 2), "weight_lb": pounds(total.weight),
                                             "yearly_cost": number(total.yearly_cost, 2)},
        "rig": [line_data(line) for line in verified.rig],
        "not_shown": NOT_SHOWN,
        "waived": list(verified.waived),
        "assumptions": [{"name": a.name, "value": a.value, "why": a.why} for a in verified.assumptions],
        "cautions": [{"id": caution.id, "text": caution.text} for caution in verified.cautions],
        "size": {"options": verified.options, "rows": verified.rows},
    }  # fmt: skip


def _left_data(left: LeftPart) -> dict[str, Any]:
    fixed = [
        {"slot": slot, "of": of, "options": [{"item": p.item, "label": p.label, "choice": p.choice} for p in parts]}
        for slot, parts, of in left.fixed
    ]
    return {"part": left.part, "fixed": fixed, "single": left.single, "choices": left.choices, "words": left_words(left)}
