"""The integer rows of one rig under many briefs: what each row comes to, without compiling all options.

Contents: `RigRows`, `places_moved`.

A row of the program on a rig is, slot by slot, the needs rounded up less the supplies rounded down, against what belongs to
the brief alone. Here the same terms run on the chosen options as plain numbers; a test holds the result against the
compiled program.
"""

from __future__ import annotations

from collections.abc import Mapping
from math import ceil, floor

from solver.answers.ask import Asked
from solver.brief.models import Brief
from solver.options.table import OneOption
from solver.program.compile import NOISE, scale_of
from solver.rules import RULES
from solver.rules.balance import Rig, chosen
from solver.rules.case import Case
from solver.rules.instances import Instance, Place, Setting, rule_instances
from solver.rules.record import Side, Term


def places_moved(asked: Asked, moved: frozenset[str], duties: frozenset[str]) -> frozenset[Place]:
    """Places of the rows that read what moves; `duties` are those in which it moves, none meaning any."""
    return frozenset(
        instance.place
        for instance, reads in zip(asked.instances, asked.program.reads, strict=True)
        if reads & moved and (not duties or not instance.place.duty or instance.place.duty in duties)
    )


class RigRows:
    """The rows of one rig that may move with some requirements."""

    def __init__(self, asked: Asked, rig: Rig, moved: frozenset[str], duties: frozenset[str] = frozenset()) -> None:
        self._setting = asked.setting
        self._options: Mapping[str, OneOption] = chosen(asked.setting, rig)
        moving = places_moved(asked, moved, duties)
        self._still = frozenset(instance.place for instance in asked.instances) - moving
        present = {instance.rule.id for instance in asked.instances}
        waived = frozenset(asked.brief.waived)
        self._rules = tuple(
            rule
            for rule in RULES.values()
            if rule.id not in waived
            and (rule.id not in present or moved & rule.effects.keys() or any(p.rule == rule.id for p in moving))
        )

    def excess(self, brief: Brief) -> dict[Place, tuple[int, int]]:
        """Under this brief, per place: by how many steps the row is broken (not above 0 where it holds), and its size."""
        setting = Setting(brief, self._setting.slots, self._setting.materials)
        cases: dict[tuple[str, str, str], Case] = {}
        self._values: dict[tuple[int, int, str], float] = {}
        return {
            instance.place: self._row(instance)
            for rule in self._rules
            for instance in rule_instances(rule, setting, cases)
            if instance.place not in self._still
        }

    def _row(self, instance: Instance) -> tuple[int, int]:
        case, scale = instance.case, scale_of(instance.rule.unit)
        guard = instance.guard
        if guard is not None and not guard.when(self._options[guard.slot], case) > 0.5:
            return -(2**53), 1
        sums: dict[str, list[float]] = {}
        constant = [0.0, 0.0]
        for term in instance.terms:
            side = 0 if term.side is Side.NEED else 1
            if term.slot is None:
                constant[side] += float(term.of(None, case))
                continue
            for name in self._setting.slots_of(term):
                sums.setdefault(name, [0.0, 0.0])[side] += self._value(term, case, name)
        need = sum(ceil(pair[0] * scale - NOISE) for pair in sums.values())
        supply = sum(floor(pair[1] * scale + NOISE) for pair in sums.values())
        if constant[1] == float("inf"):
            return -(2**53), 1
        need += ceil(constant[0] * scale - NOISE)
        supply += floor(constant[1] * scale + NOISE)
        return need - supply, max(1, abs(need), abs(supply))

    def _value(self, term: Term, case: Case, name: str) -> float:
        key = (id(term), id(case), name)
        if key not in self._values:
            self._values[key] = float(term.of(self._options[name], case))
        return self._values[key]
