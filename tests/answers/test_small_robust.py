"""Parts of a robust pick: the rows of several points at once and what each point decides against trying every rig of small
programs; the rows of one rig against the compiled program; the rounds."""

from __future__ import annotations

from collections import Counter
from dataclasses import replace
from types import SimpleNamespace

import numpy as np
import pytest

import solver.search.best
import solver.search.rivals
from solver.answers import robust as module
from solver.answers import robust_rows
from solver.answers.ask import Asked, ask
from solver.answers.facts import Line
from solver.answers.robust_facts import Exchange
from solver.answers.robust_ranged import Ranged
from solver.answers.robust_rows import RigRows, places_moved
from solver.answers.robust_stack import Stack
from solver.brief.ranges import range_of, with_values
from solver.errors import InternalError
from solver.program.matrix import BOUND, Program
from solver.rules import RULES
from solver.rules.balance import RESOLUTION, balance_of, chosen
from solver.rules.instances import Place
from tests.answers.small.question import excess_of, toy
from tests.answers.small.world import asked, best_rig, brief, refused, stock
from tests.answers.toy_moves import ToyMoves


# --- several points at once -------------------------------------------------------------------------------------------
def points_of(seed, values=(0, 1, -1, 2)):
    """A small program at some values, with rules' names."""
    moves = ToyMoves(seed, one_way=bool(seed % 3))
    found = []
    for value in values:
        program = moves.asked_at(value).program
        costs = {by: own % 9 for by, own in program.costs.items()}
        found.append(toy(replace(program, groups=("OWN-01", "WT-01", "AIR-01", "WT-01"), costs=costs)))
    return found


def labelled(program):
    """Every row with its name."""
    return {
        (label, row.tobytes(), int(rhs)) for label, row, rhs in zip(program.labels, program.rows, program.rhs, strict=True)
    }


def test_the_rows_of_several_points_are_stacked_each_once():
    for seed in range(12):
        points = points_of(seed)
        stack = Stack(points)
        every, _ = excess_of(points[0].program)
        fits = [np.array([point.program.fits(rig) for rig in every]) for point in points]
        for k in range(len(points)):
            rows = stack.without(k)
            others = np.all([own for n, own in enumerate(fits) if n != k], axis=0)
            assert [stack.program.fits(rig, rows) for rig in every] == others.tolist()
        assert [stack.program.fits(rig) for rig in every] == np.all(fits, axis=0).tolist()
        single = [labelled(point.program) for point in points]
        assert len(stack.program.rhs) == len(set().union(*single))
        for (k, label), group, row, rhs in zip(stack.program.labels, stack.program.groups, stack.program.rows,
                                               stack.program.rhs, strict=True):  # fmt: skip
            own = points[k].program
            i = own.labels.index(label)
            assert (group, row.tolist(), rhs) == (own.groups[i], own.rows[i].tolist(), own.rhs[i])
            assert all((label, row.tobytes(), int(rhs)) not in before for before in single[:k])
        assert stack.program.background == {"OWN-01"} and stack.program.costs == points[0].program.costs
        assert stack.of_rules(frozenset({"AIR-01"})).tolist() == [group != "WT-01" for group in stack.program.groups]
        assert stack.without(9).all()


def savings_of_two(points, columns):
    """What a rig costs more than the best rig of each of two points alone, the largest first."""
    cost = points[0].program.cost(columns, "price")
    best = []
    for point in points:
        every, excess = excess_of(point.program)
        best.append(int(point.program.costs["price"][every[(excess <= 0).all(axis=0)]].sum(axis=1).min()))
    return sorted((max(cost - least, 0) / 4.0 for least in best), reverse=True)


