"""How far rows move and rigs fit: values by hand, rows against the brief laid anew, searches that end before it is known."""

from __future__ import annotations

import itertools
from types import SimpleNamespace

import numpy as np
import pytest

from solver.answers import curve as curve_module
from solver.answers import steps_search, steps_side
from solver.answers import why as why_module
from solver.answers.ask import ask
from solver.answers.steps_rows import Moves, Way, eases, sides
from solver.answers.steps_search import Ground
from solver.answers.steps_side import Alike, Outward
from solver.brief.requirements import REQUIREMENTS, moved_by
from solver.errors import EntryError, InternalError, NotProven
from solver.search.engine import Outcome, Status
from tests.answers.small import toys
from tests.answers.small.toys import DUTIES, SHORT, World, changed
from tests.answers.small.world import asked as laid
from tests.answers.small.world import brief, stock


@pytest.fixture
def toy(monkeypatch):
    """The toy worlds in place of the rules."""
    toys.joined(monkeypatch)


# --- values and how far a rig fits ------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "last, beyond, values",
    [
        (1.5, 2.5, (1.75, 2.0, 2.25)),
        (2.5, 1.5, (2.25, 2.0, 1.75)),
        (1.6, 2.0, (1.75,)),
        (2.1, 1.5, (2.0, 1.75)),
        (1.9, 2.0, ()),
        (1.5, 1.75, ()),
        (1.0, 1.75, (1.25, 1.5)),
        (0.6, 1.25, (0.75, 1.0)),
    ],
)
def test_values_at_the_resolution_between_two(last, beyond, values):
    record = SimpleNamespace(resolution=0.25, least=1.0)
    moves = SimpleNamespace(asked=None, way=SimpleNamespace(requirement=record))
    assert Outward(moves, None, (), beyond > last, [])._between(last, beyond) == values


@pytest.mark.parametrize("high", range(1, 7))
def test_how_far_a_rig_fits_is_found_with_few_looks(high):
    """One row that only gets harder, one that goes either way: every pattern up to so many values."""
    patterns = itertools.product((True, False), repeat=high)
    for low, until, pattern in itertools.product(range(high + 1), range(high + 1), patterns):
        looked = []

        def fits(columns, value, places, until=until, pattern=pattern, looked=looked):
            looked.append((places[0], value)) if places else None
            return all(value < until if place == "harder" else pattern[value] for place in places)

        side = Outward(SimpleNamespace(asked=None, fits=fits), None, (), True, [])
        for harder, unsure in ((["harder"], ["unsure"]), (["harder"], []), ([], ["unsure"]), ([], [])):
            looked.clear()
            good = [(not harder or k < until) and (not unsure or pattern[k]) for k in range(high)]
            expected = next((k for k in range(low, high) if not good[k]), high)
            assert side._counted(low, high, lambda k: k, None, harder, unsure) == expected
            assert sum(place == "harder" for place, _ in looked) <= (high - low).bit_length()
            assert sum(place == "unsure" for place, _ in looked) <= expected - low + 1


