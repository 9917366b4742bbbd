"""Money against published figures: loans, tables of capital recovery."""

from __future__ import annotations

from solver.formulas.money import capital_recovery, capital_recovery_factor, loan_payment
from tests.published import documents as of
from tests.published.printed import MEMORY, READ, Figure, Passage, checked

LOAN = Passage(of.LOAN_TEXT, "worked loan", "20,000 at 5 % over 60 months, USD a month", READ)
EXERCISE = Passage(of.EXERCISE, "worked exercise", "55,000, resale 10,000, 10 years at 10 %, USD a year", READ)
ESTIMATE = Passage(of.REGULATION_Z, "App. H-24(B)", "sample loan estimate: 162,000 at 3.875 % over 30 years", MEMORY)
SINGLE = Passage(of.REGULATION_Z, "App. J (c)(1)(i)", "payment of 5,000 at 9.69 % over 24 months, USD", MEMORY)
# 8 now and 5 in a year at 12 % are 12.46 today; resale 0.5; 8 years; millions.
TRACKING = Passage(of.BLANK_TARQUIN, "Example 6.2", "capital recovery, million USD a year", MEMORY)
FACTORS = Passage(of.BLANK_TARQUIN, "compound interest tables, column A/P", "capital recovery factor", MEMORY)
TABLES = {
    5: "1.05000 0.53780 0.36721 0.28201 0.23097 0.19702 0.17282 0.15472 0.14069 0.12950",
    8: "1.08000 0.56077 0.38803 0.30192 0.25046 0.21632 0.19207 0.17401 0.16008 0.14903",
    10: "1.10000 0.57619 0.40211 0.31547 0.26380 0.22961 0.20541 0.18744 0.17364 0.16275",
    12: "1.12000 0.59170 0.41635 0.32923 0.27741 0.24323 0.21912 0.20130 0.18768 0.17698",
}
"""Percent a year; factors for 1 to 10 years."""
FIGURES = [
    LOAN.figure("payment", "377.42", lambda: loan_payment(20000.0, 0.05, 60.0)),
    EXERCISE.figure("cost of owning", "8324", lambda: capital_recovery(55000.0, 10000.0, 0.10, 10.0)),
    ESTIMATE.figure("payment", "761.78", lambda: loan_payment(162000.0, 0.03875, 360.0)),
    SINGLE.figure("payment", "230", lambda: loan_payment(5000.0, 0.0969, 24.0)),
    TRACKING.figure("capital recovery", "2.47", lambda: capital_recovery(12.46, 0.5, 0.12, 8.0)),
    *(
        FACTORS.figure(f"{percent} %, {n} years", text, lambda i=percent, n=n: capital_recovery_factor(i / 100.0, float(n)))
        for percent, line in TABLES.items()
        for n, text in enumerate(line.split(), 1)
    ),
]


@checked(FIGURES)
def test_money(figure: Figure) -> None:
    """Payments and factors."""
    figure.check()
