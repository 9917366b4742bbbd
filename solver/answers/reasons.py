"""Why a rig costs what it costs, and why none exists: binding rules and minimal conflicts, exactly.

Contents: `binding_rules`, `conflict`.

A rule binds if without all its instances the best rig would cost less. Laws used: a group of rules that together saves
nothing holds no rule that does, so groups are halved only while they save; each rule that is left is dropped alone and the
best rig solved. (The rules that bind are the members common to all minimal sets that exclude every better rig.)
"""

from __future__ import annotations

from collections.abc import Mapping

from solver.answers.ask import Asked
from solver.answers.facts import Binding, Clash, Conflict
from solver.program.matrix import Mask
from solver.rules import RULES
from solver.rules.balance import Balance, balance_of, chosen
from solver.rules.record import Basis

_PREFERENCE = {Basis.BRIEF: 0, Basis.PRACTICE: 1, Basis.RATING: 2, Basis.REGULATION: 3, Basis.PHYSICS: 4}
"""Order in which a conflict keeps rules: what a person can change first, physics last."""


_GROUP = 40
"""Larger groups of rules save something together all but always: they are halved without asking."""


def in_order(asked: Asked) -> tuple[str, ...]:
    """Droppable rules, those a person can change first."""
    return tuple(sorted(asked.droppable, key=lambda rule: _PREFERENCE[RULES[rule].basis]))


def binding_rules(
    asked: Asked, cost: int, slack: Mapping[str, float]
) -> tuple[tuple[str, int, dict[str, int]], ...]:
    """(rule, saving, saving per duty) of every rule without which the best would cost less than `cost`, largest first.

    `slack` has the share of room that each rule leaves on the best rig; rules that leave most are tried first, in groups.
    """
    order = tuple(sorted(asked.droppable, key=lambda rule: (-slack.get(rule, float("inf")), rule)))
    found = [(rule, saving, _by_duty(asked, rule, cost, saving)) for rule, saving in _savings(asked, order, cost)]
    return tuple(sorted(found, key=lambda entry: (-entry[1], entry[0])))


def _savings(asked: Asked, rules: tuple[str, ...], cost: int) -> list[tuple[str, int]]:
    """Rules of this group that bind, with their savings: a group that together saves nothing holds none that does."""
    from solver.search.best import exists

    if len(rules) == 1:
        saving = _saving(asked, asked.rows_without(*rules), cost)
        return [(rules[0], saving)] if saving else []
    if len(rules) <= _GROUP and not exists(asked.question(rows=asked.rows_without(*rules), at_most={asked.by: cost - 1})):
        return []
    middle = len(rules) // 2
    return _savings(asked, rules[:middle], cost) + _savings(asked, rules[middle:], cost)


def _saving(asked: Asked, rows: Mask, cost: int) -> int:
    """How much less the best rig under these rows costs; 0 if none costs less."""
    from solver.search.best import cost_of_best

    best = cost_of_best(asked.question(rows=rows, at_most={asked.by: cost - 1}))
    return cost - best if best is not None else 0


def _by_duty(asked: Asked, rule: str, cost: int, whole: int) -> dict[str, int]:
    duties = [duty.name for duty in asked.brief.duties]
    if not RULES[rule].scope.duties:
        return {}
    if len(duties) == 1:
        return {duties[0]: whole}
    return {duty: _saving(asked, asked.rows_without(rule, duty=duty), cost) for duty in duties}


def conflict(asked: Asked) -> Conflict:
    """One minimal conflict of a brief that no rig meets, with the numbers that clash."""
    from solver.search.best import exists
    from solver.search.minimal import minimal_set

    def possible(kept: frozenset[str]) -> bool:
        return exists(asked.question(rows=asked.rows_of(kept)))

    fixed = (Basis.PHYSICS, Basis.RATING, Basis.REGULATION)
    hard = tuple(rule for rule in in_order(asked) if RULES[rule].basis in fixed)
    unavoidable = not possible(frozenset(hard))
    members = minimal_set(hard if unavoidable else in_order(asked), possible) or ()
    return Conflict(tuple(_clash(asked, rule, members) for rule in members), unavoidable)


def _clash(asked: Asked, rule: str, members: tuple[str, ...]) -> Clash:
    """The closest that a rig keeping all other members comes to this one."""
    from solver.search.best import closest

    own = [i for i, group in enumerate(asked.program.groups) if group == rule]
    found = closest(asked.question(rows=asked.rows_of(frozenset(members) - {rule})), own)
    if found is None:
        return Clash(rule, None)
    row, columns = found
    options = chosen(asked.setting, asked.rig_of(columns))
    return Clash(rule, balance_of(asked.setting, asked.instances[row], options))


def tightest(balances: tuple[Balance, ...], rule: str) -> Balance | None:
    """The rule's tightest balance on a rig."""
    own = [b for b in balances if b.place.rule == rule and b.applies]
    return min(own, key=lambda b: b.slack_share, default=None)


def bindings(asked: Asked, cost: int, balances: tuple[Balance, ...]) -> tuple[Binding, ...]:
    """The binding rules as facts, savings in USD, kg or USD a year."""
    unit = asked.unit
    slack: dict[str, float] = {}
    for balance in balances:
        if balance.applies:
            rule = balance.place.rule
            slack[rule] = min(slack.get(rule, float("inf")), balance.slack_share)
    return tuple(
        Binding(rule, saving / unit, {duty: s / unit for duty, s in by_duty.items()}, tightest(balances, rule),
                tuple(sorted(asked.reads_of(rule))))
        for rule, saving, by_duty in binding_rules(asked, cost, slack)
    )  # fmt: skip
