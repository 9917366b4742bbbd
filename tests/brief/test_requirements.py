"""Requirements: every number of a brief that can be changed, read back as it was set, and found by its path."""

from __future__ import annotations

import pytest

from solver.brief import read_brief
from solver.brief.requirements import REQUIREMENTS, Direction, Kind, find, moved_by, si, value_of, with_value
from solver.errors import EntryError
from solver.quantities import dimension_of
from tests.brief.sample import written
from tests.demo.demo import stock

EVERY = tuple(REQUIREMENTS.values())
PER_DUTY = tuple(r for r in EVERY if r.duty)
ANY = "expected a requirement of the brief, such as duty.hose_reach or limits.budget"
ids = {"ids": lambda r: r.id}


@pytest.fixture
def sample(tmp_path):
    """The right brief, of two duties."""
    return read_brief(written(tmp_path), stock())


@pytest.mark.parametrize("requirement", EVERY, **ids)
def test_its_record_is_whole(requirement):
    assert requirement.title
    assert isinstance(requirement.kind, Kind)
    assert isinstance(requirement.easier, Direction)
    assert requirement.unit == "1" or dimension_of(requirement.unit)
    assert 0.0 < requirement.resolution <= requirement.step
    assert requirement.least < requirement.most


ENDS = {"coldest_air": (-40.0, 0.0, 60.0), "hottest_air": (80.0, 100.0, 125.0), "spraying_time": (0.5, 1.0, 6.0),
        "warm_up_time": (0.25, 0.5, 3.0), "overnight_time": (6.0, 7.0, 12.0)}  # fmt: skip
"""Figures that can stand beside the others of the sample, where the ends of the requirement cannot."""


def admissible(requirement):
    """Some figures of a requirement, in its unit."""
    return ENDS.get(requirement.id, (requirement.least, requirement.least + requirement.step, requirement.most))


@pytest.mark.parametrize("requirement", EVERY, **ids)
def test_a_value_that_is_set_is_read_back(sample, requirement):
    for figure in admissible(requirement):
        value = si(requirement, figure)
        changed = with_value(sample, requirement, value)
        assert value_of(changed, requirement) == pytest.approx(value)
        if requirement.duty:
            assert all(value_of(changed, requirement, d.name) == pytest.approx(value) for d in changed.duties)


@pytest.mark.parametrize("requirement", EVERY, **ids)
def test_setting_it_changes_nothing_else(sample, requirement):
    changed = with_value(sample, requirement, si(requirement, admissible(requirement)[-1]))
    for other in EVERY:
        if other.id in moved_by(sample, requirement):
            continue
        for duty in sample.duties:
            assert value_of(changed, other, duty.name) == value_of(sample, other, duty.name), other.id


@pytest.mark.parametrize("requirement", EVERY, **ids)
def test_setting_it_to_its_own_value_changes_no_figure(sample, requirement):
    value = value_of(sample, requirement, "barn")
    if value is not None:
        changed = with_value(sample, requirement, value, "barn" if requirement.duty else None)
        assert changed.duties[1:] == sample.duties[1:]
        for other in EVERY:
            assert value_of(changed, other, "barn") == value_of(sample, other, "barn"), other.id


@pytest.mark.parametrize("requirement", PER_DUTY, **ids)
def test_one_duty_alone_can_be_changed(sample, requirement):
    value = si(requirement, admissible(requirement)[-1])
    changed = with_value(sample, requirement, value, "attic")
    assert value_of(changed, requirement, "attic") == pytest.approx(value)
    assert changed.duty("barn") == sample.duty("barn")
    assert value_of(sample, requirement, "attic") != pytest.approx(value), "the sample is left as it was"


def test_an_output_takes_the_place_of_board_feet(sample):
    assert value_of(sample, REQUIREMENTS["output"], "attic") is None
    changed = with_value(sample, REQUIREMENTS["output"], 0.1, "attic")
    assert (changed.duty("attic").output, changed.duty("attic").board_feet_a_day) == (0.1, None)


def test_a_reach_takes_the_place_of_its_parts(sample):
    changed = with_value(sample, REQUIREMENTS["hose_reach"], 50.0, "attic")
    assert (changed.duty("attic").hose_reach, changed.duty("attic").reach_parts) == (50.0, None)


