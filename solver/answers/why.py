"""why: what holds the best rig where it is, rule by rule, and the working of a rule on it; or the conflict.

Contents: `why`, `Why`.
"""

from __future__ import annotations

from dataclasses import dataclass

from solver.answers.ask import Asked, ask
from solver.answers.facts import Binding, Conflict, Totals
from solver.answers.reasons import best_and_binding, bindings, conflict
from solver.brief.models import Brief
from solver.catalog import Catalog
from solver.errors import EntryError, NotProven
from solver.rules import RULES
from solver.rules.balance import Rig, chosen
from solver.rules.cautions import Caution, cautions
from solver.rules.worksheet import Worksheet, worksheet


@dataclass(frozen=True)
class Why:
    """The reasons: binding rules or the conflict, and worksheets of the rules asked for, the tightest place first."""

    title: str
    by: str
    status: str
    total: Totals | None
    binding: tuple[Binding, ...]
    conflicts: tuple[Conflict, ...]
    worksheets: tuple[Worksheet, ...]
    cautions: tuple[Caution, ...]
    rules: tuple[str, ...] = ()
    """Rules whose working was asked for."""


def why(catalog: Catalog, brief: Brief, by: str | None = None, rules: tuple[str, ...] = ()) -> Why:
    """The reasons for the best rig of a brief.

    Parameters
    ----------
    catalog : Catalog
        What can be bought.
    brief : Brief
        What is asked.
    by : {"price", "weight", "yearly-cost"}, optional
        What to make least; the brief's own `by` if not given.
    rules : tuple of str
        Ids of rules whose working is wanted. With any given, only the workings are worked out, not what binds.

    Raises
    ------
    EntryError
        An id that is no rule, or a working asked for where no rig fits.
    """
    for rule in rules:
        if rule not in RULES:
            raise EntryError(f'rule "{rule}"', "the id of a rule, as in docs/rules.md")
    asked = ask(catalog, brief, by)
    found, savings = (asked.best(), ()) if rules else best_and_binding(asked)
    if not found.proven:
        raise NotProven("the limit of work ended before the best rig was proven")
    if found.columns is None or found.cost is None:
        if rules:
            raise EntryError("a working asked for where no rig fits", "a brief with a rig", "`rigset why` without --rule")
        return Why(brief.title, asked.by, "none", None, (), (conflict(asked),), (), cautions(brief, None, ()))
    rig = asked.rig_of(found.columns)
    balances = asked.balances(rig)
    binding = bindings(asked, savings, balances)
    sheets = tuple(sheet for rule in rules for sheet in _worksheets(asked, rig, rule))
    told = cautions(brief, chosen(asked.setting, rig), balances)
    return Why(brief.title, asked.by, "found", asked.totals(rig), binding, (), sheets, told, rules)


def _worksheets(asked: Asked, rig: Rig, rule: str) -> tuple[Worksheet, ...]:
    options = chosen(asked.setting, rig)
    sheets = [worksheet(asked.setting, i, options) for i in asked.instances if i.rule.id == rule]
    return tuple(sorted(sheets, key=lambda s: (not s.balance.applies, s.balance.slack_share, s.balance.place)))
