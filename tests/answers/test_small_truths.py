"""Why the files of the small world are true: figures of them found again by other ways, on the same small world.

Least costs and savings by HiGHS; steps, curves, repairs and cells of a what-if by laying the changed brief anew; points of
the front by asking for something better; prices of insisting by the items alone.
"""

from __future__ import annotations

import itertools

import numpy as np
import pytest

from solver.answers.ask import ask
from solver.answers.pick import pick
from solver.answers.steps_rows import Way
from solver.brief.requirements import REQUIREMENTS
from solver.search.best import Question, cost_of_best
from tests.answers.small.world import asked, brief, limited, picked, plain, stock, stored


def least(of, rows=None, by=None, allowed=None, at_most=None):
    """Least cost in steps of the objective; None where no rig fits."""
    return cost_of_best(Question(of.program, by or of.by, rows, allowed=allowed, at_most=at_most or {}))


def by_highs(of, by, without=""):
    """Least cost by another solver, with one rule left out."""
    highspy = pytest.importorskip("highspy")
    from tests.highs import highs_of

    solver = highs_of(of.program, by)
    for row, group in enumerate(of.program.groups):
        if group == without:
            solver.changeRowBounds(row, -highspy.kHighsInf, highspy.kHighsInf)
    solver.run()
    assert solver.getModelStatus() == highspy.HighsModelStatus.kOptimal
    return round(solver.getInfo().objective_function_value)


@pytest.mark.parametrize("name", ["barns", "attics"])
def test_the_pick_and_its_savings_are_those_of_another_solver(name):
    of, kept = asked(name), stored(f"pick_{name}")
    cost = by_highs(of, of.by)
    own = {"price": kept["total"]["price"] * 100.0, "weight": kept["total"]["weight"] * 1000.0}[of.by]
    assert cost == pytest.approx(own, abs=0.5)
    assert len(kept["binding"]) >= 3
    for entry in kept["binding"][:4]:
        assert cost - by_highs(of, of.by, entry["rule"]) == pytest.approx(entry["saving"] * of.unit, abs=0.5)


def test_the_parts_of_a_conflict_clash_and_no_fewer_do():
    for name in ("wishes", "porches"):
        of = asked(name)
        for entry in stored(f"why_{name}")["conflicts"]:
            rules = frozenset(member["rule"] for member in entry["members"])
            assert least(of, of.rows_of(rules)) is None
            assert all(least(of, of.rows_of(rules - {rule})) is not None for rule in rules)


def test_the_first_step_saves_and_nothing_nearer_does():
    """Of `barns`, every step that is told."""
    of, cost = asked("barns"), least(asked("barns"))
    found = 0
    for entry in stored("why_barns")["steps"]:
        way = Way(REQUIREMENTS[entry["requirement"]], tuple(entry["duties"]))
        for side in entry["sides"]:
            if side["step"] is None:
                continue
            found += 1
            value, step = side["step"]["value"], way.requirement.step * (1.0 if side["upwards"] else -1.0)
            assert least(ask(stock(), way.brief_at(of.brief, value))) == round(side["step"]["cost"] * 100.0) < cost
            nearer = value - step
            if abs(nearer - entry["present"]) > 1e-9 and (nearer > entry["present"]) == side["upwards"]:
                assert least(ask(stock(), way.brief_at(of.brief, nearer))) >= cost
    assert found >= 1


@pytest.mark.parametrize("place", [0, 7, 13, 20, 27])
def test_a_point_of_a_curve_is_the_least_cost_there(place):
    kept = stored("curve_hose_reach")
    value, cost = kept["points"][place % len(kept["points"])]
    there = Way(REQUIREMENTS["hose_reach"], ("barns",)).brief_at(brief("barns"), value)
    own = least(ask(stock(), there))
    assert own == (None if cost is None else round(cost * 100.0))


def test_a_repair_is_enough_and_less_is_not():
    sets = stored("why_wishes")["sets"]
    changes = {change["requirement"]: change["after"] for change in sets[0]["changes"]}
    assert sorted(changes) == ["budget", "delivery_time"]
    budget, weeks = changes["budget"], changes["delivery_time"]
    enough = ask(stock(), limited("wishes", budget=f"{budget} USD", delivery_time=f"{weeks} week"))
    assert least(enough) == round(sets[0]["total"]["price"] * 100.0)
    for money, wait in ((budget - 1.0, weeks), (budget, 3.0)):
        assert least(ask(stock(), limited("wishes", budget=f"{money} USD", delivery_time=f"{wait} week"))) is None


def test_declining_the_porches_leaves_a_rig():
    kept = stored("why_porches")["repairs"]
    assert [change["duties"] for repair in kept for change in repair["changes"]] == [["porches"]]
    left = pick(stock(), brief("porches").without_duty("porches"))
    assert plain(left.total) == kept[0]["total"]


def test_nothing_is_better_than_a_point_of_the_front():
    of = asked("thrifty")
    points = [(round(p["total"]["price"] * 100.0), round(p["total"]["weight"] * 1000.0))
              for p in stored("frontier_thrifty")["points"]]  # fmt: skip
    assert points == sorted(points) and len(points) >= 2
    for price, weight in points:
        assert least(of, by="weight", at_most={"price": price}) == weight
        assert least(of, by="price", at_most={"weight": weight}) == price
    assert points[0][0] == least(of, by="price") and points[-1][1] == least(of, by="weight")
    for (_, heavy), (dear, _) in itertools.pairwise(points):
        assert least(of, by="price", at_most={"weight": heavy - 1}) == dear


@pytest.mark.parametrize("item", ["gun-01", "vehicle-02", "feed-pump-10", "proportioner-13", "generator-08", "drum-dryer-01"])
def test_what_insisting_on_an_item_costs(item):
    of = asked("barns")
    kept = next(entry for entry in stored("insist_barns")["items"] if entry["item"] == item)
    tables = of.setting.slots.values()
    items = np.array([name for table in tables for name in table.items])
    slots = np.concatenate([np.full(len(table), k) for k, table in enumerate(tables)])
    costs = [least(of, allowed=(items == item) | (slots != slot)) for slot in set(slots[items == item].tolist())]
    own = min((cost for cost in costs if cost is not None), default=None)
    assert kept["extra"] == (None if own is None else (own - least(of)) / 100.0)


def test_cells_of_a_what_if_are_picks_of_the_changed_brief():
    kept = stored("whatif_alone")
    for number, cell in enumerate(kept["cells"][:2]):
        value = cell["values"][0]
        way = Way(REQUIREMENTS["output"], ("attics", "porches"))
        own = pick(stock(), way.brief_at(brief("attics"), [9.0, 12.0][number]), "price")
        assert value == pytest.approx([9.0, 12.0][number] * 0.45359237 / 60.0)
        assert cell["status"] == own.status
        assert cell["total"] == plain(own.total)
        assert sorted(rule for rule, _ in cell["binding"]) == sorted(entry.rule for entry in own.binding)


def test_rivals_cost_more_and_more_and_each_differs_from_all_before():
    kept = stored("rivals_barns")
    totals = [rival["total"]["price"] for rival in kept["rivals"]]
    assert totals == sorted(totals) and totals[0] == picked("barns").total.price
    held = [tuple(line.split(", ")[2] for line in rival["rig"] if line.split(", ")[0] in kept["differ"])
            for rival in kept["rivals"]]  # fmt: skip
    assert len(set(held)) == len(held) >= 3
