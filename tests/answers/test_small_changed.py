"""A changed brief in parts: it equals the brief laid anew, and only what reads what moved is worked out again."""

from __future__ import annotations

from collections import Counter
from types import SimpleNamespace

import pytest

from solver.answers import changed as changed_module
from solver.answers.ask import ask
from solver.answers.changed import changed, changed_brief, declined
from solver.answers.changed_rows import Laying
from solver.brief.requirements import REQUIREMENTS, with_value
from solver.program.compile import _Sheet
from solver.rules import RULES
from solver.rules.instances import rule_instances
from tests.answers.small.world import asked, brief, stock


# --- a changed brief --------------------------------------------------------------------------------------------------
def assert_laid(part, brief_now):
    """The same in every bit as the brief laid anew."""
    whole = ask(part.catalog, brief_now, part.by)
    found, expected = part.program, whole.program
    assert (part.brief.entry, [i.place for i in part.instances]) == (brief_now.entry, [i.place for i in whole.instances])
    assert (found.labels, found.groups, found.background, found.reads) == (
        expected.labels, expected.groups, expected.background, expected.reads)  # fmt: skip
    assert (found.rows == expected.rows).all() and (found.rhs == expected.rhs).all()
    assert all((found.costs[by] == expected.costs[by]).all() for by in expected.costs)
    rig = whole.rig_of(expected.offsets[1:] - 1)
    assert part.balances(rig) == whole.balances(rig)


@pytest.mark.parametrize(
    "name, requirement, value, duties",
    [("attics", "output", 0.08, "porches"), ("attics", "coldest_air", 265.0, "porches"), ("attics", "sets", 2.0, None),
     ("attics", "spraying_time", 7200.0, ("attics", "porches")), ("barns", "delivery_time", 1e6, None),
     ("barns", "parts_time", 1e6, None), ("barns", "humidity", 0.9, None), ("barns", "power_margin", 0.1, None)],
)  # fmt: skip
def test_only_what_reads_what_moved_is_compiled_anew(name, requirement, value, duties, monkeypatch):
    of, anew = asked(name), []
    real = changed_module.compile_moved

    def compiled(asked, setting, instances, moved):
        anew.extend(instance.place for instance in instances)
        return real(asked, setting, instances, moved)

    monkeypatch.setattr(changed_module, "compile_moved", compiled)
    found = changed(of, REQUIREMENTS[requirement], value, duties)
    assert_laid(found, with_value(of.brief, REQUIREMENTS[requirement], value, duties))
    moved, known = {requirement}, {instance.place: i for i, instance in enumerate(of.instances)}
    names = (duties,) if isinstance(duties, str) else duties or ()
    for instance in found.instances:
        i = known.get(instance.place)
        reads = i is None or bool(of.program.reads[i] & moved)
        touched = reads and (not names or not instance.place.duty or instance.place.duty in names)
        assert (instance.place in anew) >= touched
        if instance.place not in anew:
            assert instance is of.instances[i]
    first = anew[:]
    again = changed_brief(of, found.brief, frozenset(moved), names or None)
    assert (again.program.rows == found.program.rows).all() and anew == first * 2


def test_a_duty_is_declined_and_changes_are_chained():
    of = asked("attics")
    for duty in ("attics", "porches"):
        assert_laid(declined(of, duty), of.brief.without_duty(duty))
    first = changed(of, REQUIREMENTS["altitude"], 1500.0, "porches")
    second = changed(first, REQUIREMENTS["budget"], 90_000.0)
    assert_laid(declined(second, "attics"), second.brief.without_duty("attics"))
    assert of.brief == brief("attics")


@pytest.mark.parametrize(
    "duty, reads, duties, gone, touched",
    [
        ("a", "xy", None, "", True), ("a", "z", None, "", False), ("a", "x", ("a",), "", True), ("a", "x", ("b",), "", False),
        ("", "x", ("b",), "", True), ("", "z", ("b",), "", False), ("a", "", None, "a", True), ("a", "x", None, "b", False),
        ("", "", None, "b", True),
    ],
)  # fmt: skip
def test_rows_that_may_come_out_otherwise(duty, reads, duties, gone, touched):
    instance = SimpleNamespace(place=SimpleNamespace(duty=duty))
    moved = frozenset() if gone else frozenset("x")
    assert changed_module._touched(instance, frozenset(reads), moved, duties, frozenset(gone)) is touched


def test_instances_that_read_nothing_that_moved_are_taken_over():
    of = asked("attics")
    moved = frozenset({"altitude"})
    now = with_value(of.brief, REQUIREMENTS["altitude"], 1800.0, "porches")
    setting, laying, cases, taken = of.setting.under(now), Laying(of, moved, ("porches",)), {}, Counter()
    known = {of.instances[k].place for k in range(0, len(of.instances), 3)}
    before = {instance.place: instance for instance in of.instances}
    for rule in RULES.values():
        if rule.id in of.brief.waived:
            continue
        found = list(laying.instances(rule, setting, cases, known))
        whole = [i for i in rule_instances(rule, setting, {}) if i.place.duty in ("porches", "") and i.place not in known]
        assert [i.place for i in found] == [i.place for i in whole]
        for instance, own in zip(found, whole, strict=True):
            for one, other in zip(instance.terms, own.terms, strict=True):
                assert (one.slot, one.side, one.what) == (other.slot, other.side, other.what)
            assert (instance.rule, instance.guard, instance.reads) == (own.rule, own.guard, own.reads)
            assert instance.case is cases[instance.place.duty, instance.place.state, instance.place.end]
            assert instance.case.duty_name == instance.place.duty
            taken[instance.terms is before[instance.place].terms] += 1
    assert taken[True] > 20


def test_figures_that_read_nothing_that_moved_are_worked_out_once(monkeypatch):
    of, seen = ask(stock(), brief("attics")), []
    real = _Sheet.values

    def values(sheet, term, case):
        found = real(sheet, term, case)
        seen.append(found[1])
        return found

    monkeypatch.setattr(_Sheet, "values", values)
    for k, value in enumerate((1000.0, 1500.0, 2000.0)):
        found = changed(of, REQUIREMENTS["altitude"], value, "porches")
        assert seen and (not k or all("altitude" in reads for reads in seen))
        whole = ask(stock(), found.brief).program
        assert (found.program.rows == whole.rows).all() and (found.program.rhs == whole.rhs).all()
        seen.clear()
