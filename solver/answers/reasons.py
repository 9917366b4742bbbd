"""Why a rig costs what it costs: binding rules with their savings, exactly.

Contents: `best_and_binding`, `binding_rules`, `bindings`, `tightest`.

A rule binds if without all its instances the best rig would cost less. Each rule is dropped alone and the best rig solved,
under the consequence that such a rig must break a row of the rule; tested against exhaustive search.
"""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import TYPE_CHECKING

from solver.answers.ask import Asked
from solver.answers.facts import Binding
from solver.errors import NotProven
from solver.rules import RULES
from solver.rules.balance import Balance

if TYPE_CHECKING:
    from solver.program.matrix import Ints
    from solver.search.best import Found

RuleSaving = tuple[str, int, dict[str, int]]
"""A binding rule, its saving, and the saving where only one duty's instances are dropped."""

def best_and_binding(asked: Asked) -> tuple[Found, tuple[RuleSaving, ...], bool]:
    """The best rig, what binds it, and whether that was worked out before a limit of work ended.

    Ties are settled while the savings, which need the cost alone, are worked out.
    """
    found = asked.cheapest()
    if found.columns is None or not found.proven:
        return asked.settled(found), (), found.proven
    with ThreadPoolExecutor(1) as pool:
        rig = pool.submit(asked.settled, found)
        try:
            savings, known = binding_rules(asked, found.columns), True
        except NotProven:
            savings, known = (), False
        return rig.result(), savings, known


def binding_rules(asked: Asked, columns: Ints) -> tuple[RuleSaving, ...]:
    """(rule, saving, saving per duty) of every rule without which the best would cost less, largest first.

    `columns` is a best rig. Whole numbers, in steps of the objective.
    """
    from solver.search.savings import savings

    found = savings(asked.program, asked.by, columns, [~asked.rows_without(rule) for rule in asked.droppable])
    binding = {rule: saving for rule, saving in zip(asked.droppable, found, strict=True) if saving.amount}
    pairs = [(rule, duty.name) for rule in binding if RULES[rule].scope.duties for duty in asked.brief.duties]
    parts = [~asked.rows_without(rule, duty=duty) for rule, duty in pairs]
    single = savings(asked.program, asked.by, columns, parts, [binding[rule] for rule, _ in pairs])
    by_duty: dict[str, dict[str, int]] = {rule: {} for rule in binding}
    for (rule, duty), saving in zip(pairs, single, strict=True):
        by_duty[rule][duty] = saving.amount
    entries = [(rule, saving.amount, by_duty[rule]) for rule, saving in binding.items()]
    return tuple(sorted(entries, key=lambda entry: (-entry[1], entry[0])))


def tightest(balances: tuple[Balance, ...], rule: str) -> Balance | None:
    """The rule's tightest balance on a rig."""
    own = [b for b in balances if b.place.rule == rule and b.applies]
    return min(own, key=lambda b: b.slack_share, default=None)


def bindings(asked: Asked, savings: tuple[RuleSaving, ...], balances: tuple[Balance, ...]) -> tuple[Binding, ...]:
    """The binding rules as facts, savings in USD, kg or USD a year."""
    unit = asked.unit
    return tuple(
        Binding(rule, saving / unit, {duty: s / unit for duty, s in by_duty.items()}, tightest(balances, rule),
                tuple(sorted(asked.reads_of(rule))))
        for rule, saving, by_duty in savings
    )  # fmt: skip
