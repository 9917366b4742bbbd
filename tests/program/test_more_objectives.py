"""What an option costs, worked out by hand: what is paid, what it weighs, and what it takes in a year."""

from __future__ import annotations

import numpy as np
import pytest

from solver.program.matrix import TooLarge
from solver.program.objectives import MOST_COST, cost_rows, objective_columns
from solver.rules import RULES
from solver.rules.instances import instances
from tests.rules.small import brief, none, setting, table

FUEL = {"PWR-06": RULES["PWR-06"]}


def _costs(case, rules=FUEL):
    return cost_rows(case, objective_columns(case, instances(case, rules)))


def test_price_is_in_cents_and_weight_in_grams_slot_after_slot():
    case = setting(
        brief(),
        table("gun", {"price": "1234.56 USD", "weight": "2.5 kg"}, {"price": "10 USD", "weight": "0.0004 kg"}),
        table("receiver", {"price": "400 USD", "weight": "30 kg"}, none()),
    )
    found = _costs(case)
    assert list(found) == ["price", "weight", "yearly-cost"]
    assert found["price"].tolist() == [123456, 1000, 40000, 0]
    assert found["weight"].tolist() == [2500, 0, 30000, 0]
    assert {column.dtype for column in found.values()} == {np.dtype(np.int64)}


def test_what_is_owned_is_not_paid_for_but_weighs():
    guns = table("gun", {"item": "mine", "price": "900 USD", "weight": "1 kg", "upkeep_cost": "7 USD"})
    found = _costs(setting(brief(owned=["mine"]), guns))
    assert (found["price"].tolist(), found["weight"].tolist()) == ([0], [1000])
    assert found["yearly-cost"].tolist() == [700]


MONEY = {"interest": "10 %", "years": 2, "resale": "40 %", "labour_rate": "30 USD/h", "fuel_price": "5 USD/gal",
         "days_a_year": 200}  # fmt: skip


def test_a_year_is_loss_of_value_interest_and_upkeep():
    """100 USD kept 2 years at 10 %, sold for 40: 60 x 0.1 x 1.21 / 0.21 + 40 x 0.1 = 34.571 + 4 USD; upkeep 12 USD and 3 h
    at 30 USD: 102 USD. Together 140.571 USD. The second has upkeep alone."""
    guns = table(
        "gun",
        {"price": "100 USD", "upkeep_cost": "12 USD", "upkeep_time": "3 h"},
        {"upkeep_cost": "1 USD", "upkeep_time": "0.5 h"},
    )
    found = _costs(setting(brief(money=MONEY), guns))
    assert found["yearly-cost"].tolist() == [14057, 1600]


def _idle(hours: float) -> float:
    """Litres that a set of 2 l/h idle burns in so many hours."""
    return 2.0 * hours


def test_fuel_of_a_year_is_that_of_a_mean_day_of_the_duties():
    """A set that idles on 2 l/h. The days last 1 + 5 + 0.5 h and 1 + 3 + 0.5 h: 13 l and 9 l, mean 11 l. Both ends of the air
    count alike. 200 days of 11 l at 1 USD/l: 2,200 USD; "none" burns nothing; a slot without fuel has none."""
    case = setting(
        brief(
            {"name": "long"},
            {"name": "short", "hours": {"spraying": "3 h"}},
            money={**MONEY, "fuel_price": f"{3.785411784} USD/gal"},
        ),
        table("generator", {"idle_burn": f"{2e-3 / 3600} m3/s"}, none()),
        table("gun", {"upkeep_cost": "1 USD"}),
    )
    assert _idle(6.5) + _idle(4.5) == 22.0
    assert _costs(case)["yearly-cost"].tolist() == [220000, 0, 100]


def test_supplies_of_the_fuel_rule_and_other_rules_cost_nothing():
    """A tank is a supply of the fuel rule; the engine's power is another rule's."""
    case = setting(
        brief(money=MONEY),
        table("generator", {"tank": "40 l", "power": "20 kW"}),
        table("fuel_tank", {"volume": "80 l"}, none()),
    )
    assert _costs(case, RULES)["yearly-cost"].tolist() == [0, 0, 0]


@pytest.mark.parametrize(
    ("figures", "words"),
    [
        ({"price": MOST_COST / 100 * 1.01}, "price"),
        ({"weight": MOST_COST / 1000 * 1.01}, "weight"),
        ({"upkeep_cost": MOST_COST / 100 * 1.01}, "yearly cost"),
    ],
)
def test_a_cost_past_all_counting_names_its_item(figures, words):
    guns = table("gun", {"item": "plain", "price": 1.0}, {"item": "gold", **figures}, {"item": "tin", "price": 2.0})
    with pytest.raises(TooLarge) as caught:
        _costs(setting(brief(money=MONEY), guns))
    assert caught.value.item == "gold"
    assert str(caught.value) == (
        f'found the {words} of the item "gold"; expected a figure that can be counted exactly. '
        "Try: a look at its unit and at how many digits it has"
    )


def test_the_largest_cost_that_counts():
    """2^53 / 2^11 cents."""
    assert MOST_COST == 2**42
    guns = table("gun", {"weight": 2**42 / 1000})
    assert _costs(setting(brief(), guns))["weight"].tolist() == [2**42]
