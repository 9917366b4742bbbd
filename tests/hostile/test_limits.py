"""A limit of seconds or of work gives the best found, its gap, and no false claim; figures that would overflow."""

from __future__ import annotations

import json
from dataclasses import replace

import numpy as np
import pytest

from solver.answers.ask import ask
from solver.answers.pick import pick
from solver.brief import read_brief
from solver.catalog.read import build_catalog
from solver.errors import EntryError, InputError
from solver.program.matrix import BOUND, Program, RowTooLarge
from solver.report.as_data import pick_data
from solver.report.pick_text import pick_text
from solver.search import engine
from solver.search.engine import Limits, Status, limited, solve_rows
from tests.cli.run import brief, forget, rigset
from tests.demo.demo import asked, brief_path, least_cost, stock
from tests.demo.demo import brief as of_demo

WORKS = tuple(np.geomspace(1e-5, 10.0, 40).tolist())
"""From nothing to far more than these briefs take, in the engine's units."""


@pytest.mark.parametrize("name", ["light_trailer", "mountain_winter", "owned_truck"])
def test_what_a_limit_of_work_gives_is_true(name):
    """Against the proven answer: no bound above it, no rig below it, "proven" only where it is the same, and one of each."""
    of, seen = asked(name), set()
    best = least_cost(of, "price")
    for work in WORKS:
        with limited(work=work):
            found = of.best(by="price")
        seen.add((found.columns is not None, found.proven))
        if found.columns is None:
            assert (found.proven, found.cost, found.bound) == (False, None, None)
            continue
        assert of.program.fits(found.columns)
        assert found.cost is not None
        assert found.bound is not None
        assert found.bound <= best <= found.cost == of.program.cost(found.columns, "price")
        assert found.cost == best or not found.proven
        if found.proven:
            break
    assert {(False, False), (True, False), (True, True)} == seen


def unproven(name: str, by: str = "price"):
    """The answer with the least work that finds a rig; it is not proven."""
    for work in WORKS:
        with limited(work=work):
            if asked(name).cheapest(by=by).columns is not None:
                return pick(stock(), of_demo(name), by)
    raise AssertionError("no limit of work finds a rig")


def test_the_same_limit_of_work_gives_the_same_bytes():
    one, two = (json.dumps(pick_data(unproven("mountain_winter"))) for _ in range(2))
    assert one == two


def test_no_time_at_all():
    forget()
    outcome = rigset("pick", brief("first_rig"), "--seconds", "0", "--json")
    forget()
    assert outcome.code == 1
    assert {key: outcome.data[key] for key in ("status", "proven", "bound", "total", "rig", "reasons_known")} == {
        "status": "unknown", "proven": False, "bound": None, "total": None, "rig": [], "reasons_known": False,
    }  # fmt: skip


def test_time_is_up_in_the_text():
    with limited(seconds=0.0):
        text = pick_text(pick(stock(), of_demo("first_rig")), 80)
    assert "The limit of work ended before it was known whether any rig fits. Not proven either way." in text


def test_an_unproven_rig_says_so_and_claims_no_reasons():
    found = unproven("light_trailer")
    assert (found.status, found.proven, found.reasons, found.binding) == ("found", False, False, ())
    text = " ".join(pick_text(found, 80).split())
    assert "NOT PROVEN: " in text
    assert "Not worked out: the limit of work ended before." in text
    assert "No single rule" not in text
    assert pick_data(found)["reasons_known"] is False


@pytest.mark.parametrize(
    ("less", "sentence"),
    [
        (1000.0, "NOT PROVEN: the limit of work ended before every better rig was excluded. None can be better by more than "
         "$1,000 (1.6 %)."),
        (0.0, "Proven: none costs less. NOT PROVEN: which of the rigs that are as good comes first."),
        (None, "NOT PROVEN: the limit of work ended before every better rig was excluded."),
    ],
)  # fmt: skip
def test_the_gap_in_words(less, sentence):
    found = unproven("owned_truck")
    assert found.total is not None
    price = 62500.0
    told = replace(found, total=replace(found.total, price=price), bound=None if less is None else price - less)
    text = " ".join(pick_text(told, 80).split())
    assert f"of equipment and empty vehicle. {sentence} What to buy" in text


