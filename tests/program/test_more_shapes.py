"""What the pieces of a program and of a proof are: not to be changed, and told apart; large figures in messages."""

from __future__ import annotations

import pytest

import solver.program
from solver.errors import DoesNotHold
from solver.program.proof import Closed, Proof
from solver.program.proof_check import check_proof
from tests.program.test_proof_check import pumps
from tests.records import records_of

WORKING = {"_Check"}
"""What the check notes while it works."""
OWN = records_of(solver.program, WORKING)


@pytest.mark.parametrize("kind", OWN, ids=lambda kind: kind.__name__)
def test_nothing_is_to_be_changed_once_it_is_made(kind):
    assert kind.__dataclass_params__.frozen


def test_two_programs_of_the_same_figures_are_two():
    """They are kept in dictionaries by what they are, not by what they hold."""
    one, two = pumps(), pumps()
    assert one != two
    assert len({one, two, one}) == 2


def test_figures_of_thirty_one_digits_are_told_in_powers_of_two():
    """Costs of 5 and 4 at the least: L is 9 d, and must lie above 10 d. 10^30 lies between 2^99 and 2^100."""
    with pytest.raises(DoesNotHold) as caught:
        check_proof(pumps(), Proof("price", 11, Closed((), 10**29)))
    words = f"the whole: L is {9 * 10**29:,}, and closes the part only above about 2^99"
    assert str(caught.value) == words


def test_a_large_scale_of_large_costs_does_not_run_over():
    """Without multipliers L is 9 d in units of 2^30: claimed to be 9 or less, it holds; claimed one unit more, it does not.
    2^40 times 2^30 is past 64 bits."""
    costs = {"price": pumps().costs["price"] * 2**30}
    assert check_proof(pumps(costs=costs), Proof("price", 9 * 2**30, Closed((), 2**40))).closed == 1
    assert check_proof(pumps(costs=costs), Proof("price", 1, Closed((), 2**40))).closed == 1
    with pytest.raises(DoesNotHold) as caught:
        check_proof(pumps(costs=costs), Proof("price", 9 * 2**30 + 1, Closed((), 2**40)))
    words = f"the whole: L is {9 * 2**70:,}, and closes the part only above {9 * 2**70:,}"
    assert str(caught.value) == words