def test_respirators_not_said_are_the_whole_crew(sample):
    assert sample.crew.respirators is None
    assert value_of(sample, REQUIREMENTS["respirators"]) == 2.0


def test_the_supply_of_a_site_without_one_has_no_value(tmp_path):
    bare = read_brief(written(tmp_path, ("  site_supply: {system: split, power: 12 kVA}\n", "")), stock())
    requirement = REQUIREMENTS["site_power"]
    assert [value_of(bare, requirement, duty.name) for duty in bare.duties] == [None, 20_000.0]
    with pytest.raises(EntryError) as caught:
        with_value(bare, requirement, 9000.0)
    assert str(caught.value) == (
        'found site supply in "barn"; expected a duty with a site_supply, which says the system. Try: site_supply: '
        "{system: split, ...}"
    )


@pytest.mark.parametrize(
    ("name", "value", "sentence"),
    [
        ("sets", 1.5, "found sets of material aboard 1.5; expected a whole number. Try: 2"),
        ("coldest_air", 320.0, "found coldest 116 degF; expected at most hottest, which is 92.0 degF."),
    ],
)
def test_what_a_file_could_not_say_cannot_be_set(sample, name, value, sentence):
    with pytest.raises(EntryError) as caught:
        with_value(sample, REQUIREMENTS[name], value, "barn" if REQUIREMENTS[name].duty else None)
    assert str(caught.value) == sentence


def test_what_moves_with_a_requirement(sample, tmp_path):
    assert moved_by(sample, REQUIREMENTS["coldest_air"], "barn") == {"coldest_air"}
    assert moved_by(sample, REQUIREMENTS["coldest_air"], "attic") == {"coldest_air", "overnight_air"}
    assert moved_by(sample, REQUIREMENTS["helpers"]) == {"helpers", "respirators"}
    said_so = read_brief(written(tmp_path, ("respirator: tight-fitting", "respirators: 1")), stock())
    assert moved_by(said_so, REQUIREMENTS["helpers"]) == {"helpers"}


def test_limits_not_set_have_no_value(sample):
    assert value_of(sample, REQUIREMENTS["trailer_rating"]) is None
    assert value_of(sample, REQUIREMENTS["budget"]) == 150_000.0


def test_sets_are_those_of_the_first_material(sample):
    changed = with_value(sample, REQUIREMENTS["sets"], 5.0)
    assert [aboard.sets for aboard in changed.materials] == [5, 1]


@pytest.mark.parametrize(
    ("path", "expected"),
    [
        ("budget", ("budget", ())),
        ("limits.budget", ("budget", ())),
        ("brief.budget", ("budget", ())),
        ("margins.air_share", ("air_share", ())),
        ("crew.helpers", ("helpers", ())),
        ("hose_reach", ("hose_reach", ("barn", "attic"))),
        ("duty.hose_reach", ("hose_reach", ("barn", "attic"))),
        ("attic.hose_reach", ("hose_reach", ("attic",))),
    ],
)
def test_a_path_names_a_requirement_and_a_duty(sample, path, expected):
    requirement, duty = find(path, sample)
    assert (requirement.id, duty) == expected


@pytest.mark.parametrize(
    ("path", "sentence"),
    [
        ("budgt", f'found "budgt"; {ANY}. Try: budget'),
        ("duty.hose_reech", f'found "duty.hose_reech"; {ANY}. Try: duty.hose_reach'),
        ("duty.hose-reach", f'found "duty.hose-reach"; {ANY}. Try: duty.hose_reach'),
        (
            "atic.hose_reach",
            'found "atic.hose_reach"; expected duty.hose_reach, or one of the duties barn, attic before it. Try: '
            "attic.hose_reach",
        ),
        (
            "crew.budget",
            'found "crew.budget"; expected a requirement of the whole brief, which no duty has of its own. Try: budget',
        ),
        (
            "attic.budget",
            'found "attic.budget"; expected a requirement of the whole brief, which no duty has of its own. '
            "Try: budget",
        ),
        ("", f'found ""; {ANY}.'),
    ],
)
def test_a_path_that_names_none(sample, path, sentence):
    with pytest.raises(EntryError) as caught:
        find(path, sample)
    assert str(caught.value) == sentence
