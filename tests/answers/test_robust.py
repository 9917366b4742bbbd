"""A robust rig holds everywhere in its ranges, costs no less than any point's own, and is found where corners mislead."""

from __future__ import annotations

from functools import cache

import numpy as np
import pytest

from solver.answers.ask import Asked, ask
from solver.answers.changed import changed_brief
from solver.answers.robust import robust
from solver.answers.robust_facts import Robust
from solver.answers.robust_ranged import points_of
from solver.answers.robust_rows import RigRows, places_moved
from solver.brief.ranges import range_of, with_values
from solver.errors import EntryError
from solver.report.as_data import to_json
from solver.report.robust_data import robust_data
from solver.report.robust_text import robust_text
from solver.rules import RULES
from solver.rules.record import EACH_DUTY, Basis, Effect, Rule, Words, need, supply
from tests.answers.whatif_small import small
from tests.demo.demo import brief, stock

NAME = "owned_truck"
RANGES = {
    "altitude": {"duty.altitude": (0.0, 1200.0)},
    "air": {"duty.hottest_air": (300.0, 308.0), "duty.humidity": (0.3, 0.8)},
    "reach": {"duty.hose_reach": (40.0, 48.0), "margins.floor_factor": (1.05, 1.2)},
}


@cache
def base() -> Asked:
    """The brief over its small catalog."""
    return ask(small(NAME), brief(NAME))


@cache
def found(which: str) -> Robust:
    """The robust pick of these ranges."""
    return robust(small(NAME), brief(NAME), RANGES[which])


def at(which: str, values: tuple[float, ...]) -> Asked:
    """The question at a point, compiled afresh."""
    ranges = [range_of(path, *ends, brief(NAME)) for path, ends in RANGES[which].items()]
    changes = [change for each, value in zip(ranges, values, strict=True) for change in each.changes(value)]
    return ask(small(NAME), with_values(brief(NAME), changes)[0])


def rows_of(which: str) -> RigRows:
    """The rows of the robust rig that move."""
    rig = dict(zip(base().offsets, found(which).options, strict=True))
    return RigRows(base(), rig, frozenset(target[0].id for r in found(which).ranges for target in r.targets))


@pytest.mark.parametrize("which", RANGES)
def test_it_holds_at_the_corners_and_costs_no_less_than_the_pick_there(which):
    answer = found(which)
    assert (answer.status, answer.proven) == ("found", True)
    assert answer.total is not None
    ends = [tuple(ends) for ends in RANGES[which].values()]
    corners = [(low,) for low in ends[0]] if len(ends) == 1 else [(a, b) for a in ends[0] for b in ends[1]]
    for corner in corners:
        asked = at(which, corner)
        columns = asked.columns_of(dict(zip(asked.offsets, answer.options, strict=True)))
        asked.recheck(columns)
        own = asked.cheapest()
        assert own.cost is not None
        assert asked.program.cost(columns, "price") >= own.cost


@pytest.mark.parametrize("which", RANGES)
def test_what_certainty_costs_is_the_difference_to_the_nominal_pick(which):
    answer = found(which)
    nominal = at(which, tuple(each.nominal for each in answer.ranges)).best()
    assert nominal.cost is not None
    assert answer.total is not None
    assert answer.nominal is not None
    assert answer.nominal.price == nominal.cost / 100.0
    assert answer.extra == pytest.approx(answer.total.price - answer.nominal.price)
    assert answer.extra >= 0.0


@pytest.mark.parametrize("which", RANGES)
def test_the_rows_of_one_rig_are_those_of_the_compiled_program(which):
    rows = rows_of(which)
    moved = frozenset(target[0].id for r in found(which).ranges for target in r.targets)
    for point in points_of(found(which).ranges, 5, 7):
        asked = at(which, point)
        columns = asked.columns_of(dict(zip(asked.offsets, found(which).options, strict=True)))
        excess = asked.program.rows[:, columns].sum(axis=1) - asked.program.rhs
        expected = dict(zip(asked.program.labels, excess.tolist(), strict=True))
        told = rows.excess(asked.brief)
        assert places_moved(asked, moved, frozenset()) <= set(told)
        guarded = {i.place for i in asked.instances if i.guard is not None}
        for place, (own, _) in told.items():
            assert own == expected[place] or (place in guarded and own < 0 and expected[place] <= 0), place


def test_it_holds_at_ten_thousand_random_points():
    """Other points than those it was tried at: another seed."""
    answer, rows = found("reach"), rows_of("reach")
    points = points_of(answer.ranges, 10_000, 2024)
    changed = [change for each in answer.ranges for change in each.changes(each.low)]
    assert len(set(points)) == 10_000
    assert len(changed) == 2
    worst = -(10**9)
    for point in points:
        changes = [change for each, value in zip(answer.ranges, point, strict=True) for change in each.changes(value)]
        told = rows.excess(with_values(brief(NAME), changes)[0])
        worst = max(worst, *(excess for excess, _ in told.values()))
    assert worst <= 0


@pytest.mark.parametrize("which", ["altitude", "air"])
def test_it_holds_at_random_points_where_many_rows_move(which):
    rows = rows_of(which)
    for point in points_of(found(which).ranges, 300, 11):
        told = rows.excess(at_brief(which, point))
        assert max(excess for excess, _ in told.values()) <= 0


def at_brief(which: str, values: tuple[float, ...]):
    """The brief at a point."""
    ranges = found(which).ranges
    return with_values(brief(NAME), [c for each, v in zip(ranges, values, strict=True) for c in each.changes(v)])[0]


