"""First steps, rooms and holds in toy worlds with two duties, against trying every rig at every value."""

from __future__ import annotations

import numpy as np
import pytest

import solver.search.engine
from solver.answers import steps as steps_module
from solver.answers.steps import steps, ways
from solver.answers.steps_facts import FirstStep, Side, Step
from solver.answers.steps_rows import Way
from solver.brief.requirements import REQUIREMENTS, Direction, Kind, value_of
from solver.quantities import to_unit
from tests.answers.small import toys
from tests.answers.small.toys import DUTIES, RULES, SHORT, World, changed
from tests.answers.small.world import brief

SEEDS = {"price": (6, 19, 28, 31, 35, 53), "yearly-cost": (3, 14, 32), "ties": (2, 7, 10, 16)}
"""Worlds with many first steps, with steps of both duties at once, with a lower cost beyond a room, with several best rigs;
and with more of them than are listed."""
QUESTIONS = {"price": 133, "yearly-cost": 134, "ties": 16}
"""Questions put to the engine in these worlds: no more than it took."""


@pytest.fixture
def toy(monkeypatch):
    """The toy worlds in place of the rules."""
    toys.joined(monkeypatch)


def own_value(world, record, duty):
    """The present value of one duty."""
    return round(float(to_unit(value_of(world.brief, record, duty), record.unit)), 9)


def present_of(world, record, duties):
    """The present value; of several duties that which is hardest to meet."""
    values = [own_value(world, record, duty) for duty in duties or (None,)]
    return min(values) if record.easier is Direction.HIGHER else max(values)


def brief_at(world, record, duties, value):
    """The brief at a value; with several duties those stay which are easier to meet than the value."""
    if len(duties) > 1 and record.easier is not Direction.EITHER:
        sign = 1.0 if record.easier is Direction.LOWER else -1.0
        duties = tuple(duty for duty in duties if sign * own_value(world, record, duty) > sign * value)
        if not duties:
            return world.brief
    return changed(world.brief, record, value, duties)


class Judge:
    """One way of a world at any value, by trying every rig."""

    def __init__(self, world, record, duties, columns):
        self.world, self.record, self.duties, self.columns = world, record, duties, columns
        self.present = present_of(world, record, duties)
        self.kept = {}

    def least(self, value):
        """Least cost at a value; infinite where no rig fits, None where there is no such program."""
        if value not in self.kept:
            self.kept[value] = self.world.least(brief_at(self.world, self.record, self.duties, value))
        return self.kept[value]

    def fits(self, value):
        """Whether the best rig fits at a value."""
        good, _ = self.world.fitting(brief_at(self.world, self.record, self.duties, value))
        return bool((good == self.columns).all(axis=1).any())

    def values(self, upwards):
        """Values of the grid on a side, the nearest first, up to the last that there can be."""
        found = [v for v in self.record.grid() if (v > self.present + 1e-9 if upwards else v < self.present - 1e-9)]
        found = found if upwards else found[::-1]
        while found and self.least(found[-1]) is None:
            found.pop()
        return found

    def step(self, upwards, cost):
        """The nearest value at which the least cost is lower, and that cost; None if there is none."""
        return next(((v, self.least(v)) for v in self.values(upwards) if self.least(v) < cost), None)

    def room(self, upwards, cost):
        """The last value with this least cost, whether it is the end, whether the next costs less."""
        values = self.values(upwards)
        count = next((k for k, v in enumerate(values) if self.least(v) != cost), len(values))
        less = count < len(values) and self.least(values[count]) < cost
        return values[count - 1] if count else self.present, count == len(values), less

    def hold(self, upwards):
        """The last value up to which the best rig fits, to the resolution beyond the grid, and whether that is the end."""
        values, fine = self.values(upwards), self.record.resolution
        count = next((k for k, v in enumerate(values) if not self.fits(v)), len(values))
        last = values[count - 1] if count else self.present
        if count == len(values):
            return last, True
        first = round((last - self.record.least) / fine, 6)
        sign = 1 if upwards else -1
        k = int(np.floor(first)) + 1 if upwards else int(np.ceil(first)) - 1
        while True:
            value = round(self.record.least + k * fine, 9)
            if sign * (values[count] - value) < 1e-9 or self.least(value) is None or not self.fits(value):
                return last, False
            last, k = value, k + sign


def expected_ways(world):
    """Requirement and duties of every way that moves a row: each duty alone; all at once where wished and of use."""
    reads = set().union(*(one.effects for one in RULES.values()))
    found = []
    for record in SHORT.values():
        if record.id not in reads:
            continue
        alone = [(duty,) for duty in DUTIES] if record.duty else [()]
        found += [(record, duties) for duties in alone]
        same = len({present_of(world, record, duties) for duties in alone}) == 1
        if record.duty and record.kind is not Kind.SITE and (same or record.easier is not Direction.EITHER):
            found.append((record, DUTIES))
    return found


def told(side):
    """The figures of a side."""
    step = None if side.step is None else (side.step.value, round(side.step.cost * 100))
    return side.upwards, side.easing, step, side.room, side.room_to_end, side.cheaper_beyond, side.holds_to, side.holds_to_end


