"""What each rule says of requirements, against what it reads and what its figures do on the demo.

1. What a rule reads is what it states an effect for.
2. Raised by one step of its grid, or by six, a requirement moves every rig's margin only in the direction stated.
3. Where both directions are stated, both are seen.
4. What a rule did not read does not move it: raised all at once, nothing changes. Of a rule that a brief does not ask
   for (a dry site wants no dryer) nothing is recorded; what it states an effect for may bring it in.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
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

STEPS = (1, 6)


def each_duty(start: Brief, **keys: object) -> Brief:
    """The brief with keys of every duty replaced; None leaves a key out."""
    data = start.entry.model_dump(by_alias=True, exclude_unset=True)
    changed = ({**duty, **keys} for duty in data["duties"])
    return start.changed(duties=[{key: value for key, value in duty.items() if value is not None} for duty in changed])


VARIANTS = {
    "on site power": lambda: each_duty(brief("first_rig"), site_supply={"system": "wye", "power": "30 kVA"}),
    "left to coast": lambda: each_duty(
        brief("mountain_winter"), overnight={"parking": "outdoors", "hose_inside": False, "air": "-5 degF"}
    ),
    "a hot night": lambda: each_duty(
        brief("humid_coast"), overnight={"parking": "outdoors", "hose_inside": False, "air": "98 degF"}
    ),
    "hot all day": lambda: each_duty(
        brief("first_rig"), air_temperature={"coldest": "101 degF", "hottest": "118 degF"}, humidity="20 %"
    ),
    "board feet": lambda: each_duty(brief("mountain_winter"), output=None, board_feet_a_day="4000 board_feet"),
    "interlocks": lambda: brief("humid_coast").changed(
        interlocks=("drum-heat-after-hose", "compressor-after-warm-up"), unheated_air_line=True
    ),
    "a thin load": lambda: brief("owned_truck").changed(margins={"trigger_share": "20 %", "drum_target": "60 degF"}),
    "on the edge of a second set": lambda: each_duty(
        brief("first_rig").changed(materials=[{"material": brief("first_rig").materials[0].material, "sets": 4}]),
        output="8 lb/min",
        hours={"overnight": "12 h", "warm-up": "1.5 h", "spraying": "4 h", "cleaning": "0.5 h"},
    ),
}
"""Briefs that ask for what no demo brief asks for."""

UNREAD: dict[str, tuple[str, ...]] = {}
"""Per rule the requirements whose effect is stated though neither a demo brief nor a variant reads them, with the
reason beside each."""

_AVERAGE = "said in board feet, a longer day or open gun lowers the flow as much as it lengthens it"
_CEILING = "warmer air is thinner; the moisture in it stays what it was outdoors"
ONE_WAY_HERE: dict[tuple[str, str], str] = {
    ("AIR-01", "spraying_time"): _AVERAGE,
    ("AIR-01", "trigger_share"): _AVERAGE,
    ("AIR-12", "spraying_time"): _AVERAGE,
    ("AIR-12", "trigger_share"): _AVERAGE,
    ("AIR-03", "spraying_time"): "read only where the output follows from board feet",
    ("AIR-03", "trigger_share"): "read only where the output follows from board feet",
    ("AIR-01", "body_ceiling"): _CEILING,
    ("AIR-03", "body_ceiling"): _CEILING,
    ("AIR-12", "body_ceiling"): _CEILING,
    ("AIR-04", "body_ceiling"): _CEILING,
    ("AIR-04", "altitude"): "less air to cool outweighs the moisture that it holds at a lower pressure",
    ("HEAT-08", "output"): "more sets opened than are heated: the saving is no longer counted on, and nothing is asked",
    ("HEAT-08", "spraying_time"): "as with the output",
    ("HEAT-08", "trigger_share"): "as with the output",
    ("PWR-01", "body_floor"): "a warmer body asks nothing of the loads but less heat into the flow",
    ("PWR-05", "body_floor"): "a warmer body asks nothing of the loads but less heat into the flow",
    ("PWR-05", "spraying_time"): "read only where the output follows from board feet; warm drums are not credited",
    ("PWR-05", "trigger_share"): "read only where the output follows from board feet; warm drums are not credited",
    ("PWR-06", "spraying_time"): "fuel for other loads outweighs the lower flow",
    ("PWR-06", "trigger_share"): "fuel for other loads outweighs the lower flow",
    ("PWR-07", "trigger_share"): "a longer open gun loads the set more",
}
"""(rule, requirement) stated to go both ways, of which the demo shows one alone: why."""

EVERY = (*BRIEFS, *VARIANTS)
Moves = dict[tuple[str, str], tuple[bool, bool, str]]


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
def moves(name: str, steps: int) -> Moves:
    """Per (rule, requirement) read in a brief: whether raising it hurts some rig, helps some rig, and where first."""
    of, before = laid(name), rows(name)
    found: Moves = {}
    for requirement in sorted(set().union(*reads(name).values())):
        changed = raised(of.brief, requirement, steps=steps)
        if changed is None:
            continue
        rules = {rule: RULES[rule] for rule, names in reads(name).items() if requirement in names}
        setting = setting_with(of, changed)
        after = {instance.place: float_row(setting, instance) for instance in instances(setting, rules)}
        for place, hurts, helps, words in compared({p: r for p, r in before.items() if p.rule in rules}, after):
            was = found.get((place.rule, requirement), (False, False, ""))
            told = f"{was[2]}; {words}" if was[2] and words else was[2] or words
            found[place.rule, requirement] = (was[0] or hurts, was[1] or helps, told)
    return found


def compared(before, after) -> Iterator[tuple]:
    """(place, hurts, helps, words) of every balance that moves; one that comes hurts, one that goes helps."""
    for place in dict.fromkeys((*before, *after)):
        if place not in before or place not in after:
            yield place, place in after, place in before, f"{place} {'comes' if place in after else 'goes'}"
        else:
            change = change_of(before[place], after[place])
            words = f"{place} {change.least:+.4g} .. {change.most:+.4g}" if not change.nothing else ""
            yield place, change.least < 0.0, change.most > 0.0, words


@pytest.mark.parametrize("name", EVERY)
def test_a_rule_states_an_effect_for_all_that_it_reads(name):
    unstated = {rule: sorted(names - set(RULES[rule].effects)) for rule, names in reads(name).items()}
    assert {rule: names for rule, names in unstated.items() if names} == {}


def test_a_rule_reads_all_for_which_it_states_an_effect():
    read = defaultdict(set)
    for name in EVERY:
        for rule, names in reads(name).items():
            read[rule] |= names
    known = {rule: read[rule] | set(UNREAD.get(rule, ())) for rule in RULES}
    idle = {rule: sorted(set(record.effects) - known[rule]) for rule, record in RULES.items()}
    assert {rule: names for rule, names in idle.items() if names} == {}
    told = {rule: sorted(set(names) & read[rule]) for rule, names in UNREAD.items()}
    assert {rule: names for rule, names in told.items() if names} == {}, "these are read: take them out of UNREAD"


@pytest.mark.parametrize("steps", STEPS)
@pytest.mark.parametrize("name", EVERY)
def test_a_raised_requirement_moves_margins_only_as_stated(name, steps):
    wrong = []
    for (rule, requirement), (hurts, helps, words) in moves(name, steps).items():
        effect = RULES[rule].effects.get(requirement)
        if (effect is Effect.EASES and hurts) or (effect is Effect.TIGHTENS and helps):
            wrong.append(f"{rule} {requirement} {effect.value}: {words[:300]}")
    assert wrong == []


def test_where_both_ways_are_stated_both_are_seen():
    hurt, helped = set(), set()
    for name in EVERY:
        for steps in STEPS:
            for pair, (hurts, helps, _) in moves(name, steps).items():
                hurt |= {pair} if hurts else set()
                helped |= {pair} if helps else set()
    both = {(rule, r) for rule, record in RULES.items() for r, e in record.effects.items() if e is Effect.BOTH}
    ways = (("hurts", hurt), ("helps", helped))
    seen = {pair: [word for word, pairs in ways if pair in pairs] for pair in sorted(both)}
    assert {pair: words for pair, words in seen.items() if len(words) < 2 and pair not in ONE_WAY_HERE} == {}
    stale = [pair for pair in ONE_WAY_HERE if pair in hurt & helped or pair not in both]
    assert stale == [], "these are seen to go both ways, or stated to go one way: take them out"


@pytest.mark.parametrize("name", EVERY)
def test_what_a_rule_did_not_read_does_not_move_it(name):
    of, before, wrong = laid(name), rows(name), []
    for rule in RULES:
        unread = [r for r in REQUIREMENTS if r not in reads(name).get(rule, RULES[rule].effects)]
        setting = setting_with(of, raised(of.brief, *unread) or of.brief)
        after = {instance.place: float_row(setting, instance) for instance in instances(setting, {rule: RULES[rule]})}
        own = {place: row for place, row in before.items() if place.rule == rule}
        wrong += [f"{rule} {words}" for _, hurts, helps, words in compared(own, after) if hurts or helps]
    assert wrong == []
