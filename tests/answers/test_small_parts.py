"""Parts of the answers worked out another way: what is laid over a changed brief, the least change and the smallest sets by
trying every rig, the money of a rig by hand, why a slot holds what it holds option by option."""

from __future__ import annotations

import json
from collections import Counter
from dataclasses import replace
from math import floor
from types import SimpleNamespace

import numpy as np
import pytest

import solver.search.least
from solver.answers import ask as ask_module
from solver.answers import complete as complete_module
from solver.answers.ask import ask
from solver.answers.complete import MOST_WAYS, held, smallest_sets
from solver.answers.facts import Line
from solver.answers.mend import changes_from, least_change
from solver.answers.money import money_facts
from solver.answers.rig_file import _Reader, read_named
from solver.answers.swaps import line_of
from solver.errors import InputError
from solver.options.table import NONE
from solver.program.matrix import TooLarge
from solver.quantities import factor_of
from solver.rules import RULES
from solver.rules.balance import chosen
from solver.search.best import Found
from tests.answers.small.world import asked, best_rig, brief, picked, refused, stock
from tests.answers.small_rigs import every_rig, loose, small

NOTHING = Found(None, True, None, None, 1)


# --- a brief laid over a catalog --------------------------------------------------------------------------------------
@pytest.mark.parametrize("name", ["attics", "barns"])
def test_rows_and_rules_are_named_one_by_one(name):
    of = asked(name)
    program = of.program
    present = [rule for rule in RULES if rule in program.groups]
    assert list(of.groups) == present
    assert list(of.droppable) == [rule for rule in present if not RULES[rule].background]
    for rule in present[::4]:
        rows = [i for i, group in enumerate(program.groups) if group == rule]
        assert of.reads_of(rule) == set().union(*(program.reads[i] for i in rows))
        for duty in (None, *(each.name for each in of.brief.duties)):
            dropped = [i for i in rows if duty is None or of.instances[i].place.duty == duty]
            assert np.flatnonzero(~of.rows_without(rule, "NO-01", duty=duty)).tolist() == dropped
        kept = of.rows_of(frozenset({rule}))
        assert kept.tolist() == [group == rule or RULES[group].background for group in program.groups]
    assert of.reads_of("NO-01") == frozenset() and of.rows_without().all()
    steps = {"price": 100.0, "weight": 1000.0, "yearly-cost": 100.0}
    assert {by: replace(of, by=by).unit for by in steps} == steps
    assert list(of.offsets.values()) == program.offsets[:-1].tolist()


@pytest.mark.parametrize("name", ["attics", "barns"])
def test_a_rig_is_told_line_by_line(name):
    of, rig = asked(name), best_rig(name)
    columns = of.columns_of(rig)
    assert of.rig_of(columns) == rig and columns.tolist() == [of.offsets[slot] + option for slot, option in rig.items()]
    totals = of.totals(rig)
    sums = {by: sum(int(of.costs[by][column]) for column in columns.tolist()) for by in of.costs}
    assert (totals.price, totals.weight, totals.yearly_cost) == (
        sums["price"] / 100.0, sums["weight"] / 1000.0, sums["yearly-cost"] / 100.0)  # fmt: skip
    whole = of.lines(rig, empty=True)
    assert [one.slot for one in whole] == list(of.setting.slots)
    assert of.lines(rig) == tuple(one for one in whole if one.item != NONE) != whole
    for one in whole:
        table, option = of.setting.slots[one.slot], rig[one.slot]
        paid = int(of.costs["price"][of.offsets[one.slot] + option]) / 100.0
        owned = one.item in of.brief.owned
        assert one == Line(one.slot, table.slot.item_class, table.items[option], table.labels[option], table.choices[option],
                           table.counts[option], pytest.approx(paid, abs=0.005), float(table.weight[option]),
                           owned)  # fmt: skip
        assert line_of(of, one.slot, option) == (None if one.item == NONE else one)
    assert any(one.owned for one in whole) == bool(of.brief.owned)
    asked_for = of.question("weight", at_most={"price": 3})
    assert (asked_for.program, asked_for.by, asked_for.rows, asked_for.at_most) == (of.program, "weight", None, {"price": 3})
    assert (of.question().by, of.question().at_most) == (of.by, {})


def test_the_best_rig_by_another_cost_and_without_some_rows():
    of = asked("barns")
    assert of.best(by="weight").columns.tolist() == ask(stock(), brief("barns"), "weight").best().columns.tolist()
    rule = picked("barns").binding[0].rule
    less = of.best(of.rows_without(rule))
    assert less.cost == of.program.cost(less.columns, "price") < of.best().cost
    assert of.program.fits(less.columns, of.rows_without(rule)) and not of.program.fits(less.columns)


