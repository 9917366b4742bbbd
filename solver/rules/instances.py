"""Rules laid over a brief: one instance per rule, duty, state, end of the air and part, with its terms slot by slot.

Contents: `Place`, `Instance`, `Setting` (brief, options and material records together); `instances` (all), `rule_instances`,
`placed` (those of one rule, in one place), `judged_at` (its places).
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from copy import copy
from dataclasses import dataclass, field
from typing import Any

from solver.brief.models import Brief, Duty
from solver.options.table import SlotOptions
from solver.rules.case import Case
from solver.rules.record import EVERY, RULES, Guard, Part, Rule, Term


@dataclass(frozen=True, order=True)
class Place:
    """Where a rule is judged. Empty words where it makes no difference."""

    rule: str
    duty: str = ""
    state: str = ""
    end: str = ""
    part: str = ""

    def __str__(self) -> str:
        where = ", ".join(word for word in (self.duty, self.state, self.end and f"{self.end} air", self.part) if word)
        return f"{self.rule} ({where})" if where else self.rule


@dataclass(frozen=True, eq=False)
class Setting:
    """What rules are laid over: the brief, the options of every slot, and the materials' catalog records."""

    brief: Brief
    slots: Mapping[str, SlotOptions]
    materials: dict[str, Any]
    by_class: Mapping[str, tuple[str, ...]] = field(init=False)
    pumps: frozenset[str] = field(init=False)

    def __post_init__(self) -> None:
        classes: dict[str, list[str]] = {}
        for name, table in self.slots.items():
            classes.setdefault(table.slot.item_class, []).append(name)
        object.__setattr__(self, "by_class", {key: tuple(names) for key, names in classes.items()})
        pumps = self.slots["feed_pump_a"].items if "feed_pump_a" in self.slots else ()
        object.__setattr__(self, "pumps", frozenset(pumps))

    def under(self, brief: Brief) -> Setting:
        """The same options and materials under another brief."""
        other = copy(self)
        object.__setattr__(other, "brief", brief)
        return other

    def slots_of(self, term: Term) -> tuple[str, ...]:
        """Names of the slots in which the term is taken."""
        if term.slot is None:
            return ()
        names = term.slot if isinstance(term.slot, tuple) else (term.slot,)
        found: list[str] = []
        for name in names:
            if name == EVERY:
                found.extend(self.slots)
            elif name in self.slots:
                found.append(name)
            else:
                found.extend(self.by_class.get(name, ()))
        return tuple(found)

    def case(self, duty: Duty | None, state: str, end: str) -> Case:
        """A case of this brief."""
        return Case(self.brief, self.materials, duty, state, end, self.pumps)


@dataclass(frozen=True, eq=False)
class Instance:
    """One balance to be judged: the place, the case, and the terms that count there."""

    rule: Rule
    place: Place
    case: Case
    terms: tuple[Term, ...]
    guard: Guard | None
    reads: frozenset[str]
    """Requirements read in deciding whether the rule applies; those of its terms are noted where they are computed."""


def judged_at(
    rule: Rule, setting: Setting, duties: Collection[str] | None = None
) -> Iterator[tuple[Duty | None, str, str]]:
    """Duty, state and end of the air of every place where a rule may be judged, in all duties or in some."""
    if not rule.scope.duties:
        yield None, "", ""
        return
    for duty in setting.brief.duties:
        if duties is not None and duty.name not in duties:
            continue
        for state in rule.scope.states:
            for end in rule.scope.ends:
                yield duty, state, end


def _parts(rule: Rule, setting: Setting, case: Case) -> tuple[Part, ...]:
    return rule.parts if isinstance(rule.parts, tuple) else rule.parts(setting.slots, case)


def rule_instances(
    rule: Rule, setting: Setting, cases: dict[tuple[str, str, str], Case], duties: Collection[str] | None = None
) -> Iterator[Instance]:
    """Every instance of one rule, or those of some duties; none where the brief does not ask for it."""
    for duty, state, end in judged_at(rule, setting, duties):
        yield from placed(rule, setting, cases, duty, state, end)


def placed(
    rule: Rule, setting: Setting, cases: dict[tuple[str, str, str], Case], duty: Duty | None, state: str, end: str
) -> Iterator[Instance]:
    """The instances of a rule in one duty, state and end of the air: one a part, none where the brief does not ask for it."""
    key = (duty.name if duty else "", state, end)
    if key not in cases:
        cases[key] = setting.case(duty, state, end)
    case = cases[key]
    case.start_noting()
    if not rule.when(case):
        return
    parts = _parts(rule, setting, case)
    reads = case.reads
    for part in parts:
        kept = tuple(t for t in rule.terms if not _left_out(t, part))
        yield Instance(rule, Place(rule.id, *key, part.name), case, kept + part.terms, part.guard or rule.guard, reads)


def _left_out(term: Term, part: Part) -> bool:
    return isinstance(term.slot, str) and term.slot in part.without


def instances(setting: Setting, rules: Mapping[str, Rule] = RULES) -> tuple[Instance, ...]:
    """Every instance of every rule that the brief does not waive, in the order of the register."""
    cases: dict[tuple[str, str, str], Case] = {}
    waived = frozenset(setting.brief.waived)
    return tuple(
        instance for rule in rules.values() if rule.id not in waived for instance in rule_instances(rule, setting, cases)
    )
