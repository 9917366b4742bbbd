"""A changed brief, compiled in part, equals the same brief compiled whole: rows, right-hand sides, labels, reads, costs."""

from __future__ import annotations

import random

import pytest

from solver.answers.ask import Asked, ask
from solver.answers.changed import changed, changed_brief, declined
from solver.answers.changed_rows import compile_moved
from solver.brief.models import Brief
from solver.brief.requirements import REQUIREMENTS, Requirement, si, with_value
from solver.errors import EntryError
from tests.demo.demo import BRIEFS, asked, brief, stock


def assert_same(part: Asked, brief_now: Brief) -> None:
    """The same in every bit as the brief compiled from nothing."""
    whole = ask(part.catalog, brief_now, part.by)
    found, expected = part.program, whole.program
    assert part.brief.entry == whole.brief.entry
    assert [i.place for i in part.instances] == [i.place for i in whole.instances]
    assert (found.labels, found.groups, found.background) == (expected.labels, expected.groups, expected.background)
    assert found.reads == expected.reads
    assert (found.rhs == expected.rhs).all() and (found.offsets == expected.offsets).all()
    moved = [str(place) for place, a, b in zip(found.labels, found.rows, expected.rows, strict=True) if (a != b).any()]
    assert moved == []
    assert list(found.costs) == list(expected.costs)
    assert all((found.costs[by] == expected.costs[by]).all() for by in expected.costs)


def sayable(of: Asked, requirement: Requirement, value: float, duty: str | None) -> Brief | None:
    """The changed brief; None where a file could not say so."""
    try:
        return with_value(of.brief, requirement, value, duty)
    except EntryError:
        return None


@pytest.mark.parametrize("name", BRIEFS)
def test_requirements_at_a_random_value(name):
    """A third of them on each brief; in one duty or in all of them; the value anywhere on the grid."""
    of, rng, told = asked(name), random.Random(f"changed {name}"), 0
    for requirement in rng.sample(list(REQUIREMENTS.values()), len(REQUIREMENTS) // 3):
        duty = rng.choice(of.brief.duties).name if requirement.duty and rng.random() < 0.5 else None
        value = si(requirement, rng.choice(requirement.grid()))
        expected = sayable(of, requirement, value, duty)
        if expected is not None:
            assert_same(changed(of, requirement, value, duty), expected)
            told += 1
    assert told >= 15


@pytest.mark.parametrize(("name", "what", "value", "rule", "comes"), [
    ("first_rig", "coldest_air", 20, "WINTER-01", True),
    ("mountain_winter", "coldest_air", 40, "WINTER-01", False),
    ("first_rig", "combined_rating", 20_000, "WT-04", True),
    ("humid_coast", "parts_time", 10, "ASK-02", True),
    ("first_rig", "humidity", 95, "MAT-07", True),
])  # fmt: skip
def test_rules_that_come_into_play_or_drop_out(name, what, value, rule, comes):
    of = asked(name)
    if what == "coldest_air" and not comes:
        of = changed(of, REQUIREMENTS["overnight_air"], si(REQUIREMENTS["overnight_air"], 50))
    found = changed(of, REQUIREMENTS[what], si(REQUIREMENTS[what], value))
    assert (rule in of.groups, rule in found.groups) == (not comes, comes)
    assert_same(found, found.brief)


@pytest.mark.parametrize("name", [name for name in BRIEFS if len(brief(name).duties) > 1])
def test_a_declined_duty(name):
    for duty in brief(name).duties:
        assert_same(declined(asked(name), duty.name), brief(name).without_duty(duty.name))


def test_one_change_after_another():
    """The last equals the brief with all changes at once; the same by `changed_brief` in one go."""
    of, now, moved = asked("humid_coast"), brief("humid_coast"), set()
    for what, value in (("output", 14), ("altitude", 3000), ("budget", 180_000), ("sets", 2), ("coldest_air", 20)):
        requirement = REQUIREMENTS[what]
        of, now = changed(of, requirement, si(requirement, value)), with_value(now, requirement, si(requirement, value))
        moved.add(what)
    assert_same(of, now)
    assert_same(changed_brief(asked("humid_coast"), now, frozenset(moved)), now)
    assert_same(declined(of, "winter houses"), now.without_duty("winter houses"))


def test_rows_that_read_nothing_that_moved_are_not_compiled_again(monkeypatch):
    of, seen = asked("humid_coast"), []

    def counting(asked, setting, instances, moved):
        seen.extend(instance.place for instance in instances)
        return compile_moved(asked, setting, instances, moved)

    monkeypatch.setattr("solver.answers.changed.compile_moved", counting)
    changed(of, REQUIREMENTS["filter_drop"], si(REQUIREMENTS["filter_drop"], 8))
    reading = [i.place for i, reads in zip(of.instances, of.program.reads, strict=True) if "filter_drop" in reads]
    assert sorted(seen) == sorted(reading) and 0 < len(seen) < 0.1 * len(of.instances)


def test_what_a_file_could_not_say_is_refused():
    hours = REQUIREMENTS["spraying_time"]
    message = "found 25.75 h in all; expected at most 24 h in a day. Try: a shorter night"
    with pytest.raises(EntryError) as error:
        changed(asked("humid_coast"), hours, si(hours, 11), "summer warehouse")
    assert str(error.value) == message
    assert asked("humid_coast").brief == brief("humid_coast"), "the question asked stays as it was"
    assert stock() is asked("humid_coast").catalog