def test_a_point_decides_what_the_rig_costs_more_with_it(monkeypatch):
    """Against trying all rigs; the rules are those that some cheapest rig without the point breaks there."""
    cheapest_of = Asked.cheapest
    seen = Counter()
    for seed in range(40):
        points = points_of(seed, (0, 1, -2))
        stack = Stack(points)
        every, excess = excess_of(stack.program)
        cost = stack.program.costs["price"][every].sum(axis=1)
        good = (excess <= 0).all(axis=0)
        if not good.any():
            continue
        best = cost[good].min()
        columns = every[good][cost[good].argmin()]
        ranged = SimpleNamespace(base=SimpleNamespace(by="price", unit=4.0), corner=lambda point: point[0] < 2)
        found = module._scenarios(ranged, [(0.0,), (1.0,), (2.0,)], points, stack, columns)
        assert [scenario.saving for scenario in found] == sorted((scenario.saving for scenario in found), reverse=True)
        expected = []
        for k, point in enumerate(points):
            rest = (excess[stack.without(k)] <= 0).all(axis=0)
            least = cost[rest].min()
            own = excess_of(point.program)[1] <= 0
            groups = np.array(point.program.groups)
            cheapest = np.flatnonzero(rest & (cost == least)).tolist()
            broken = {tuple(dict.fromkeys(groups[~own[:, j]].tolist())) for j in cheapest}
            alone = cost[own.all(axis=0)].min()
            expected.append((k, (best - least) / 4.0, broken, alone / 4.0))
        expected.sort(key=lambda entry: -entry[1])
        for scenario, (k, saving, broken, alone) in zip(found, expected, strict=True):
            assert (scenario.values, scenario.corner, scenario.saving) == ((float(k),), k < 2, saving)
            assert scenario.cost == (alone if saving else None)
            assert scenario.rules in broken if saving else scenario.rules == ()
            seen[saving > 0] += 1
        with monkeypatch.context() as own:
            own.setattr(Asked, "cheapest", lambda of: replace(cheapest_of(of), proven=False))
            unsure = module._scenarios(ranged, [(0.0,), (1.0,), (2.0,)], points, stack, columns)
            assert unsure == tuple(replace(scenario, cost=None) for scenario in found)
        two = module._scenarios(ranged, [(0.0,), (1.0,)], points[:2], Stack(points[:2]), columns)
        assert [scenario.saving for scenario in two] == savings_of_two(points[:2], columns)
        (lone,) = module._scenarios(ranged, [(2.0,)], points[:1], Stack(points[:1]), columns)
        assert (lone.saving, lone.rules, lone.cost, lone.corner) == (0.0, (), None, False)
    assert min(seen.values()) >= 10


def test_where_no_rig_holds_at_all_points_the_rules_and_the_points():
    seen = Counter()
    base = SimpleNamespace(brief=brief("barns"), by="price")
    ranged = SimpleNamespace(base=base, ranges=("range",))
    for seed in range(36):
        points = points_of(seed, (0, 3, -4))
        stack = Stack(points)
        _, excess = excess_of(stack.program)

        def possible(rules):
            rows = [group in rules or group == "OWN-01" for group in stack.program.groups]  # noqa: B023
            return bool((excess[rows] <= 0).all(axis=0).any())  # noqa: B023

        if possible({"WT-01", "AIR-01"}) or not possible(set()):
            continue
        found = module._none(ranged, [(0.0,), (3.0,), (-4.0,)], points, stack, 2, True, 3, (5, 6))
        assert not possible(set(found.conflict))
        assert all(possible(set(found.conflict) - {rule}) for rule in found.conflict)
        alone = [(excess_of(point.program)[1] <= 0).all(axis=0).any() for point in points]
        expected = tuple((value,) for value, fine in zip((0.0, 3.0, -4.0), alone, strict=True) if not fine)
        assert found.impossible == expected
        seen[len(found.conflict), len(expected) > 0] += 1
        told = (
            found.status,
            found.proven,
            found.certified,
            found.grid_points,
            found.random_points,
            found.rounds,
            found.left_out,
        )
        assert told == ("none", True, False, 5, 6, 2, 3)
        open_ = module._none(ranged, [(0.0,), (3.0,), (-4.0,)], points, stack, 2, False, 3, (5, 6))
        assert open_ == replace(found, status="unknown", proven=False, conflict=(), impossible=())
    assert len(seen) >= 3


