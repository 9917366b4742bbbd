"""Questions about small programs, without brief and catalog behind them.

Contents: `toy` (a program as a question), `excess_of` (every rig, and what it breaks), `GROUPS`, `ORDER`.
"""

from __future__ import annotations

from dataclasses import replace
from types import SimpleNamespace

from solver.answers.ask import Asked
from solver.rules.record import Basis
from tests.answers.toy_moves import rigs

ORDER = (Basis.BRIEF, Basis.PRACTICE, Basis.RATING, Basis.REGULATION, Basis.PHYSICS)
GROUPS = ("HEAT-04", "WT-01", "MONEY-01", "AIR-01", "SAFE-01", "OWN-01")
"""A rule of each basis, and one of the background."""


def toy(program, background=("OWN-01",)):
    """A small program as a question."""
    background = frozenset(background) & set(program.groups)
    of = Asked(None, None, SimpleNamespace(slots={f"slot {k}": range(b - a) for k, (a, b) in enumerate(program.slices)}), (),
               "price")  # fmt: skip
    of.__dict__["program"] = replace(program, background=background)
    return of


def excess_of(program):
    """Every rig there is, and by how much it breaks every row (rows, rigs)."""
    every = rigs(program)
    return every, program.rows[:, every].sum(axis=2) - program.rhs[:, None]
