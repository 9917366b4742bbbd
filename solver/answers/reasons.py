"""Why a rig costs what it costs, and why none exists: binding rules and minimal conflicts, exactly.

Contents: `binding_rules`, `conflict`.

A rule binds if without all its instances the best rig would cost less. Each rule is dropped alone and the best rig solved,
under the consequence that such a rig must break a row of the rule; tested against exhaustive search.
"""

from __future__ import annotations

import os
from concurrent.futures import ThreadPoolExecutor

from solver.answers.ask import Asked
from solver.answers.facts import Binding, Clash, Conflict
from solver.rules import RULES
from solver.rules.balance import Balance, balance_of, chosen
from solver.rules.record import Basis

_PREFERENCE = {Basis.BRIEF: 0, Basis.PRACTICE: 1, Basis.RATING: 2, Basis.REGULATION: 3, Basis.PHYSICS: 4}
"""Order in which a conflict keeps rules: what a person can change first, physics last."""


_THREADS = 4
"""Questions asked side by side at most. Each is answered by one worker with a fixed seed, so the answers do not depend on
how many run at once; the engine works outside the interpreter's lock."""


def in_order(asked: Asked) -> tuple[str, ...]:
    """Droppable rules, those a person can change first."""
    return tuple(sorted(asked.droppable, key=lambda rule: _PREFERENCE[RULES[rule].basis]))


def binding_rules(asked: Asked, cost: int) -> tuple[tuple[str, int, dict[str, int]], ...]:
    """(rule, saving, saving per duty) of every rule without which the best would cost less than `cost`, largest first."""
    asked.program  # noqa: B018  compiled before the threads start
    with ThreadPoolExecutor(min(_THREADS, os.cpu_count() or 1)) as pool:
        savings = list(pool.map(lambda rule: _saving(asked, rule, None, cost), asked.droppable))
        binding = [(rule, saving) for rule, saving in zip(asked.droppable, savings, strict=True) if saving]
        duties = list(pool.map(lambda entry: _by_duty(asked, entry[0], cost, entry[1]), binding))
    found = [(rule, saving, by_duty) for (rule, saving), by_duty in zip(binding, duties, strict=True)]
    return tuple(sorted(found, key=lambda entry: (-entry[1], entry[0])))


def _saving(asked: Asked, rule: str, duty: str | None, cost: int) -> int:
    """How much less the best rig costs without the rule (or one duty's part of it); 0 if none costs less."""
    from solver.search.best import cost_of_best

    best = cost_of_best(asked.without(rule, duty, cost))
    return cost - best if best is not None else 0


def _by_duty(asked: Asked, rule: str, cost: int, whole: int) -> dict[str, int]:
    duties = [duty.name for duty in asked.brief.duties]
    if not RULES[rule].scope.duties:
        return {}
    if len(duties) == 1:
        return {duties[0]: whole}
    return {duty: _saving(asked, rule, duty, cost) for duty in duties}


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
    return tuple(
        Binding(rule, saving / unit, {duty: s / unit for duty, s in by_duty.items()}, tightest(balances, rule),
                tuple(sorted(asked.reads_of(rule))))
        for rule, saving, by_duty in binding_rules(asked, cost)
    )  # fmt: skip
