"""Pages of a what-if and of a front, read back against the JSON of the same answer."""

from __future__ import annotations

import pytest

import solver.report.sheet.fronts as fronts
from solver.answers.frontier import frontier
from solver.answers.whatif import whatif
from solver.report.frontier_data import frontier_data
from solver.report.sheet.charts import Axis, Run, step_chart, ticks
from solver.report.sheet.figures import Figure
from solver.report.sheet.fronts import front_of, front_page, trades
from solver.report.sheet.studies import study_page
from solver.report.whatif_data import whatif_data
from tests.answers.small.world import brief as small_brief
from tests.answers.small.world import stock as small_stock
from tests.demo.demo import brief, stock
from tests.report.sheets import at, read


@pytest.mark.parametrize(
    "vary",
    [("duty.hose_reach=100ft:180ft:40ft",), ("duty.hose_reach=100ft,180ft", "duty.output=8lb/min,9lb/min")],
)
def test_a_study_is_true_to_its_json(vary):
    found = whatif(stock(), brief("first_rig"), vary, binding="none", jobs=1)
    data, back = whatif_data(found), read(study_page(found))
    assert len(back.figures) >= 2 * sum(cell.status == "found" for cell in found.cells)
    for place, value, _ in back.figures:
        assert float(value) == at(data, place), place
    assert len(back.rows["cells"]) == len(found.cells) + 1
    assert len(back.rows["switches"]) == len(found.switches) + 1
    assert "no rig fits" in back.text
    assert not [tag for tag, _ in back.tags if tag in ("script", "img", "link")]


def test_a_front_is_true_to_its_json():
    answer = frontier(stock(), brief("first_rig"))
    data, back = frontier_data(answer), read(front_page(answer))
    for place, value, _ in back.figures:
        assert float(value) == at(data, place), place
    assert len(back.rows["points"]) == len(answer.points) + 1
    corners = trades(front_of(answer.points))
    assert (corners[0], corners[-1]) == (0, len(answer.points) - 1)
    assert len(corners) == len(back.rows["trades"]) - 1 <= 8


def test_a_front_of_three_costs_says_what_it_is(monkeypatch):
    answer = frontier(small_stock(), small_brief("barns"), True)
    data, whole = frontier_data(answer), front_page(answer)
    assert "no other is as cheap, as light and as cheap to keep all at once" in whole
    two = [point.total for point in frontier(small_stock(), small_brief("barns")).points]
    for place, value, _ in read(whole).figures:
        assert float(value) == at(data, place), place
    rows = read(whole).rows
    assert len(rows["points"]) == len(answer.points) + 1 > len(two) + 1
    monkeypatch.setattr(fronts, "MOST_ROWS", len(answer.points) - 1)
    some = front_page(answer)
    assert len(read(some).rows["points"]) == len(answer.shown) + 1
    assert f"These are {len(answer.shown)} of the" in some and "These are" not in whole
    assert read(some).rows["trades"] == rows["trades"]


def test_of_very_many_points_one_is_drawn_where_they_fall_together():
    prices, weights = [1.0] * 1500 + [2.0] * 1500 + [3.0], [7.0] * 1500 + [5.0] * 1501
    assert fronts._drawn(prices, weights) == [0, 1500, 3000]
    assert fronts._drawn(prices[:2000], weights[:2000]) == list(range(2000))
    assert fronts._drawn(prices[:2001], [7.0] * 2001) == [0, 1500]


def test_trades_of_three_costs_are_those_of_price_and_weight():
    answer, two = (frontier(small_stock(), small_brief("barns"), third) for third in (True, False))
    front = front_of(answer.points)
    flat = [front.points[k].total for k in fronts._by_two(front)]
    assert [(total.price, total.weight) for total in flat] == [(p.total.price, p.total.weight) for p in two.points]


def test_ticks_are_round_and_inside():
    assert ticks(62_000.0, 70_300.0) == [62000.0, 64000.0, 66000.0, 68000.0, 70000.0]
    assert ticks(3.0, 3.0) == [3.0]


def test_a_step_chart_marks_the_present_and_joins_what_has_no_rig():
    runs = [Run(0.0, 4.0, 10.0), Run(5.0, 6.0, 20.0), Run(7.0, 8.0, None), Run(9.0, 10.0, None)]
    axis = Axis("x", 0.0, 10.0), Axis("y", 0.0, 30.0)
    drawn = step_chart("c", "t", "d", runs, Figure("present", 2.0, "2 ft"), (2.0, 10.0), *axis).svg()
    assert drawn.count('class="curve"') == 2
    assert drawn.count('class="void"') == 1
    assert drawn.count('class="mark"') == 1
    assert 'data-of="present" data-value="2.0">2 ft</tspan>' in drawn
