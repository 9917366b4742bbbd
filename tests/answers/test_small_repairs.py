"""Repairs in toy worlds, against trying every rig at every value and every set of changes; amounts by hand."""

from __future__ import annotations

import itertools
from dataclasses import replace
from fractions import Fraction
from math import ceil

import pytest

from solver.answers import repairs
from solver.answers.clashes import conflicts
from solver.answers.steps_rows import Moves, Way
from solver.brief.requirements import Direction, Kind
from solver.errors import EntryError
from solver.search import conflicts as search_conflicts
from tests.answers.small import toys
from tests.answers.small.toys import DUTIES, RULES, SHORT, World, changed, tight


@pytest.fixture(autouse=True)
def toy(monkeypatch):
    """The toy worlds in place of the rules."""
    toys.joined(monkeypatch)


def option(name, present, loosest, resolution=0.5, duty=""):
    """A change that may be made: of a requirement to its loosest value, or a duty declined."""
    way = None if duty else Way(replace(SHORT["outlets"], id=name, resolution=resolution))
    return repairs._Option(name, way, present, (loosest,), duty)


WAYS = (option("up", 2.0, 12.0), option("down", 9.0, 1.25, 0.25), option("far", -3.0, 997.0, 1.0),
        option("", 0.0, 1.0, duty="a"))  # fmt: skip


# --- single changes ---------------------------------------------------------------------------------------------------
def sides_of(world):
    """(requirement, duties, values) of every change that may be tried, requirement by requirement and side by side."""
    for record in SHORT.values():
        for side, away in ((-1, Direction.HIGHER), (1, Direction.LOWER)):
            if record.kind is Kind.SITE or record.easier is away:
                continue
            group = []
            for duties in [DUTIES, *((duty,) for duty in DUTIES)] if record.duty else [()]:
                present = Way(record, duties).present(world.brief)
                values = sorted((v for v in record.grid() if side * (v - present) > 1e-9), key=lambda v: side * v)
                if values:
                    group.append((record, duties, present, values))
            if group:
                yield group


def fits_somewhere(world, of):
    """Whether some rig fits under a brief; not where there is no such brief or program."""
    return world.least(of) not in (None, float("inf"))


def nearest(world, record, duties, present, values):
    """The value nearest to the present one, by the grid and then by the resolution back, at which a rig fits."""
    good = [fits_somewhere(world, changed(world.brief, record, v, duties)) for v in values]
    if True not in good:
        return None
    k = good.index(True)
    before, sign = (values[k - 1] if k else present), 1 if values[0] > present else -1
    count = ceil(abs(values[k] - before) / record.resolution - 1e-6)
    for j in range(1, count):
        value = round(before + sign * j * record.resolution, 9)
        if fits_somewhere(world, changed(world.brief, record, value, duties)):
            return value
    return values[k]


SINGLE = (7, 8, 26, 34, 41, 58, 61, 105)
"""Worlds without a rig that single changes mend: in both duties at once, in one of them, or in either."""


@pytest.mark.parametrize("seed", SINGLE)
def test_single_changes_are_the_nearest_that_are_enough(seed):
    world = tight(seed)
    asked = world.asked()
    found, _ = repairs.repairs(asked, conflicts(asked, 3).sets, 0)
    expected = []
    for group in sides_of(world):
        told = [(record, duties, present, values, amount) for record, duties, present, values in group
                if (amount := nearest(world, record, duties, present, values)) is not None]  # fmt: skip
        alone = [one for one in told if one[1] != DUTIES]
        expected += alone or told
    names = [duty for duty in DUTIES if fits_somewhere(world, world.brief.without_duty(duty))]
    assert [repair.changes[0].requirement or repair.changes[0].duties[0] for repair in found] == [
        *(record.id for record, *_ in expected), *names,
    ]  # fmt: skip
    for repair, (record, duties, present, values, amount) in zip(found, expected, strict=False):
        (one,) = repair.changes
        assert one.duties == (() if duties == DUTIES else duties)
        assert (one.unit, one.before, one.after) == (record.unit, present, amount)
        assert one.share == abs(amount - present) / abs(values[-1] - present) and one.margin is (record.kind is Kind.MARGIN)
        check_repair(world, repair, changed(world.brief, record, amount, duties))
    for repair, name in zip(found[len(expected) :], names, strict=True):
        (one,) = repair.changes
        assert one == repairs.Change("", (name,), "", None, None, 1.0, False)
        check_repair(world, repair, world.brief.without_duty(name))


