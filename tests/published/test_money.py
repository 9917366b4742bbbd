"""Money against published worked figures."""

from __future__ import annotations

from solver.formulas.money import capital_recovery, loan_payment
from tests.published.printed import printed


def test_loan_payment():
    """Mathematics tutorial, recomputed, read: 20,000 at 5 % over 60 months is 377.42 a month."""
    assert loan_payment(20000.0, 0.05, 60.0) == printed("377.42")


def test_capital_recovery():
    """Engineering-economy exercise, read: 55,000, resale 10,000, 10 years at 10 % is 8,324 a year (exact 8,323.54)."""
    assert capital_recovery(55000.0, 10000.0, 0.10, 10.0) == printed("8324")
    assert capital_recovery(55000.0, 10000.0, 0.10, 10.0) == printed("8,323.54")
