"""Air and compressed air: laws, shapes and ranges. Figures from outside are in tests/published."""

from __future__ import annotations

import numpy as np
import pytest

from solver.errors import OutsideRange
from solver.formulas import air

ALTITUDES = np.linspace(-500.0, 11000.0, 24)


def test_pressure_falls_with_altitude() -> None:
    pressures = air.atmosphere_pressure(ALTITUDES)
    assert isinstance(pressures, np.ndarray)
    assert (np.diff(pressures) < 0).all()
    assert pressures.tolist() == [air.atmosphere_pressure(float(z)) for z in ALTITUDES]


@pytest.mark.parametrize("altitude", [-501.0, 11001.0])
def test_altitude_outside(altitude: float) -> None:
    with pytest.raises(OutsideRange) as caught:
        air.atmosphere_pressure(altitude)
    assert str(caught.value) == f"altitude is {altitude:.6g} m; the formula holds from -500 m to 11000 m"


def test_moisture_makes_air_lighter() -> None:
    assert air.air_density(1e5, 303.15, 0.9) < air.air_density(1e5, 303.15, 0.0)


def test_humidity_outside() -> None:
    with pytest.raises(OutsideRange) as caught:
        air.air_density(1e5, 293.15, 60.0)
    assert str(caught.value) == "relative humidity is 60; the formula holds from 0 to 1"


def test_more_vapour_than_air() -> None:
    with pytest.raises(OutsideRange) as caught:
        air.delivered_flow(0.01, 20000.0, 360.0, 1.0)
    assert str(caught.value).startswith("pressure of the dry part of the air is -")


def test_standard_air_delivers_the_rating() -> None:
    assert air.delivered_flow(0.012, air.STANDARD_PRESSURE, air.STANDARD_TEMPERATURE, 0.0) == 0.012


def test_delivered_flow_is_the_ratio_of_dry_densities() -> None:
    density = air.air_density(81000.0, 310.0, 0.0)
    found = air.delivered_flow(0.012, 81000.0, 310.0, 0.0)
    assert found == pytest.approx(0.012 * density / air.STANDARD_AIR_DENSITY, rel=1e-12)


def test_actual_flow_is_the_inverse_of_delivered_flow() -> None:
    delivered = air.delivered_flow(0.012, 81000.0, 310.0, 0.4)
    assert air.actual_flow(delivered, 81000.0, 310.0, 0.4) == pytest.approx(0.012, rel=1e-12)


def test_receiver_volume_is_linear_in_the_flows() -> None:
    together = air.receiver_volume(60.0, 0.02, 0.012, 1e5, 2e5)
    apart = air.receiver_flow_volume(60.0, 0.02, 1e5, 2e5) - air.receiver_flow_volume(60.0, 0.012, 1e5, 2e5)
    assert together == pytest.approx(apart, rel=1e-12)
    assert air.receiver_volume(60.0, 0.01, 0.012, 1e5, 2e5) < 0.0


def test_receiver_without_a_band() -> None:
    with pytest.raises(OutsideRange) as caught:
        air.receiver_volume(60.0, 0.02, 0.012, 1e5, 0.0)
    assert str(caught.value) == "pressure band is 0 Pa; the formula holds above 0 Pa"


def test_pump_up_needs_a_flow() -> None:
    with pytest.raises(OutsideRange) as caught:
        air.pump_up_time(0.3, 0.0, 1e5, 2e5)
    assert str(caught.value) == "delivered flow is 0 m3/s; the formula holds above 0 m3/s"


def test_line_drop_grows_with_flow_and_length_and_falls_with_bore_and_pressure() -> None:
    flows = np.linspace(0.0, 0.01, 60)
    assert (np.diff(air.line_pressure_drop(flows, 60.0, 0.0095, 6e5, 293.15)) > 0).all()
    assert (np.diff(air.line_pressure_drop(0.003, flows * 1e4, 0.0095, 6e5, 293.15)) > 0).all()
    bores = np.linspace(0.0064, 0.02, 30)
    assert (np.diff(air.line_pressure_drop(0.003, 60.0, bores, 6e5, 293.15)) < 0).all()
    assert (np.diff(air.line_pressure_drop(0.003, 60.0, 0.0095, np.linspace(3e5, 9e5, 9), 293.15)) < 0).all()


def test_line_drop_of_nothing_is_nothing() -> None:
    assert air.line_pressure_drop(0.0, 60.0, 0.0095, 6e5, 293.15) == 0.0
    assert air.line_pressure_drop(0.003, 0.0, 0.0095, 6e5, 293.15) == 0.0


def test_line_is_laminar_when_slow() -> None:
    """Hagen-Poiseuille with the density at the mean pressure."""
    flow, length, bore, gauge, temperature = 1e-4, 30.0, 0.0127, 6e5, 293.15
    mass = flow * air.STANDARD_AIR_DENSITY
    density = (gauge + 101325.0) / (287.042 * temperature)
    poiseuille = 128 / np.pi * air.air_viscosity(temperature) * length * (mass / density) / bore**4
    assert air.line_pressure_drop(flow, length, bore, gauge, temperature) == pytest.approx(poiseuille, rel=1e-4)


def test_line_that_chokes() -> None:
    with pytest.raises(OutsideRange) as caught:
        air.line_pressure_drop(0.1, 10.0, 0.0064, 2e5, 293.15)
    assert str(caught.value).startswith("Mach number at the end of the line (isothermal) is ")


def test_line_takes_columns_and_floats_alike() -> None:
    bores = np.array([0.0064, 0.0095, 0.0127])
    columns = air.line_pressure_drop(0.003, 60.0, bores, 6e5, 293.15)
    assert isinstance(columns, np.ndarray)
    assert columns.tolist() == pytest.approx(
        [air.line_pressure_drop(0.003, 60.0, float(bore), 6e5, 293.15) for bore in bores], rel=1e-12
    )


def test_orifice_must_choke() -> None:
    with pytest.raises(OutsideRange) as caught:
        air.orifice_flow(0.003, 5e4, 101325.0, 293.15, 1.0)
    assert str(caught.value).startswith("pressure ratio of the orifice is 1.49")


def test_compression_without_a_rise_takes_no_power() -> None:
    assert air.compression_power(0.01, 1e5, 1e5, 1.3, 0.9) == 0.0
    with pytest.raises(OutsideRange) as caught:
        air.compression_power(0.01, 1e5, 8e5, 1.0, 0.9)
    assert str(caught.value) == "exponent is 1; the formula holds from 1 to 1.67"


def test_compression_near_isothermal() -> None:
    """With an exponent near 1 the power is p1 q ln(p2/p1)."""
    found = air.compression_power(0.01, 1e5, 8e5, 1.0001, 1.0)
    assert found == pytest.approx(1e5 * 0.01 * np.log(8.0), rel=2e-4)
