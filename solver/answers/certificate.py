"""certificate: the claim that no cheaper rig exists, with its proof, as a file; and whether such a file holds.

Contents: `certify` (build one for what `pick` found), `certifiable`, `verify` (check one against catalog and brief),
`Verified`, `LeftPart`. What the file looks like stands in `certificate_file.py`.

`verify` lays the brief over the catalog anew, compares what the program is known by, judges the rig by every rule and
checks the proof. No engine takes part in that, and none is loaded.
"""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

from solver.answers.ask import Asked, ask
from solver.answers.certificate_file import Certificate, RigLine, read_certificate
from solver.answers.facts import Line, Part, Picked, Totals
from solver.brief.models import Assumption, Brief
from solver.catalog import Catalog
from solver.errors import DoesNotHold, EntryError, InputError, InternalError, Mistake, NotProven
from solver.options.table import NONE
from solver.program.fingerprint import fingerprint, short
from solver.program.matrix import Ints
from solver.program.proof import Proof
from solver.program.proof_check import Findings, Left, check_proof
from solver.rules.balance import Rig, chosen
from solver.rules.cautions import Caution, cautions


@dataclass(frozen=True)
class LeftPart:
    """A part of the proof that only the engine closed."""

    part: str
    """Number of the part, such as 3.1.2; empty for the whole."""
    fixed: tuple[tuple[str, tuple[Part, ...], int], ...]
    """Slots shared out on the way: name, the options open in this part, and how many options the slot has."""
    single: int
    """Slots that have one option left."""
    choices: int
    """Ways to take one open option of every slot."""