# --- rows over a range of values --------------------------------------------------------------------------------------
@pytest.mark.usefixtures("toy")
@pytest.mark.parametrize(
    "name, duties, kinds",
    [("output", ("porches",), 3), ("output", DUTIES, 5), ("warm_up_time", ("attics",), 2), ("spraying_time", ("attics",), 2),
     ("sprayers", (), 1), ("altitude", DUTIES, 3)],
)  # fmt: skip
def test_rows_of_a_range_are_the_mildest_of_its_values(name, duties, kinds):
    """Of rows that get easier those of the far end, of rows that get harder those of the near end, of others the least."""
    seen = set()
    world = World(3)
    asked = world.asked()
    moves = Moves(asked, Way(SHORT[name], duties))
    for upwards, values in zip((False, True), sides(SHORT[name], moves.way.present(asked.brief)), strict=True):
        values = tuple(value for value in values if moves.possible(value))
        side = Outward(moves, None, values, upwards, [])
        for near, far in itertools.combinations_with_replacement(range(len(values)), 2):
            rows = [moves.rows(value) for value in values[near : far + 1]]
            easier, harder = eases(moves.base, rows[-1], world.offsets), eases(rows[-1], moves.base, world.offsets)
            strict, loose = [], []
            for place, last in rows[-1].items():
                effect = moves.effect(place, upwards)
                sure = {1: place in moves.base and easier[place], -1: place not in moves.base or harder.get(place), 0: True}
                kind = effect if sure[effect] else 0
                assert near == far or side.kinds(far)[place] == kind
                seen.add((kind, place in moves.base))
                own = [found[place] for found in rows if place in found]
                whole = len(own) == len(rows)
                if near == far or kind > 0:
                    strict.append(last)
                    loose.append(last)
                elif kind < 0:
                    strict += [rows[0][place] for _ in range(place in rows[0])]
                    loose += [rows[0][place] for _ in range(place in rows[0])]
                elif whole:
                    strict.append((np.min([row for row, _ in own], axis=0), max(rhs for _, rhs in own)))
            for expected, loosely in ((strict, False), (loose, True)):
                told = list(zip(*side._mildest(near, far, loosely), strict=True))
                plain = [sorted((row.tolist(), int(rhs)) for row, rhs in some) for some in (told, expected)]
                assert plain[0] == plain[1]
                fits = np.any([[all(r[rig].sum() <= rhs for r, rhs in one.values()) for rig in world.rigs[::7]]
                               for one in rows], axis=0)  # fmt: skip
                kept = [all(row[rig].sum() <= rhs for row, rhs in told) for rig in world.rigs[::7]]
                assert (np.array(kept) | ~fits).all(), "no rig that fits somewhere is lost"
    assert len(seen) == kinds, seen


# --- rows that move, on the small world -------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "name, requirement, duties, value, come, gone",
    [
        ("attics", "output", ("attics",), 9.0, 0, 0),
        ("attics", "output", DUTIES, 12.5, 0, 0),
        ("attics", "coldest_air", ("porches",), -40.0, 4, 0),
        ("attics", "coldest_air", DUTIES, -40.0, 4, 0),
        ("attics", "overnight_air", ("attics",), -35.0, 4, 0),
        ("attics", "body_floor", (), 80.0, 0, 4),
        ("attics", "budget", (), 90_000.0, 0, 0),
        ("barns", "humidity", ("barns",), 95.0, 1, 0),
        ("barns", "sprayers", (), 2.0, 0, 0),
        ("barns", "overnight_air", ("barns",), -40.0, 5, 0),
    ],
)
def test_moved_rows_are_those_of_the_brief_laid_anew(name, requirement, duties, value, come, gone):
    of, record = laid(name), REQUIREMENTS[requirement]
    moves = Moves(of, Way(record, duties))
    other = changed(of.brief, record, value, duties)
    now = ask(stock(), other, of.by)
    anew = {place: (now.program.rows[i], int(now.program.rhs[i])) for i, place in enumerate(now.program.labels)}
    stays = {place: (of.program.rows[i], int(of.program.rhs[i])) for i, place in enumerate(of.program.labels)
             if not moves.touched[i]}  # fmt: skip
    rows = moves.rows(value)
    assert {**stays, **rows}.keys() == anew.keys() and not stays.keys() & rows.keys()
    assert all(rhs == anew[place][1] and (row == anew[place][0]).all() for place, (row, rhs) in (stays | rows).items())
    before = set(of.program.labels)
    assert (len(anew.keys() - before), len(before - anew.keys())) == (come, gone)
    moved = frozenset().union(*(moved_by(of.brief, record, duty) for duty in duties or (None,)))
    touched = [bool(reads & moved) and (not duties or place.duty in ("", *duties))
               for place, reads in zip(of.program.labels, of.program.reads, strict=True)]  # fmt: skip
    assert moves.touched.tolist() == touched and moves.own.tolist() == np.flatnonzero(touched).tolist()
    assert moves.base.keys() == {place for place, own in zip(of.program.labels, touched, strict=True) if own}
    whole = moves.asked_at(value).program
    assert whole.labels == now.program.labels
    assert (whole.rows == now.program.rows).all() and (whole.rhs == now.program.rhs).all()
    some = sorted(rows)[::3]
    assert list(moves.rows(value, some)) == some
    for columns in (of.best().columns, of.program.offsets[:-1]):
        fits = {place: int(row[columns].sum()) <= rhs for place, (row, rhs) in rows.items()}
        assert moves.fits(columns, value) is all(fits.values())
        assert moves.fits(columns, value, some) is all(fits[place] for place in some)
        assert all(moves.fits(columns, value, [place]) is fits[place] for place in some)
    assert moves.possible(value) and moves.cost(value) is of.costs[of.by]