def check_repair(world, repair, of):
    """The rig of a repair is of least cost under the changed brief."""
    good, costs = world.fitting(of)
    rig = world.rig_told(repair.rig)
    assert costs[(good == rig).all(axis=1)][0] == costs.min() == round(repair.total.price * 100)
    assert repair.total.weight == world.costs["weight"][rig].sum() / 1000


# --- sets of changes --------------------------------------------------------------------------------------------------
SETS = (4, 9, 15, 34)
"""Worlds in which several changes are needed together."""


def loosest(world, some):
    """The brief with all these changes at their loosest values; None where there is none."""
    of = world.brief
    for record, duties, _, values in some:
        if record is None:
            continue
        of = None if of is None else changed(of, record, values[-1], duties)
    for record, duties, *_ in some:
        of = of.without_duty(duties[0]) if of is not None and record is None else of
    return of


WEIGHT = {Kind.LIMIT: 10, Kind.WISH: 11, Kind.MARGIN: 14}


@pytest.mark.parametrize("seed", SETS)
def test_sets_of_changes_are_minimal_and_the_first_is_the_least(seed):
    world = tight(seed)
    asked = world.asked()
    _, sets = repairs.repairs(asked, conflicts(asked, 3).sets)
    rest = [group[0] for group in sides_of(world) if all(nearest(world, *one) is None for one in group)]
    rest += [(None, (duty,), 0.0, [1.0]) for duty in DUTIES if not fits_somewhere(world, world.brief.without_duty(duty))]
    enough = []
    for count in (1, 2, 3):
        for some in itertools.combinations(rest, count):
            names = [record.id if record is not None else "" for record, *_ in some]
            if len(set(names)) == len(names) and fits_somewhere(world, loosest(world, some)):
                enough.append(some)
    weights = [sum(25 if record is None else WEIGHT[record.kind] for record, *_ in some) for some in enough]
    told = []
    for repair in sets:
        some = [next(one for one in rest if (one[0].id if one[0] else "") == change.requirement
                     and (one[0] is not None or one[1] == change.duties)
                     and (one[0] is None or (change.after - change.before) * (one[3][-1] - one[2]) > 0))
                for change in repair.changes]  # fmt: skip
        told.append(some)
        assert fits_somewhere(world, loosest(world, some))
        assert not any(fits_somewhere(world, loosest(world, [one for one in some if one is not out])) for out in some)
        check_amounts(world, repair, some)
    assert len(told) == min(2, len(told)) and (told or not enough)
    if told and len(told[0]) <= 3:
        assert sum(25 if record is None else WEIGHT[record.kind] for record, *_ in told[0]) == min(weights)


def check_amounts(world, repair, some):
    """The rig fits at the amounts told; they lie on the way, whole resolutions from the present value or at the end."""
    of = world.brief
    for change, (record, duties, present, values) in zip(repair.changes, some, strict=True):
        if record is None:
            continue
        assert change.before == present and change.duties == (() if duties in (DUTIES, ()) else duties)
        steps = abs(change.after - present) / record.resolution
        assert change.after == values[-1] or abs(steps - round(steps)) < 1e-6
        assert change.share == abs(change.after - present) / abs(values[-1] - present) <= 1.0
        of = changed(of, record, change.after, duties)
    for record, duties, *_ in some:
        of = of.without_duty(duties[0]) if record is None else of
    check_repair(world, repair, of)


@pytest.mark.parametrize("enough, most, tried, told", [
    ([], 2, 30, 0), ([1], 1, 1, 1), ([1], 2, 3, 1), ([1, 2], 2, 2, 2), ([1, 3], 3, 3, 2), ([1, 4], 2, 3, 1), ([29], 2, 30, 1),
    ([30], 2, 30, 1), ([31], 2, 30, 0), ([28], 2, 30, 1), ([5], 0, 0, 0),
])  # fmt: skip
def test_so_many_sets_are_tried(enough, most, tried, told, monkeypatch):
    """After the first that is enough two more are tried, or as many as are left of thirty."""
    calls = []
    monkeypatch.setattr(search_conflicts, "least_open", lambda *given: calls.append(given[2:4]) or frozenset({"up"}))
    monkeypatch.setattr(repairs, "_at", lambda asked, chosen: list(chosen))
    monkeypatch.setattr(repairs, "_exists", lambda asked, loosened: len(calls) in enough)
    monkeypatch.setattr(repairs, "some_conflict", lambda *given: ("TOY-01",))
    monkeypatch.setattr(repairs, "_touches", lambda *given: True)
    monkeypatch.setattr(repairs, "_may_harm", lambda *given: False)
    found = list(repairs._enough(World(6).asked(), list(WAYS[:2]), [("TOY-01",)], most))
    assert (len(calls), found) == (tried, [[WAYS[0]]] * told)


