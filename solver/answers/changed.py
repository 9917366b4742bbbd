"""The same question after a change of the brief, with only those rows compiled anew that read what moved.

Contents: `changed` (one requirement), `changed_brief` (several at once), `declined` (a duty left out).

Steps, curves, repairs and what-ifs ask the same brief many times over, a little changed. Each of the three functions gives
an `Asked` that equals `ask(asked.catalog, brief, asked.by)` bit for bit (rows, right-hand sides, labels, reads, costs), in a
fraction of the time:

>>> from solver.answers.changed import changed                                                       # doctest: +SKIP
>>> other = changed(asked, REQUIREMENTS["hose_reach"], 60.96, "winter attic")                        # doctest: +SKIP
>>> other.best().cost, other.program.rhs, other.balances(rig)                                        # doctest: +SKIP

A value is in SI, as for `with_value`, whose EntryError comes through where a brief could not say so. The options of the
slots are shared, so the columns of a rig mean the same rig before and after. It stands on what the program notes:
a row is the same where it reads none of the requirements that moved. Rules that come into play or drop out with the change
are laid anew. Changes may be chained; start from the original `asked` where there is a choice.
"""

from __future__ import annotations

import numpy as np

from solver.answers.ask import Asked
from solver.answers.changed_rows import compile_moved
from solver.brief.models import Brief
from solver.brief.requirements import Requirement, moved_by, with_value
from solver.program.compile import compile_program
from solver.program.matrix import Ints, Program
from solver.program.objectives import FUEL_RULE, cost_rows, objective_columns
from solver.rules import RULES
from solver.rules.case import Case
from solver.rules.instances import Instance, Place, Setting, rule_instances
from solver.rules.record import Rule

YEARLY = "yearly-cost"
"""The only cost that a requirement can move, by the fuel that it counts."""


def changed(asked: Asked, requirement: Requirement, value: float, duties: str | tuple[str, ...] | None = None) -> Asked:
    """The same question with one requirement changed.

    Parameters
    ----------
    asked : Asked
        Stays as it is.
    requirement : Requirement
        What is changed.
    value : float
        The new value in SI.
    duties : str or tuple of str, optional
        The duty or duties in which it is changed; all of them if not given.

    Raises
    ------
    EntryError
        Where the file of a brief could not say so.
    """
    brief = with_value(asked.brief, requirement, value, duties)
    names = (duties,) if isinstance(duties, str) else duties
    moved: frozenset[str] = frozenset()
    for name in names or (None,):
        moved |= moved_by(asked.brief, requirement, name)
    return changed_brief(asked, brief, moved, names if requirement.duty else None)


def changed_brief(asked: Asked, brief: Brief, moved: frozenset[str], duties: tuple[str, ...] | None = None) -> Asked:
    """The same question under a brief that differs in the requirements `moved` alone, with all that follow them.

    `duties` names the duties in which they move, where all of them are requirements of a duty; any duty if not given.
    """
    return _laid(asked, brief, moved, duties, frozenset())


def declined(asked: Asked, duty: str) -> Asked:
    """The same question without one of its several duties; EntryError if it has no such duty or no other."""
    return _laid(asked, asked.brief.without_duty(duty), frozenset(), None, frozenset({duty}))


def _laid(asked: Asked, brief: Brief, moved: frozenset[str], duties: tuple[str, ...] | None, gone: frozenset[str]) -> Asked:
    """The brief laid over the same options: rows taken over where they stay the same, compiled where not."""
    setting = Setting(brief, asked.setting.slots, asked.setting.materials)
    old = asked.program
    same = {
        instance.place: i
        for i, (instance, reads) in enumerate(zip(asked.instances, old.reads, strict=True))
        if not _touched(instance, reads, moved, duties, gone)
    }
    found = _instances(asked, setting, moved, same, gone)
    places = [same.get(instance.place) for instance in found]
    fresh = [k for k, place in enumerate(places) if place is None]
    lone = [found[k] for k in fresh]
    if gone:
        part = compile_program(setting, lone, {})
        compiled = list(zip(part.rows, part.rhs.tolist(), part.reads, strict=True))
    else:
        compiled = compile_moved(asked, setting, lone, moved)
    costs = _costs(asked, setting, found, same)
    asked_now = Asked(asked.catalog, brief, setting, found, asked.by)
    asked_now.__dict__["costs"] = costs
    asked_now.__dict__["program"] = _joined(old, compiled, found, places, fresh, costs)
    return asked_now


