"""Tables of the electrical formulas: motors, locked rotors, code letters, conductors, breakers.

Contents: `HORSEPOWER`; `MotorTable`, `FULL_LOAD`, `LOCKED_ROTOR` (current by shaft power and voltage, for one and three
phases); `EFFICIENCY`; `CODE_LETTERS`; `CIRCULAR_MIL`, `CONDUCTOR_AREAS`, `AMPACITIES`, `AMBIENT_CORRECTIONS`,
`COUNT_ADJUSTMENTS`, `COPPER_RESISTIVITY`; `BREAKER_RATINGS`; the code's factors; `UNBALANCE_FACTORS`.

The figures stand as printed (horsepower, volts, amperes, circular mils, degrees Celsius); the formulas convert.
Source of all tables but two: NFPA 70 (NEC), 2023 edition, at the place named with each. The efficiencies are from
memory; the unbalance factors are read off a curve of NEMA MG 1.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from math import inf, pi

import numpy as np
from numpy.typing import NDArray

from solver.quantities import factor_of

HORSEPOWER = factor_of("hp")
"""One horsepower (550 ft lbf/s) [W]."""


@dataclass(frozen=True, eq=False)
class MotorTable:
    """Current of a motor by shaft power (rows, hp) and rated voltage (columns, V)."""

    phases: int
    powers: NDArray[np.float64]
    voltages: tuple[float, ...]
    currents: NDArray[np.float64]


def _table(phases: int, voltages: tuple[float, ...], rows: Mapping[float, tuple[float, ...]]) -> MotorTable:
    """A table from its rows, currents with one line per voltage."""
    return MotorTable(phases, np.array(list(rows), float), voltages, np.array(list(rows.values()), float).T)


FULL_LOAD: Mapping[int, MotorTable] = {
    1: _table(  # Table 430.248
        1,
        (115.0, 200.0, 208.0, 230.0),
        {
            1 / 6: (4.4, 2.5, 2.4, 2.2),
            1 / 4: (5.8, 3.3, 3.2, 2.9),
            1 / 3: (7.2, 4.1, 4.0, 3.6),
            0.5: (9.8, 5.6, 5.4, 4.9),
            0.75: (13.8, 7.9, 7.6, 6.9),
            1.0: (16, 9.2, 8.8, 8.0),
            1.5: (20, 11.5, 11.0, 10),
            2.0: (24, 13.8, 13.2, 12),
            3.0: (34, 19.6, 18.7, 17),
            5.0: (56, 32.2, 30.8, 28),
            7.5: (80, 46.0, 44.0, 40),
            10.0: (100, 57.5, 55.0, 50),
        },
    ),
    3: _table(  # Table 430.250, to 50 hp
        3,
        (200.0, 208.0, 230.0, 460.0),
        {
            0.5: (2.5, 2.4, 2.2, 1.1),
            0.75: (3.7, 3.5, 3.2, 1.6),
            1.0: (4.8, 4.6, 4.2, 2.1),
            1.5: (6.9, 6.6, 6.0, 3.0),
            2.0: (7.8, 7.5, 6.8, 3.4),
            3.0: (11.0, 10.6, 9.6, 4.8),
            5.0: (17.5, 16.7, 15.2, 7.6),
            7.5: (25.3, 24.2, 22, 11),
            10.0: (32.2, 30.8, 28, 14),
            15.0: (48.3, 46.2, 42, 21),
            20.0: (62.1, 59.4, 54, 27),
            25.0: (78.2, 74.8, 68, 34),
            30.0: (92, 88, 80, 40),
            40.0: (120, 114, 104, 52),
            50.0: (150, 143, 130, 65),
        },
    ),
}
"""Full-load current by number of phases."""

LOCKED_ROTOR: Mapping[int, MotorTable] = {
    1: _table(  # Table 430.251(A)
        1,
        (115.0, 208.0, 230.0),
        {
            0.5: (58.8, 32.5, 29.4),
            0.75: (82.8, 45.8, 41.4),
            1.0: (96, 53, 48),
            1.5: (120, 66, 60),
            2.0: (144, 80, 72),
            3.0: (204, 113, 102),
            5.0: (336, 186, 168),
            7.5: (480, 265, 240),
            10.0: (600, 332, 300),
        },
    ),
    3: _table(  # Table 430.251(B); NEMA MG 1 12.35
        3,
        (200.0, 208.0, 230.0, 460.0),
        {
            0.5: (23, 22.1, 20, 10),
            0.75: (28.8, 27.6, 25, 12.5),
            1.0: (34.5, 33, 30, 15),
            1.5: (46, 44, 40, 20),
            2.0: (57.5, 55, 50, 25),
            3.0: (73.6, 71, 64, 32),
            5.0: (105.8, 102, 92, 46),
            7.5: (146, 140, 127, 63.5),
            10.0: (186.3, 179, 162, 81),
            15.0: (267, 257, 232, 116),
            20.0: (334, 321, 290, 145),
            25.0: (420, 404, 365, 183),
        },
    ),
}
"""Locked-rotor current by number of phases."""

EFFICIENCY: Mapping[int, tuple[NDArray[np.float64], NDArray[np.float64]]] = {
    1: (np.array([1 / 6, 0.5, 1.0, 2.0, 5.0, 10.0]), np.array([0.50, 0.60, 0.66, 0.71, 0.76, 0.80])),
    3: (
        np.array([0.5, 1.0, 2.0, 5.0, 10.0, 20.0, 50.0]),
        np.array([0.70, 0.77, 0.80, 0.84, 0.86, 0.89, 0.91]),
    ),
}
"""Full-load efficiency of plain induction motors by number of phases: hp, share. From memory, on the low side."""

CODE_LETTERS: Mapping[str, tuple[float, float]] = {  # Table 430.7(B)
    "A": (0, 3.14),
    "B": (3.15, 3.54),
    "C": (3.55, 3.99),
    "D": (4.0, 4.49),
    "E": (4.5, 4.99),
    "F": (5.0, 5.59),
    "G": (5.6, 6.29),
    "H": (6.3, 7.09),
    "J": (7.1, 7.99),
    "K": (8.0, 8.99),
    "L": (9.0, 9.99),
    "M": (10.0, 11.19),
    "N": (11.2, 12.49),
    "P": (12.5, 13.99),
    "R": (14.0, 15.99),
    "S": (16.0, 17.99),
    "T": (18.0, 19.99),
    "U": (20.0, 22.39),
    "V": (22.4, inf),
}
"""Locked-rotor apparent power per shaft power, from and to, in kVA per hp. V is open at the top."""

CIRCULAR_MIL = pi / 4 * (0.001 * factor_of("in")) ** 2
"""Area of a circle of one thousandth of an inch across [m2]."""
COPPER_RESISTIVITY = 12.9 * CIRCULAR_MIL / factor_of("ft")
"""Copper at 75 degC: 12.9 ohm for one circular mil and one foot (the K of the K method) [ohm m]."""
CONDUCTOR_AREAS: Mapping[str, float] = {  # Chapter 9 Table 8, cmil
    "14": 4110,
    "12": 6530,
    "10": 10380,
    "8": 16510,
    "6": 26240,
    "4": 41740,
    "3": 52620,
    "2": 66360,
    "1": 83690,
    "1/0": 105600,
    "2/0": 133100,
    "3/0": 167800,
    "4/0": 211600,
}
"""Sizes of conductors (AWG), smallest first, with their area in circular mils."""
AMPACITIES: Mapping[int, tuple[float, ...]] = {  # Table 310.16, copper, sizes in the order of CONDUCTOR_AREAS
    60: (15, 20, 30, 40, 55, 70, 85, 95, 110, 125, 145, 165, 195),
    75: (20, 25, 35, 50, 65, 85, 100, 115, 130, 150, 175, 200, 230),
    90: (25, 30, 40, 55, 75, 95, 115, 130, 145, 170, 195, 225, 260),
}
"""Ampacity of copper by temperature of the insulation (degC): ambient 30 degC, at most three loaded conductors [A]."""
AMBIENT_BANDS: tuple[float, ...] = (10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60)
"""Top of each band of ambient temperature [degC] of `AMBIENT_CORRECTIONS`."""
AMBIENT_CORRECTIONS: Mapping[int, tuple[float, ...]] = {  # Table 310.15(B)(1)(1), base 30 degC
    60: (1.29, 1.22, 1.15, 1.08, 1.0, 0.91, 0.82, 0.71, 0.58, 0.41),
    75: (1.2, 1.15, 1.11, 1.05, 1.0, 0.94, 0.88, 0.82, 0.75, 0.67, 0.58),
    90: (1.15, 1.12, 1.08, 1.04, 1.0, 0.96, 0.91, 0.87, 0.82, 0.76, 0.71),
}
"""Share of the ampacity by temperature of the insulation; 60 degC insulation ends with the band to 55 degC."""
COUNT_ADJUSTMENTS: tuple[tuple[int, float], ...] = ((3, 1.0), (6, 0.8), (9, 0.7), (20, 0.5), (30, 0.45), (40, 0.4))
"""Table 310.15(C)(1): up to so many loaded conductors together, share of the ampacity."""
COUNT_ADJUSTMENT_BEYOND = 0.35
"""Table 310.15(C)(1): share of the ampacity from 41 conductors on."""

BREAKER_RATINGS: NDArray[np.float64] = np.array(  # 240.6(A); the 10 A of the 2023 edition is left out
    (15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400, 450, 500,
     600, 700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000),
    float,
)  # fmt: skip
"""Standard ratings of breakers [A]."""
CONTINUOUS_LOAD = 1.25
"""Branch or feeder rating over a continuous load: 210.20(A), 215.3; process heating counts as one: 425.4(B), 427.4."""
MOTOR_BRANCH = 1.25
"""Ampacity of a motor's branch over its full-load current: 430.22."""
MOTOR_BREAKER = 2.5
"""Most that an inverse-time breaker may be over the motor's full-load current: Table 430.52(C)(1)."""

UNBALANCE_FACTORS: tuple[tuple[float, float], ...] = (
    (0.0, 1.0),
    (0.005, 1.0),
    (0.015, 0.97),
    (0.02, 0.95),
    (0.025, 0.93),
    (0.03, 0.89),
    (0.035, 0.85),
    (0.04, 0.82),
    (0.045, 0.78),
    (0.05, 0.76),
)
"""NEMA MG 1, curve read off: unbalance of the voltage, share of the rated power that a motor may give."""
