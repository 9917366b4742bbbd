"""Every reason verified by solving: conflicts, repairs, sets of changes and the argument, on the demo briefs."""

from __future__ import annotations

from dataclasses import replace
from functools import cache

import numpy as np
import pytest

from solver.answers.ask import ask
from solver.answers.better import jointly
from solver.answers.clashes import conflict, conflicts, told
from solver.answers.repairs import repairs
from solver.answers.why import why
from solver.brief.requirements import REQUIREMENTS, Kind, si, with_value
from solver.errors import EntryError
from solver.rules import RULES
from solver.rules.record import Basis
from solver.search.best import cost_of_best, exists
from tests.demo.demo import IMPOSSIBLE, POSSIBLE, answer, asked, brief, stock

TIERS = (Basis.PHYSICS, Basis.REGULATION, Basis.RATING)


@cache
def nothing():
    """The conflicts of the brief that cannot be met, single repairs and sets of changes."""
    found = conflicts(asked(IMPOSSIBLE), 4)
    clashes = tuple(told(asked(IMPOSSIBLE), members, found.unavoidable) for members in found.sets)
    return clashes, found.complete, *repairs(asked(IMPOSSIBLE), found.sets)


def kept(rules):
    of = asked(IMPOSSIBLE)
    return exists(of.question(rows=of.rows_of(frozenset(rules))))


def with_changes(changes):
    """The impossible brief with these changes of requirements and declined duties."""
    new = brief(IMPOSSIBLE)
    for change in changes:
        if not change.requirement:
            new = new.without_duty(change.duties[0])
        else:
            requirement = REQUIREMENTS[change.requirement]
            new = with_value(new, requirement, si(requirement, change.after), change.duties or None)
    return new


def possible(changes):
    return exists(ask(stock(), with_changes(changes)).question())


def less(change):
    """The change by one resolution less; None where that is no change any more."""
    requirement = REQUIREMENTS[change.requirement]
    sign = 1.0 if change.after > change.before else -1.0
    value = change.after - sign * requirement.resolution
    return None if sign * (value - change.before) <= 0 else replace(change, after=value)


# --- conflicts --------------------------------------------------------------------------------------------------------
def test_each_conflict_clashes_and_each_smaller_one_does_not():
    found, _, _, _ = nothing()
    assert len(found) == 4 == len({frozenset(c.rule for c in entry.members) for entry in found})
    for entry in (*found, conflict(asked(IMPOSSIBLE))):
        rules = [clash.rule for clash in entry.members]
        assert not kept(rules)
        assert all(kept([other for other in rules if other != rule]) for rule in rules)


def test_conflicts_come_in_order():
    found, _, _, _ = nothing()
    keys = [tuple(sum(RULES[c.rule].basis is tier for c in entry.members) for tier in TIERS) for entry in found]
    assert keys == sorted(keys)
    first = conflict(asked(IMPOSSIBLE))
    assert not first.unavoidable
    assert [any(RULES[c.rule].basis is tier for c in first.members) for tier in TIERS] == [n > 0 for n in keys[0]]


def test_suppliers_are_options_of_the_closest_rig():
    found, _, _, _ = nothing()
    parts = [part for entry in found for clash in entry.members for part in clash.suppliers]
    assert parts and all(part.item in asked(IMPOSSIBLE).setting.slots[part.slot].items for part in parts)


def test_physics_alone_is_said_to_be_unavoidable():
    high = with_value(brief("owned_truck"), REQUIREMENTS["output"], si(REQUIREMENTS["output"], 45.0))
    found = conflicts(ask(stock(), high), 2)
    assert found.unavoidable
    assert all(RULES[rule].basis in TIERS for rules in found.sets for rule in rules)


# --- repairs ----------------------------------------------------------------------------------------------------------
def test_single_repairs_are_enough_and_one_resolution_less_is_not():
    tight = brief("owned_truck").changed(limits={"budget": 40_000.0})
    of = ask(stock(), tight)
    single, sets = repairs(of, conflicts(of, 2).sets)
    assert any(entry.changes[0].requirement == "budget" for entry in single)
    for entry in single:
        (change,) = entry.changes
        requirement = REQUIREMENTS[change.requirement]
        assert requirement.kind is not Kind.SITE and change.margin == (requirement.kind is Kind.MARGIN)
        for step, fits in ((change, True), (less(change), False)):
            new = with_value(tight, requirement, si(requirement, step.after), step.duties or None) if step else tight
            laid = ask(stock(), new)
            assert (cost_of_best(laid.question()) is not None) == fits, change
            if fits:
                assert cost_of_best(laid.question()) == round(entry.total.price * 100)
    for entry in sets:
        assert not {c.requirement for c in entry.changes} & {e.changes[0].requirement for e in single}


