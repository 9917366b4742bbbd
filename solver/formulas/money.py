"""Money: paying back a loan, the cash that it takes to begin, what owning costs a year.

Contents: `loan_payment`, `cash_until_delivery`, `capital_recovery_factor`, `capital_recovery`. (`earning.py` has what the
work costs and earns.)

Rates are shares a year (0.05 is 5 percent). Nothing is rounded to cents; inflation and taxes on income are left out.
"""

from __future__ import annotations

import numpy as np

from solver.formulas.ranges import Values, not_negative, within
from solver.formulas.record import formula


@formula
def loan_payment(principal: Values, yearly_rate: Values, months: Values) -> Values:
    """Monthly payment of a loan that is paid back in equal parts.

    A = P i (1 + i)^n / ((1 + i)^n - 1), i = yearly rate / 12; without interest A = P / n

    Parameters
    ----------
    principal : float or array [USD]
        Sum borrowed.
    yearly_rate : float or array [-]
        Nominal interest a year, charged monthly.
    months : float or array [-]
        Number of payments.

    Returns
    -------
    float or array [USD]
        Payment at the end of each month.

    Notes
    -----
    Rate 0 to 1, 1 to 600 payments. Fees are left out: the unsafe side.

    Examples
    --------
    >>> round(loan_payment(20000.0, 0.05, 60.0), 2)
    377.42

    References
    ----------
    Annuity formula; any textbook of engineering economy.
    """
    not_negative("principal", principal, "USD")
    within("yearly_rate", yearly_rate, "-", 0.0, 1.0)
    within("months", months, "-", 1.0, 600.0)
    return principal * _annuity(np.asarray(yearly_rate) / 12.0, months)


@formula
def cash_until_delivery(down_payment: Values, monthly_payment: Values, waiting_months: Values, months: Values) -> Values:
    """Own money that is gone before the last thing ordered arrives and the rig can earn.

    C = D + A min(floor(w), n)

    Parameters
    ----------
    down_payment : float or array [USD]
        What is paid from own money at the start.
    monthly_payment : float or array [USD]
        Payment of the loan at the end of each month.
    waiting_months : float or array [-]
        Months from the order to the last delivery.
    months : float or array [-]
        Number of payments of the loan.

    Returns
    -------
    float or array [USD]
        Cash that is needed.

    Notes
    -----
    The loan runs from the day of the order, payments that fall due while waiting count. Building in, living and rent are
    left out: the unsafe side. Common practice, no source.

    Examples
    --------
    >>> cash_until_delivery(20000.0, 1500.0, 2.8, 60.0)
    23000.0

    References
    ----------
    Definition; that the loan runs from the order is common practice, no source.
    """
    not_negative("down_payment", down_payment, "USD")
    not_negative("monthly_payment", monthly_payment, "USD")
    not_negative("waiting_months", waiting_months, "-")
    within("months", months, "-", 1.0, 600.0)
    return np.asarray(down_payment + monthly_payment * np.minimum(np.floor(waiting_months), months))


@formula
def capital_recovery_factor(yearly_rate: Values, years: Values) -> Values:
    """Share of a sum that must come back each year to recover it with interest.

    CRF = i (1 + i)^n / ((1 + i)^n - 1); without interest 1 / n

    Parameters
    ----------
    yearly_rate : float or array [-]
        Interest a year.
    years : float or array [-]
        Number of years.

    Returns
    -------
    float or array [-]
        Share of the sum, at the end of each year.

    Notes
    -----
    Rate 0 to 1, 1 to 50 years.

    Examples
    --------
    >>> round(capital_recovery_factor(0.1, 10.0), 5)
    0.16275

    References
    ----------
    Annuity formula; any textbook of engineering economy.
    """
    within("yearly_rate", yearly_rate, "-", 0.0, 1.0)
    within("years", years, "-", 1.0, 50.0)
    return np.asarray(_annuity(yearly_rate, years))


@formula
def capital_recovery(price: Values, resale: Values, yearly_rate: Values, years: Values) -> Values:
    """What owning a thing costs each year: loss of value and interest.

    CR = (P - S) CRF + S i

    Parameters
    ----------
    price : float or array [USD]
        Price when bought.
    resale : float or array [USD]
        What it brings when sold at the end.
    yearly_rate : float or array [-]
        Interest a year.
    years : float or array [-]
        Number of years it is kept.

    Returns
    -------
    float or array [USD]
        Cost at the end of each year.

    Notes
    -----
    Rate 0 to 1, 1 to 50 years. Upkeep, fuel and insurance come on top. A low resale is the safe side.

    Examples
    --------
    >>> round(capital_recovery(55000.0, 10000.0, 0.1, 10.0))
    8324

    References
    ----------
    Capital recovery with resale value; any textbook of engineering economy.
    """
    not_negative("price", price, "USD")
    not_negative("resale", resale, "USD")
    return (price - resale) * capital_recovery_factor(yearly_rate, years) + resale * yearly_rate


def _annuity(rate: Values, count: Values) -> Values:
    """Payment per sum: rate / (1 - (1 + rate)^-count), exact towards rate 0, where it is 1 / count."""
    rates, counts = np.broadcast_arrays(np.asarray(rate, float), np.asarray(count, float))
    paid = -np.expm1(-counts * np.log1p(rates))
    return np.asarray(np.divide(rates, paid, out=np.asarray(1.0 / counts), where=paid > 0.0))
