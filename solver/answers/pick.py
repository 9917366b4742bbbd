"""pick: the rig of least price (or weight, or yearly cost), proven, with what binds; or the conflict when nothing fits.

Contents: `pick`.
"""

from __future__ import annotations

from dataclasses import replace

from solver.answers.ask import Asked, ask
from solver.answers.clashes import conflict
from solver.answers.facts import Conflict, Picked
from solver.answers.money import money_facts
from solver.answers.reasons import best_and_binding, bindings
from solver.brief.models import Brief
from solver.catalog import Catalog
from solver.errors import NotProven
from solver.rules.balance import chosen
from solver.rules.cautions import cautions


def pick(catalog: Catalog, brief: Brief, by: str | None = None) -> Picked:
    """The best rig for the brief.

    Parameters
    ----------
    catalog : Catalog
        What can be bought, from `read_catalog`.
    brief : Brief
        What is asked, from `read_brief`.
    by : {"price", "weight", "yearly-cost"}, optional
        What to make least; the brief's own `by` if not given.

    Returns
    -------
    Picked
        Status "found" with rig, balances and binding rules, or "none" with one minimal conflict.
    """
    asked = ask(catalog, brief, by)
    found, savings, reasons = best_and_binding(asked)
    if found.columns is None:
        return _nothing(asked) if found.proven else _unknown(asked)
    rig = asked.rig_of(found.columns)
    balances = asked.balances(rig)
    return Picked(
        title=brief.title,
        by=asked.by,
        status="found",
        proven=found.proven,
        bound=None if found.proven or found.bound is None else found.bound / asked.unit,
        total=asked.totals(rig),
        rig=asked.lines(rig),
        balances=balances,
        binding=bindings(asked, savings, balances),
        conflicts=(),
        cautions=cautions(asked.brief, chosen(asked.setting, rig), balances),
        assumptions=brief.assumed(),
        waived=tuple(brief.waived),
        money=money_facts(asked, rig),
        options=int(asked.program.offsets[-1]),
        rows=len(asked.program.rhs),
        reasons=reasons,
    )


def _nothing(asked: Asked) -> Picked:
    try:
        return _empty(asked, "none", True, (conflict(asked),))
    except NotProven:
        return replace(_empty(asked, "none", True, ()), reasons=False)


def _unknown(asked: Asked) -> Picked:
    return replace(_empty(asked, "unknown", False, ()), reasons=False)


def _empty(asked: Asked, status: str, proven: bool, conflicts: tuple[Conflict, ...]) -> Picked:
    brief = asked.brief
    return Picked(
        title=brief.title,
        by=asked.by,
        status=status,
        proven=proven,
        bound=None,
        total=None,
        rig=(),
        balances=(),
        binding=(),
        conflicts=conflicts,
        cautions=cautions(brief, None, ()),
        assumptions=brief.assumed(),
        waived=tuple(brief.waived),
        money=None,
        options=int(asked.program.offsets[-1]),
        rows=len(asked.program.rhs),
    )
