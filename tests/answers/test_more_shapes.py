"""Facts and questions are not to be changed once they are made."""

from __future__ import annotations

import pytest

import solver.answers
from tests.records import records_of

WORKING = {"Met", "Settling", "_Open"}
"""What an answer notes while it works."""
OWN = records_of(solver.answers, WORKING)


@pytest.mark.parametrize("kind", OWN, ids=lambda kind: kind.__name__)
def test_nothing_is_to_be_changed_once_it_is_made(kind):
    assert kind.__dataclass_params__.frozen
