"""Laws, ranges and arrays of the weight formulas. Values of outside truth are in tests/published."""

from __future__ import annotations

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.errors import OutsideRange
from solver.formulas import vehicle_classes as v
from solver.formulas import weight as w

loads = st.lists(st.tuples(st.floats(0.0, 1e4), st.floats(-2.0, 10.0)), min_size=1, max_size=6)


def refusal(function, *args) -> OutsideRange:
    """The error with which a formula refuses its arguments."""
    with pytest.raises(OutsideRange) as caught:
        function(*args)
    return caught.value


@given(loads, st.floats(2.0, 8.0))
def test_supports_carry_everything(pairs, span):
    """Both reactions together are the weight, and they balance about the rear support too."""
    weights, positions = (np.array(column) for column in zip(*pairs, strict=True))
    front, rear = w.front_reaction(weights, positions, span), w.rear_reaction(weights, positions, span)
    assert front + rear == pytest.approx(weights.sum(), abs=1e-6)
    assert front * span == pytest.approx((weights * (span - positions)).sum(), abs=1e-6)


def test_behind_the_rear_axle_lifts_the_front():
    """A load behind the rear support makes the front reaction negative."""
    assert w.front_reaction(100.0, 5.0, 4.0) == -25.0
    assert w.rear_reaction(100.0, 5.0, 4.0) == 125.0


def test_one_position_for_several_weights():
    """A float beside an array is the same for all."""
    assert w.front_reaction(np.array([100.0, 100.0]), 1.0, 4.0) == 150.0


def test_several_rigs_at_once():
    """Rigs along the first axis, things along the last."""
    weights = np.array([[100.0, 50.0], [200.0, 0.0]])
    assert w.rear_reaction(weights, np.array([1.0, 2.0]), 2.0).tolist() == [100.0, 100.0]


def test_drums_of_a_set():
    """Two drums, two liquids."""
    assert w.set_mass(np.array([250.0, 240.0]), 227.0, 20.0).tolist() == [517.0, 507.0]


def test_floor_of_columns():
    """Items without a footprint take no floor."""
    assert w.floor_area(np.array([0.0, 2.0]), np.array([0.0, 1.0]), 1.15).tolist() == pytest.approx([0.0, 2.3])


@given(st.floats(100.0, 40000.0), st.floats(100.0, 40000.0))
def test_class_rises_with_the_rating(one, other):
    """A heavier rating is never a lower class."""
    low, high = sorted((one, other))
    assert 1.0 <= v.weight_class(low) <= v.weight_class(high) <= 8.0
    assert v.weight_class(np.array([low, high])).tolist() == [v.weight_class(low), v.weight_class(high)]


def test_bridge_formula_gives_whole_steps():
    """Multiples of 500 lb; a longer group carries more."""
    pounds = v.bridge_formula(4.0, np.array([4.0, 8.0, 12.0, 16.0])) / 0.45359237
    assert np.allclose(pounds / 500.0, np.round(pounds / 500.0), atol=1e-9)
    assert np.all(np.diff(pounds) > 0.0)


@pytest.mark.parametrize(
    ("function", "args", "quantity"),
    [
        (w.rear_reaction, (1.0, 1.0, 0.0), "span"),
        (w.hitch_load, (-1.0, 0.1), "trailer_weight"),
        (w.hitch_load, (1.0, 1.1), "hitch_share"),
        (w.set_mass, (-1.0, 1.0, 1.0), "net_mass_a"),
        (w.set_mass, (1.0, -1.0, 1.0), "net_mass_b"),
        (w.set_mass, (1.0, 1.0, -1.0), "drum_tare"),
        (w.floor_area, (-1.0, 1.0, 1.0), "length"),
        (w.floor_area, (1.0, -1.0, 1.0), "width"),
        (w.floor_area, (1.0, 1.0, 0.0), "floor_factor"),
        (v.weight_class, (0.0,), "gvwr"),
        (v.bridge_formula, (1.0, 10.0), "axles"),
        (v.bridge_formula, (3.0, 0.0), "length"),
        (v.licence_needed, (-1.0, 0.0), "vehicle_rating"),
        (v.licence_needed, (1.0, -1.0), "trailer_rating"),
    ],
)
def test_refusals_name_the_quantity(function, args, quantity):
    """No silent clamp: the sentence begins with the quantity."""
    assert str(refusal(function, *args)).startswith(f"{quantity} is ")