def test_a_value_that_no_brief_can_have_is_not_possible():
    moves = Moves(laid("attics"), Way(REQUIREMENTS["spraying_time"], ("attics",)))
    assert moves.possible(5.0) is True and moves.possible(12.0) is False and moves.brief(12.0) is None
    with pytest.raises(EntryError) as caught:
        moves.rows(12.0)
    assert str(caught.value) == "found spraying time 12; expected a value that a brief can have."
    assert moves.possible(4.0)


@pytest.mark.usefixtures("toy")
def test_a_value_at_which_a_formula_ends_is_not_possible():
    moves = Moves(World(0).asked(), Way(SHORT["altitude"], ("attics",)))
    assert [moves.possible(value) for value in (1200.0, 3700.0, 3800.0, 3900.0, 4200.0)] == [True, True, True, False, False]
    assert moves.brief(4200.0) is not None


# --- searches that end before it is known, and what cannot be ---------------------------------------------------------
@pytest.fixture
def ground():
    """A toy program of price, all its rows, its costs and its best rig."""
    world = World(6)
    program = world.asked().program
    best = world.asked().best()
    return program, Ground(program, np.zeros(len(program.rhs), bool)), world.costs["price"], best


def ended(monkeypatch, status):
    """The engine ends every search so."""
    monkeypatch.setattr(steps_search, "solve_rows", lambda *given: Outcome(status, None, 0, 0.0))


@pytest.mark.usefixtures("toy")
@pytest.mark.parametrize("status", [Status.UNKNOWN, Status.INFEASIBLE])
def test_a_search_that_ends_before_it_is_known_says_so(status, ground, monkeypatch):
    program, nothing, price, best = ground
    whole = program.rows, program.rhs, price, best.cost
    assert program.fits(steps_search.rig_within(nothing, *whole)) and program.fits(steps_search.rig_of(program))
    changes = np.arange(len(price))
    like = steps_search.cheapest_like(nothing, *whole, changes)
    assert program.cost(like, "price") == best.cost
    assert steps_search.least_changed(nothing, *whole, changes).tolist() == like.tolist()
    listed, every = steps_search.rigs_of_cost(program, price, best.cost, best.columns)
    assert every and listed[0].tolist() == best.columns.tolist()
    assert steps_search.cheapest_like(nothing, *whole[:3], best.cost - 1, changes) is None
    assert steps_search.rig_within(nothing, *whole[:3], best.cost - 1) is None
    ended(monkeypatch, status)
    one = "the limit of work ended before it was known whether a rig exists"
    most = "the limit of work ended before the best rig was proven"
    for text, work in ((one, lambda: steps_search.rig_within(nothing, *whole)), (one, lambda: steps_search.rig_of(program)),
                       (most, lambda: steps_search.cheapest_like(nothing, *whole, changes))):  # fmt: skip
        if status is Status.INFEASIBLE:
            assert work() is None
            continue
        with pytest.raises(NotProven) as caught:
            work()
        assert type(caught.value) is NotProven and str(caught.value) == text
    kind, text = (NotProven, most) if status is Status.UNKNOWN else (
        InternalError, "a rig was found that its own cost excludes")  # fmt: skip
    with pytest.raises(kind) as caught:
        steps_search.least_changed(nothing, *whole, changes)
    assert type(caught.value) is kind and str(caught.value) == text
    with pytest.raises(InternalError) as caught:
        steps_search.least_changed(nothing, *whole[:3], best.cost - 1, changes)
    assert str(caught.value) == "a rig was found that its own cost excludes"
    listed, every = steps_search.rigs_of_cost(program, price, best.cost, best.columns)
    assert every is (status is Status.INFEASIBLE) and listed[0].tolist() == best.columns.tolist()
    less, every = steps_search.rigs_of_cost(program, price, best.cost - 1, best.columns)
    assert every and [rig.tolist() for rig in less] == [best.columns.tolist()]


