"""check agrees with the engine on the rigs of every answer: read again from a file, each of them fits its brief."""

from __future__ import annotations

import json

import pytest

from solver.answers.ask import ask
from solver.answers.check import check
from solver.answers.frontier import frontier
from solver.answers.money import money_facts
from solver.answers.rivals import rivals
from solver.answers.robust import robust
from solver.answers.whatif import whatif
from solver.answers.whatif_facts import brief_of_cell
from solver.search.best import exists
from tests.demo.demo import POSSIBLE, brief, stock
from tests.laws.smaller import kept_by, nested_parts


def checked(folder, lines, of_brief, catalog=None):
    """What check says of a rig given as the lines of an answer."""
    path = folder / "rig.json"
    told = [{"slot": line.slot, "item": line.item, "choice": line.choice} for line in lines]
    path.write_text(json.dumps({"rig": told}), "utf-8")
    found = check(catalog or stock(), of_brief, path)
    assert found.rig == tuple(lines)
    return found


@pytest.mark.parametrize("name", POSSIBLE)
def test_the_rig_of_least_yearly_cost(name, tmp_path):
    """Price and weight are in `test_check.py`."""
    of = ask(stock(), brief(name), "yearly-cost")
    rig = of.rig_of(of.best().columns)
    again = checked(tmp_path, of.lines(rig), brief(name))
    assert (again.fits, again.total, again.balances, again.money) == (
        True, of.totals(rig), of.balances(rig), money_facts(of, rig),
    )  # fmt: skip


def test_rivals_and_kinds(tmp_path):
    name = "owned_truck"
    next_best = rivals(stock(), brief(name), count=3).rivals
    kinds = [kind.rival for kind in rivals(stock(), brief(name), kinds=True).kinds if kind.rival is not None]
    assert len(next_best) == 3 and len(kinds) > 3
    for rival in (*next_best, *kinds):
        again = checked(tmp_path, rival.rig, brief(name))
        assert (again.fits, again.total) == (True, rival.total)


def test_points_of_a_front(tmp_path):
    """On part of the catalog; the ends of the front and points between."""
    own = brief("owned_truck")
    part, _ = nested_parts(1, (0.6,), kept_by(own))
    points = frontier(part, own).points
    assert len(points) > 5
    for point in points[:: max(1, len(points) // 4)]:
        again = checked(tmp_path, point.rig, own, part)
        assert (again.fits, again.total) == (True, point.total)


def test_cells_of_a_what_if(tmp_path):
    """Each cell's rig fits the brief of its cell; one of them does not fit the brief as it is."""
    own = brief("owned_truck")
    found = whatif(stock(), own, ["duty.altitude=0ft,8000ft", "duty.hose_reach=100ft,200ft"], binding="none", jobs=1)
    as_it_is = []
    for cell in found.cells:
        there, _ = brief_of_cell(own, found.axes, cell.values)
        lines = found.rigs[cell.options]
        assert checked(tmp_path, lines, there).fits
        as_it_is.append(checked(tmp_path, lines, own).fits)
    assert set(as_it_is) == {True, False}


def test_a_robust_rig(tmp_path):
    found = robust(stock(), brief("owned_truck"), {"duty.altitude": (0.0, 1200.0)})
    assert found.status == "found"
    assert checked(tmp_path, found.rig, brief("owned_truck")).fits


@pytest.mark.parametrize("name", POSSIBLE)
def test_a_rig_that_the_engine_excludes_fails(name, tmp_path):
    """A budget a dollar below the start-up total of the cheapest rig: the engine has none, and that rig breaks it alone."""
    of = ask(stock(), brief(name), "price")
    rig = of.rig_of(of.best().columns)
    limits = brief(name).entry.model_dump(by_alias=True, exclude_unset=True).get("limits", {})
    short = brief(name).changed(limits={**limits, "budget": money_facts(of, rig).start_up - 1.0})
    again = checked(tmp_path, of.lines(rig), short)
    assert [failure.place.rule for failure in again.failures] == ["MONEY-01"]
    assert not exists(ask(stock(), short, "price").question())
