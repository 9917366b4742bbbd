"""Conductors and breakers against the tables of the electrical code and of the wire standard, and against their laws."""

from __future__ import annotations

from math import sqrt

import numpy as np
import pytest

from solver.formulas.electricity import (
    ambient_correction,
    breaker_size,
    conductor_ampacity,
    conductor_area,
    continuous_load_current,
    count_adjustment,
    motor_branch_breaker,
    motor_branch_current,
    voltage_drop,
)
from solver.formulas.electricity_tables import BREAKER_RATINGS, CIRCULAR_MIL, MOTOR_BREAKER
from solver.quantities import from_unit
from tests.published import documents as of
from tests.published.printed import MEMORY, READ, Figure, Passage, checked, rows

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


CHAPTER_9 = [line.split() for line in TABLE_8.strip().splitlines()[1:]]
# ASTM B258, nominal diameters, in; from memory. The code's circular mils are rounded to four digits.
DIAMETERS = {
    "14": "0.0641", "12": "0.0808", "10": "0.1019", "8": "0.1285", "6": "0.1620", "4": "0.2043", "3": "0.2294",
    "2": "0.2576", "1": "0.2893", "1/0": "0.3249", "2/0": "0.3648", "3/0": "0.4096", "4/0": "0.4600",
}  # fmt: skip
AMPACITY = Passage(of.NEC, "Table 310.16", "ampacity of copper, A", READ, held=True)
AMBIENT = Passage(of.NEC, "Table 310.15(B)(1)(1)", "correction for ambient temperature", READ, held=True)
COUNT = Passage(of.NEC, "Table 310.15(C)(1)", "share left with many conductors, %", READ, held=True)
AREA = Passage(of.NEC, "Chapter 9, Table 8", "area of conductors, cmil", READ, held=True)
RESISTANCE = Passage(of.NEC, "Chapter 9, Table 8", "resistance of stranded copper, ohm per 1000 ft", READ)
RATING = Passage(of.NEC, "240.6(A)", "standard ratings of breakers, A", READ, held=True)
SMALL = Passage(of.NEC, "240.4(D)", "limits of small conductors, A", READ, held=True)
CONTINUOUS = Passage(of.NEC, "210.20(A), 215.3; 425.4(B), 427.4", "factor of continuous loads", READ, held=True)
BRANCH = Passage(of.NEC, "430.22", "factor of a motor's branch", READ, held=True)
BREAKER = Passage(of.NEC, "Table 430.52(C)(1)", "inverse-time breaker, % of the motor's current", READ, held=True)
WIRE = Passage(of.ASTM_B258, "nominal diameters", "diameter of a wire from its area, in", MEMORY)
# 120 V, 10 A, 100 ft, 12 AWG with K = 12.9.
DROP = Passage(of.DROP_TEXT, "worked case", "voltage drop, V", READ)


def kelvin(celsius: float) -> float:
    """Degrees Celsius in K."""
    return from_unit(celsius, "degC")


def _ohms(size: str) -> float:
    """Resistance of 1000 ft by the K method."""
    return voltage_drop(1.0, from_unit(1000.0, "ft"), conductor_area(size), 1) / 2.0


