"""why: what holds the best rig where it is, and what a change would bring; or what clashes and how to mend it.

Contents: `why`, `Why`, `curve_of`.
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING, Any

from solver.answers.ask import Asked, ask
from solver.answers.beside import beside
from solver.answers.better import argument, jointly
from solver.answers.clashes import conflicts, told
from solver.answers.facts import Argument, Binding, Conflict, Repair, Totals
from solver.answers.reasons import RuleSaving, binding_rules, bindings
from solver.answers.repairs import repairs
from solver.answers.steps import steps_and
from solver.brief.models import Brief
from solver.brief.requirements import find
from solver.catalog import Catalog
from solver.errors import EntryError, NotProven
from solver.rules import RULES
from solver.rules.balance import Rig, chosen
from solver.rules.cautions import Caution, cautions
from solver.rules.worksheet import Worksheet, worksheet

if TYPE_CHECKING:
    from solver.answers.steps_facts import Curve, Step
    from solver.search.best import Found

BETTER = 0.05
"""Share by which "why not better" asks, where nobody says otherwise."""
CONFLICTS = 3
"""Minimal conflicts that are listed, where nobody says otherwise."""


@dataclass(frozen=True)
class Why:
    """The reasons. For a rig: what binds, first steps and rooms, why nothing is better. For none: conflicts and repairs."""

    title: str
    by: str
    status: str
    total: Totals | None
    binding: tuple[Binding, ...] = ()
    jointly: tuple[str, ...] = ()
    """Where no rule binds alone: rules that hold the rig together."""
    steps: tuple[Step, ...] = ()
    argument: Argument | None = None
    conflicts: tuple[Conflict, ...] = ()
    all_conflicts: bool = False
    """Whether the conflicts listed are all there are."""
    repairs: tuple[Repair, ...] = ()
    """Single changes that make a rig possible."""
    sets: tuple[Repair, ...] = ()
    """Minimal sets of changes, none of which is enough alone."""
    worksheets: tuple[Worksheet, ...] = ()
    cautions: tuple[Caution, ...] = ()
    rules: tuple[str, ...] = ()
    """Rules whose working was asked for, the tightest place first."""


def why(
    catalog: Catalog,
    brief: Brief,
    by: str | None = None,
    rules: tuple[str, ...] = (),
    better_by: float = BETTER,
    most_conflicts: int = CONFLICTS,
) -> Why:
    """The reasons for the best rig of a brief, or for there being none.

    Parameters
    ----------
    catalog : Catalog
        What can be bought.
    brief : Brief
        What is asked.
    by : {"price", "weight", "yearly-cost"}, optional
        What to make least; the brief's own `by` if not given.
    rules : tuple of str
        Ids of rules whose working is wanted. With any given, only the workings are worked out.
    better_by : float
        Share of the cost for "why is nothing better": above 0, at most 0.9.
    most_conflicts : int
        Minimal conflicts that are wanted at most, from 1 up.

    Raises
    ------
    EntryError
        An id that is no rule, a share or number out of range, or a working asked for where no rig fits.
    NotProven
        The limit of work ended before an answer was certain.
    """
    _judge(rules, better_by, most_conflicts)
    asked = ask(catalog, brief, by)
    if rules:
        return _workings(asked, rules)
    found = asked.best()
    if not found.proven:
        raise NotProven("the limit of work ended before the best rig was proven")
    if found.columns is None:
        return _nothing(asked, most_conflicts)
    return _reasons(asked, found, better_by)


def _judge(rules: tuple[str, ...], better_by: float, most_conflicts: int) -> None:
    for rule in rules:
        if rule not in RULES:
            raise EntryError(f'rule "{rule}"', "the id of a rule, as in docs/rules.md")
    if not 0.0 < better_by <= 0.9:
        raise EntryError(f"better by {better_by:.3g}", "a share above 0 % and at most 90 %", "5 %")
    if most_conflicts < 1:
        raise EntryError(f"{most_conflicts} conflicts", "a number of at least 1", "4")


def _reasons(asked: Asked, found: Found, better_by: float) -> Why:
    """What binds, steps, rooms and the argument. Steps need none of the savings, so both are worked out side by side."""
    columns, cost = found.columns, found.cost
    if columns is None or cost is None:
        raise NotProven("no rig to explain")
    rig = asked.rig_of(columns)
    balances = asked.balances(rig)

    def held() -> tuple[tuple[RuleSaving, ...], Argument, tuple[str, ...]]:
        savings = binding_rules(asked, columns)
        return savings, argument(asked, columns, savings, balances, better_by), () if savings else jointly(asked, cost)

    walked, (savings, argued, together) = steps_and(asked, columns, cost, held)
    return Why(
        asked.brief.title,
        asked.by,
        "found",
        asked.totals(rig),
        binding=bindings(asked, savings, balances),
        jointly=together,
        steps=walked,
        argument=argued,
        cautions=cautions(asked.brief, chosen(asked.setting, rig), balances),
    )


def _nothing(asked: Asked, most: int) -> Why:
    clashing = conflicts(asked, most)
    jobs: list[Callable[[], Any]] = [lambda: repairs(asked, clashing.sets)]
    jobs += [partial(told, asked, members, clashing.unavoidable) for members in clashing.sets]
    (single, sets), *clashes = beside(jobs)
    return Why(
        asked.brief.title,
        asked.by,
        "none",
        None,
        conflicts=tuple(clashes),
        all_conflicts=clashing.complete,
        repairs=single,
        sets=sets,
        cautions=cautions(asked.brief, None, ()),
    )


def _workings(asked: Asked, rules: tuple[str, ...]) -> Why:
    found = asked.best()
    if not found.proven:
        raise NotProven("the limit of work ended before the best rig was proven")
    if found.columns is None:
        raise EntryError("a working asked for where no rig fits", "a brief with a rig", "`rigset why` without --rule")
    rig = asked.rig_of(found.columns)
    warned = cautions(asked.brief, chosen(asked.setting, rig), asked.balances(rig))
    sheets = tuple(sheet for rule in rules for sheet in _worksheets(asked, rig, rule))
    return Why(asked.brief.title, asked.by, "found", asked.totals(rig), worksheets=sheets, cautions=warned, rules=rules)


def _worksheets(asked: Asked, rig: Rig, rule: str) -> tuple[Worksheet, ...]:
    options = chosen(asked.setting, rig)
    sheets = [worksheet(asked.setting, i, options) for i in asked.instances if i.rule.id == rule]
    return tuple(sorted(sheets, key=lambda s: (not s.balance.applies, s.balance.slack_share, s.balance.place)))


def curve_of(catalog: Catalog, brief: Brief, path: str, by: str | None = None) -> Curve:
    """Least cost over the grid of one requirement.

    `path` names it as in `find`: `hose_reach`, `limits.budget`, or with a duty before it. EntryError if it names none.
    """
    from solver.answers.curve import curve

    requirement, duties = find(path, brief)
    return curve(ask(catalog, brief, by), requirement, duties)
