"""Water in air: laws, inverses and ranges. Figures from outside are in tests/published."""

from __future__ import annotations

import numpy as np
import pytest

from solver.errors import OutsideRange
from solver.formulas import moist_air

TEMPERATURES = np.linspace(173.16, 473.14, 601)


def test_saturation_rises_throughout() -> None:
    pressures = moist_air.saturation_pressure(TEMPERATURES)
    assert isinstance(pressures, np.ndarray)
    assert (np.diff(pressures) > 0).all()
    singly = [moist_air.saturation_pressure(float(t)) for t in TEMPERATURES[::50]]
    assert pressures[::50].tolist() == pytest.approx(singly)


def test_ice_and_water_meet_at_the_triple_point() -> None:
    below, above = moist_air.saturation_pressure(273.16 - 1e-9), moist_air.saturation_pressure(273.16)
    assert below == pytest.approx(above, rel=2e-5)
    assert above == pytest.approx(611.657, rel=1e-4)


@pytest.mark.parametrize("temperature", [173.0, 474.0])
def test_saturation_outside(temperature: float) -> None:
    with pytest.raises(OutsideRange) as caught:
        moist_air.saturation_pressure(temperature)
    assert str(caught.value) == f"temperature is {temperature:.6g} K; the formula holds from 173.15 K to 473.15 K"


def test_dew_point_is_the_inverse_of_saturation() -> None:
    found = moist_air.dew_point(moist_air.saturation_pressure(TEMPERATURES))
    assert np.abs(found - TEMPERATURES).max() < 1e-6
    assert moist_air.dew_point(moist_air.saturation_pressure(268.15)) == pytest.approx(268.15, abs=1e-6)


def test_dew_point_outside() -> None:
    with pytest.raises(OutsideRange) as caught:
        moist_air.dew_point(0.0)
    assert str(caught.value).startswith("vapour pressure is 0 Pa; the formula holds from 0.001")


def test_enhancement_grows_with_pressure_from_one() -> None:
    factors = moist_air.enhancement_factor(280.0, np.linspace(5e4, 2e6, 40))
    assert isinstance(factors, np.ndarray)
    assert factors[0] > 1.0
    assert (np.diff(factors) > 0).all()


def test_enhancement_outside() -> None:
    with pytest.raises(OutsideRange) as caught:
        moist_air.enhancement_factor(280.0, 2.1e6)
    assert str(caught.value) == "pressure is 2.1e+06 Pa; the formula holds from 0 Pa to 2e+06 Pa"


def test_boiling_air_holds_no_air() -> None:
    with pytest.raises(OutsideRange) as caught:
        moist_air.humidity_ratio(370.0, 1.0, 8e4)
    assert str(caught.value).startswith("vapour pressure over pressure is 1.1")


def test_dew_point_falls_when_air_expands_and_comes_back() -> None:
    expanded = moist_air.dew_point_at_pressure(276.48, 8e5, 1e5)
    assert expanded < 260.0
    assert moist_air.dew_point_at_pressure(expanded, 1e5, 8e5) == pytest.approx(276.48, abs=1e-6)
    assert moist_air.dew_point_at_pressure(276.48, 8e5, 8e5) == pytest.approx(276.48, abs=1e-9)


def test_humidity_of_dry_air_is_nothing() -> None:
    assert moist_air.humidity_ratio(293.15, 0.0, 1e5) == 0.0


def test_cooling_load_is_linear_in_flow_and_grows_with_the_inlet() -> None:
    inlets = np.linspace(280.0, 330.0, 30)
    loads = moist_air.cooling_load(0.01, inlets, 8e5, 276.48)
    assert (np.diff(loads) > 0).all()
    assert moist_air.cooling_load(0.02, inlets, 8e5, 276.48) == pytest.approx(2 * loads, rel=1e-12)


def test_nothing_to_dry() -> None:
    assert moist_air.cooling_load(0.01, 276.48, 8e5, 276.48) == pytest.approx(0.0, abs=1e-9)
    assert moist_air.cooling_load(0.01, 270.0, 8e5, 276.48) < 0.0
    assert moist_air.condensate_rate(0.01, 276.48, 8e5, 276.48) == 0.0


def test_columns_and_floats_alike() -> None:
    dew_points = np.array([265.0, 276.48, 285.0])
    columns = moist_air.dew_point_at_pressure(dew_points, 8e5, 1e5)
    assert isinstance(columns, np.ndarray)
    assert columns.tolist() == pytest.approx(
        [moist_air.dew_point_at_pressure(float(t), 8e5, 1e5) for t in dew_points], abs=1e-9
    )