FIGURES = [
    *(
        AMPACITY.figure(f"{s} AWG {t} degC", text, lambda s=s, t=t: conductor_ampacity(s, kelvin(float(t))))
        for s, t, text in rows(TABLE_310_16)
    ),
    *(
        AMBIENT.figure(f"{band} degC, {t} degC insulation", text,
                       lambda a=band.split("-")[0], t=t: ambient_correction(kelvin(float(a)), kelvin(float(t))))
        for band, t, text in rows(TABLE_310_15_B)
    ),
    *(
        COUNT.figure(f"{band} conductors", str(percent), lambda c=band.split("-")[0]: 100.0 * count_adjustment(float(c)))
        for band, percent in TABLE_310_15_C
    ),
    *(AREA.figure(f"{s} AWG", cmil, lambda s=s: conductor_area(s) / CIRCULAR_MIL) for s, cmil, _ in CHAPTER_9),
    *(
        RESISTANCE.figure(f"{s} AWG", ohms, lambda s=s: _ohms(s), share=0.005, reason="K = 12.9 has three digits")
        for s, _, ohms in CHAPTER_9
    ),
    *(RATING.figure(f"{r} A", str(r), lambda r=r: breaker_size(float(r))) for r in STANDARD_RATINGS),
    *(SMALL.figure(f"{s} AWG", str(most), lambda s=s: conductor_ampacity(s, kelvin(60.0))) for s, most in SMALL_CONDUCTORS),
    CONTINUOUS.figure("factor", "1.25", lambda: continuous_load_current(1.0)),
    BRANCH.figure("factor", "1.25", lambda: motor_branch_current(1.0)),
    BREAKER.figure("share", "250", lambda: MOTOR_BREAKER * 100.0),
    *(
        WIRE.figure(f"{s} AWG", text, lambda s=s: sqrt(conductor_area(s) / CIRCULAR_MIL) / 1000.0,
                    steps=1.0 if s == "1/0" else 0.5, reason="from a rounded area" if s == "1/0" else "")
        for s, text in DIAMETERS.items()
    ),
    DROP.figure("12 AWG, 100 ft, 10 A", "3.95", lambda: voltage_drop(10.0, from_unit(100.0, "ft"), 6530 * CIRCULAR_MIL, 1)),
]  # fmt: skip


@checked(FIGURES)
def test_conductors_and_breakers(figure: Figure) -> None:
    """Every printed figure of the tables that we hold, and what we work out from them."""
    figure.check()


@pytest.mark.parametrize(("band", "insulation", "share"), rows(TABLE_310_15_B))
def test_ambient_correction_holds_over_its_band(band, insulation, share):
    """Exact, at both ends of the band."""
    for ambient in band.split("-"):
        assert ambient_correction(kelvin(float(ambient)), kelvin(float(insulation))) == float(share)


@pytest.mark.parametrize(("band", "percent"), TABLE_310_15_C)
def test_count_adjustment_holds_over_its_band(band, percent):
    """Exact, at both ends of the band."""
    for count in band.split("-"):
        assert count_adjustment(float(count)) == pytest.approx(percent / 100.0, rel=1e-12)


@pytest.mark.parametrize(
    ("band", "insulation", "share"),
    [
        pytest.param(*cell, id=f"law at the top of {cell[0]} degC, {cell[1]} degC insulation")
        for cell in rows(TABLE_310_15_B)
    ],
)
def test_ambient_correction_follows_the_heat_law(band, insulation, share):
    """Law, not from the table: sqrt((Tc - Ta)/(Tc - 30)) at the top of each band, to 0.005 (the table's rounding)."""
    top, limit = float(band.split("-")[-1]), float(insulation)
    law = sqrt((limit - top) / (limit - 30.0))
    assert ambient_correction(kelvin(top), kelvin(limit)) == pytest.approx(law, abs=0.005)


def test_three_conductors_keep_all():
    """NEC 2023, 310.16 is stated for up to three loaded conductors; read."""
    assert np.all(count_adjustment(np.array([1.0, 2.0, 3.0])) == 1.0)


@pytest.mark.parametrize("rating", STANDARD_RATINGS[:-1])
def test_just_above_a_rating_the_next_is_taken(rating):
    """The ratings follow each other without a gap."""
    assert breaker_size(rating + 0.01) == STANDARD_RATINGS[STANDARD_RATINGS.index(rating) + 1]


def test_no_other_breaker_is_held():
    """The list held is the list printed."""
    assert tuple(BREAKER_RATINGS) == STANDARD_RATINGS


def test_inverse_time_breaker():
    """2.5 times 100 A is a standard rating itself."""
    assert motor_branch_breaker(100.0) == 250


def test_voltage_drop_three_phase():
    """The stated form for three phases is sqrt(3) K I L / cmil; read."""
    drop = voltage_drop(10.0, from_unit(100.0, "ft"), 6530 * CIRCULAR_MIL, 3)
    assert drop == pytest.approx(sqrt(3.0) * 12.9 * 10.0 * 100.0 / 6530, rel=1e-12)
