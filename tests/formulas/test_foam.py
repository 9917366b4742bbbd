"""Laws, ranges and arrays of the foam formulas. Values of outside truth are in tests/published."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.errors import OutsideRange
from solver.formulas import foam as f

densities = st.floats(5.0, 100.0)
shares = st.floats(0.1, 1.0)


@given(st.floats(1.0, 1e5), densities, shares, st.floats(600.0, 36000.0), shares)
def test_the_output_asked_for_makes_the_board_feet(board_feet, density, field_yield, time, trigger):
    """Board feet to output to mass and back to board feet."""
    output = f.output_for_board_feet(board_feet, density, field_yield, time, trigger)
    mass = f.material_mass(output, time, trigger)
    assert f.board_feet_made(mass, density, field_yield) == pytest.approx(board_feet, rel=1e-9)


@given(densities)
def test_a_board_foot_weighs_its_density(density):
    """Board feet per mass times the mass of a board foot is one."""
    assert f.board_feet_per_mass(density) * density * f.BOARD_FOOT == pytest.approx(1.0, rel=1e-12)


def test_arrays():
    """Vectorised over materials."""
    found = f.board_feet_made(100.0, np.array([8.0, 32.0]), np.array([0.8, 0.7]))
    assert found.tolist() == [f.board_feet_made(100.0, 8.0, 0.8), f.board_feet_made(100.0, 32.0, 0.7)]


@pytest.mark.parametrize(
    ("function", "args", "quantity"),
    [
        (f.board_feet_per_mass, (2.0,), "foam_density"),
        (f.board_feet_made, (-1.0, 32.0, 0.7), "mass"),
        (f.board_feet_made, (1.0, 32.0, 0.0), "field_yield"),
        (f.board_feet_made, (1.0, 32.0, 1.2), "field_yield"),
        (f.output_for_board_feet, (-1.0, 32.0, 0.7, 1.0, 0.5), "board_feet"),
        (f.output_for_board_feet, (1.0, 32.0, 0.7, 0.0, 0.5), "spraying_time"),
        (f.output_for_board_feet, (1.0, 32.0, 0.7, 1.0, 0.0), "trigger_share"),
        (f.output_for_board_feet, (1.0, 32.0, 0.0, 1.0, 0.5), "field_yield"),
        (f.material_mass, (-1.0, 1.0, 0.5), "output"),
        (f.material_mass, (1.0, -1.0, 0.5), "spraying_time"),
        (f.material_mass, (1.0, 1.0, 1.5), "trigger_share"),
    ],
)
def test_refusals_name_the_quantity(function, args, quantity):
    """No silent clamp: the sentence begins with the quantity."""
    with pytest.raises(OutsideRange) as caught:
        function(*args)
    assert str(caught.value).startswith(f"{quantity} is ")