def test_what_no_brief_can_say_is_not_tried_again(monkeypatch):
    given_up, left = [], iter([frozenset({"up", "down"}), frozenset({"up"}), None])
    monkeypatch.setattr(search_conflicts, "least_open", lambda *given: given_up.append(list(given[2])) or next(left))
    monkeypatch.setattr(repairs, "_at", lambda asked, chosen: None)
    assert list(repairs._enough(World(6).asked(), list(WAYS[:2]), [("TOY-01",)], 2)) == []
    assert given_up == [[], [frozenset({"up", "down"})], [frozenset({"up", "down"}), frozenset({"up"})]]


@pytest.mark.parametrize("enough, left", [
    (["ab"], "ab"), (["a", "b"], "b"), (["c"], "c"), (["ab", "cd"], "cd"), (["abcd"], "abcd"), (["d", "abc"], "d"),
    (["bc", "cd", "da"], "cd"),
])  # fmt: skip
def test_changes_that_are_not_needed_are_left_out(enough, left, monkeypatch):
    """One after the other, as long as the rest is enough at its loosest values."""
    options = {name: option(name, 0.0, 5.0) for name in "abcd"}

    def possible(asked, chosen):
        names = {one.name for one, value in chosen if value == 5.0}
        return any(set(some) <= names for some in enough)

    monkeypatch.setattr(repairs, "_possible", possible)
    assert "".join(one.name for one in repairs._without_idle(None, list(options.values()))) == left
    monkeypatch.setattr(repairs, "_possible", lambda *given: True)
    assert repairs._without_idle(None, [options["a"]]) == [options["a"]]


def test_a_repair_without_a_rig_is_a_fault(monkeypatch):
    without = tight(SETS[0]).asked()
    for changed_to in (None, without):
        monkeypatch.setattr(repairs, "_at", lambda asked, chosen, to=changed_to: to)
        with pytest.raises(EntryError) as caught:
            repairs._told(without, [(WAYS[0], 12.0)])
        assert type(caught.value) is EntryError and str(caught.value) == "found a repair without a rig; expected a rig."


def test_a_rig_met_before_is_tried_first(monkeypatch):
    world, searched = tight(SETS[0]), []
    asked, search = world.asked(), repairs.rig_of
    monkeypatch.setattr(repairs, "rig_of", lambda program: searched.append(1) or search(program))
    loose = [world.asked(changed(world.brief, SHORT["budget"], value)) for value in (148_000.0, 150_000.0, 152_000.0)]
    fits = [world.least(of.brief) != float("inf") for of in loose]
    assert [repairs._exists(asked, of) for of in loose] == fits == [False, False, False]
    assert len(searched) == 3 and repairs._met(asked) == []
    other = World(6).asked()
    assert repairs._exists(asked, other) and repairs._exists(asked, other) and len(searched) == 4
    (first,) = repairs._met(asked)
    assert other.program.fits(first)
    another = next(of for of in (World(seed).asked() for seed in range(13, 60)) if not of.program.fits(first))
    assert repairs._exists(asked, another) and len(searched) == 5
    assert another.program.fits(repairs._met(asked)[0]) and repairs._met(asked)[1] is first


# --- amounts and the way, by hand -------------------------------------------------------------------------------------
def on_the_way(one, share):
    """The value at a share of the way, outwards to a whole number of resolutions, in fractions."""
    if one.way is None:
        return 1.0
    fine, whole = Fraction(one.way.requirement.resolution), Fraction(one.loosest) - Fraction(one.present)
    count = ceil(share * abs(whole) / fine)
    if count >= abs(whole) / fine:
        return one.loosest
    return float(Fraction(one.present) + count * fine * (1 if whole > 0 else -1))


@pytest.mark.parametrize("one", WAYS)
def test_a_share_of_the_way_is_rounded_outwards(one):
    for share in range(257):
        assert repairs._on_the_way(one, share / 256) == on_the_way(one, Fraction(share, 256))
    assert one.loosest == one.values[-1]


