"""A limit of work that ends early gives no claim: the answer says that it is not proven, or a clear error does."""

from __future__ import annotations

import numpy as np
import pytest

from solver.errors import NotProven
from solver.search import best as search
from solver.search.best import Question, best, cost_of_best, exists
from solver.search.engine import Outcome, Status
from tests.program.toy import toy


def unknown(rows, rhs, sizes, cost, cutoff=None, limits=None):
    """An engine whose limit of work ends at once."""
    return Outcome(Status.UNKNOWN, None, 0, 0.0)


@pytest.fixture
def program():
    """A toy problem that has a rig and needs the engine."""
    for seed in range(50):
        found = toy(seed).program
        if best(Question(found)).columns is not None:
            return found
    raise AssertionError("no toy problem has a rig")


def test_no_rig_known_is_not_called_impossible(program, monkeypatch):
    monkeypatch.setattr(search, "solve_rows", unknown)
    found = best(Question(program, domination=False))
    assert found.columns is None and not found.proven
    with pytest.raises(NotProven, match="whether a rig exists"):
        exists(Question(program, domination=False))
    with pytest.raises(NotProven, match="best rig was proven"):
        cost_of_best(Question(program, domination=False))


def test_a_rig_whose_ties_are_not_settled_is_given_as_not_proven(program, monkeypatch):
    real, calls = search.solve_rows, []

    def first_only(*arguments, **keywords):
        calls.append(1)
        return real(*arguments, **keywords) if len(calls) == 1 else unknown(*arguments)

    whole = best(Question(program, domination=False))
    monkeypatch.setattr(search, "solve_rows", first_only)
    found = best(Question(program, domination=False))
    assert not found.proven
    assert found.cost == whole.cost
    assert program.fits(np.asarray(found.columns))
