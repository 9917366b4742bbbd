"""What each rule says of requirements, against what it reads and what its figures do on the demo.

1. What a rule reads is what it states an effect for.
2. Raised by one step of its grid, a requirement moves every rig's margin only in the direction stated.
3. Where both directions are stated, both are seen.
4. What a rule did not read does not move it: raised all at once, nothing changes. Of a rule that a brief does not ask for
   (a dry site wants no dryer) nothing is recorded; what it states an effect for may bring it in.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import pytest

from solver.answers.ask import ask
from solver.brief.models import Brief
from solver.brief.requirements import REQUIREMENTS
from solver.rules import RULES
from solver.rules.instances import instances
from solver.rules.record import Effect
from tests.demo.demo import BRIEFS, asked, brief, stock
from tests.demo.effects import change_of, float_row, raised, setting_with


def on_site_power(start: Brief) -> Brief:
    """The brief with electricity at every site."""
    duties = tuple(replace(duty, site_system="wye", site_power=30_000.0) for duty in start.duties)
    return replace(start, duties=duties)


def without_lifted_night(start: Brief) -> Brief:
    """The brief parked outdoors, hose outside, left to coast."""
    return replace(
        start, duties=tuple(replace(duty, parking="outdoors", hose_inside=False, keep_warm=None) for duty in start.duties)
    )


def with_interlocks(start: Brief) -> Brief:
    """The brief with every interlock, and an air line that runs unheated outdoors."""
    return replace(
        start, interlocks=("drum-heat-after-hose", "compressor-after-warm-up"), unheated_air_line=True
    )


VARIANTS = {
    "first_rig on site power": lambda: on_site_power(brief("first_rig")),
    "first_rig left to coast": lambda: without_lifted_night(brief("first_rig")),
    "humid_coast with interlocks": lambda: with_interlocks(brief("humid_coast")),
    "mountain_winter left to coast": lambda: without_lifted_night(brief("mountain_winter")),
}
"""Briefs that ask for what no demo brief asks for."""

UNREAD: dict[str, tuple[str, ...]] = {}
"""Per rule the requirements whose effect is stated though neither a demo brief nor a variant reads them, with the reason
beside each."""

ONE_WAY_HERE: dict[tuple[str, str], str] = {}
"""(rule, requirement) whose effect goes both ways, of which the demo shows one alone: why."""


@cache
def laid(name: str):
    """A demo brief or variant laid over the demo catalog."""
    return ask(stock(), VARIANTS[name]()) if name in VARIANTS else asked(name)


@cache
def reads(name: str) -> dict[str, frozenset[str]]:
    """Per rule what it reads in one brief."""
    of = laid(name)
    return {rule: of.reads_of(rule) for rule in of.groups}


@cache
def rows(name: str):
    """Every balance of a brief as margins per option, by place."""
    of = laid(name)
    return {instance.place: float_row(of.setting, instance) for instance in of.instances}


@cache
def moves(name: str) -> dict[tuple[str, str], tuple[bool, bool, str]]:
    """Per (rule, requirement) read in a brief: whether raising it hurts some rig, helps some rig, and where first."""
    of, before = laid(name), rows(name)
    found: dict[tuple[str, str], tuple[bool, bool, str]] = {}
    for requirement in sorted(set().union(*reads(name).values())):
        changed = raised(of.brief, requirement)
        if changed is None:
            continue
        rules = {rule: RULES[rule] for rule, names in reads(name).items() if requirement in names}
        setting = setting_with(of, changed)
        after = {instance.place: float_row(setting, instance) for instance in instances(setting, rules)}
        for place, hurts, helps, words in compared({p: r for p, r in before.items() if p.rule in rules}, after):
            was = found.get((place.rule, requirement), (False, False, ""))
            found[place.rule, requirement] = (was[0] or hurts, was[1] or helps, was[2] or words)
    return found


def compared(before, after) -> Iterator[tuple]:
    """(place, hurts, helps, words) of every balance before or after; one that comes hurts, one that goes helps."""
    for place in dict.fromkeys((*before, *after)):
        if place not in before or place not in after:
            yield place, place in after, place in before, f"{place} {'comes' if place in after else 'goes'}"
        elif before[place].slots.keys() != after[place].slots.keys():
            yield place, True, True, f"{place} has other terms"
        else:
            change = change_of(before[place], after[place])
            yield place, change.least < 0.0, change.most > 0.0, f"{place} {change.least:+.6g} .. {change.most:+.6g}"


@pytest.mark.parametrize("name", [*BRIEFS, *VARIANTS])
def test_a_rule_states_an_effect_for_all_that_it_reads(name):
    unstated = {rule: sorted(names - set(RULES[rule].effects)) for rule, names in reads(name).items()}
    assert {rule: names for rule, names in unstated.items() if names} == {}


def test_a_rule_reads_all_for_which_it_states_an_effect():
    read = defaultdict(set)
    for name in (*BRIEFS, *VARIANTS):
        for rule, names in reads(name).items():
            read[rule] |= names
    idle = {rule: sorted(set(record.effects) - read[rule] - set(UNREAD.get(rule, ()))) for rule, record in RULES.items()}
    assert {rule: names for rule, names in idle.items() if names} == {}
    told = {rule: sorted(set(names) & read[rule]) for rule, names in UNREAD.items()}
    assert {rule: names for rule, names in told.items() if names} == {}, "these are read: take them out of UNREAD"


@pytest.mark.parametrize("name", [*BRIEFS, *VARIANTS])
def test_a_raised_requirement_moves_margins_only_as_stated(name):
    wrong = []
    for (rule, requirement), (hurts, helps, words) in moves(name).items():
        effect = RULES[rule].effects.get(requirement)
        if (effect is Effect.EASES and hurts) or (effect is Effect.TIGHTENS and helps):
            wrong.append(f"{rule} {requirement} {effect.value}: {words}")
    assert wrong == []


def test_where_both_ways_are_stated_both_are_seen():
    hurt, helped = set(), set()
    for name in (*BRIEFS, *VARIANTS):
        for pair, (hurts, helps, _) in moves(name).items():
            hurt |= {pair} if hurts else set()
            helped |= {pair} if helps else set()
    both = {(rule, r) for rule, record in RULES.items() for r, e in record.effects.items() if e is Effect.BOTH}
    one_way = {pair: "hurts" if pair in hurt else "helps" if pair in helped else "idle" for pair in both - (hurt & helped)}
    assert {pair: way for pair, way in sorted(one_way.items()) if pair not in ONE_WAY_HERE} == {}
    assert [pair for pair in ONE_WAY_HERE if pair in hurt & helped] == [], "these go both ways: take them out"


@pytest.mark.parametrize("name", [*BRIEFS, *VARIANTS])
def test_what_a_rule_did_not_read_does_not_move_it(name):
    of, before, wrong = laid(name), rows(name), []
    for rule in RULES:
        unread = [r for r in REQUIREMENTS if r not in reads(name).get(rule, frozenset())]
        changed = of.brief
        for requirement in unread:
            changed = raised(changed, requirement) or changed
        setting = setting_with(of, changed)
        after = {instance.place: float_row(setting, instance) for instance in instances(setting, {rule: RULES[rule]})}
        own = {place: row for place, row in before.items() if place.rule == rule}
        wrong += [words for _, hurts, helps, words in compared(own, after) if hurts or helps]
    assert wrong == []
