"""Requirements given as ranges: read in SI, nominal where the brief states a value, every mistake with file and line."""

from __future__ import annotations

import pytest

from solver.brief import read_brief
from solver.brief.ranges import range_of, ranges_of, with_values
from solver.brief.requirements import REQUIREMENTS, value_of
from solver.errors import EntryError
from solver.quantities import parse
from tests.brief.sample import said, written
from tests.demo.demo import stock

LAST = "interlocks: [drum-heat-after-hose]\n"


def ranged(folder, *lines: str):
    """The sample with these ranges."""
    block = LAST + "ranges:\n" + "".join(f"  {line}\n" for line in lines)
    return read_brief(written(folder, (LAST, block)), stock())


def test_ends_are_read_in_si_and_the_stated_value_is_nominal(tmp_path):
    found = ranges_of(ranged(tmp_path, "barn.altitude: {from: 0 ft, to: 7000 ft}"))
    assert [(r.path, r.low, r.high, r.nominal, r.stated) for r in found] == [
        ("barn.altitude", 0.0, parse("7000 ft", "length"), parse("900 ft", "length"), True)
    ]
    assert found[0].targets == ((REQUIREMENTS["altitude"], ("barn",)),)


def test_the_middle_is_nominal_where_the_stated_value_lies_outside(tmp_path):
    (found,) = ranges_of(ranged(tmp_path, "barn.altitude: {from: 2000 ft, to: 7000 ft}"))
    assert (found.nominal, found.stated) == (pytest.approx(parse("4500 ft", "length")), False)


def test_air_temperature_is_the_coldest_and_the_hottest_together(tmp_path):
    asked = ranged(tmp_path, "barn.air_temperature: {from: 70 degF, to: 105 degF}")
    (found,) = ranges_of(asked)
    assert [requirement.id for requirement, _ in found.targets] == ["coldest_air", "hottest_air"]
    warm = parse("105 degF", "temperature")
    changed, moved = with_values(asked, found.changes(warm))
    assert (changed.duty("barn").coldest_air, changed.duty("barn").hottest_air) == (warm, warm)
    assert moved == {"coldest_air", "hottest_air"}
    assert found.stated is False


def test_values_that_have_to_change_in_another_order(tmp_path):
    asked = read_brief(written(tmp_path), stock())
    coldest, hottest = REQUIREMENTS["coldest_air"], REQUIREMENTS["hottest_air"]
    changed, _ = with_values(asked, [(coldest, ("barn",), 310.0), (hottest, ("barn",), 315.0)])
    assert (value_of(changed, coldest, "barn"), value_of(changed, hottest, "barn")) == (310.0, 315.0)
    with pytest.raises(EntryError) as caught:
        with_values(asked, [(coldest, ("barn",), 315.0), (hottest, ("barn",), 310.0)])
    assert str(caught.value) == "found coldest 107 degF; expected at most hottest, which is 92.0 degF."


def test_a_grid_has_both_ends_and_the_steps_between(tmp_path):
    asked = read_brief(written(tmp_path), stock())
    found = range_of("barn.altitude", parse("250 ft", "length"), parse("1600 ft", "length"), asked)
    feet = [round(value / 0.3048, 6) for value in found.grid(100)]
    assert feet == [250.0, 500.0, 1000.0, 1500.0, 1600.0]
    assert len(found.grid(3)) == 3
    assert range_of("sets", 1.0, 4.0, asked).grid(100) == (1.0, 2.0, 3.0, 4.0)
    assert range_of("sets", 2.0, 2.0, asked).grid(100) == (2.0,)


def test_every_wrong_range_is_reported_with_its_line(tmp_path):
    lines = (
        "barn.altitude: {from: 7000 ft, to: 0 ft}",
        "barn.hose_reech: {from: 1 ft, to: 2 ft}",
        "limits.budget: {from: 12 ft, to: 2 USD}",
        "attic.output: {from: 10 lb/min, to: 12 lb/min}",
        "duty.output: {from: 10 lb/min, to: 12 lb/min}",
        "sets: {from: 1.5, to: 3}",
        "barn.coldest_air: {from: 60 degF, to: 100 degF}",
    )
    block = LAST + "ranges:\n" + "".join(f"  {line}\n" for line in lines)
    first = 37
    assert said(tmp_path, (LAST, block)) == [
        f"brief.yaml:{first}: found from 7,000 ft to 0 ft; expected first the lower end, then the higher one.",
        f'brief.yaml:{first + 1}: found "barn.hose_reech"; expected a requirement of the brief, such as duty.hose_reach or '
        "limits.budget. Try: barn.hose_reach",
        f'brief.yaml:{first + 2}: found "12 ft", a length; expected an amount of money such as 3200 USD.',
        f'brief.yaml:{first + 4}: found "duty.output", which "attic.output" names too; expected one range for each '
        "requirement.",
        f'brief.yaml:{first + 5}: found "1.5"; expected a whole number for sets of material aboard. Try: 2',
        f"brief.yaml:{first + 6}: found coldest 100.0 degF; expected at most hottest, which is 92.0 degF.",
    ]


def test_what_is_no_mapping_of_ranges(tmp_path):
    assert said(tmp_path, (LAST, LAST + "ranges: [barn.altitude]\n")) == [
        "brief.yaml:36: found ranges a list; expected a mapping from a requirement to its range. Try: winter attic.altitude: "
        "{from: 0 ft, to: 7000 ft}"
    ]
    assert said(tmp_path, (LAST, LAST + "ranges: {barn.altitude: {from: 0 ft}}\n")) == [
        "brief.yaml:36: found no to; expected to: one line of text."
    ]


def test_a_change_of_the_brief_keeps_its_ranges(tmp_path):
    asked = ranged(tmp_path, "barn.altitude: {from: 0 ft, to: 7000 ft}")
    assert ranges_of(asked.changed(by="weight")) == ranges_of(asked)
