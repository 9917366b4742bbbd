"""Breathing air and noise against the regulations. Standing of each figure: read, quoted, memory, derived."""

from __future__ import annotations

import pytest

from solver.formulas import breathing, noise

LITRE_PER_MINUTE = 1e-3 / 60.0
MILLIGRAM = 1e-6


# 42 CFR 84 subpart J Table 8 (continuous flow, Type C). Standing: read. Exact figures of a regulation.
@pytest.mark.parametrize(("kind", "litres"), [("tight-fitting", 115), ("loose-fitting", 170)])
def test_respirator_flow(kind: str, litres: float) -> None:
    assert breathing.respirator_flow(kind) / LITRE_PER_MINUTE == pytest.approx(litres, rel=1e-12)


@pytest.mark.parametrize(
    ("found", "unit", "printed"),
    [
        pytest.param(breathing.LARGEST_FLOW, LITRE_PER_MINUTE, 425, id="42 CFR 84 Table 8: most L/min (read)"),
        pytest.param(breathing.LONGEST_HOSE, 0.3048, 300, id="42 CFR 84 Table 8: hose ft (read)"),
        pytest.param(breathing.LARGEST_INLET_PRESSURE, 6894.757293168, 125, id="42 CFR 84.148: inlet psig (read)"),
        pytest.param(breathing.GRADE_D_OXYGEN[0], 0.01, 19.5, id="29 CFR 1910.134(i)(1)(ii): least oxygen % (read)"),
        pytest.param(breathing.GRADE_D_OXYGEN[1], 0.01, 23.5, id="29 CFR 1910.134(i)(1)(ii): most oxygen % (read)"),
        pytest.param(breathing.GRADE_D_OIL_MIST, MILLIGRAM, 5, id="29 CFR 1910.134(i)(1)(ii): oil mg/m3 (read)"),
        pytest.param(breathing.GRADE_D_MONOXIDE, 1e-6, 10, id="29 CFR 1910.134(i)(1)(ii): CO ppm (read)"),
        pytest.param(breathing.GRADE_D_DIOXIDE, 1e-6, 1000, id="29 CFR 1910.134(i)(1)(ii): CO2 ppm (read)"),
    ],
)
def test_limits(found: float, unit: float, printed: float) -> None:
    assert found / unit == pytest.approx(printed, rel=1e-8)


@pytest.mark.parametrize("fahrenheit", [-10.0, 40.0, 95.0])
def test_grade_d_dew_point(fahrenheit: float) -> None:
    """29 CFR 1910.134, ANSI/CGA G-7.1: compressor dew point 10 degF below ambient, at 1 atm. Standing: read."""
    kelvin = (fahrenheit + 459.67) / 1.8
    assert breathing.grade_d_dew_point(kelvin) * 1.8 - 459.67 == pytest.approx(fahrenheit - 10.0, abs=1e-9)


# 29 CFR 1910.95 Table G-16: hours, dBA. Standing: read. The table holds the formula of Appendix A rounded, so the hours
# are met at the printed precision: half of the last digit.
G_16 = [
    (8, 90, 0.5), (6, 92, 0.5), (4, 95, 0.5), (3, 97, 0.5), (2, 100, 0.5),
    (1.5, 102, 0.05), (1, 105, 0.5), (0.5, 110, 0.05), (0.25, 115, 0.005),
]  # fmt: skip


@pytest.mark.parametrize(("hours", "level", "tolerance"), G_16)
def test_table_g_16(hours: float, level: float, tolerance: float) -> None:
    assert abs(noise.allowed_time(float(level)) / 3600.0 - hours) <= tolerance


@pytest.mark.parametrize(("hours", "level"), [(8, 90), (4, 95), (2, 100), (1, 105), (0.5, 110), (0.25, 115)])
def test_table_g_16_where_the_formula_is_exact(hours: float, level: float) -> None:
    """Every five decibels halve the time exactly: no rounding in the table. The dose of that day is 1."""
    assert noise.allowed_time(float(level)) == pytest.approx(hours * 3600.0, rel=1e-12)
    assert noise.noise_dose([level], [hours * 3600.0]) == pytest.approx(1.0, rel=1e-12)


# Worked case to 29 CFR 1910.95 App. A: 90 dBA 4 h, 95 dBA 2 h, 85 dBA 2 h: dose 112.5 %, TWA 90.85 dBA. Standing: read.
def test_dose_of_a_day() -> None:
    dose = noise.noise_dose([90.0, 95.0, 85.0], [4 * 3600.0, 2 * 3600.0, 2 * 3600.0])
    assert abs(100 * dose - 112.5) <= 0.05


def test_average_of_a_day() -> None:
    assert abs(noise.time_weighted_average(1.125) - 90.85) <= 0.005
