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


@given(st.floats(0.0, 1e5), st.floats(0.0, 1e4), st.floats(0.0, 40.0), st.integers(1, 60))
def test_cash_until_delivery_counts_the_months_that_end_before_it(down, payment, waiting, months):
    """Paying month by month, an independent account: while a whole month has passed and the loan still runs."""
    cash, month = down, 1
    while month <= waiting and month <= months:
        cash, month = cash + payment, month + 1
    assert m.cash_until_delivery(down, payment, waiting, float(months)) == pytest.approx(cash)


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
        (m.cash_until_delivery, (-1.0, 1.0, 1.0, 12.0), "down_payment"),
        (m.cash_until_delivery, (1.0, -1.0, 1.0, 12.0), "monthly_payment"),
        (m.cash_until_delivery, (1.0, 1.0, -1.0, 12.0), "waiting_months"),
        (m.cash_until_delivery, (1.0, 1.0, 1.0, 0.0), "months"),
    ],
)
def test_refusals_name_the_quantity(function, args, quantity):
    """No silent clamp: the sentence begins with the quantity."""
    with pytest.raises(OutsideRange) as caught:
        function(*args)
    assert str(caught.value).startswith(f"{quantity} is ")