def test_a_range_that_is_a_point_gives_the_pick_there():
    answer = robust(small(NAME), brief(NAME), {"duty.altitude": (600.0, 600.0)})
    own = at("altitude", (600.0,)).best()
    assert own.columns is not None
    assert answer.options == tuple(base().rig_of(own.columns).values())
    assert (answer.extra, answer.certified) == (0.0, True)


def test_a_point_decides_if_the_rig_is_better_without_it():
    answer = found("altitude")
    for scenario in answer.scenarios:
        if scenario.saving > 0.0:
            asked = at("altitude", scenario.values)
            assert scenario.rules
            assert scenario.cost is not None
            assert answer.total is not None
            assert scenario.cost <= answer.total.price
            assert set(scenario.rules) <= set(asked.program.groups)
    assert answer.scenarios[0].saving > 0.0
    assert [s.saving for s in answer.scenarios] == sorted((s.saving for s in answer.scenarios), reverse=True)


HUMP = Rule(
    id="TEST-01", title="a longer hose halfway up", unit="ft", basis=Basis.BRIEF, source="invented for this test",
    scope=EACH_DUTY, words=Words("{need} of {supply}", "{need} of {supply}", "{need}"),
    terms=(
        need(None, "hump", lambda o, c: max(0.0, 75.0 - abs(c.of_duty("altitude") - 800.0) * 0.15)),
        supply("hose", "heated hose and whip", lambda o, c: o.hose_length),
    ),
    effects={"altitude": Effect.BOTH},
)  # fmt: skip


def test_a_need_that_is_greatest_inside_is_found_where_corners_are_not_enough(monkeypatch):
    monkeypatch.setitem(RULES, HUMP.id, HUMP)
    ends = (0.0, 1600.0)
    answer = robust(stock(), brief(NAME), {"duty.altitude": ends})
    corners = [ask(stock(), with_values(brief(NAME), [*range_of("duty.altitude", v, v, brief(NAME)).changes(v)])[0])
               for v in ends]  # fmt: skip
    inside = ask(stock(), with_values(brief(NAME), [*answer.ranges[0].changes(800.0)])[0])
    rows = np.concatenate([asked.program.rows for asked in corners])
    assert rows.shape[1] == len(inside.program.rows[0])
    fooled = robust_at_corners(corners)
    assert not inside.program.fits(fooled), "the corners alone would be enough"
    assert answer.rounds > 1
    assert answer.status == "found"
    assert "TEST-01" in answer.uncertified
    assert not answer.certified
    held = inside.columns_of(dict(zip(inside.offsets, answer.options, strict=True)))
    for altitude in np.linspace(*ends, 41).tolist():
        asked = changed_brief(inside, with_values(brief(NAME), [*answer.ranges[0].changes(altitude)])[0],
                              frozenset({"altitude"}))  # fmt: skip
        needed = max(0.0, 75.0 - abs(altitude - 800.0) * 0.15)
        length = asked.setting.slots["hose"].hose_length[answer.options[list(asked.offsets).index("hose")]]
        assert length >= needed - 0.05 * 0.15 * 20.0 * 0.3048
    assert inside.program.cost(held, "price") > inside.program.cost(fooled, "price")
    text = robust_text(answer, 80)
    assert "It holds over the grid" in " ".join(text.split())


def robust_at_corners(corners: list[Asked]):
    """Columns of the best rig for these points alone."""
    from solver.answers.robust_stack import Stack
    from solver.search.best import Question, best

    columns = best(Question(Stack(corners).program, "price")).columns
    assert columns is not None
    return columns


def test_where_no_rig_holds_it_says_at_which_points_and_by_which_rules():
    answer = robust(small(NAME), brief(NAME), {"sets": (1.0, 5.0)})
    assert (answer.status, answer.proven, answer.total, answer.rig) == ("none", True, None, ())
    assert answer.conflict == ("WT-01",)
    assert answer.impossible == ((5.0,),)
    words = " ".join(robust_text(answer, 80).split())
    assert "Where no rig fits, even alone ============================= - sets 5" in words
    assert "WT-01 Payload of the vehicle (rating)." in words


@pytest.mark.parametrize("width", [80, 120])
@pytest.mark.parametrize("which", RANGES)
def test_the_text_fits(which, width):
    text = robust_text(found(which), width)
    assert max(len(line) for line in text.splitlines()) <= width
    words = " ".join(text.split())
    assert "Which points decide" in words
    assert ("It holds over the whole ranges" in words) == found(which).certified
    assert "Cautions" in words


def test_the_data_holds_what_the_text_says():
    answer = found("altitude")
    data = robust_data(answer)
    assert to_json(data)
    assert data["ranges"] == [
        {"path": "duty.altitude", "unit": "ft", "from": 0.0, "to": pytest.approx(3937.007874), "nominal": 600.0,
         "nominal_stated": True}
    ]  # fmt: skip
    assert data["total"]["price"] == pytest.approx(data["nominal_total"]["price"] + data["extra"])


def test_points_that_no_brief_can_say_are_left_out():
    answer = robust(small(NAME), brief(NAME), {"duty.coldest_air": (285.0, 300.0), "duty.hottest_air": (295.0, 303.0)})
    assert answer.left_out > 0
    assert all(cold <= hot for cold, hot in (scenario.values for scenario in answer.scenarios))


def test_a_brief_without_ranges():
    with pytest.raises(EntryError) as caught:
        robust(small(NAME), brief(NAME))
    assert str(caught.value) == (
        "found a brief without ranges; expected at least one. Try: ranges: {duty.altitude: {from: 0 ft, to: 7000 ft}}"
    )
