"""Published examples of minimal conflicts, through the rows and the solver that explain rigs.

Sources: U. Junker, QUICKXPLAIN, AAAI 2004, Tables 1 and 2 (read; the budget of 3,000 is from memory, the tables admit 2,600
to 3,099; sets found by exhaustive search). M. H. Liffiton et al., Fast, flexible MUS enumeration, Constraints 21(2), 2016,
and its authors' example file (read): a, not a, b, not b, a or b.
"""

from __future__ import annotations

import numpy as np
import pytest

from solver.program.matrix import Program
from solver.search.best import Question, any_rig, exists
from solver.search.conflicts import minimal_conflicts
from solver.search.minimal import minimal_set


def program(rows, rhs, groups, slots, background=()):
    """Yes/no slots: in each, column 0 is no and column 1 yes; `rows` hold the coefficients of the yes columns."""
    table = np.zeros((len(rows), 2 * slots), np.int64)
    table[:, 1::2] = rows
    zero = np.zeros(2 * slots, np.int64)
    return Program(
        table, np.array(rhs, np.int64), np.arange(0, 2 * slots + 1, 2), {"price": zero, "weight": zero},
        tuple(groups), tuple(groups), frozenset(background),
    )  # fmt: skip


def conflict(found, order):
    """A minimal conflict with the groups in this order of preference."""

    def possible(kept):
        rows = np.array([group in kept or group in found.background for group in found.groups])
        return exists(Question(found, "price", rows))

    return minimal_set(order, possible)


COSTS = [500, 500, 800, 500, 2600]
WISHES = program(
    [(-np.eye(5, dtype=np.int64)[k]).tolist() for k in range(5)] + [COSTS],
    [-1] * 5 + [3000],
    ["1", "2", "3", "4", "5", "budget"],
    5,
    ["budget"],
)


@pytest.mark.parametrize(("order", "expected"), [("12345", {"1", "5"}), ("54321", {"4", "5"})])
def test_quickxplain_tables_1_and_2(order, expected):
    assert set(conflict(WISHES, tuple(order))) == expected


@pytest.mark.parametrize("one", "1234")
def test_quickxplain_every_minimal_conflict_is_met(one):
    """Minimal conflicts {1,5}, {2,5}, {3,5}, {4,5}: whichever wish is preferred, it is the one that stays beside 5."""
    rest = [wish for wish in "1234" if wish != one]
    assert set(conflict(WISHES, (one, *rest, "5"))) == {one, "5"}


LOGIC = program(
    [[-1, 0], [1, 0], [0, -1], [0, 1], [-1, -1]],
    [-1, 0, -1, 0, -1],
    ["a", "not a", "b", "not b", "a or b"],
    2,
)
CONFLICTS = [{"a", "not a"}, {"b", "not b"}, {"not a", "not b", "a or b"}]


@pytest.mark.parametrize("order", [
    (("a", "not a", "b", "not b", "a or b"), 0),
    (("b", "not b", "a", "not a", "a or b"), 1),
    (("not a", "not b", "a or b", "a", "b"), 2),
])  # fmt: skip
def test_marco_example(order):
    groups, number = order
    assert set(conflict(LOGIC, groups)) == CONFLICTS[number]


def kept_by(found):
    """The oracle of a program: groups that some rig keeps which keeps these."""
    names = dict.fromkeys(found.groups)

    def oracle(wanted):
        rig = any_rig(Question(found, "price", np.array([g in wanted or g in found.background for g in found.groups])))
        if rig is None:
            return None
        good = found.rows[:, rig].sum(axis=1) <= found.rhs
        return frozenset(name for name in names if all(good[i] for i, g in enumerate(found.groups) if g == name))

    return oracle


def test_marco_example_in_full():
    """All three minimal conflicts; the minimal corrections are the smallest sets that meet each of them."""
    groups = ["a", "not a", "b", "not b", "a or b"]
    sets = minimal_conflicts(groups, dict.fromkeys(groups, 1), kept_by(LOGIC), 10)
    assert sets.complete
    assert {frozenset(c) for c in sets.conflicts} == {frozenset(c) for c in CONFLICTS}
    assert [len(c) for c in sets.conflicts] == [2, 2, 3]
    corrections = [{"a", "not b"}, {"not a", "b"}, {"not a", "not b"}, {"a", "b", "a or b"}]
    assert all(set(c) in corrections for c in sets.corrections)


def test_quickxplain_wishes_in_full():
    groups = ["1", "2", "3", "4", "5"]
    sets = minimal_conflicts(groups, dict.fromkeys(groups, 1), kept_by(WISHES), 10)
    assert sets.complete and {frozenset(c) for c in sets.conflicts} == {frozenset({one, "5"}) for one in "1234"}
