"""Money of a rig: that its figures belong together, and to the brief and the catalog, worked out another way."""

from __future__ import annotations

from dataclasses import replace
from math import floor

import pytest

from solver.answers.ask import ask
from solver.answers.money import money_facts
from solver.formulas.money import capital_recovery
from solver.quantities import factor_of, from_unit
from tests.demo.demo import POSSIBLE, answer, asked, brief, stock

_POUND_PER_BOARD_FOOT = 1.0 / 12.0


def best_rig(name):
    of = asked(name)
    return of, of.rig_of(of.best().columns)


@pytest.mark.parametrize("name", POSSIBLE)
def test_start_up_loan_and_cash(name):
    of, rig = best_rig(name)
    found, money = money_facts(of, rig), of.brief.money
    assert found.start_up == pytest.approx(found.equipment + found.tax_and_freight + found.training + found.first_material)
    assert found.own_money == pytest.approx(found.start_up * money.down_payment)
    assert found.own_money + found.loan == pytest.approx(found.start_up)
    bought = [item for line in of.lines(rig) if not line.owned for item in stock().classes[line.item_class]
              if item.id == line.item]  # fmt: skip
    assert found.delivery_time == max(item.delivery for item in bought)
    months = floor(found.delivery_time / factor_of("month"))
    assert found.cash_until_delivery == pytest.approx(found.own_money + months * found.loan_payment)


@pytest.mark.parametrize("name", POSSIBLE)
def test_fixed_cost_is_what_is_not_fuel(name):
    """Not below capital recovery and parts for upkeep, line by line; not above it with every hour of upkeep paid."""
    of, rig = best_rig(name)
    found, money = money_facts(of, rig), of.brief.money
    least = hours = 0.0
    for line in of.lines(rig):
        option = of.setting.slots[line.slot].one(rig[line.slot])
        least += float(capital_recovery(line.price, line.price * money.resale, money.interest, money.years))
        least += option.upkeep_cost
        hours += option.upkeep_time
    noise = 0.01 * len(rig)
    assert least - noise <= found.fixed_yearly_cost <= least + hours * money.labour_rate + noise
    assert found.fixed_yearly_cost + found.fuel_a_year == pytest.approx(found.yearly_cost)
    assert found.yearly_cost == of.totals(rig).yearly_cost


@pytest.mark.parametrize("name", POSSIBLE)
def test_fuel_is_that_of_the_days_by_the_fuel_rule(name):
    """The mean of each duty's balances, worked out from what is printed in gallons."""
    of, rig = best_rig(name)
    needs = {}
    for balance in of.balances(rig):
        if balance.place.rule == "PWR-06":
            needs.setdefault(balance.place.duty, []).append(balance.need)
    gallons = sum(sum(own) / len(own) for own in needs.values()) / len(needs)
    money = of.brief.money
    assert money_facts(of, rig).fuel_a_year == pytest.approx(
        gallons * from_unit(1.0, "gal") * money.fuel_price * money.days_a_year
    )


@pytest.mark.parametrize("name", POSSIBLE)
def test_a_board_foot_by_hand(name):
    """Density, yield and price of the material; the crew's hours; in pounds and feet."""
    of, rig = best_rig(name)
    found, days = money_facts(of, rig), of.brief.money.days_a_year
    feet = material = labour = 0.0
    for duty in of.brief.duties:
        own = next(item for item in stock().classes["material"] if item.id == duty.material)
        pounds_each = own.foam_density / from_unit(1.0, "lb/ft3") * _POUND_PER_BOARD_FOOT / own.field_yield
        price_each = own.price / ((own.net_mass_a + own.net_mass_b) / from_unit(1.0, "lb")) * pounds_each
        if duty.board_feet_a_day is not None:
            made = duty.board_feet_a_day
        else:
            open_time = duty.spraying_time * of.brief.margins.trigger_share
            made = duty.output * open_time / from_unit(1.0, "lb") / pounds_each
        feet, material = feet + made, material + made * price_each
        crew = of.brief.crew.sprayers + of.brief.crew.helpers + of.brief.crew.trimmers
        hours = (duty.warm_up_time + duty.spraying_time + duty.cleaning_time) / 3600.0
        labour += crew * hours * of.brief.money.labour_rate * 3600.0
    count = len(of.brief.duties)
    assert found.board_feet_a_year == pytest.approx(feet / count * days)
    assert found.material_per_board_foot == pytest.approx(material / feet)
    assert found.labour_per_board_foot == pytest.approx(labour / feet)
    assert found.fuel_per_board_foot == pytest.approx(found.fuel_a_year / found.board_feet_a_year)
    whole = found.yearly_cost + (found.material_per_board_foot + found.labour_per_board_foot) * found.board_feet_a_year
    assert found.cost_per_board_foot == pytest.approx(whole / found.board_feet_a_year)


@pytest.mark.parametrize("name", POSSIBLE)
def test_at_break_even_income_covers_all_costs(name):
    of, rig = best_rig(name)
    found = money_facts(of, rig)
    each = found.material_per_board_foot + found.labour_per_board_foot + found.fuel_per_board_foot
    assert found.contribution_per_board_foot == pytest.approx(found.foam_price - each)
    assert found.break_even_board_feet is not None and found.break_even_days is not None
    income = found.break_even_board_feet * found.foam_price
    assert income == pytest.approx(found.fixed_yearly_cost + found.break_even_board_feet * each)
    assert found.break_even_share == pytest.approx(found.break_even_board_feet / found.board_feet_a_year)
    assert found.break_even_days == pytest.approx(found.break_even_share * found.days_a_year)


def test_below_what_a_board_foot_takes_it_never_breaks_even():
    """The price of foam set to what material, crew and fuel take, to a cent below, and to a cent above."""
    of, rig = best_rig("first_rig")
    first = money_facts(of, rig)
    each = first.foam_price - first.contribution_per_board_foot
    money = of.brief.entry.model_dump(by_alias=True, exclude_unset=True)["money"]
    seen = {}
    for step in (-0.01, 0.0, 0.01):
        again = replace(of, brief=of.brief.changed(money={**money, "foam_price": each + step}), _kept={})
        found = money_facts(again, rig)
        seen[step] = (found.break_even_board_feet, found.break_even_days, found.break_even_share)
        assert found.cost_per_board_foot == pytest.approx(first.cost_per_board_foot)
    assert seen[-0.01] == seen[0.0] == (None, None, None)
    assert seen[0.01][0] == pytest.approx(first.fixed_yearly_cost / 0.01)
    assert seen[0.01][2] > 1.0


def test_pick_shows_the_money_of_its_rig():
    of, rig = best_rig("first_rig")
    assert answer("first_rig", of.brief.by).money == money_facts(of, rig)


def test_what_is_owned_is_not_waited_for():
    """The owner's truck takes the longest; bought instead, it would be waited for."""
    of, rig = best_rig("owned_truck")
    truck = next(item for item in stock().classes["vehicle"] if item.id == "vehicle-05")
    bought = ask(stock(), brief("owned_truck").changed(owned=[]))
    assert money_facts(bought, rig).delivery_time == max(money_facts(of, rig).delivery_time, truck.delivery)
    assert money_facts(bought, rig).start_up > money_facts(of, rig).start_up
