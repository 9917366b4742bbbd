"""Laws, ranges and arrays of the money formulas. Values of outside truth are in tests/published."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.errors import OutsideRange
from solver.formulas import money as m


@given(st.floats(1e3, 1e6), st.floats(0.0, 0.5), st.integers(1, 240))
def test_the_loan_is_paid_off(principal, yearly_rate, months):
    """Month by month, interest on and payment off, nothing is left at the end: an independent account."""
    payment = m.loan_payment(principal, yearly_rate, float(months))
    owed, scale = principal, principal * (1.0 + yearly_rate / 12.0) ** months
    for _ in range(months):
        owed = owed * (1.0 + yearly_rate / 12.0) - payment
    assert owed == pytest.approx(0.0, abs=1e-9 * scale + 1e-6)


def test_without_interest_the_parts_are_equal():
    """The limit at rate zero, and close to it no noise."""
    assert m.loan_payment(6000.0, 0.0, 60.0) == 100.0
    assert m.capital_recovery_factor(0.0, 8.0) == 0.125
    assert m.loan_payment(6000.0, 1e-12, 60.0) == pytest.approx(100.0, rel=1e-9)


@given(st.floats(0.0, 1.0), st.floats(1.0, 49.0))
def test_longer_costs_less_a_year(yearly_rate, years):
    """A longer life never raises the factor, which never falls below the interest."""
    factor = m.capital_recovery_factor(yearly_rate, years)
    assert m.capital_recovery_factor(yearly_rate, years + 1.0) <= factor
    assert factor >= yearly_rate


def test_full_resale_costs_only_interest():
    """A thing that keeps its price costs the interest on it."""
    assert m.capital_recovery(1000.0, 1000.0, 0.08, 7.0) == pytest.approx(80.0)


def test_owned_things_cost_nothing():
    """Price 0, resale 0."""
    assert m.capital_recovery(np.array([0.0, 1000.0]), np.array([0.0, 0.0]), 0.0, 10.0).tolist() == [0.0, 100.0]


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


@pytest.mark.parametrize(
    ("function", "args", "quantity"),
    [
        (m.loan_payment, (-1.0, 0.1, 12.0), "principal"),
        (m.loan_payment, (1.0, -0.1, 12.0), "yearly_rate"),
        (m.loan_payment, (1.0, 5.0, 12.0), "yearly_rate"),
        (m.loan_payment, (1.0, 0.1, 0.0), "months"),
        (m.capital_recovery_factor, (-0.1, 5.0), "yearly_rate"),
        (m.capital_recovery_factor, (0.1, 0.0), "years"),
        (m.capital_recovery, (-1.0, 0.0, 0.1, 5.0), "price"),
        (m.capital_recovery, (1.0, -1.0, 0.1, 5.0), "resale"),
        (m.break_even_board_feet, (-1.0, 2.0, 1.0), "fixed_yearly_cost"),
        (m.break_even_board_feet, (1.0, 2.0, -1.0), "cost_per_board_foot"),
    ],
)
def test_refusals_name_the_quantity(function, args, quantity):
    """No silent clamp: the sentence begins with the quantity."""
    with pytest.raises(OutsideRange) as caught:
        function(*args)
    assert str(caught.value).startswith(f"{quantity} is ")
