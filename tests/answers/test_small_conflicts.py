"""Conflicts, what binds and why nothing is better in toy worlds, against trying every rig and every set of rules."""

from __future__ import annotations

import itertools
from types import SimpleNamespace

import numpy as np
import pytest

from solver.answers import better, clashes, reasons
from solver.answers.clashes import clashing, conflicts, some_conflict
from solver.answers.failing import failing
from solver.answers.reasons import best_and_binding, binding_rules, bindings
from solver.errors import NotProven
from solver.program.matrix import Program
from solver.rules.balance import Balance
from solver.rules.instances import Place
from solver.rules.record import Basis, Side
from tests.answers.small import toys
from tests.answers.small.toys import DUTIES, RULES, World, tight

ORDER = (Basis.BRIEF, Basis.PRACTICE, Basis.RATING, Basis.REGULATION, Basis.PHYSICS)
HARD = ORDER[2:]
CLASHING = (0, 1, 7, 13, 15, 20, 34)
"""Worlds without a rig: with and without conflicts of what no one can change, with one conflict and with many."""


@pytest.fixture(autouse=True)
def toy(monkeypatch):
    """The toy worlds in place of the rules."""
    toys.joined(monkeypatch)


class Sets:
    """Which rules each rig of a world keeps, and which sets of rules no rig keeps."""

    def __init__(self, world, most=None):
        self.asked, program = world.asked(), world.asked().program
        keeps = program.rows[:, world.rigs].sum(axis=2) <= program.rhs[:, None]
        own = np.array(program.groups)
        self.rigs, self.keeps = world.rigs, {g: keeps[own == g].all(axis=0) for g in self.asked.groups}
        self.ground = np.all([self.keeps[g] for g in program.background], axis=0)
        if most is not None:
            self.ground &= world.costs[world.by][world.rigs].sum(axis=1) <= most

    def possible(self, rules):
        """Whether some rig keeps these rules and the background."""
        return bool(np.all([self.ground, *(self.keeps[rule] for rule in rules)], axis=0).any())

    def minimal(self, rules):
        """Every minimal set of these rules that no rig keeps."""
        found = []
        for count in range(1, len(rules) + 1):
            for some in itertools.combinations(rules, count):
                if not any(set(less) <= set(some) for less in found) and not self.possible(some):
                    found.append(some)
        return found

    def is_minimal(self, some):
        """Whether no rig keeps these rules, and with any one left out some rig does."""
        return not self.possible(some) and all(self.possible([r for r in some if r != out]) for out in some)


def last_of(rules):
    """How far down the order of preference a set of rules goes."""
    return max(ORDER.index(RULES[rule].basis) for rule in rules)


# --- conflicts --------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize("seed", CLASHING)
def test_conflicts_are_the_least_of_all_minimal_ones(seed):
    sets = Sets(tight(seed))
    asked = sets.asked
    hard = [rule for rule in asked.droppable if RULES[rule].basis in HARD]
    unavoidable = not sets.possible(hard)
    rules = hard if unavoidable else asked.droppable
    many = len(rules) + 1
    every = sets.minimal(rules)

    def weight(some):
        return last_of(some), sum(many ** max(ORDER.index(RULES[rule].basis) - 1, 0) for rule in some)

    for most in (1, 2, 40):
        found = conflicts(asked, most)
        assert found.unavoidable is unavoidable
        assert all(set(members) in map(set, every) for members in found.sets) and len(set(found.sets)) == len(found.sets)
        assert list(map(weight, found.sets)) == sorted(map(weight, every))[:most]
        assert not found.complete or len(found.sets) == len(every)
        assert all(list(some) == sorted(some, key=clashes.in_order(asked).index) for some in found.sets)
    assert found.complete and len(found.sets) == len(every)


@pytest.mark.parametrize("seed", CLASHING)
def test_one_conflict_is_of_what_can_be_changed_first(seed):
    sets = Sets(tight(seed))
    asked, every = sets.asked, sets.minimal(sets.asked.droppable)
    hard = [rule for rule in asked.droppable if RULES[rule].basis in HARD]
    unavoidable = not sets.possible(hard)
    own = [some for some in every if not unavoidable or set(some) <= set(hard)]
    for members, told in (clashing(asked), clashing(asked, sets.possible)):
        assert told is unavoidable and set(members) in map(set, own)
        assert last_of(members) == min(map(last_of, own))
    for order in (asked.droppable[::-1], sorted(asked.droppable), clashes.in_order(asked)):
        asked_for = []
        members, told = clashing(asked, lambda kept, to=asked_for: to.append(kept) or sets.possible(kept), order)
        left = [rule for rule in order if not unavoidable or rule in hard]
        ends = [k for k in range(1, len(left)) if RULES[left[k - 1]].basis is not RULES[left[k]].basis] + [len(left)]
        part = next(left[:k] for k in ends if not sets.possible(left[:k]))
        assert told is unavoidable and set(members) <= set(part) and sets.is_minimal(members)
        prefix = next(k for k, kept in enumerate(asked_for) if k and kept == frozenset(part))
        assert all(kept <= frozenset(part) for kept in asked_for[1:]), "what comes later is not asked about"
        assert len(asked_for[1:prefix]) == ends.index(len(part))


