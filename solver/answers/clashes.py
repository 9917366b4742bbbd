"""What cannot hold together when no rig fits: one minimal conflict, or all of them in order, with the numbers that clash.

Contents: `conflict` (one, told); `conflicts`, `Clashing` and `clashing`, `some_conflict` (rules alone), `told`;
`in_order`, `rigs_kept`.

First it is asked whether physics, ratings and regulation alone exclude every rig: then only the work can change. Otherwise
conflicts with the fewest rules of physics come first, then those with the fewest of regulation, of rating, of the rest.
Slots, options and ownership are background and never in a conflict.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

import numpy as np

from solver.answers.ask import Asked
from solver.answers.facts import Clash, Conflict, Part
from solver.program.matrix import Ints
from solver.rules import RULES
from solver.rules.balance import balance_of, chosen
from solver.rules.instances import Instance
from solver.rules.record import Basis, Side

_PREFERENCE = {Basis.BRIEF: 0, Basis.PRACTICE: 1, Basis.RATING: 2, Basis.REGULATION: 3, Basis.PHYSICS: 4}
"""Order in which a conflict keeps rules: what a person can change first, physics last."""
_TIERS = {Basis.RATING: 1, Basis.REGULATION: 2, Basis.PHYSICS: 3}
"""What a rule weighs in the order of conflicts: more than all rules of lower tiers together, by this power."""
_PATIENCE = 600
"""Rigs asked for in the search for conflicts, about."""
_FIXED = (Basis.PHYSICS, Basis.RATING, Basis.REGULATION)


@dataclass(frozen=True)
class Clashing:
    """Rules of minimal conflicts, in order; whether these are all; whether physics, ratings and regulation alone clash."""

    sets: tuple[tuple[str, ...], ...]
    complete: bool
    unavoidable: bool


def in_order(asked: Asked) -> tuple[str, ...]:
    """Droppable rules, those a person can change first."""
    return tuple(sorted(asked.droppable, key=lambda rule: _PREFERENCE[RULES[rule].basis]))


def _possible(asked: Asked, kept: frozenset[str]) -> bool:
    from solver.search.best import exists

    return exists(asked.question(rows=asked.rows_of(kept)))


def _fixed(order: Iterable[str], possible: Callable[[frozenset[str]], bool]) -> tuple[str, ...] | None:
    """The rules of physics, rating and regulation, if they alone exclude every rig."""
    hard = tuple(rule for rule in order if RULES[rule].basis in _FIXED)
    return None if possible(frozenset(hard)) else hard


def conflict(asked: Asked) -> Conflict:
    """One minimal conflict of a brief that no rig meets, with the numbers that clash.

    It has a rule of physics, regulation or rating only if there is no conflict without, in this order.
    """
    members, unavoidable = clashing(asked)
    return told(asked, members, unavoidable)


def clashing(
    asked: Asked,
    possible: Callable[[frozenset[str]], bool] | None = None,
    order: Sequence[str] | None = None,
) -> tuple[tuple[str, ...], bool]:
    """Rules of one minimal conflict, and whether physics, ratings and regulation alone exclude every rig.

    `possible` answers whether a rig keeps these rules, where more is known or more is asked than of this brief alone;
    `order` is that of the rules, if it is not the brief's own.
    """
    from solver.search.minimal import minimal_set

    oracle = possible if possible is not None else lambda kept: _possible(asked, kept)
    every = in_order(asked) if order is None else tuple(order)
    hard = _fixed(every, oracle)
    rules = hard or every
    for end in range(1, len(rules)):
        if RULES[rules[end - 1]].basis is not RULES[rules[end]].basis and not oracle(frozenset(rules[:end])):
            rules = rules[:end]
            break
    return minimal_set(rules, oracle) or (), hard is not None


def some_conflict(asked: Asked, likely: Iterable[str], rigs: Iterable[Ints] = ()) -> tuple[str, ...]:
    """Rules of some minimal conflict of a brief that no rig meets; quick where the likely ones are among them.

    `rigs` are columns of rigs met elsewhere: what they keep need not be searched.
    """
    from solver.search.minimal import minimal_set
    from solver.search.witnesses import Witnesses

    witnesses = Witnesses(asked.question())
    for columns in rigs:
        witnesses.add(columns)
    every = in_order(asked)
    first = [rule for rule in dict.fromkeys(likely) if rule in every]
    rules = [*first, *(rule for rule in every if rule not in first)]
    return minimal_set(rules, lambda kept: witnesses.any_rig(asked.rows_of(kept)) is not None) or ()


def conflicts(asked: Asked, most: int) -> Clashing:
    """At most so many minimal conflicts, in order.

    Tier by tier: a conflict with a rule of a later tier comes after all those without. Where the order cannot be settled
    within the patience, what is known is followed by one conflict more, if none is known at all.
    """
    from solver.search.conflicts import minimal_conflicts

    hard = _fixed(in_order(asked), lambda kept: _possible(asked, kept))
    rules = hard or in_order(asked)
    many = len(rules) + 1
    weights = {rule: many ** _TIERS.get(RULES[rule].basis, 0) for rule in rules}
    found: list[tuple[str, ...]] = []
    complete = False
    patience = _PATIENCE
    for last in range(len(_PREFERENCE)):
        tier = tuple(rule for rule in rules if _PREFERENCE[RULES[rule].basis] <= last)
        if len(found) >= most or (not found and _possible(asked, frozenset(tier))):
            continue
        sets = minimal_conflicts(tier, weights, rigs_kept(asked, tier), most - len(found), patience, found)
        found += sets.conflicts
        patience -= sets.asked
        complete = sets.complete and len(tier) == len(rules)
        if patience <= 0:
            break
    if not found:
        members, _ = clashing(asked)
        return Clashing((members,), False, hard is not None)
    return Clashing(tuple(found), complete, hard is not None)


def rigs_kept(asked: Asked, rules: tuple[str, ...]) -> Callable[[frozenset[str]], frozenset[str] | None]:
    """The oracle about rigs: which of the rules some rig keeps that keeps these; None if no rig keeps them."""
    from solver.search.best import any_rig

    program = asked.program
    own = {rule: np.array([group == rule for group in program.groups]) for rule in rules}

    def kept(wanted: frozenset[str]) -> frozenset[str] | None:
        rig = any_rig(asked.question(rows=asked.rows_of(wanted)))
        if rig is None:
            return None
        rigs_met(asked).append(rig)
        broken = program.rows[:, rig].sum(axis=1) > program.rhs
        return frozenset(rule for rule in rules if not broken[own[rule]].any())

    return kept


def rigs_met(asked: Asked) -> list[Ints]:
    """Rigs met in the search for conflicts; each keeps many rules."""
    met: list[Ints] = asked._kept.setdefault("rigs of conflicts", [])
    return met


def told(asked: Asked, members: tuple[str, ...], unavoidable: bool) -> Conflict:
    """A conflict with the numbers of this brief."""
    return Conflict(tuple(_clash(asked, rule, members) for rule in members), unavoidable)


def _clash(asked: Asked, rule: str, members: tuple[str, ...]) -> Clash:
    """The closest that a rig keeping all other members comes to this one."""
    from solver.search.best import closest

    own = [i for i, group in enumerate(asked.program.groups) if group == rule]
    found = closest(asked.question(rows=asked.rows_of(frozenset(members) - {rule})), own)
    if found is None:
        return Clash(rule, None, ())
    row, columns = found
    instance = asked.instances[row]
    rig = asked.rig_of(columns)
    return Clash(rule, balance_of(asked.setting, instance, chosen(asked.setting, rig)), _suppliers(asked, instance, rig))


def _suppliers(asked: Asked, instance: Instance, rig: dict[str, int]) -> tuple[Part, ...]:
    """The options that give what this balance has to offer."""
    options = chosen(asked.setting, rig)
    slots = [
        slot
        for term in instance.terms
        if term.side is Side.SUPPLY and term.slot is not None
        for slot in asked.setting.slots_of(term)
        if float(term.of(options[slot], instance.case)) != 0.0
    ]
    parts = [(slot, options[slot]) for slot in dict.fromkeys(slots)]
    return tuple(Part(slot, option.item, option.label, option.choice) for slot, option in parts)