def test_a_figure_too_large_is_told_with_file_and_line_of_its_item(monkeypatch):
    source = stock().sources["gun-01"]
    for item in ("gun-01", "gun-99"):

        def large(*given, item=item):
            raise TooLarge("a figure", item)

        expected = TooLarge("a figure", item)
        kind, text = (TooLarge, str(expected)) if item == "gun-99" else (
            InputError, str(InputError([expected.at(source.file, source.line)])))  # fmt: skip
        with monkeypatch.context() as own:
            own.setattr(ask_module, "compile_program", large)
            assert refused(kind, lambda: ask(stock(), brief("barns")).program) == text
        with monkeypatch.context() as own:
            own.setattr(ask_module, "cost_rows", large)
            assert refused(kind, lambda: ask(stock(), brief("barns")).costs) == text


# --- a rig file -------------------------------------------------------------------------------------------------------
SAID = {
    "proportioner": "proportioner-13", "hose": {"item": "hose-03"}, "compressor": {"item": "compressor-07"},
    "drum_heater": "drum-heater-04", "breathing_air": "breathing-air-03",
    "body_heater": {"item": "body-heater-08", "choice": "120 V, leg B"},
}  # fmt: skip
THREE = "three-phase 208Y/120 V"


@pytest.mark.parametrize(
    "generator, sites, system",
    [({"item": "generator-08"}, ("wye",), "split"), ({"item": "generator-11", "choice": THREE}, (), "wye"),
     ({"item": "generator-11"}, ("split",), ""), (None, ("wye", "", "wye"), "wye"), (None, ("split",), "split"),
     (None, ("split", "wye"), ""), (None, ("",), "")],
)  # fmt: skip
def test_wiring_that_is_not_said_is_that_of_the_generator_or_of_the_site(generator, sites, system, tmp_path):
    of, said = asked("barns"), SAID | ({"generator": generator} if generator else {})
    tables = of.setting.slots
    for name in ("gun", "feed_pump_a", "feed_pump_b", "lighting", "fit_out", "vehicle"):
        said[name] = tables[name].items[-1]
    path = tmp_path / "rig.yaml"
    path.write_text(json.dumps({"rig": said}), encoding="utf-8")
    duties = [SimpleNamespace(site_system=site) for site in sites]
    reader = _Reader(path, SimpleNamespace(setting=of.setting, brief=SimpleNamespace(duties=duties)))
    reader._read()
    rig, expected = reader._settle(), []
    for name, table in tables.items():
        if name not in said:
            assert table.items[rig[name]] == NONE
            continue
        entry = said[name] if isinstance(said[name], dict) else {"item": said[name]}
        item, choice = entry["item"], entry.get("choice")
        ways = [j for j in range(len(table)) if table.items[j] == item and choice in (None, table.choices[j])]
        if name != "generator" and len(ways) > 1 and system and "system_split" in table.numbers:
            ways = [j for j in ways if table.numbers[f"system_{system}"][j]] or ways
        assert rig[name] == ways[0], name
        if len(ways) > 1 and name in ("hose", "drum_heater", "generator"):
            words = "; ".join(table.choices[j] for j in ways)
            expected.append(
                (f"{item} without its choice", f"one of: {words}", f"write {name}: {{item: {item}, choice: ...}}")
            )
    assert [(m.found, m.expected, m.advice) for m in reader.mistakes] == expected
    assert len(expected) == 2 + (generator == {"item": "generator-11"})


@pytest.mark.parametrize(
    "slot, item, count", [("breathing_air", "breathing-air-03", 9), ("proportioner", "proportioner-13", 3)]
)
def test_of_the_choices_of_an_item_eight_are_listed(slot, item, count, tmp_path):
    of, path = asked("barns"), tmp_path / "rig.yaml"
    table = of.setting.slots[slot]
    path.write_text(json.dumps({"rig": {slot: {"item": item, "choice": "steam"}}}), encoding="utf-8")
    ways = [choice for own, choice in zip(table.items, table.choices, strict=True) if own == item]
    assert len(ways) == count
    assert refused(InputError, lambda: read_named(path, of)) == (
        f"{path}:1: found choice `steam` of {item}; expected one of: {'; '.join(ways[:8])}. Try: copy one of these words"
    )