def _touched(
    instance: Instance, reads: frozenset[str], moved: frozenset[str], duties: tuple[str, ...] | None, gone: frozenset[str]
) -> bool:
    """Whether a row may come out otherwise: it reads what moved, or it is about all duties and one of them is gone."""
    duty = instance.place.duty
    if gone:
        return not duty or duty in gone
    return bool(reads & moved) and (duties is None or not duty or duty in duties)


def _instances(
    asked: Asked, setting: Setting, moved: frozenset[str], same: dict[Place, int], gone: frozenset[str]
) -> tuple[Instance, ...]:
    """All instances in the order of the register: as they were, or laid anew where the rule can be moved."""
    before: dict[str, list[Instance]] = {}
    for instance in asked.instances:
        before.setdefault(instance.rule.id, []).append(instance)
    cases: dict[tuple[str, str, str], Case] = {}
    waived = frozenset(setting.brief.waived)
    found: list[Instance] = []
    for rule in RULES.values():
        own = before.get(rule.id, [])
        if rule.id in waived:
            continue
        if gone or _may_move(rule, own, moved, same):
            kept = {instance.place: instance for instance in own if instance.place in same}
            found.extend(kept.get(new.place, new) for new in rule_instances(rule, setting, cases))
        else:
            found.extend(own)
    return tuple(found)


def _may_move(rule: Rule, own: list[Instance], moved: frozenset[str], same: dict[Place, int]) -> bool:
    """Whether the rule must be laid anew: a row of it moved, or it may be switched on by what moved.

    What decides whether a rule applies is noted only where it does apply; elsewhere its declared effects speak for it, and
    a rule about a limit is asked whether there is one.
    """
    switched = not own or bool(moved & rule.effects.keys())
    return switched or any(instance.place not in same for instance in own)


def _costs(asked: Asked, setting: Setting, found: tuple[Instance, ...], same: dict[Place, int]) -> dict[str, Ints]:
    """Costs of the options; the fuel in the yearly cost is worked out anew where a row of the fuel rule moved."""
    before = [instance.place for instance in asked.instances if instance.rule.id == FUEL_RULE]
    after = [instance.place for instance in found if instance.rule.id == FUEL_RULE]
    if before == after and all(place in same for place in after):
        return dict(asked.costs)
    functions = objective_columns(setting, found)
    return {**asked.costs, **cost_rows(setting, {YEARLY: functions[YEARLY]})}


def _joined(
    old: Program, compiled: list[tuple[Ints, int, frozenset[str]]], found: tuple[Instance, ...],
    places: list[int | None], fresh: list[int], costs: dict[str, Ints],
) -> Program:  # fmt: skip
    """One program of the rows taken over and those compiled."""
    rows = np.empty((len(found), old.rows.shape[1]), np.int64)
    rhs = np.empty(len(found), np.int64)
    reads: list[frozenset[str]] = [frozenset()] * len(found)
    kept = [(k, i) for k, i in enumerate(places) if i is not None]
    new, before = [k for k, _ in kept], [i for _, i in kept]
    rows[new], rhs[new] = old.rows[before], old.rhs[before]
    for k, i in kept:
        reads[k] = old.reads[i]
    for k, (row, limit, read) in zip(fresh, compiled, strict=True):
        rows[k], rhs[k], reads[k] = row, limit, read
    return Program(
        rows,
        rhs,
        old.offsets,
        costs,
        tuple(instance.place for instance in found),
        tuple(instance.rule.id for instance in found),
        frozenset(instance.rule.id for instance in found if instance.rule.background),
        tuple(reads),
    )
