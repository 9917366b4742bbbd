"""Breathing air. Figures of the regulations are in tests/published."""

from __future__ import annotations

import numpy as np
import pytest

from solver.errors import InternalError, OutsideRange
from solver.formulas import breathing


def test_flows_lie_in_order() -> None:
    assert breathing.TIGHT_FITTING_FLOW < breathing.LOOSE_FITTING_FLOW < breathing.LARGEST_FLOW


def test_another_kind_is_a_fault_of_the_program() -> None:
    with pytest.raises(InternalError) as caught:
        breathing.respirator_flow("hood")
    assert str(caught.value) == "a respirator is tight-fitting or loose-fitting; not 'hood'"


def test_dew_point_of_columns() -> None:
    found = breathing.grade_d_dew_point(np.array([260.0, 300.0]))
    assert isinstance(found, np.ndarray)
    assert (np.array([260.0, 300.0]) - found).tolist() == pytest.approx([10 / 1.8, 10 / 1.8])


def test_dew_point_needs_an_absolute_temperature() -> None:
    with pytest.raises(OutsideRange) as caught:
        breathing.grade_d_dew_point(-5.0)
    assert str(caught.value) == "air temperature is -5 K; the formula holds above 0 K"