@pytest.mark.parametrize("seed", CLASHING[2:7])
def test_some_conflict_is_among_the_likely_rules_where_they_clash(seed):
    sets = Sets(tight(seed))
    every = sets.minimal(sets.asked.droppable)
    for k, some in enumerate(every):
        likely = [*reversed(some), "NO-01", *some]
        members = some_conflict(sets.asked, likely, sets.rigs if k % 2 else ())
        assert set(members) == set(some)
    others = some_conflict(sets.asked, ())
    assert sets.is_minimal(others)


def test_all_that_a_rig_keeps_is_told():
    sets = Sets(tight(13))
    kept = clashes.rigs_kept(sets.asked, sets.asked.droppable)
    for count in (0, 1, 2):
        for some in itertools.combinations(sets.asked.droppable, count):
            found = kept(frozenset(some))
            assert (found is not None) is sets.possible(some)
            if found is not None:
                rig = clashes.rigs_met(sets.asked)[-1]
                place = int(np.flatnonzero((sets.rigs == rig).all(axis=1))[0])
                assert found == {rule for rule in sets.asked.droppable if sets.keeps[rule][place]} >= set(some)


def test_where_patience_ends_one_conflict_is_told(monkeypatch):
    sets = Sets(tight(0))
    monkeypatch.setattr(clashes, "_PATIENCE", 1)
    found = conflicts(sets.asked, 5)
    assert not found.complete and len(found.sets) == 1 and sets.is_minimal(found.sets[0])
    monkeypatch.setattr(clashes, "_PATIENCE", 0)
    assert conflicts(sets.asked, 5) == clashes.Clashing((clashing(sets.asked)[0],), False, False)


@pytest.mark.parametrize("seed", [0, 13, 34])
def test_the_numbers_of_a_conflict_are_those_of_the_closest_rig(seed, monkeypatch):
    world = tight(seed)
    sets = Sets(world)
    program = sets.asked.program
    monkeypatch.setattr(clashes, "chosen", lambda setting, rig: rig)
    monkeypatch.setattr(clashes, "balance_of", lambda setting, instance, rig: (instance.place, tuple(rig.values())))
    monkeypatch.setattr(clashes, "_suppliers", lambda asked, instance, rig: (instance.place, tuple(rig.values())))
    for members in sets.minimal(sets.asked.droppable):
        told = clashes.told(sets.asked, members, True)
        assert [clash.rule for clash in told.members] == list(members) and told.unavoidable
        for clash in told.members:
            place, options = clash.balance
            others = np.all([sets.ground, *(sets.keeps[rule] for rule in members if rule != clash.rule)], axis=0)
            own = [i for i, group in enumerate(program.groups) if group == clash.rule]
            missed = {i: int(program.rows[i][sets.rigs[others]].sum(axis=1).min() - program.rhs[i]) for i in own}
            row = program.labels.index(place)
            rig = np.array(options) + world.offsets[:-1]
            assert clash.suppliers == clash.balance and others[(sets.rigs == rig).all(axis=1)][0]
            if max(missed.values()) > 0:
                assert missed[row] == max(missed.values()) == int(program.rows[row][rig].sum()) - int(program.rhs[row])
            else:
                assert row in own and not sets.keeps[clash.rule][(sets.rigs == rig).all(axis=1)][0]