@pytest.mark.parametrize("need", [(0, 0, 0), (3, 2, 10), (3.2, 7.75, 999), (9.6, 0.1, 500), (10, 7.75, 1000), (0.5, 4, 1)])
@pytest.mark.parametrize("together", [False, True])
def test_the_largest_share_is_least_and_then_each_amount(need, together, monkeypatch):
    """Each change must go so far; or all together as far as these in sum, counted in their own resolutions."""
    up, down, far, decline = WAYS
    tried = []

    def gone(chosen):
        values = dict(chosen)
        assert values[decline] == 1.0
        return [abs(values[one] - one.present) for one in (up, down, far)]

    def possible(asked, chosen):
        tried.append(1)
        ways = gone(chosen)
        if together:
            return sum(way / size for way, size in zip(ways, (10, 7.75, 1000), strict=True)) >= sum(need) / 1500
        return all(way >= least - 1e-9 for way, least in zip(ways, need, strict=True))

    monkeypatch.setattr(repairs, "_possible", possible)
    found = repairs._amounts(None, [up, down, far, decline])
    assert [one for one, _ in found] == [up, down, far, decline] and len(tried) <= 8 + 5 + 5 + 10
    share = next(k for k in range(1, 257) if possible(None, [(one, on_the_way(one, Fraction(k, 256))) for one in WAYS]))
    expected = {one: on_the_way(one, Fraction(share, 256)) for one in WAYS}
    for one in (up, down, far):
        fine, sign = one.way.requirement.resolution, 1 if one.loosest > one.present else -1
        count = ceil(round(abs(expected[one] - one.present) / fine, 6))
        values = [one.present + sign * fine * k for k in range(1, count)] + [expected[one]] * (count > 0)
        expected[one] = next((v for v in values if possible(None, (expected | {one: v}).items())), one.present)
    assert dict(found) == pytest.approx(expected)


@pytest.mark.parametrize(
    "name, duties, start, values, eases",
    [
        ("warm_up_time", ("attics",), 1.5, (2.0, 6.0), True),
        ("warm_up_time", ("attics",), 1.5, (2.0, 7.0), False),  # no brief can say so: more than 24 h in a day
        ("warm_up_time", ("attics",), 1.5, (2.0, 1.75), False),
        ("altitude", DUTIES, 3000.0, (2500.0, 2000.0), True),
        ("altitude", DUTIES, 3000.0, (3500.0,), False),
        ("altitude", DUTIES, 4000.0, (3500.0,), False),  # a formula has no value where it starts
        ("shore_power", DUTIES, 3.0, (3.5, 4.0), True),
        ("shore_power", DUTIES, 3.0, (2.5, 2.0), False),
        ("budget", (), 150_000.0, (150_500.0,), True),
        ("spraying_time", DUTIES, 3.0, (2.5, 2.0), False),
    ],
)
def test_whether_every_row_eases_along_the_way(name, duties, start, values, eases):
    moves = Moves(World(6).asked(), Way(replace(SHORT[name], most=200_000.0), duties))
    assert repairs._eases_all_along(start, values, moves) is eases


def test_what_changes_weigh_and_which_exclude_each_other():
    asked = World(0).asked()
    options = [one for group in repairs._options(asked) for one in group]
    told = [(one.way.requirement.id, one.way.duties, one.present, one.values) for one in options if one.way is not None]
    expected = [(record.id, duties, present, tuple(values)) for group in sides_of(World(0))
                for record, duties, present, values in group]  # fmt: skip
    assert told == expected
    assert [(one.duty, one.weight()) for one in options if one.way is None] == [(duty, 25) for duty in DUTIES]
    assert all(one.weight() == WEIGHT[one.way.requirement.kind] for one in options if one.way is not None)
    assert len({one.name for one in options}) == len(options)
    pairs = {frozenset((a.name, b.name)) for a, b in itertools.combinations(options, 2)
             if a.way is not None and b.way is not None
             and (a.way.requirement.id, a.way.duties) == (b.way.requirement.id, b.way.duties)}  # fmt: skip
    assert set(repairs._both_sides(options)) == pairs and len(pairs) > 2


def test_which_rules_a_change_touches_and_may_harm():
    asked = World(0).asked()
    options = {(one.way.requirement.id, one.loosest > one.present): one for group in repairs._options(asked)
               for one in group[:1] if one.way is not None}  # fmt: skip
    decline = option("", 0.0, 1.0, duty="attics")
    for (name, up), one in options.items():
        moved = {name, "respirators"} if name == "sprayers" else {name}
        for rule, record in RULES.items():
            effects = {record.effects[m] for m in moved & record.effects.keys()}
            assert repairs._touches(asked, one, [rule]) is bool(effects)
            assert repairs._may_harm(asked, one, [rule]) is bool(effects - {toys.EASES if up else toys.TIGHTENS})
        assert not repairs._touches(asked, one, []) and not repairs._may_harm(asked, one, [])
    assert [repairs._touches(asked, decline, [rule]) for rule in ("TOY-01", "TOY-03")] == [True, False]
    assert not any(repairs._may_harm(asked, decline, [rule]) for rule in RULES)
