"""Conductors and breakers against the tables of the electrical code, and against the laws behind them.

Source: NFPA 70 (NEC), 2023 edition, tables named below; standing: read.
"""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from solver.formulas.electricity import (
    ambient_correction,
    breaker_size,
    conductor_ampacity,
    conductor_area,
    conductor_size,
    continuous_load_current,
    count_adjustment,
    motor_branch_breaker,
    motor_branch_current,
    motor_current,
    voltage_drop,
)
from solver.formulas.electricity_tables import BREAKER_RATINGS, CIRCULAR_MIL, MOTOR_BREAKER
from solver.quantities import from_unit
from tests.published.printed import printed, rows

# NEC 2023, Table 310.16, copper, 30 degC ambient, A by temperature of the insulation in degC; read.
TABLE_310_16 = """
size    60    75    90
14      15    20    25
12      20    25    30
10      30    35    40
8       40    50    55
6       55    65    75
4       70    85    95
3       85   100   115
2       95   115   130
1      110   130   145
1/0    125   150   170
2/0    145   175   195
3/0    165   200   225
4/0    195   230   260
"""
# NEC 2023, Table 310.15(B)(1)(1), base 30 degC, by band of ambient in degC; read.
TABLE_310_15_B = """
band      60    75    90
10      1.29   1.2  1.15
11-15   1.22  1.15  1.12
16-20   1.15  1.11  1.08
21-25   1.08  1.05  1.04
26-30    1.0   1.0   1.0
31-35   0.91  0.94  0.96
36-40   0.82  0.88  0.91
41-45   0.71  0.82  0.87
46-50   0.58  0.75  0.82
51-55   0.41  0.67  0.76
56-60      -  0.58  0.71
"""
# NEC 2023, Table 310.15(C)(1), percent by number of conductors; read.
TABLE_310_15_C = (("4-6", 80), ("7-9", 70), ("10-20", 50), ("21-30", 45), ("31-40", 40), ("41-41", 35))
# NEC 2023, Chapter 9 Table 8, uncoated copper at 75 degC: cmil, ohm per 1000 ft stranded; read.
TABLE_8 = """
size    cmil  stranded
14      4110      3.14
12      6530      1.98
10     10380      1.24
8      16510     0.778
6      26240     0.491
4      41740     0.308
3      52620     0.245
2      66360     0.194
1      83690     0.154
1/0   105600     0.122
2/0   133100    0.0967
3/0   167800    0.0766
4/0   211600    0.0608
"""
# NEC 2023, 240.6(A), A; read. The 10 A that the edition adds is left out.
STANDARD_RATINGS = (
    *(15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350, 400),
    *(450, 500, 600, 700, 800, 1000, 1200, 1600, 2000, 2500, 3000, 4000, 5000, 6000),
)
# NEC 2023, 240.4(D), copper, A; read.
SMALL_CONDUCTORS = (("14", 15), ("12", 20), ("10", 30))


def kelvin(celsius: float) -> float:
    """Degrees Celsius in K."""
    return from_unit(celsius, "degC")


@pytest.mark.parametrize(
    ("size", "insulation", "figure"),
    [pytest.param(*cell, id=f"NEC 2023 310.16, read: {cell[0]} AWG {cell[1]} degC") for cell in rows(TABLE_310_16)],
)
def test_ampacity(size, insulation, figure):
    """Every ampacity held."""
    assert conductor_ampacity(size, kelvin(float(insulation))) == float(figure)


@pytest.mark.parametrize(
    ("band", "insulation", "figure"),
    [
        pytest.param(*cell, id=f"NEC 2023 310.15(B)(1)(1), read: {cell[0]} degC, {cell[1]} degC insulation")
        for cell in rows(TABLE_310_15_B)
    ],
)
def test_ambient_correction(band, insulation, figure):
    """Every factor, at both ends of its band."""
    for ambient in band.split("-"):
        assert ambient_correction(kelvin(float(ambient)), kelvin(float(insulation))) == float(figure)


@pytest.mark.parametrize(
    ("band", "insulation", "figure"),
    [
        pytest.param(*cell, id=f"law at the top of {cell[0]} degC, {cell[1]} degC insulation")
        for cell in rows(TABLE_310_15_B)
    ],
)
def test_ambient_correction_follows_the_heat_law(band, insulation, figure):
    """Law, not from the table: sqrt((Tc - Ta)/(Tc - 30)) at the top of each band, to 0.005 (the table's rounding)."""
    top, limit = float(band.split("-")[-1]), float(insulation)
    law = sqrt((limit - top) / (limit - 30.0))
    assert ambient_correction(kelvin(top), kelvin(limit)) == pytest.approx(law, abs=0.005)


