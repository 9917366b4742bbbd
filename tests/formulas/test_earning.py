"""Laws, ranges and arrays of what work costs and earns."""

from __future__ import annotations

import numpy as np
import pytest

from solver.errors import OutsideRange
from solver.formulas import earning as m


def test_at_break_even_income_covers_cost():
    """Income less costs of that many board feet is the fixed cost."""
    feet = m.break_even_board_feet(np.array([40000.0, 60000.0]), 1.35, 0.80)
    assert (feet * (1.35 - 0.80)).tolist() == pytest.approx([40000.0, 60000.0])


def test_a_price_below_cost_never_breaks_even():
    """The error names the price and what it must exceed."""
    with pytest.raises(OutsideRange) as caught:
        m.break_even_board_feet(40000.0, 0.8, 0.9)
    assert str(caught.value).startswith("price_per_board_foot, which must exceed the cost, is 0.8 USD")
    assert (caught.value.value, caught.value.low) == (0.8, 0.9)


def test_at_break_even_a_board_foot_costs_its_price():
    """Full cost at the break-even volume is the price: the two formulas belong together."""
    feet = m.break_even_board_feet(48000.0, 1.35, 0.95)
    assert m.full_cost_per_board_foot(48000.0, feet, 0.95) == pytest.approx(1.35)
    assert m.full_cost_per_board_foot(48000.0, 2.0 * feet, 0.95) == pytest.approx(1.15)


def test_crews_and_days_add_up():
    """Two crews cost what one of both sizes costs; two volumes take the days of each."""
    hours = np.array([3600.0, 7200.0])
    assert (m.labour_cost(3.0, hours, 0.01) + m.labour_cost(1.0, hours, 0.01)).tolist() == pytest.approx([144.0, 288.0])
    assert m.days_to_spray(9000.0, 4500.0) + m.days_to_spray(4500.0, 4500.0) == m.days_to_spray(13500.0, 4500.0) == 3.0


@pytest.mark.parametrize(
    ("function", "args", "quantity"),
    [
        (m.break_even_board_feet, (-1.0, 2.0, 1.0), "fixed_yearly_cost"),
        (m.break_even_board_feet, (1.0, 2.0, -1.0), "cost_per_board_foot"),
        (m.labour_cost, (-1.0, 1.0, 1.0), "people"),
        (m.labour_cost, (1.0, -1.0, 1.0), "time"),
        (m.labour_cost, (1.0, 1.0, -1.0), "labour_rate"),
        (m.full_cost_per_board_foot, (-1.0, 1.0, 1.0), "fixed_yearly_cost"),
        (m.full_cost_per_board_foot, (1.0, 0.0, 1.0), "board_feet"),
        (m.full_cost_per_board_foot, (1.0, 1.0, -1.0), "cost_per_board_foot"),
        (m.days_to_spray, (-1.0, 1.0), "board_feet"),
        (m.days_to_spray, (1.0, 0.0), "daily_board_feet"),
    ],
)
def test_refusals_name_the_quantity(function, args, quantity):
    """No silent clamp: the sentence begins with the quantity."""
    with pytest.raises(OutsideRange) as caught:
        function(*args)
    assert str(caught.value).startswith(f"{quantity} is ")
