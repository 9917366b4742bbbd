"""Liquids in hoses: laws and ranges. Figures from outside are in tests/published."""

from __future__ import annotations

import math

import numpy as np
import pytest

from solver.errors import OutsideRange
from solver.formulas import hose_flow

POINTS, VISCOSITIES = [288.15, 298.15, 323.15], [0.40, 0.20, 0.055]


def test_viscosity_is_exact_on_its_points_in_any_order() -> None:
    for point, value in zip(POINTS, VISCOSITIES, strict=True):
        assert hose_flow.viscosity(point, POINTS, VISCOSITIES) == pytest.approx(value, rel=1e-12)
        assert hose_flow.viscosity(point, POINTS[::-1], VISCOSITIES[::-1]) == pytest.approx(value, rel=1e-12)


def test_viscosity_is_straight_in_one_over_t() -> None:
    middle = 2.0 / (1 / POINTS[1] + 1 / POINTS[2])
    expected = math.sqrt(VISCOSITIES[1] * VISCOSITIES[2])
    assert hose_flow.viscosity(middle, POINTS, VISCOSITIES) == pytest.approx(expected, rel=1e-12)


def test_viscosity_goes_straight_on_beyond_the_ends() -> None:
    slope = math.log(0.40 / 0.20) / (1 / 288.15 - 1 / 298.15)
    expected = 0.40 * math.exp(slope * (1 / 275.0 - 1 / 288.15))
    assert hose_flow.viscosity(275.0, POINTS, VISCOSITIES) == pytest.approx(expected, rel=1e-12)


def test_viscosity_of_an_array() -> None:
    temperatures = np.linspace(274.0, 338.0, 50)
    found = hose_flow.viscosity(temperatures, POINTS, VISCOSITIES)
    assert isinstance(found, np.ndarray)
    assert (np.diff(found) < 0).all()
    assert found[7] == pytest.approx(hose_flow.viscosity(float(temperatures[7]), POINTS, VISCOSITIES), rel=1e-12)


@pytest.mark.parametrize("temperature", [273.0, 339.0])
def test_viscosity_too_far_out(temperature: float) -> None:
    with pytest.raises(OutsideRange) as caught:
        hose_flow.viscosity(temperature, POINTS, VISCOSITIES)
    assert str(caught.value) == f"temperature is {temperature:.6g} K; the formula holds from 273.15 K to 338.15 K"


@pytest.mark.parametrize(
    ("points", "values", "message"),
    [
        ([298.15], [0.2], "number of points of the viscosity is 1; the formula holds from 2 up"),
        (
            [298.15, 298.15],
            [0.2, 0.1],
            "temperature between two points of the viscosity is 0 K; the formula holds above 0 K",
        ),
        ([298.15, 308.15], [0.2, 0.0], "viscosity of a point is 0 Pa s; the formula holds above 0 Pa s"),
    ],
)
def test_viscosity_needs_good_points(points: list[float], values: list[float], message: str) -> None:
    with pytest.raises(OutsideRange) as caught:
        hose_flow.viscosity(298.15, points, values)
    assert str(caught.value) == message


def test_laminar_drop_goes_with_the_fourth_power_of_the_bore() -> None:
    drops = hose_flow.laminar_drop(0.3, 60.0, 5e-5, np.array([0.006, 0.012]))
    assert isinstance(drops, np.ndarray)
    assert drops[0] / drops[1] == pytest.approx(16.0, rel=1e-12)


def test_hose_without_a_bore() -> None:
    for call in (
        lambda: hose_flow.laminar_drop(0.3, 60.0, 5e-5, 0.0),
        lambda: hose_flow.reynolds(1100.0, 5e-5, 0.0, 0.3),
    ):
        with pytest.raises(OutsideRange) as caught:
            call()
        assert str(caught.value) == "bore is 0 m; the formula holds above 0 m"


def test_pump_flow() -> None:
    assert hose_flow.pump_flow(2e-4, 0.0, 0.5) == 2e-4
    assert hose_flow.pump_flow(2e-4, 0.5, 0.5) == 1e-4
    with pytest.raises(OutsideRange) as caught:
        hose_flow.pump_flow(2e-4, 0.5, 0.0)
    assert str(caught.value) == "half-flow viscosity is 0 Pa s; the formula holds above 0 Pa s"


def test_side_flow_carries_the_output() -> None:
    flow = hose_flow.side_flow(0.136, 1230.0, 1150.0)
    assert flow * 1230.0 + flow * 1150.0 == pytest.approx(0.136, rel=1e-12)