def test_rules_of_several_points_in_the_order_of_what_can_change():
    one = np.zeros((1, 1), np.int64)

    def lone(*rules):
        return toy(Program(np.repeat(one, len(rules), 0), np.zeros(len(rules), np.int64), np.array([0, 1]), {}, rules, rules))

    every = ("MAT-03", "WT-01", "AIR-01", "SAFE-01", "HEAT-04", "MONEY-01", "OWN-01")
    by_hand = ("MAT-11", "MONEY-01", "AIR-01", "AIR-08", "MAT-03", "WT-01", "SAFE-01", "HEAT-01", "HEAT-04")
    for points in ((every, ("HEAT-01", "MAT-11", "AIR-08")), (("HEAT-01", "MAT-11", "AIR-08"), every)):
        assert module._rules_of([lone(*rules) for rules in points]) == by_hand
    assert module._rules_of([lone("WT-01", "MONEY-01"), lone("WT-03", "MAT-03")]) == ("MONEY-01", "MAT-03", "WT-01", "WT-03")
    assert module._rules_of([lone("WT-01", "MONEY-01"), lone("HEAT-04")]) == ("MONEY-01", "WT-01", "HEAT-04")


def test_balances_at_their_tightest_and_what_is_exchanged():
    def at(**shares):
        return SimpleNamespace(
            balances=lambda rig: tuple(SimpleNamespace(place=p, slack_share=s, of=rig) for p, s in shares.items())
        )

    found = module._tightest([at(a=0.5, b=0.2), at(a=0.5, b=0.1, c=3.0), at(c=-1.0, a=0.6)], {"gun": 1})
    assert [(one.place, one.slack_share, one.of) for one in found] == [("a", 0.5, {"gun": 1}), ("b", 0.1, {"gun": 1}),
                                                                    ("c", -1.0, {"gun": 1})]  # fmt: skip
    first = [at(a=0.5), at(a=0.5)]
    kept = [each.balances({}) for each in first]
    for each, own in zip(first, kept, strict=True):
        each.balances = lambda rig, own=own: own
    assert module._tightest(first, {})[0] is kept[0][0]

    def line(slot, label, choice=""):
        return Line(slot, slot, label, label, choice, 1, 1.0, 1.0, False)

    old = (line("gun", "A"), line("hose", "B", "3 long"), line("lamp", "D"))
    new = (line("fan", "C"), line("gun", "A"), line("hose", "B", "4 long"))
    assert module._exchanges(old, new) == (Exchange("hose", "B (3 long)", "B (4 long)"), Exchange("lamp", "D", ""),
                                           Exchange("fan", "", "C"))  # fmt: skip


def test_rows_that_are_not_monotone_along_a_line_of_the_grid(monkeypatch):
    rng = np.random.default_rng(4)
    grid = [(float(a), float(b)) for a in range(4) for b in range(3)]
    places = [Place(f"rule {k}") for k in range(8)]
    slopes = [(0, 0), (1, 2), (-1, 3), (2, -2), (0, -1)]
    tables = [{p: (int(s[0] * p[0] + s[1] * p[1]), 9) for p in grid} for s in slopes]
    tables += [{p: (int(n), 9) for p, n in zip(grid, rng.integers(0, 4, 12), strict=True)}]
    tables += [{p: (1, 9) for p in grid if p[0] > 0}, {p: (int(p[0] != 2), 9) for p in grid}]
    rows = SimpleNamespace(
        excess=lambda point: {place: own[point] for place, own in zip(places, tables, strict=True) if point in own}
    )
    monkeypatch.setattr(module, "RigRows", lambda *given: rows)
    ranged = SimpleNamespace(base=SimpleNamespace(rig_of=lambda columns: None), moved=None, duties=None, ranges=(1, 2))
    points = dict(zip(grid[::-1], grid[::-1], strict=True))
    assert module._uncertified(ranged, None, points) == ("rule 5", "rule 6", "rule 7")
    tables[6], tables[7] = ({}, {p: (int(p[1] > 0), 9) for p in grid})
    assert module._uncertified(ranged, None, points) == ("rule 5",)