# --- a rig at hand ----------------------------------------------------------------------------------------------------
def test_the_least_change_of_a_rig_is_that_of_trying_all():
    differ = 0
    for seed in range(24):
        found, rng = (loose, small)[seed % 2](seed), np.random.default_rng(seed)
        slots, price = found.setting.slots, found.program.costs["price"]
        old = {name: int(rng.integers(0, len(table))) for name, table in slots.items()}
        changes = changes_from(slots, price, old)
        starts, answers = found.program.offsets.tolist(), []
        for (name, table), start in zip(slots.items(), starts, strict=False):
            for j in range(len(table)):
                same, number = table.items[j] == table.items[old[name]], table.counts[j] == table.counts[old[name]]
                more = max(0, int(price[start + j] - price[start + old[name]])) if same else int(price[start + j])
                told = (changes.money[start + j], changes.swaps[start + j], changes.wirings[start + j])
                assert told == (more, not (same and number), same and number and j != old[name])
        keys = {False: [], True: []}
        for columns in every_rig(found.program).tolist():
            money = swapped = wired = 0
            for (name, table), column, start in zip(slots.items(), columns, starts, strict=False):
                was, now = old[name], column - start
                same, number = table.items[was] == table.items[now], table.counts[was] == table.counts[now]
                money += max(0, int(price[column] - price[start + was])) if same else int(price[column])
                swapped += not (same and number)
                wired += same and number and was != now
            keys[False].append((money, swapped, wired, columns))
            keys[True].append((swapped, money, wired, columns))
        for fewest, own in keys.items():
            rig = least_change(found.program, changes, fewest)
            assert (rig.columns is None) == (not own) and rig.proven
            assert not own or rig.columns.tolist() == min(own)[3], (seed, fewest)
            answers.append(own and min(own)[3])
        differ += answers[0] != answers[1]
    assert differ >= 2


def test_the_smallest_sets_to_let_go_are_those_of_trying_all():
    sizes = Counter()
    for seed in range(40):
        program, rng = loose(seed).program, np.random.default_rng(seed)
        slots = {f"slot {k}": range(b - a) for k, (a, b) in enumerate(program.slices)}
        named = {name: tuple(sorted({int(j) for j in rng.integers(0, len(ways), 2)}))[: 1 + seed % 2]
                 for name, ways in slots.items() if rng.random() < 0.9}  # fmt: skip
        costs, ways = (program.costs["price"], program.costs["weight"]), {}
        for columns in every_rig(program).tolist():
            rig = dict(zip(slots, (np.array(columns) - program.offsets[:-1]).tolist(), strict=True))
            gone = tuple(name for name, options in named.items() if rig[name] not in options)
            key = (*(int(cost[columns].sum()) for cost in costs), columns)
            ways[gone] = min(ways.get(gone, key), key)
        least = min(map(len, ways), default=0)
        expected = [(gone, key[2]) for key, gone in sorted((key, gone) for gone, key in ways.items() if len(gone) == least)]
        found = smallest_sets(program, slots, named, costs)
        assert [(gone, columns.tolist()) for gone, columns in found] == expected[: MOST_WAYS + 1], seed
        sizes[least, len(expected) > 1] += 1
    assert min(sizes[1, False], sizes[1, True], sizes[2, True] + sizes[2, False]) >= 1


def test_options_that_others_dominate_are_left_out_unless_asked_for(monkeypatch):
    """The rig is the same; without them it is found sooner."""
    found, given = loose(3), []
    monkeypatch.setattr(solver.search.least, "least", lambda program, costs, domination: given.append(domination) or NOTHING)
    changes = changes_from(found.setting.slots, found.program.costs["price"], dict.fromkeys(found.setting.slots, 0))
    slots = {f"slot {k}": range(b - a) for k, (a, b) in enumerate(found.program.slices)}
    for more in ((), (True,), (False,)):
        least_change(found.program, changes, False, *more)
        smallest_sets(found.program, slots, {}, (), *more)
    assert given == [True] * 4 + [False] * 2


def test_what_is_named_is_held_by_rows_of_the_background():
    of = asked("barns")
    tables = of.setting.slots
    named = {"gun": (0,), "hose": (1, 3), "generator": (len(tables["generator"]) - 1,)}
    fixed = held(of, named)
    extra = len(fixed.instances) - len(of.instances)
    assert (extra, fixed.program.background - of.program.background, fixed.by) == (3, {"HELD"}, of.by)
    for row, (name, options) in zip(fixed.program.rows[-3:], named.items(), strict=True):
        own = slice(of.offsets[name], of.offsets[name] + len(tables[name]))
        assert row[own].tolist() == [int(j not in options) for j in range(len(tables[name]))]
        assert row.sum() == row[own].sum()
    assert fixed.program.rhs[-3:].tolist() == [0, 0, 0]
    term = complete_module._other((1, 3))
    assert [term(tables["hose"].one(j), None) for j in range(5)] == term(tables["hose"], None)[:5].tolist() == [1, 0, 1, 0, 1]


