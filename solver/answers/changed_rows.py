"""Rows of a changed brief, with all that reads nothing of what moved taken over from the brief that was asked.

Contents: `compile_moved`, `Laying` (instances of a rule under a changed brief).

A row that moves is a sum of many terms of which few read what moved. The figures of the others are the same as in the brief
that was asked, whatever else was changed when they were first worked out; they are kept with it. Sums are formed in the same
order as ever, so that the same digits come out.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator
from dataclasses import dataclass, replace
from typing import Any

import numpy as np

from solver.answers.ask import Asked
from solver.program.compile import Floats, _Sheet
from solver.program.matrix import Ints
from solver.rules.case import Case
from solver.rules.instances import Instance, Place, Setting, judged_at, placed
from solver.rules.record import Rule, Side, Term

_Kept = dict[tuple[int, str, str, str], tuple[Floats, frozenset[str], Term]]
"""By term and place of the case: figures, reads, and the term itself, so that its identity is not given away."""


@dataclass(frozen=True, eq=False)
class _Plan:
    """How an instance's terms add up where some requirements move: sums of the terms before the first that is moved, then
    each further term (with its figures where they stay)."""

    sums: tuple[tuple[Side, Floats], ...]
    further: tuple[tuple[Term, Floats | None], ...]
    alone: tuple[tuple[Term, float | None], ...]
    """Terms of the brief alone, with their figures where they stay."""
    reads: frozenset[str]


class _Terms(_Sheet):
    """The columns of all slots, where figures known from the brief that was asked are not worked out again."""

    def __init__(self, asked: Asked, setting: Setting, moved: frozenset[str]):
        super().__init__(setting)
        self._moved = moved
        self._kept: _Kept = asked._kept.setdefault("terms", {})
        self._plans: dict[Any, _Plan] = asked._kept.setdefault("plans", {})
        if "asked terms" not in asked._kept:
            asked._kept["asked terms"] = {id(instance.terms) for instance in asked.instances}
        self._asked: set[int] = asked._kept["asked terms"]

    def values(self, term: Term, case: Case) -> tuple[Floats, frozenset[str]]:
        """The term over all columns and what it read."""
        key = (id(term), case.duty_name, case.state, case.end)
        known = self._kept.get(key)
        if known is not None and not known[1] & self._moved:
            return known[0], known[1]
        full, reads = super().values(term, case)
        if not reads & self._moved:
            self._kept[key] = (full, reads, term)
        return full, reads

    def summed(self, instance: Instance, need: Floats, supply: Floats) -> tuple[float, float, frozenset[str]]:
        """As in any sheet, from the plan where the instance has the terms that it had in the brief asked."""
        if id(instance.terms) not in self._asked:
            return super().summed(instance, need, supply)
        key = (id(instance.terms), instance.case.duty_name, instance.case.state, instance.case.end, self._moved)
        if key not in self._plans:
            self._plans[key] = self._plan(instance)
        plan, case = self._plans[key], instance.case
        for side, sums in plan.sums:
            (need if side is Side.NEED else supply)[:] = sums
        reads = [instance.reads, plan.reads]
        case.start_noting()
        constant = {Side.NEED: 0.0, Side.SUPPLY: 0.0}
        for term, figure in plan.alone:
            constant[term.side] += float(term.of(None, case)) if figure is None else figure
        for term, figures in plan.further:
            if figures is None:
                figures, read = self.values(term, case)
                reads.append(read)
            if term.side is Side.NEED:
                need += figures
            else:
                supply += figures
        return constant[Side.NEED], constant[Side.SUPPLY], frozenset().union(*reads, case.reads)

    def _plan(self, instance: Instance) -> _Plan:
        case, stays = instance.case, set[str]()
        sums = {side: np.zeros(int(self.offsets[-1])) for side in Side}
        moved_sides, further, alone = set[Side](), [], []
        for term in instance.terms:
            if term.slot is None:
                case.start_noting()
                figure = float(term.of(None, case))
                fixed = not case.reads & self._moved
                alone.append((term, figure if fixed else None))
                stays |= case.reads if fixed else set()
                continue
            figures, reads = self.values(term, case)
            fixed = not reads & self._moved
            stays |= reads if fixed else set()
            if fixed and term.side not in moved_sides:
                sums[term.side] += figures
                continue
            moved_sides.add(term.side)
            further.append((term, figures if fixed else None))
        return _Plan(tuple(sums.items()), tuple(further), tuple(alone), frozenset(stays))


def compile_moved(
    asked: Asked, setting: Setting, instances: Iterable[Instance], moved: frozenset[str]
) -> list[tuple[Ints, int, frozenset[str]]]:
    """Row, right-hand side and reads of instances laid over a setting that differs from the brief asked in `moved` alone."""
    rows, rhs, reads = _Terms(asked, setting, moved).rows(tuple(instances))
    return list(zip(rows, rhs.tolist(), reads, strict=True))


class Laying:
    """Rules laid over briefs that differ from the one asked in some requirements: what they do not read is taken over."""

    def __init__(self, asked: Asked, moved: frozenset[str], duties: Collection[str] | None):
        """`duties` are those in which they move; None for any. Only a figure may change, never whether there is one."""
        self._moved, self._duties = moved, duties
        self._before: dict[tuple[str, str, str, str], list[Instance]] = {}
        for instance in asked.instances:
            place = instance.place
            self._before.setdefault((place.rule, place.duty, place.state, place.end), []).append(instance)

    def instances(
        self, rule: Rule, setting: Setting, cases: dict[tuple[str, str, str], Case], known: Collection[Place]
    ) -> Iterator[Instance]:
        """Instances of a rule under a brief, those at known places left out."""
        for duty, state, end in judged_at(rule, setting, self._duties):
            key = (duty.name if duty else "", state, end)
            before = self._before.get((rule.id, *key), ())
            if not before or any(instance.reads & self._moved for instance in before):
                found: Iterable[Instance] = placed(rule, setting, cases, duty, state, end)
                yield from (instance for instance in found if instance.place not in known)
                continue
            for instance in before:
                if instance.place not in known:
                    if key not in cases:
                        cases[key] = setting.case(duty, state, end)
                    yield replace(instance, case=cases[key])