def test_what_supplies_a_balance_is_named_once_and_only_where_it_gives():
    def term(side, slot, gives):
        return SimpleNamespace(side=side, slot=slot, of=lambda option, case: gives[option.item])

    options = {name: SimpleNamespace(item=f"item {name}", label=f"label {name}", choice=f"way {name}") for name in "abcd"}
    setting = SimpleNamespace(slots_of=lambda term: tuple(term.slot))
    instance = SimpleNamespace(case=None, terms=(
        term(Side.NEED, "a", {"item a": 1.0}), term(Side.SUPPLY, None, {}),
        term(Side.SUPPLY, "cb", {"item b": 2.0, "item c": 1.0}), term(Side.SUPPLY, "d", {"item d": 0.0}),
        term(Side.SUPPLY, "b", {"item b": -1.0}),
    ))  # fmt: skip
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(clashes, "chosen", lambda setting, rig: options)
        found = clashes._suppliers(SimpleNamespace(setting=setting), instance, {})
    assert [(part.slot, part.item, part.label, part.choice) for part in found] == [
        ("c", "item c", "label c", "way c"), ("b", "item b", "label b", "way b"),
    ]  # fmt: skip


# --- what binds, and why nothing is better ----------------------------------------------------------------------------
FITTING = (6, 13, 28)


@pytest.mark.parametrize("seed", FITTING)
def test_what_a_rule_costs_is_what_the_best_rig_without_it_saves(seed):
    world = World(seed)
    asked = world.asked()
    found, savings, known = best_and_binding(asked)
    program, rigs, costs = asked.program, world.rigs, world.costs["price"][world.rigs].sum(axis=1)
    keeps = program.rows[:, rigs].sum(axis=2) <= program.rhs[:, None]
    assert known and found.cost == costs[keeps.all(axis=0)].min() and found.columns.tolist() == asked.best().columns.tolist()
    places = list(zip(program.labels, strict=True))

    def saved(rule, duty=None):
        kept = [place.rule != rule or (duty is not None and place.duty != duty) for (place,) in places]
        return found.cost - int(costs[keeps[kept].all(axis=0)].min())

    expected = {rule: saved(rule) for rule in asked.droppable if saved(rule)}
    assert savings == binding_rules(asked, found.columns)
    assert [rule for rule, *_ in savings] == sorted(expected, key=lambda rule: (-expected[rule], rule))
    for rule, saving, by_duty in savings:
        assert saving == expected[rule]
        assert by_duty == ({duty: saved(rule, duty) for duty in DUTIES} if RULES[rule].scope.duties else {})
    balances = (balance("TOY-01", 3.0, 4.0), balance("TOY-01", 3.0, 3.5), balance("TOY-01", 9.0, 9.0, False),
                balance("TOY-07", 1.0, 2.0))  # fmt: skip
    told = bindings(asked, savings, balances)
    assert [(one.rule, one.saving, one.by_duty, one.reads) for one in told] == [
        (rule, saving / 100, {duty: each / 100 for duty, each in by_duty.items()}, tuple(sorted(RULES[rule].effects)))
        for rule, saving, by_duty in savings
    ]
    tight = {"TOY-01": balances[1], "TOY-07": balances[3]}
    assert [one.balance for one in told] == [tight.get(one.rule) for one in told]


def balance(rule, need, supply, applies=True, duty=""):
    """What a rule comes to."""
    return Balance(Place(rule, duty), "1", float(need), float(supply), applies)


def test_nothing_binds_where_no_rig_is_or_it_is_not_known(monkeypatch):
    asked = tight(CLASHING[0]).asked()
    found, savings, known = best_and_binding(asked)
    assert (found.columns, savings, known) == (None, (), True)

    def ended(*given):
        raise NotProven("the limit of work ended")

    monkeypatch.setattr(reasons, "binding_rules", ended)
    asked = World(FITTING[0]).asked()
    found, savings, known = best_and_binding(asked)
    assert found.columns is not None and (savings, known) == ((), False)


@pytest.mark.parametrize("seed, share", [(6, 0.1), (6, 0.5), (13, 0.001), (13, 0.1), (28, 0.1), (28, 0.3)])
def test_an_argument_is_a_minimal_set_that_excludes_every_better_rig(seed, share, monkeypatch):
    world = World(seed)
    asked = world.asked()
    found = asked.best()
    savings = binding_rules(asked, found.columns)
    most = min(int(np.floor(found.cost * (1.0 - share))), found.cost - 1)
    sets = Sets(world, most)
    apart = ("TOY-02", "TOY-05")
    monkeypatch.setattr(better, "_slots_of", lambda asked, rule, columns, members: ((rule, *members), rule in apart))
    balances = tuple(balance(rule, 1.0, 2.0) for rule in RULES)
    told = better.argument(asked, found.columns, savings, balances, share)
    assert (told.share, told.limit) == (share, most / 100)
    members = tuple(rule for rule in RULES if rule in {reason.rule for reason in (*told.rules, *told.at_least)})
    assert sets.is_minimal(members)
    saved = {rule: saving for rule, saving, _ in savings}
    assert all(reason.saving == saved.get(reason.rule, 0) / 100 for reason in (*told.rules, *told.at_least))
    assert [r.saving for r in told.rules] == sorted((r.saving for r in told.rules), reverse=True)
    assert all(r.slots == (r.rule, *members) and r.balance.place.rule == r.rule for r in (*told.rules, *told.at_least))
    assert {r.rule for r in told.at_least} == set(apart) & set(members)
    together = better.jointly(asked, found.cost)
    assert together and Sets(world, found.cost - 1).is_minimal(together)