def test_a_named_slot_that_is_let_go_is_told_with_both_its_lines():
    of, rig = asked("barns"), best_rig("barns")
    named = {"gun": (1, 0), "lighting": (rig["lighting"],), "tool-01": (of.setting.slots["tool-01"].items.index(NONE),)}
    way = complete_module._way(of, named, rig, ("gun", "tool-01"))
    old, new = ({line.slot: line for line in of.lines(each, empty=True)} for each in (rig | {"gun": 1, "tool-01": 0}, rig))
    old["tool-01"] = {line.slot: line for line in of.lines({**rig, "tool-01": named["tool-01"][0]}, empty=True)}["tool-01"]
    slots = ("gun", "tool-01")
    assert way == complete_module.Way(slots, tuple(old[s] for s in slots), tuple(new[s] for s in slots), of.totals(rig))


# --- money ------------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    "name, changes",
    [("attics", {}), ("barns", {}), ("barns", {"down_payment": "35 %", "first_material": False}),
     ("barns", {"foam_price": "0.30 USD/board_foot", "loan_months": 2})],
)  # fmt: skip
def test_the_money_of_a_rig_by_hand(name, changes):
    data = brief(name).entry.model_dump(by_alias=True, exclude_unset=True)["money"]
    of = ask(stock(), brief(name).changed(money={**data, **changes}))
    rig, money = best_rig(name), of.brief.money
    found, totals, options = money_facts(of, rig), of.totals(rig), chosen(of.setting, rig)
    (material,) = {duty.material for duty in of.brief.duties}
    item = next(item for item in stock().classes["material"] if item.id == material)
    sets = sum(entry.sets for entry in of.brief.materials)
    first = sets * item.price if money.first_material else 0.0
    start = totals.price * (1.0 + money.tax + money.freight) + money.training + first
    loan, rate, months = start * (1.0 - money.down_payment), money.interest / 12.0, money.loan_months
    payment = loan * rate / (1.0 - (1.0 + rate) ** -months) if rate else loan / months
    wait = max(option.delivery for option in options.values() if option.item not in of.brief.owned)
    due = payment * min(floor(wait / factor_of("month")), months)
    expected = {
        "equipment": totals.price, "tax_and_freight": totals.price * (money.tax + money.freight), "training": money.training,
        "first_material": first, "start_up": start, "loan": loan, "own_money": start - loan, "loan_payment": payment,
        "loan_months": months, "delivery_time": wait, "cash_until_delivery": start - loan + due,
        "yearly_cost": totals.yearly_cost, "days_a_year": money.days_a_year, "foam_price": money.foam_price,
    }  # fmt: skip
    feet = cost = labour = fuel = 0.0
    for duty in of.brief.duties:
        used = duty.output * duty.spraying_time * of.brief.margins.trigger_share
        feet += used / (item.foam_density * 0.3048**2 * 0.0254) * item.field_yield
        cost += used / (item.net_mass_a + item.net_mass_b) * item.price
        crew = of.brief.crew.sprayers + of.brief.crew.helpers + of.brief.crew.trimmers
        labour += crew * (duty.warm_up_time + duty.spraying_time + duty.cleaning_time) * money.labour_rate
        needs = [b.need for b in of.balances(rig) if (b.place.rule, b.place.duty) == ("PWR-06", duty.name)]
        fuel += sum(needs) / len(needs) * factor_of("gal") * money.fuel_price / len(of.brief.duties)
    days, count = money.days_a_year, len(of.brief.duties)
    fixed, each = totals.yearly_cost - fuel * days, (cost + labour) / feet + fuel * count / feet
    even = fixed / (money.foam_price - each) if money.foam_price > each else None
    expected |= {
        "fuel_a_year": fuel * days, "fixed_yearly_cost": fixed, "board_feet_a_year": feet / count * days,
        "material_per_board_foot": cost / feet, "labour_per_board_foot": labour / feet,
        "fuel_per_board_foot": fuel * count / feet, "cost_per_board_foot": fixed / (feet / count * days) + each,
        "contribution_per_board_foot": money.foam_price - each, "break_even_board_feet": even,
        "break_even_days": None if even is None else even / (feet / count),
        "break_even_share": None if even is None else even / (feet / count) / days,
    }  # fmt: skip
    told = {key: getattr(found, key) for key in expected}
    assert set(told) == set(vars(found))
    assert {key: value for key, value in told.items() if value is None or expected[key] is None} == {
        key: value for key, value in expected.items() if value is None or told[key] is None}  # fmt: skip
    for key, value in expected.items():
        assert value is None or told[key] == pytest.approx(value, rel=1e-9), key
    assert (even is None) == (changes.get("foam_price") is not None)