@pytest.mark.parametrize(
    ("band", "percent"),
    [pytest.param(*row, id=f"NEC 2023 310.15(C)(1), read: {row[0]} conductors") for row in TABLE_310_15_C],
)
def test_count_adjustment(band, percent):
    """Every share, at both ends of its band."""
    for count in band.split("-"):
        assert count_adjustment(float(count)) == pytest.approx(percent / 100.0, rel=1e-12)


def test_three_conductors_keep_all():
    """NEC 2023, 310.16 is stated for up to three loaded conductors; read."""
    assert np.all(count_adjustment(np.array([1.0, 2.0, 3.0])) == 1.0)


CHAPTER_9 = [line.split() for line in TABLE_8.strip().splitlines()[1:]]


@pytest.mark.parametrize(
    ("size", "area"), [pytest.param(row[0], row[1], id=f"NEC 2023 ch. 9 table 8, read: {row[0]}") for row in CHAPTER_9]
)
def test_conductor_area(size, area):
    """Every area in circular mils."""
    assert conductor_area(size) / CIRCULAR_MIL == pytest.approx(float(area), rel=1e-12)


@pytest.mark.parametrize(
    ("size", "ohms"), [pytest.param(row[0], row[2], id=f"NEC 2023 ch. 9 table 8, read: {row[0]}") for row in CHAPTER_9]
)
def test_k_method_agrees_with_the_resistances(size, ohms):
    """Law: K = 12.9 gives the table's stranded resistance (ohm per 1000 ft) within the 0.5 percent that is stated."""
    there_and_back = voltage_drop(1.0, from_unit(1000.0, "ft"), conductor_area(size), 1)
    assert there_and_back / 2.0 == pytest.approx(float(ohms), rel=0.005)


@pytest.mark.parametrize("rating", [pytest.param(r, id=f"NEC 2023 240.6(A), read: {r} A") for r in STANDARD_RATINGS])
def test_standard_breaker(rating):
    """A standard rating stays; just above it the next one is taken."""
    assert breaker_size(float(rating)) == rating
    if rating != STANDARD_RATINGS[-1]:
        assert breaker_size(rating + 0.01) == STANDARD_RATINGS[STANDARD_RATINGS.index(rating) + 1]


def test_no_other_breaker_is_held():
    """The list held is the list printed."""
    assert tuple(BREAKER_RATINGS) == STANDARD_RATINGS


@pytest.mark.parametrize(
    ("size", "limit"), [pytest.param(*row, id=f"NEC 2023 240.4(D), read: {row[0]} AWG") for row in SMALL_CONDUCTORS]
)
def test_small_conductors(size, limit):
    """The 60 degC column equals the limits of 240.4(D), so sizing by it keeps them."""
    assert conductor_ampacity(size, kelvin(60.0)) == limit


@pytest.mark.parametrize(
    ("function", "factor"),
    [
        pytest.param(continuous_load_current, "1.25", id="NEC 2023 210.20(A), 215.3, read: continuous load"),
        pytest.param(continuous_load_current, "1.25", id="NEC 2023 425.4(B), 427.4, read: process heating"),
        pytest.param(motor_branch_current, "1.25", id="NEC 2023 430.22, read: motor branch"),
    ],
)
def test_code_factor(function, factor):
    """Factors on a current of 1 A."""
    assert function(1.0) == float(factor)


def test_inverse_time_breaker():
    """NEC 2023, Table 430.52(C)(1), read: 250 percent of the motor's current."""
    assert MOTOR_BREAKER * 100.0 == 250
    assert motor_branch_breaker(100.0) == 250


def test_voltage_drop():
    """K method with K = 12.9, case printed: 120 V, 10 A, 100 ft, 12 AWG loses 3.95 V; read."""
    drop = voltage_drop(10.0, from_unit(100.0, "ft"), 6530 * CIRCULAR_MIL, 1)
    assert drop == printed("3.95")
    assert conductor_area("12") == pytest.approx(6530 * CIRCULAR_MIL, rel=1e-12)


def test_voltage_drop_three_phase():
    """The stated form for three phases is sqrt(3) K I L / cmil; read."""
    drop = voltage_drop(10.0, from_unit(100.0, "ft"), 6530 * CIRCULAR_MIL, 3)
    assert drop == pytest.approx(sqrt(3.0) * 12.9 * 10.0 * 100.0 / 6530, rel=1e-12)


def test_motor_branch():
    """NEC 430.22 and 430.52 worked in three texts, read: 7.5 hp, 230 V, three-phase."""
    current = motor_current(from_unit(7.5, "hp"), 230.0, 3)
    assert current == printed("22")
    assert motor_branch_current(current) == printed("27.5")
    assert conductor_size(motor_branch_current(current), kelvin(60.0)) == "10"
    assert motor_branch_breaker(current) == printed("60")
