"""Breathing air and noise against the regulations."""

from __future__ import annotations

import pytest

from solver.formulas import breathing, noise
from tests.published import documents as of
from tests.published.printed import MEMORY, READ, Figure, Passage, checked

LITRE_PER_MINUTE = 1e-3 / 60.0
MILLIGRAM = 1e-6
HOUR = 3600.0

RESPIRATORS = Passage(of.NIOSH_TESTS, "subpart J, Table 8", "air of a continuous-flow respirator, type C", READ, held=True)
INLET = Passage(of.NIOSH_TESTS, "84.148", "pressure at the inlet of the hose", READ, held=True)
GRADE_D = Passage(of.OSHA_BREATHING, "(i)(1)(ii)", "breathing air of grade D (ANSI/CGA G-7.1)", READ, held=True)
COMPRESSOR = Passage(of.OSHA_BREATHING, "(i)(5)(ii)", "dew point of compressed air below ambient, degF", READ, held=True)
LIMITS = [
    RESPIRATORS.figure("tight-fitting, L/min", "115", lambda: breathing.respirator_flow("tight-fitting") / LITRE_PER_MINUTE),
    RESPIRATORS.figure("loose-fitting, L/min", "170", lambda: breathing.respirator_flow("loose-fitting") / LITRE_PER_MINUTE),
    RESPIRATORS.figure("most, L/min", "425", lambda: breathing.LARGEST_FLOW / LITRE_PER_MINUTE),
    RESPIRATORS.figure("longest hose, ft", "300", lambda: breathing.LONGEST_HOSE / 0.3048),
    INLET.figure("inlet, psig", "125", lambda: breathing.LARGEST_INLET_PRESSURE / 6894.757293168),
    GRADE_D.figure("least oxygen, %", "19.5", lambda: breathing.GRADE_D_OXYGEN[0] * 100.0),
    GRADE_D.figure("most oxygen, %", "23.5", lambda: breathing.GRADE_D_OXYGEN[1] * 100.0),
    GRADE_D.figure("oil mist, mg/m3", "5", lambda: breathing.GRADE_D_OIL_MIST / MILLIGRAM),
    GRADE_D.figure("carbon monoxide, ppm", "10", lambda: breathing.GRADE_D_MONOXIDE * 1e6),
    GRADE_D.figure("carbon dioxide, ppm", "1000", lambda: breathing.GRADE_D_DIOXIDE * 1e6),
    COMPRESSOR.figure("below ambient", "10", lambda: (300.0 - breathing.grade_d_dew_point(300.0)) * 1.8),
]


@checked(LIMITS)
def test_breathing(figure: Figure) -> None:
    """Limits of the regulations."""
    figure.check()


@pytest.mark.parametrize("fahrenheit", [-10.0, 40.0, 95.0])
def test_grade_d_dew_point(fahrenheit: float) -> None:
    """The same distance whatever the air."""
    kelvin = (fahrenheit + 459.67) / 1.8
    assert breathing.grade_d_dew_point(kelvin) * 1.8 - 459.67 == pytest.approx(fahrenheit - 10.0, abs=1e-9)


# Permissible hours by dBA. The tables hold the formula rounded.
G_16 = {90: "8", 92: "6", 95: "4", 97: "3", 100: "2", 102: "1.5", 105: "1", 110: "0.5", 115: "0.25"}
G_16A = {
    80: "32", 81: "27.9", 82: "24.3", 83: "21.1", 84: "18.4", 85: "16", 86: "13.9", 87: "12.1", 88: "10.6", 89: "9.2",
    91: "7.0", 93: "5.3", 94: "4.6", 96: "3.5", 98: "2.6", 99: "2.3", 101: "1.7", 104: "1.1", 106: "0.87", 107: "0.76",
    108: "0.66", 109: "0.57", 111: "0.44", 112: "0.38", 113: "0.33", 114: "0.29", 116: "0.22", 117: "0.19", 118: "0.16",
    119: "0.14", 120: "0.125", 121: "0.11", 122: "0.095", 123: "0.082", 124: "0.072", 125: "0.063", 126: "0.054",
    127: "0.047", 128: "0.041", 129: "0.036", 130: "0.031",
}  # fmt: skip
TABLE_62_1 = {
    80: "32.0", 85: "16.0", 86: "13.9", 87: "12.1", 88: "10.6", 89: "9.2", 90: "8.0", 91: "7.0", 93: "5.3", 94: "4.6",
    95: "4.0", 96: "3.5", 97: "3.0", 98: "2.6", 99: "2.3", 100: "2.0", 101: "1.7", 105: "1.0", 110: "0.50", 115: "0.25",
}  # fmt: skip
A_1 = {
    10: "73.4", 15: "76.3", 20: "78.4", 25: "80.0", 30: "81.3", 35: "82.4", 40: "83.4", 45: "84.2", 50: "85.0",
    55: "85.7", 60: "86.3", 65: "86.9", 70: "87.4", 75: "87.9", 80: "88.4", 85: "88.8", 90: "89.2", 95: "89.6",
    100: "90.0", 105: "90.4", 110: "90.7", 120: "91.3", 125: "91.6", 130: "91.9", 140: "92.4", 150: "92.9", 200: "95.0",
    250: "96.6", 300: "97.9", 350: "99.0", 400: "100.0", 500: "101.6", 600: "102.9", 700: "104.0", 800: "105.0",
    900: "105.8", 999: "106.6",
}  # fmt: skip
TIMES = (
    (Passage(of.OSHA_NOISE, "Table G-16", "hours permitted at a level", READ), G_16),
    (Passage(of.OSHA_NOISE, "App. A, Table G-16A", "reference duration, h", MEMORY), G_16A),
    (Passage(of.MINE_NOISE, "Table 62-1", "reference duration, h", MEMORY), TABLE_62_1),
)
AVERAGES = Passage(of.OSHA_NOISE, "App. A, Table A-1", "average level of a dose, dBA", MEMORY)
# 90 dBA for 4 h, 95 dBA for 2 h, 85 dBA for 2 h.
DAY = Passage(of.OSHA_NOISE, "worked case to App. A", "dose of a day %, average dBA", READ)
NOISE = [
    passage.figure(f"{level} dBA", hours, lambda level=level: noise.allowed_time(float(level)) / HOUR)
    for passage, table in TIMES
    for level, hours in table.items()
] + [
    AVERAGES.figure(f"{dose} %", level, lambda dose=dose: noise.time_weighted_average(dose / 100.0))
    for dose, level in A_1.items()
] + [
    DAY.figure("dose", "112.5", lambda: 100 * noise.noise_dose([90.0, 95.0, 85.0], [4 * HOUR, 2 * HOUR, 2 * HOUR])),
    DAY.figure("average", "90.85", lambda: noise.time_weighted_average(1.125)),
]  # fmt: skip


@checked(NOISE)
def test_noise(figure: Figure) -> None:
    """Hours, doses, averages."""
    figure.check()


@pytest.mark.parametrize(("hours", "level"), [(8, 90), (4, 95), (2, 100), (1, 105), (0.5, 110), (0.25, 115)])
def test_table_g_16_where_the_formula_is_exact(hours: float, level: float) -> None:
    """Every five decibels halve the time exactly: no rounding in the table. The dose of that day is 1."""
    assert noise.allowed_time(float(level)) == pytest.approx(hours * HOUR, rel=1e-12)
    assert noise.noise_dose([level], [hours * HOUR]) == pytest.approx(1.0, rel=1e-12)