def test_sets_are_enough_and_nothing_in_them_is_idle():
    _, _, single, sets = nothing()
    assert not single and sets, "the wish list is made so that no single change is enough"
    for entry in sets:
        assert possible(entry.changes)
        for change in entry.changes:
            rest = [other for other in entry.changes if other is not change]
            assert not possible(rest), "leaving any member out fails"
            smaller = less(change) if change.requirement else None
            assert smaller is None or not possible([*rest, smaller]), "one resolution less fails"
    assert len({tuple((c.requirement, c.duties) for c in entry.changes) for entry in sets}) == len(sets)


def test_a_duty_can_be_declined():
    hard = with_value(brief("mountain_winter"), REQUIREMENTS["output"], si(REQUIREMENTS["output"], 45.0), "summer valley")
    of = ask(stock(), hard)
    single, _ = repairs(of, conflicts(of, 1).sets, sets=0)
    declined = [entry for entry in single if not entry.changes[0].requirement]
    assert [entry.changes[0].duties for entry in declined] == [("summer valley",)]
    alone = ask(stock(), hard.without_duty("summer valley"))
    assert cost_of_best(alone.question()) == round(declined[0].total.price * 100)


# --- a rig ------------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", POSSIBLE)
def test_a_rule_saves_at_least_what_it_saves_in_one_duty(name):
    for entry in answer(name, brief(name).by).binding:
        assert entry.saving > 0
        assert entry.saving >= max(entry.by_duty.values(), default=0.0)
        assert all(saving >= 0 for saving in entry.by_duty.values())


@pytest.mark.parametrize("name", ["first_rig", "light_trailer"])
def test_the_argument_excludes_every_better_rig_and_is_minimal(name):
    of = asked(name)
    found = why(stock(), brief(name), better_by=0.07)
    told = found.argument
    total = found.total.price if of.by == "price" else found.total.weight
    assert told.limit == pytest.approx(total * 0.93, abs=0.02)
    rules = [reason.rule for reason in told.rules + told.at_least]
    limit = {of.by: round(told.limit * of.unit)}

    def better(kept):
        return exists(of.question(rows=of.rows_of(frozenset(kept)), at_most=limit))

    assert not better(rules)
    assert all(better([other for other in rules if other != rule]) for rule in rules)
    sure = {entry.rule for entry in found.binding if entry.saving > 0.07 * total}
    assert sure <= set(rules)


def test_where_no_rule_binds_alone_some_hold_together():
    """Every row twice, under two rules: neither is missed alone."""
    of = ask(stock(), brief("owned_truck"))
    program = of.program
    cost = of.cheapest().cost
    count = len(program.rhs)
    of.__dict__["program"] = replace(
        program,
        rows=np.concatenate([program.rows, program.rows]),
        rhs=np.concatenate([program.rhs, program.rhs]),
        labels=program.labels * 2,
        groups=("HOSE-01",) * count + ("HOSE-02",) * count,
        background=frozenset(),
        reads=program.reads * 2,
        memo={},
        cores={},
    )
    of.__dict__.pop("groups", None)
    assert jointly(of, cost) in (("HOSE-01",), ("HOSE-02",))


@pytest.mark.parametrize(("share", "number", "message"), [
    (0.0, 4, "found better by 0; expected a share above 0 % and at most 90 %"),
    (0.95, 4, "found better by 0.95; expected a share above 0 % and at most 90 %"),
    (0.05, 0, "found 0 conflicts; expected a number of at least 1"),
])  # fmt: skip
def test_shares_and_numbers_out_of_range_are_refused(share, number, message):
    with pytest.raises(EntryError, match=message):
        why(stock(), brief("owned_truck"), better_by=share, most_conflicts=number)