@pytest.mark.parametrize("most, asked_for", [(97, True), (98, True), (99, False)])
def test_the_relaxation_is_asked_only_where_it_may_be_a_proof(most, asked_for, monkeypatch):
    """Of a best rig that costs 100: rigs of 99 and less are so near that only a search can exclude them."""
    called = []
    monkeypatch.setattr(better, "_enough", lambda asked, most: called.append(most))
    better._members(World(FITTING[0]).asked(), most, {}, 100)
    assert called == [most] * asked_for


def only_cheapest(program, rule, columns, members):
    """Slots that a rule tells apart, and whether it only says that they hold the cheapest, by putting in every option."""
    own = [program.rows[i] for i, group in enumerate(program.groups) if group == rule]

    def varied(row):
        return [s for s, (a, b) in enumerate(program.slices) if len(set(row[a:b].tolist())) > 1]

    slots = sorted({s for row in own for s in varied(row)})
    sizes = np.diff(program.offsets)
    if all(sizes[s] == 2 for s in slots):
        return slots, True
    if any(len(varied(row)) > 1 for row in own):
        return slots, False
    for s in slots:
        alone = [i for i, group in enumerate(program.groups) if group in members and varied(program.rows[i]) == [s]]
        for j in range(*program.slices[s]):
            rig = columns.copy()
            rig[s] = j
            kept = all(program.rows[i][rig].sum() <= program.rhs[i] for i in alone)
            if kept and program.costs["price"][j] < program.costs["price"][columns[s]]:
                return slots, False
    return slots, True


def test_a_rule_that_only_says_that_slots_hold_the_cheapest():
    """Rows about one slot, about two, about none, about yes/no slots; every other slot counts the same whatever it holds."""
    seen = []
    for seed in range(40):
        rng = np.random.default_rng(seed)
        offsets = np.cumsum([0, 3, 2, 4, 2])
        rows = np.repeat(rng.integers(1, 9, (7, 4)), np.diff(offsets), axis=1)
        for row in rows[:6]:
            for s in rng.choice(4, int(rng.choice([0, 1, 1, 1, 1, 2])), replace=False):
                row[offsets[s] : offsets[s + 1]] = rng.integers(0, 12, offsets[s + 1] - offsets[s])
        columns = np.array([rng.integers(a, b) for a, b in itertools.pairwise(offsets)])
        rhs = rows[:, columns].sum(axis=1) + rng.integers(-1, 4, 7)
        groups = ("A", "A", "B", "C", "B", "D", "D")
        program = Program(rows, rhs, offsets, {"price": rng.integers(1, 9, 11)}, tuple(range(7)), groups)
        asked = SimpleNamespace(program=program, by="price", offsets=dict(zip("pqrs", offsets[:-1].tolist(), strict=True)))
        for rule, members in itertools.product("ABCD", (("A", "B", "C", "D"), ("A", "B"), ("C", "D"))):
            slots, cheapest = only_cheapest(program, rule, columns, members)
            assert better._slots_of(asked, rule, columns, members) == (tuple("pqrs"[s] for s in slots), cheapest), seed
            seen.append((len(slots), cheapest))
    assert {(1, True), (1, False), (2, True), (2, False), (0, True)} <= set(seen)


def test_where_a_rig_fails_the_worst_comes_first():
    world = World(0)
    asked = world.asked()
    program, best = asked.program, asked.best().columns
    balances = tuple(balance(place.rule, 10 + k % 3, 5 + k % 2, duty=place.duty) for k, place in enumerate(program.labels))
    object.__setattr__(asked, "balances", lambda rig: balances)
    some = 0
    for columns in world.rigs[::9]:
        broken = [b for b, row, rhs in zip(balances, program.rows, program.rhs, strict=True) if row[columns].sum() > rhs]
        told = failing(asked, asked.rig_of(columns))
        assert told == tuple(sorted(broken, key=lambda b: (b.slack_share, b.place)))
        some += len(told) > 2
    assert some > 3
    assert failing(asked, asked.rig_of(best)) == ()