def expected_side(judge, upwards, cost):
    """The same figures by trying every rig; None of a side that is not told."""
    record, joint = judge.record, len(judge.duties) > 1
    either, site = record.easier is Direction.EITHER, record.kind is Kind.SITE
    easing = either or upwards is (record.easier is Direction.HIGHER)
    if joint and not easing:
        return None
    step = judge.step(upwards, cost) if easing and not site else None
    stays = not joint and (either or not easing)
    room = judge.room(upwards, cost) if stays and not site else (None, False, False)
    hold = judge.hold(upwards) if stays or (site and not joint) else (None, False)
    return upwards, easing, step, *room, *hold


@pytest.mark.usefixtures("toy")
@pytest.mark.parametrize("kind", SEEDS)
def test_every_step_room_and_hold_is_that_of_trying_every_rig(kind, monkeypatch):
    seen = {"step": 0, "room": 0, "hold": 0, "joint": 0, "less": 0, "left out": 0}
    asked_for = []
    solved = solver.search.engine._model
    monkeypatch.setattr(solver.search.engine, "_model", lambda *given: asked_for.append(1) or solved(*given))
    for seed in SEEDS[kind]:
        world = World(seed, kind) if kind != "ties" else World(seed, slack=(60, 240))
        if kind == "ties":
            world.costs["price"] = 1 + world.costs["price"] // 8
        asked = world.asked()
        found = asked.best()
        cost = found.cost
        judges = {(r.id, duties): Judge(world, r, duties, found.columns) for r, duties in expected_ways(world)}
        sides = {
            key: tuple(side for up in (False, True) if (side := expected_side(judge, up, cost)) is not None)
            for key, judge in judges.items()
        }
        alone = {(name, side[0], side[2]) for (name, duties), own in sides.items() if duties != DUTIES for side in own}
        expected = {
            key: own for key, own in sides.items()
            if key[1] != DUTIES or any(side[2] is not None and (key[0], side[0], side[2]) not in alone for side in own)
        }  # fmt: skip
        answer = {(step.requirement, step.duties): step for step in steps(asked, found.columns, cost)}
        assert list(answer) == list(expected), seed
        for key, step in answer.items():
            assert step.present == judges[key].present
            assert tuple(map(told, step.sides)) == expected[key], (seed, key)
            for side in step.sides:
                check_rig(judges[key], side.step, asked, found, cost)
        every = [side for own in expected.values() for side in own]
        seen["step"] += sum(side[2] is not None for side in every)
        seen["room"] += sum(side[3] is not None and not side[4] for side in every)
        seen["hold"] += sum(side[6] is not None and not side[7] for side in every)
        seen["less"] += sum(side[5] for side in every)
        seen["joint"] += sum(key[1] == DUTIES for key in expected)
        seen["left out"] += len(sides) - len(expected)
    assert kind == "ties" or all(count >= 2 for count in seen.values()), seen
    assert len(asked_for) <= QUESTIONS[kind]


def check_rig(judge, step, asked, found, cost):
    """The rig of a first step costs what is said, and changes as little as one of that cost can."""
    if step is None:
        return
    world = judge.world
    good, costs = world.fitting(brief_at(world, judge.record, judge.duties, step.value))
    rig, lines = world.rig_told(step.rig), {line.slot: line for line in step.rig}
    old = {line.slot: line for line in asked.lines(asked.rig_of(found.columns))}
    assert int(costs[(good == rig).all(axis=1)][0]) == costs.min() == round(step.cost * 100)
    assert step.saving == (cost - round(step.cost * 100)) / 100
    assert (step.price, step.weight) == (world.costs["price"][rig].sum() / 100, world.costs["weight"][rig].sum() / 1000)
    few = min(changes(world, found.columns, other) for other in good[costs == costs.min()])
    assert changes(world, found.columns, rig) == few
    assert [(swap.slot, swap.before, swap.after) for swap in step.swaps] == [
        (slot, old.get(slot), lines.get(slot)) for slot in world.slots if old.get(slot) != lines.get(slot)
    ]


def changes(world, before, after):
    """8 for another item, 1 for the same one otherwise."""
    total = 0
    for table, start, one, other in zip(world.slots.values(), world.offsets, before, after, strict=False):
        same = table.items[one - start] == table.items[other - start]
        total += 0 if one == other else 1 if same else 8
    return total