def test_a_limit_ends_with_its_block():
    rows, rhs = np.array([[1, 2, 3, 4]], np.int64), np.array([9], np.int64)
    cost = np.array([4, 3, 2, 1], np.int64)
    with limited(seconds=0.0):
        assert solve_rows(rows, rhs, [2, 2], cost).status is Status.UNKNOWN
    assert solve_rows(rows, rhs, [2, 2], cost, limits=Limits()).status is Status.OPTIMAL
    assert (engine._Room.work, engine._Room.deadline) == (None, None)


@pytest.mark.parametrize("wrong", [["--seconds", "-1"], ["--seconds", "soon"], ["--work", "-0.1"]])
def test_limits_that_are_none(wrong):
    outcome = rigset("pick", brief("first_rig"), *wrong)
    assert (outcome.code, outcome.out) == (2, "")
    assert "Invalid value for" in outcome.err


@pytest.mark.parametrize(
    ("old", "new", "sentence"),
    [
        ("price: 1420 USD", "price: 1e15 USD",
         'price "1e15 USD"; expected an amount of money of at least 0 USD, such as 3200 USD, at most 1,000,000,000 USD.'),
        ("weight: 4.9 lb", "weight: 1e12 lb",
         'weight "1e12 lb"; expected a mass above 0 lb, such as 480 lb, at most 2,204,622,622 lb.'),
        ("weight: 4.9 lb", "weight: nan lb",
         'weight "nan lb", which does not begin with a number; expected a mass above 0 lb, such as 480 lb.'),
    ],
)  # fmt: skip
def test_figures_beyond_belief_stand_in_a_message_with_their_line(tmp_path, old, new, sentence):
    text = (brief_path("first_rig").parents[1] / "catalog" / "gun.yaml").read_text("utf-8")
    assert old in text
    (tmp_path / "gun.yaml").write_text(text.replace(old, new, 1), "utf-8")
    line = text[: text.index(old)].count("\n") + 1
    outcome = rigset("catalog", "check", str(tmp_path))
    assert outcome.code == 2
    assert f"{tmp_path / 'gun.yaml'}:{line}: found {sentence}\n" in outcome.out + outcome.err


def with_gun(**changes: float):
    """The demo catalog with another first gun, and where it stands."""
    real = stock()
    items = [item.model_copy(update=changes) if item.id == "gun-01" else item for item in real.items.values()]
    return build_catalog(real.folder, items, real.sources)


@pytest.mark.parametrize(
    ("changes", "sentence"),
    [
        ({"price": 1e15}, 'found the price of the item "gun-01"'),
        ({"weight": 1e18}, 'found the weight of the item "gun-01"'),
        ({"price": float("nan")}, 'found the price of the item "gun-01"'),
        ({"upkeep_cost": 1e300}, 'found the yearly cost of the item "gun-01"'),
        ({"pressure": float("inf")}, 'found a figure of the item "gun-01" that '),
        ({"pressure": float("nan")}, 'found a figure of the item "gun-01" that '),
    ],
)  # fmt: skip
def test_figures_built_in_code_cannot_overflow_either(changes, sentence):
    catalog = with_gun(**changes)
    with pytest.raises(InputError) as caught:
        _ = ask(catalog, read_brief(brief_path("first_rig"), stock())).program
    source = stock().sources["gun-01"]
    assert str(caught.value).startswith(f"{source.file}:{source.line}: {sentence}")
    assert "expected a figure that can be counted exactly. Try: a look at its unit and at how many digits it has" in str(
        caught.value
    )


def test_a_row_that_only_its_sum_makes_too_large():
    rows = np.full((1, 4), BOUND // 2, np.int64)
    costs = {"price": np.zeros(4, np.int64)}
    with pytest.raises(RowTooLarge) as caught:
        Program(rows, np.array([1000], np.int64), np.array([0, 2, 4], np.int64), costs, ("the sum",), ("A-01",))
    assert isinstance(caught.value, EntryError)
    assert str(caught.value) == (
        "found figures that the balance the sum cannot count; expected a figure that can be counted exactly. "
        "Try: a look at its unit and at how many digits it has"
    )
