"""Where a rig fails: the balances whose integer rows do not hold, without the engine.

Contents: `failing`.
"""

from __future__ import annotations

from solver.answers.ask import Asked
from solver.rules.balance import Balance, Rig


def failing(asked: Asked, rig: Rig) -> tuple[Balance, ...]:
    """Balances of the rows that the rig breaks, the worst first. None if and only if the rig fits."""
    columns = asked.columns_of(rig)
    broken = asked.program.rows[:, columns].sum(axis=1) > asked.program.rhs
    found = [balance for balance, breaks in zip(asked.balances(rig), broken, strict=True) if breaks]
    return tuple(sorted(found, key=lambda b: (b.slack_share, b.place)))