@dataclass(frozen=True)
class Verified:
    """Whether a certificate holds."""

    title: str
    by: str
    status: str
    """"shown": every part was checked; "in part": some were left to the engine; "refused": it does not hold."""
    least: int | None
    """The cost said to be least, in steps of the objective; None where the claim is that no rig fits."""
    refusal: str
    """What does not hold; empty if nothing."""
    findings: Findings | None
    left: tuple[LeftPart, ...]
    fingerprint: str
    options: int
    rows: int
    total: Totals | None
    rig: tuple[Line, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    waived: tuple[str, ...]


def certify(catalog: Catalog, brief: Brief, picked: Picked, exact: bool = False) -> tuple[Certificate, Findings]:
    """The certificate of what `pick` found for this brief, and what its proof consists of.

    Parameters
    ----------
    catalog, brief
        What was asked; a brief without ranges.
    picked : Picked
        The answer of `pick` to just that.
    exact : bool
        Split on where the engine closed a part, until none is left or the limit of work ends.

    Raises
    ------
    NotProven
        The answer itself is not proven, so there is nothing to certify.
    """
    certifiable(brief)
    if picked.status not in ("found", "none") or not picked.proven:
        raise NotProven("the answer is not proven, so no certificate was written")
    asked = ask(catalog, brief, picked.by)
    program, found = asked.program, picked.status == "found"
    named = {line.slot: (line.item, line.choice) for line in picked.rig}
    rig = tuple(RigLine(slot, *named.get(slot, (NONE, ""))) for slot in asked.setting.slots if found)
    least = program.cost(_columns(asked, rig), picked.by) if found else None
    proof = _prove(asked, least, exact)
    try:
        findings = check_proof(program, proof, no_rig=not found)
    except DoesNotHold as error:
        raise InternalError(f"the proof made for this answer does not hold: {error}") from None
    return Certificate(
        title=brief.title,
        catalog=Path(catalog.folder).name,
        items=sum(map(len, catalog.classes.values())),
        by=picked.by,
        least=least,
        fingerprint=fingerprint(program),
        slots=len(program.offsets) - 1,
        options=int(program.offsets[-1]),
        rows=len(program.rhs),
        rig=rig,
        root=proof.root,
    ), findings  # fmt: skip


def _prove(asked: Asked, least: int | None, exact: bool) -> Proof:
    from solver.search.proving import prove

    return prove(asked.program, asked.by, least, exact=exact)


def verify(catalog: Catalog, brief: Brief, path: Path) -> Verified:
    """Check the certificate in the file against this catalog and brief, without the engine.

    Raises
    ------
    InputError
        The file cannot be read, has another form, or belongs to another question.
    """
    certifiable(brief)
    certificate = read_certificate(path)
    asked = ask(catalog, brief, certificate.by)
    _same_question(certificate, asked, str(path))
    try:
        rig = _judged_rig(certificate, asked) if certificate.least is not None else None
        proof = Proof(certificate.by, certificate.least or 0, certificate.root)
        findings = check_proof(asked.program, proof, no_rig=certificate.least is None)
        _named_size(certificate, asked)
    except DoesNotHold as error:
        return _verified(asked, certificate, "refused", str(error), None, None)
    return _verified(asked, certificate, "in part" if findings.left else "shown", "", findings, rig)


def certifiable(brief: Brief) -> None:
    """EntryError for a brief whose answer is not that of one program."""
    if brief.ranges:
        raise EntryError("a certificate asked for a brief with `ranges`", "a brief in which every figure is one number",
                         "a copy of the brief for each point of the ranges that matters")  # fmt: skip


def _same_question(certificate: Certificate, asked: Asked, path: str) -> None:
    own = fingerprint(asked.program)
    if certificate.fingerprint != own:
        raise InputError([Mistake(
            path, 0,
            f'the certificate of another question, {short(certificate.fingerprint)} (brief "{certificate.title[:80]}", '
            f'catalog "{certificate.catalog[:80]}")',
            f"that of this brief and catalog, {short(own)}",
            "brief and catalog as they were when it was written, or a new one by `rigset pick BRIEF --certificate FILE`",
        )])  # fmt: skip


def _named_size(certificate: Certificate, asked: Asked) -> None:
    named = (certificate.slots, certificate.options, certificate.rows)
    if named != (len(asked.program.offsets) - 1, int(asked.program.offsets[-1]), len(asked.program.rhs)):
        raise DoesNotHold("the numbers of slots, options and rows are not those of its program")


def _columns(asked: Asked, rig: tuple[RigLine, ...]) -> Ints:
    """The program's columns of a rig named slot by slot; DoesNotHold if it is no whole rig of this catalog."""
    slots = asked.setting.slots
    if tuple(line.slot for line in rig) != tuple(slots):
        raise DoesNotHold("the rig does not name every slot once, in their order")
    found: dict[str, int] = {}
    for line in rig:
        table = slots[line.slot]
        ways = [j for j in range(len(table)) if (table.items[j], table.choices[j]) == (line.item, line.choice)]
        if not ways:
            raise DoesNotHold(f"the rig has an option in slot {line.slot} that this catalog does not have")
        found[line.slot] = ways[0]
    return asked.columns_of(found)


def _judged_rig(certificate: Certificate, asked: Asked) -> Rig:
    """The rig, if it keeps every row and costs what is said."""
    columns, program = _columns(asked, certificate.rig), asked.program
    broken = program.rows[:, columns].sum(axis=1) > program.rhs
    if broken.any():
        raise DoesNotHold(f"the rig breaks {program.labels[int(broken.argmax())]}")
    if program.cost(columns, certificate.by) != certificate.least:
        raise DoesNotHold("the rig does not cost what is said to be the least")
    asked.recheck(columns)
    return asked.rig_of(columns)


def _verified(
    asked: Asked, certificate: Certificate, status: str, refusal: str, findings: Findings | None, rig: Rig | None
) -> Verified:
    brief = asked.brief
    return Verified(
        title=brief.title,
        by=certificate.by,
        status=status,
        least=certificate.least,
        refusal=refusal,
        findings=findings,
        left=tuple(_left(asked, left) for left in findings.left) if findings is not None else (),
        fingerprint=certificate.fingerprint,
        options=int(asked.program.offsets[-1]),
        rows=len(asked.program.rhs),
        total=None if rig is None else asked.totals(rig),
        rig=() if rig is None else asked.lines(rig),
        cautions=cautions(brief, *((None, ()) if rig is None else (chosen(asked.setting, rig), asked.balances(rig)))),
        assumptions=brief.assumed(),
        waived=tuple(brief.waived),
    )


def _left(asked: Asked, left: Left) -> LeftPart:
    names = list(asked.setting.slots)
    fixed = []
    for slot, columns in left.shared:
        table, start = asked.setting.slots[names[slot]], asked.offsets[names[slot]]
        options = [table.one(column - start) for column in columns]
        parts = tuple(Part(names[slot], option.item, option.label, option.choice) for option in options)
        fixed.append((names[slot], parts, len(table)))
    return LeftPart(left.part, tuple(fixed), left.single, left.choices)
