"""Every first step, room and hold is checked by solving the brief compiled from nothing just before and just after it."""

from __future__ import annotations

import random
from math import ceil, floor

import pytest

from solver.answers.ask import ask
from solver.answers.steps import steps, ways
from solver.answers.steps_rows import Way, sides
from solver.brief.requirements import REQUIREMENTS, Kind
from solver.errors import EntryError
from solver.search.best import cost_of_best
from tests.demo.demo import POSSIBLE, asked, brief, stock

SOME = 4
"""Requirements judged of each brief, besides those that are named."""
NAMED = {"first_rig": ["hose_reach", "output"], "owned_truck": ["outlets"], "light_trailer": ["least_load"]}


class Judge:
    """Least costs and fits of one way at any value, solved from nothing."""

    def __init__(self, of, step, columns):
        self.of, self.columns = of, columns
        self.requirement = REQUIREMENTS[step.requirement]
        self.way = Way(self.requirement, step.duties, eased=len(step.duties) > 1)
        self.kept = {}

    def _asked(self, value):
        if value not in self.kept:
            self.kept[value] = ask(stock(), self.way.brief_at(self.of.brief, value), self.of.by)
        return self.kept[value]

    def cost(self, value):
        """Least cost at a value; infinite where no rig fits."""
        found = cost_of_best(self._asked(value).question())
        return float("inf") if found is None else found

    def fits(self, value):
        """Whether the best rig fits at a value; False where no brief can have it."""
        try:
            return self._asked(value).program.fits(self.columns)
        except EntryError:
            return False

    def beyond(self, value, upwards):
        """The next value at the resolution."""
        fine, least = self.requirement.resolution, self.requirement.least
        count = round((value - least) / fine, 6)
        return round(least + (floor(count) + 1 if upwards else ceil(count) - 1) * fine, 9)


def check(judge, step, side, cost, rng):
    """One side of one requirement; the number of things that were checked."""
    below, above = sides(judge.requirement, step.present)
    values = above if side.upwards else below
    done = 0
    if side.step is not None:
        place = values.index(side.step.value)
        assert judge.cost(side.step.value) == round(side.step.cost * judge.of.unit) < cost
        assert side.step.saving == pytest.approx((cost / judge.of.unit) - side.step.cost)
        nearer = {*values[max(0, place - 1) : place], *rng.sample(values[:place], min(1, place))}
        assert all(judge.cost(value) >= cost for value in nearer), f"{step.requirement} saves nearer than told"
        done += 1 + len(nearer)
    if side.room is not None:
        count = 0 if side.room == step.present else values.index(side.room) + 1
        within = {*values[max(0, count - 1) : count], *rng.sample(values[:count], min(1, count))}
        assert all(judge.cost(value) == cost for value in within)
        done += len(within)
        if not side.room_to_end:
            after = judge.cost(values[count])
            assert after != cost and (after < cost) == side.cheaper_beyond
            done += 1
    if side.holds_to is not None:
        assert side.holds_to == step.present or judge.fits(side.holds_to)
        assert side.holds_to_end or not judge.fits(judge.beyond(side.holds_to, side.upwards))
        passed = [value for value in values if (value <= side.holds_to if side.upwards else value >= side.holds_to)]
        assert all(judge.fits(value) for value in rng.sample(passed, min(3, len(passed))))
        done += 2
    return done


@pytest.mark.parametrize("name", POSSIBLE[:3])
def test_every_step_room_and_hold(name):
    of, rng, done = asked(name), random.Random(f"steps {name}"), 0
    found = of.best()
    names = [*NAMED.get(name, []), *rng.sample(list(REQUIREMENTS), SOME)]
    for step in steps(of, found.columns, found.cost, dict.fromkeys(names)):
        judge = Judge(of, step, found.columns)
        for side in step.sides:
            done += check(judge, step, side, found.cost, rng)
    assert done >= 8


def test_a_reach_has_steps_only_where_a_section_goes():
    """Sections are of 50 and 25 ft: 3 x 50 + 25 ft and the whip reach 185 ft, without the 25 ft section 160 ft."""
    of = asked("owned_truck")
    found = of.best()
    (step,) = steps(of, found.columns, found.cost, ["hose_reach"])
    down, up = step.sides
    assert (step.duties, step.present) == (("new houses",), pytest.approx(180.4))
    assert (down.upwards, down.easing, up.upwards, up.easing) == (False, True, True, False)
    assert (down.step.value, down.step.saving, down.room, down.holds_to) == (160, 690.0, None, None)
    assert [(swap.before.choice, swap.after.choice) for swap in down.step.swaps] == [
        ("3 x 50 ft + 1 x 25 ft + whip", "3 x 50 ft + whip")
    ]
    assert (up.step, up.room, up.holds_to, up.room_to_end, up.cheaper_beyond) == (None, 185, 185, False, False)
    assert {line.slot for line in down.step.rig} >= {"hose", "generator", "vehicle"}
    assert down.step.price * 100 == down.step.cost * 100 == found.cost - 69_000


def test_site_facts_have_no_step_and_no_room():
    of = asked("first_rig")
    found = of.best()
    names = [r.id for r in REQUIREMENTS.values() if r.kind is Kind.SITE]
    judged = steps(of, found.columns, found.cost, names)
    assert {step.requirement for step in judged} == set(names)
    assert all(side.step is None and side.room is None for step in judged for side in step.sides)
    assert all(side.holds_to is not None for step in judged for side in step.sides)


def test_what_is_not_set_or_not_read_is_not_judged():
    of = asked("first_rig")
    found = of.best()
    assert steps(of, found.columns, found.cost, ["combined_rating", "parts_time"]) == (), "the brief sets neither"
    assert steps(of, found.columns, found.cost, ["site_power"]) == ()


def test_duties_are_judged_one_by_one_and_together():
    humid = brief("humid_coast")
    told = [way.duties for way in ways(humid, ["output", "spraying_time", "altitude"])]
    alone = [("summer warehouse",), ("winter houses",)]
    both = ("summer warehouse", "winter houses")
    assert told == [*alone, both, *alone, both, *alone], "a site fact is never eased"


def test_the_same_every_time_and_by_another_cost():
    of = asked("light_trailer")
    found = of.best(by="price")
    other = ask(stock(), brief("light_trailer"), "price")
    names = ["hose_reach", "least_load", "sets"]
    first = steps(other, found.columns, found.cost, names)
    assert first == steps(other, found.columns, found.cost, names)
    assert {step.requirement for step in first} == set(names)


def test_where_the_requirement_moves_costs_themselves():
    """Fuel is part of the yearly cost: less output saves at once, and any more costs at once."""
    of = ask(stock(), brief("owned_truck"), "yearly-cost")
    found = of.best()
    (step,) = steps(of, found.columns, found.cost, ["tool_power"])
    judge, rng = Judge(of, step, found.columns), random.Random(3)
    assert sum(check(judge, step, side, found.cost, rng) for side in step.sides) >= 4
    assert any(side.step is not None for side in step.sides)
    assert any(side.room == step.present for side in step.sides)