# --- rows of one rig --------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "name, paths, points",
    [
        ("barns", ("barns.altitude", "limits.budget"), ((0.0, 90_000.0), (2000.0, 60_000.0))),
        ("barns", ("barns.coldest_air", "limits.delivery_time"), ((263.0, 1e6), (280.0, 9e6))),
        ("attics", ("porches.output", "porches.coldest_air"), ((0.09, 262.0), (0.05, 285.0))),
        ("attics", ("outlets", "attics.hose_reach"), ((4.0, 70.0), (1.0, 20.0))),
        ("barns", ("limits.budget",), ((90_000.0,), (60_000.0,))),
    ],
)  # fmt: skip
def test_the_rows_of_a_rig_are_those_of_the_compiled_program(name, paths, points, monkeypatch):
    """And only rules are laid of which a row may move, or that may come into play."""
    of, laid, real = asked(name), set(), robust_rows.rule_instances
    monkeypatch.setattr(robust_rows, "rule_instances", lambda rule, *given: (laid.add(rule.id), real(rule, *given))[1])
    ranged = Ranged(
        of,
        tuple(range_of(path, *sorted(ends), of.brief) for path, ends in zip(paths, zip(*points, strict=True), strict=True)),
    )
    targets = [(requirement.id, duties) for each in ranged.ranges for requirement, duties in each.targets]
    assert ranged.moved >= {name for name, _ in targets}
    assert ranged.duties == (
        frozenset(duty for _, duties in targets for duty in duties) if all(d for _, d in targets) else set()
    )
    moving = places_moved(of, ranged.moved, ranged.duties)
    assert moving == {
        instance.place for instance, reads in zip(of.instances, of.program.reads, strict=True)
        if reads & ranged.moved and (not ranged.duties or instance.place.duty in ("", *ranged.duties))}  # fmt: skip
    assert ranged.nominal == tuple(each.nominal for each in ranged.ranges)
    guarded = Counter()
    there = [ask(stock(), ranged.brief(point)) for point in points]
    for rig in (best_rig(name), of.rig_of(of.program.offsets[1:] - 1)):
        rows, options = RigRows(of, rig, ranged.moved, ranged.duties), chosen(of.setting, rig)
        for point, whole in zip(points, there, strict=True):
            now = with_values(
                of.brief, [c for each, value in zip(ranged.ranges, point, strict=True) for c in each.changes(value)]
            )[0]
            assert ranged.brief(point).entry == now.entry and ranged.corner(point)
            expected = whole.program.rows[:, whole.columns_of(rig)].sum(axis=1) - whole.program.rhs
            told = rows.excess(now)
            still = {instance.place for instance in of.instances} - moving
            assert set(told) == {instance.place for instance in whole.instances} - still
            for instance, excess in zip(whole.instances, expected.tolist(), strict=True):
                if instance.place not in told:
                    continue
                balance = balance_of(whole.setting, instance, options)
                if not balance.applies:
                    assert told[instance.place] == (-BOUND, 1) and excess <= 0
                    guarded[False] += 1
                    continue
                size = max(1.0, *(abs(side) / RESOLUTION[balance.unit] for side in (balance.need, balance.supply)))
                assert told[instance.place][0] == excess
                offset = 460 / RESOLUTION[balance.unit] if balance.unit == "degF" else len(rig) + 1
                assert abs(told[instance.place][1] - size) <= offset
                guarded[True] += instance.guard is not None
    assert guarded[False] or name == "attics" or "altitude" not in paths[0]
    assert not ranged.corner(tuple(0.5 * (a + b) for a, b in zip(*points, strict=True)))
    assert len(paths) == 1 or not ranged.corner((points[0][0], 0.5 * (points[0][1] + points[1][1])))
    waived, present = set(of.brief.waived), set(of.program.groups)
    may_move = {place.rule for place in moving} | {rule for rule in RULES if ranged.moved & RULES[rule].effects.keys()}
    assert laid == {rule for rule in RULES if rule in may_move or rule not in present} - waived
    asked_there = ranged.asked(points[1])
    assert (asked_there.program.rows == whole.program.rows).all() and (asked_there.program.rhs == whole.program.rhs).all()