# --- which ways there are, and which of them are worked out -----------------------------------------------------------
def test_ways_of_a_brief_with_one_duty_and_with_two():
    names = ["outlets", "output", "spraying_time", "warm_up_time", "altitude", "site_power", "parts_time", "upkeep_time"]
    told = [(way.requirement.id, way.duties, way.eased) for way in ways(brief("attics"), names)]
    attics, porches = (DUTIES[0],), (DUTIES[1],)
    assert told == [
        ("outlets", (), False),
        ("output", attics, False), ("output", porches, False), ("output", DUTIES, True),
        ("spraying_time", attics, False), ("spraying_time", porches, False), ("spraying_time", DUTIES, True),
        ("warm_up_time", attics, False), ("warm_up_time", porches, False), ("warm_up_time", DUTIES, True),
        ("altitude", attics, False), ("altitude", porches, False),
        ("parts_time", (), False),
    ]  # fmt: skip
    apart = changed(brief("attics"), REQUIREMENTS["spraying_time"], 4.0, porches)
    assert [way.duties for way in ways(apart, ["spraying_time"])] == [attics, porches], "either way can help, from two values"
    assert [(way.duties, way.eased) for way in ways(brief("barns"), ["output"])] == [(("barns",), False)]
    every = [(way.requirement.id, way.duties) for way in ways(brief("attics"))]
    assert every == [(r, d) for r in REQUIREMENTS for d in dict(every_way(r))], "in the order of the register"


def every_way(name):
    """Duties of each way of a requirement of the attics."""
    return [(way.duties, way) for way in ways(brief("attics"), [name])]


def step_of(name, duties, *firsts):
    """A step with a first step at these values of its sides, from below; None for a side without."""
    sides = [
        Side(k == 1, True, None if first is None else FirstStep(first[0], 1.0, first[1], 1.0, 1.0, (), ()),
             None, False, False, None, False)
        for k, first in enumerate(firsts)
    ]  # fmt: skip
    return Step(name, duties, 0.0, tuple(sides))


@pytest.mark.parametrize(
    "name, duty, firsts, worth",
    [
        ("output", "attics", [(10.0, 5.0), None], False),  # porches ask for 9 lb/min: both are the same down to there
        ("output", "attics", [(9.0, 5.0), None], False),
        ("output", "attics", [(8.5, 5.0), None], True),
        ("output", "attics", [None, None], True),
        ("output", "porches", [(8.0, 5.0), None], True),  # nothing is known of the hardest
        ("warm_up_time", "porches", [None, (1.25, 5.0)], False),  # from 1 h up; the attics have 1.5 h
        ("warm_up_time", "porches", [None, (1.5, 5.0)], False),
        ("warm_up_time", "porches", [None, (1.75, 5.0)], True),
        ("warm_up_time", "attics", [None, (1.75, 5.0)], True),
        ("spraying_time", "attics", [(2.5, 5.0), None], True),
        ("shore_power", "attics", [None, (3.5, 5.0)], True),  # both duties ask alike: neither is the hardest
    ],
)
def test_all_duties_at_once_are_tried_where_they_may_save_more(name, duty, firsts, worth):
    found = {Way(REQUIREMENTS[name], (duty,)): step_of(name, (duty,), *firsts)}
    assert steps_module._open(brief("attics"), Way(REQUIREMENTS[name], DUTIES, eased=True), found) is worth


def test_what_a_single_duty_saves_is_not_told_again():
    joint = step_of("output", DUTIES, (8.0, 5.0), None)
    one, other = step_of("output", ("attics",), (8.0, 5.0), None), step_of("output", ("attics",), (8.0, 4.0), None)
    elsewhere, beyond = step_of("sets", (), (8.0, 5.0), None), step_of("output", ("porches",), (7.5, 5.0), (9.0, 9.0))
    upwards = step_of("output", ("attics",), None, (8.0, 5.0))
    assert steps_module._new(joint, [joint, other, elsewhere, beyond, upwards])
    assert not steps_module._new(joint, [joint, other, one])
    assert not steps_module._new(step_of("output", DUTIES, None, None), [other])
    both = step_of("output", DUTIES, (8.0, 5.0), (12.0, 2.0))
    assert steps_module._new(both, [one, both]) and not steps_module._new(both, [both, step_of("output", (), *[
        (8.0, 5.0), (12.0, 2.0)])])  # fmt: skip


@pytest.mark.usefixtures("toy")
def test_the_most_labour_first_and_what_else_there_is_before_it(monkeypatch):
    world = World(SEEDS["price"][0])
    asked = world.asked()
    found, begun = asked.best(), []
    worked = steps_module._step
    monkeypatch.setattr(steps_module, "_step", lambda moves, *more: begun.append(moves) or worked(moves, *more))
    told, other = steps_module.steps_and(asked, found.columns, found.cost, lambda: begun.append(None) or "done")
    monkeypatch.setattr(steps_module, "_step", worked)
    assert other == "done" and begun[0] is None
    assert told == steps(asked, found.columns, found.cost)
    alone = [moves for moves in begun[1:] if not moves.way.eased]
    labour = [
        int(moves.touched.sum()) * (4 if moves.way.requirement.id in ("spraying_time", "sets") else 1) for moves in alone
    ]
    assert labour == sorted(labour, reverse=True) and len(set(labour)) > 2
    assert [steps_module._labour(moves) for moves in alone] == labour
    assert begun[1:] == alone + [moves for moves in begun[1:] if moves.way.eased], "all duties at once come last"
    assert steps(asked, found.columns, found.cost, ["outlets", "output"]) == tuple(
        step for name in ("outlets", "output") for step in told if step.requirement == name
    )
