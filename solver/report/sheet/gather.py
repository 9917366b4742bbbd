"""Everything a page is made of, asked one answer after the other.

Contents: `gather`, `shown_requirements`, `hardest_duties`.
"""

from __future__ import annotations

from collections.abc import Callable

from solver.answers.steps_facts import Curve
from solver.brief.models import Brief
from solver.brief.requirements import REQUIREMENTS, Requirement, value_of
from solver.catalog import Catalog
from solver.report.sheet.bundle import Bundle

ALTERNATIVES = 4
"""How many rigs are shown beside the pick."""
Progress = Callable[[str], None]


def _silent(what: str) -> None:
    return None


def gather(
    catalog: Catalog, brief: Brief, by: str | None = None, quick: bool = False, progress: Progress = _silent
) -> Bundle:
    """The bundle of a brief.

    Parameters
    ----------
    catalog, brief
        As for `pick`.
    by : {"price", "weight", "yearly-cost"}, optional
        What to make least; the brief's own `by` if not given.
    quick : bool
        Leave out what solves anew: curves, alternatives, the front, and what would make a rig possible.
    progress : callable, optional
        Called with what is being worked out, before it is.
    """
    from solver.answers.pick import pick
    from solver.answers.rivals import rivals
    from solver.answers.sheet import price_against_weight, sheet_facts
    from solver.answers.why import why
    from solver.report.drawings.flows import drawn
    from solver.report.sheet.fronts import front_of

    progress("the best rig and what binds it")
    picked = pick(catalog, brief, by)
    labels = {item.id: item.label for items in catalog.classes.values() for item in items}
    if picked.total is None:
        reasons = None
        if picked.status == "none" and not quick:
            progress("what would make a rig possible")
            reasons = why(catalog, brief, by)
        return Bundle(brief, picked, None, None, labels, why=reasons)
    progress("why each choice")
    facts = sheet_facts(catalog, brief, picked)
    flows = drawn(brief, picked.rig, facts, labels) if facts is not None else None
    if quick or not picked.proven:
        return Bundle(brief, picked, facts, flows, labels)
    curves = _curves(catalog, brief, picked.by, progress)
    progress("alternatives")
    others = rivals(catalog, brief, picked.by, count=ALTERNATIVES + 1)
    progress("the front of price and weight")
    front = front_of(price_against_weight(catalog, brief), picked.total)
    return Bundle(brief, picked, facts, flows, labels, curves, others, front)


def shown_requirements(brief: Brief, by: str) -> tuple[str, ...]:
    """The requirements whose curves a page shows: reach, output, and the budget or the sets of material.

    A budget does not move the least price, only whether there is a rig at all; there the sets say more.
    """
    return "hose_reach", "output", "budget" if by != "price" and brief.limits.budget is not None else "sets"


def _curves(catalog: Catalog, brief: Brief, by: str, progress: Progress) -> tuple[Curve, ...]:
    from solver.answers.ask import ask
    from solver.answers.curve import curve

    asked = ask(catalog, brief, by)
    found = []
    for name in shown_requirements(brief, by):
        requirement = REQUIREMENTS[name]
        progress(f"the curve over {requirement.title}")
        found.append(curve(asked, requirement, hardest_duties(brief, requirement)))
    return tuple(found)


def hardest_duties(brief: Brief, requirement: Requirement) -> tuple[str, ...]:
    """The duties that ask most of a wish, whose curve says what more of it costs; none for one of the whole brief."""
    if not requirement.duty:
        return ()
    present = {duty.name: value_of(brief, requirement, duty.name) for duty in brief.duties}
    most = max((value for value in present.values() if value is not None), default=None)
    return tuple(name for name, value in present.items() if value == most)