# --- the rounds -------------------------------------------------------------------------------------------------------
def test_six_ranges_are_not_too_many(monkeypatch):
    seen = []
    monkeypatch.setattr(module, "sayable", lambda ranged: (seen.extend(ranged.ranges), 1 / 0)[0])
    names = ("limits.budget", "outlets", "barns.altitude", "barns.output", "barns.hose_reach", "barns.humidity")
    with pytest.raises(ZeroDivisionError):
        module.robust(stock(), brief("barns"), dict.fromkeys(names, (0.5, 1.0)))
    assert [each.path for each in seen] == list(names)


def test_a_point_at_which_the_rig_fails_joins_until_none_is_left(monkeypatch):
    ranges = {"barns.altitude": (200.0, 400.0)}
    grid = {(value,): brief("barns") for value in (200.0, 400.0)}
    tried = {**grid, (300.0,): brief("barns"), (250.0,): brief("barns")}
    monkeypatch.setattr(module, "sayable", lambda ranged: (grid, tried, 5))
    nominal = range_of("barns.altitude", 200.0, 400.0, brief("barns")).nominal
    worst, points = [(300.0,), (250.0,), None], []
    monkeypatch.setattr(module, "_worst", lambda ranged, columns, given: worst.pop(0))
    monkeypatch.setattr(module, "_uncertified", lambda ranged, columns, given: ())
    monkeypatch.setattr(module, "_scenarios", lambda ranged, given, asked, stack, columns: tuple(points.extend(given) or ()))
    found = module.robust(stock(), brief("barns"), ranges)
    assert points == [(nominal,), (200.0,), (400.0,), (300.0,), (250.0,)]
    assert (found.status, found.rounds, found.left_out, found.grid_points, found.random_points) == ("found", 3, 5, 2, 2)
    assert (found.certified, found.uncertified, found.exchanges, found.extra) == (True, (), (), 0.0)
    assert found.total == found.nominal and found.rig == ask(stock(), brief("barns")).lines(
        dict(zip(asked("barns").offsets, found.options, strict=True)))  # fmt: skip
    worst += [None]
    best = Asked.best
    monkeypatch.setattr(Asked, "best", lambda *given: replace(best(*given), proven=False))
    assert module.robust(stock(), brief("barns"), ranges) == replace(found, nominal=None, extra=None, rounds=1)
    worst, points[:] = [None], []
    monkeypatch.setattr(module, "sayable", lambda ranged: ({(200.0,): None, (nominal,): None}, tried, 5))
    assert module.robust(stock(), brief("barns"), {"barns.altitude": (200.0, nominal)}).status == "found"
    assert points == [(nominal,), (200.0,)]
    worst += [(200.0,)]
    text = str(InternalError("a rig breaks a row of a point that its program holds"))
    assert refused(InternalError, lambda: module.robust(stock(), brief("barns"), ranges)) == text
    real = solver.search.best.best
    monkeypatch.setattr(solver.search.best, "best", lambda question: replace(real(question), proven=False))
    open_ = module.robust(stock(), brief("barns"), ranges)
    assert (open_.status, open_.proven, open_.rounds, open_.rig, open_.conflict) == ("unknown", False, 1, (), ())