@pytest.mark.usefixtures("toy")
def test_a_cheaper_rig_that_is_not_there_is_a_fault():
    asked = World(6).asked()
    best = asked.best()
    moves = Moves(asked, Way(SHORT["altitude"], ("attics",)))
    alike = Alike(asked, best.columns, best.cost)
    side = Outward(moves, alike, (3000.0,), True, [])
    with pytest.raises(InternalError) as caught:
        side.cheapest(0, np.zeros(len(asked.costs["price"]), np.int64))
    assert str(caught.value) == "a cheaper rig was found where there is none"
    absent = SimpleNamespace(asked=asked, way=SimpleNamespace(present=lambda brief: None))
    with pytest.raises(InternalError) as caught:
        Outward(absent, alike, (1.0, 2.0), True, []).value(0)
    assert str(caught.value) == "a requirement without a value was judged"
    assert side.value(0) == moves.way.present(asked.brief) and side.value(1) == 3000.0


@pytest.mark.usefixtures("toy")
def test_a_rig_met_before_is_taken_where_it_fits_and_costs_little_enough(monkeypatch):
    world = World(6)
    asked = world.asked()
    best = asked.best()
    moves = Moves(asked, Way(SHORT["output"], ("attics",)))
    values = (10.5, 10.0, 9.0, 8.0)
    good, costs = world.fitting(changed(world.brief, SHORT["output"], 8.0, ("attics",)))
    rig, cost = good[costs.argmin()], int(costs.min())
    searched = []
    monkeypatch.setattr(steps_side, "rig_within", lambda *given: searched.append(given))
    apart = next(r for r in world.rigs if moves.fits(r, 8.0) and not asked.program.fits(r, ~moves.touched))
    never = next(r for r in world.rigs if not moves.fits(r, 8.0))
    pools = [([rig], cost, rig), ([rig], cost + 5, rig), ([rig], cost - 1, None), ([], cost, None),
             ([apart, rig], 9999, rig), ([never, rig], 9999, rig), ([apart, never], 9999, None)]  # fmt: skip
    for pool, cutoff, expected in pools:
        searched.clear()
        side = Outward(moves, Alike(asked, best.columns, best.cost), values, False, list(pool))
        assert side._within(3, 3, cutoff, False) is expected
        assert len(searched) == (expected is None) and len(side.pool) == len(pool)
    own = moves.own if cost - 1 < best.cost else None
    searched.clear()
    Outward(moves, Alike(asked, best.columns, best.cost), values, False, [])._within(3, 3, best.cost - 1, False)
    Outward(moves, Alike(asked, best.columns, best.cost), values, False, [])._within(3, 3, best.cost, False)
    assert [given[-1] is None or given[-1].tolist() for given in searched] == [own.tolist(), True]


# --- what a reason may be asked for -----------------------------------------------------------------------------------
def test_the_ends_of_what_may_be_asked():
    assert why_module._judge(("HOSE-01",), 0.9, 1) is None
    assert why_module._judge((), 1e-9, 1) is None


@pytest.mark.parametrize("path, name, duties", [("porches.output", "output", ("porches",)), ("outlets", "outlets", ()),
                                                ("hose_reach", "hose_reach", DUTIES)])  # fmt: skip
def test_a_curve_of_a_path(path, name, duties, monkeypatch):
    monkeypatch.setattr(curve_module, "curve", lambda *given: given)
    asked, requirement, told = why_module.curve_of(stock(), brief("attics"), path, "yearly-cost")
    assert (asked.brief, asked.catalog, asked.by) == (brief("attics"), stock(), "yearly-cost")
    assert (requirement, told) == (REQUIREMENTS[name], duties)
