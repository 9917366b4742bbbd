"""Motors against the tables of the electrical code: every printed figure, and laws that the tables do not state."""

from __future__ import annotations

from itertools import pairwise
from math import inf, sqrt

import numpy as np
import pytest

from solver.formulas.electricity import (
    code_letter_kva,
    locked_rotor_current,
    motor_apparent_power,
    motor_current,
    motor_real_power,
    unbalance_derating,
)
from solver.formulas.electricity_tables import CODE_LETTERS, FULL_LOAD, LOCKED_ROTOR
from solver.quantities import from_unit, to_unit
from tests.published import documents as of
from tests.published.printed import READ, Figure, Passage, checked, number, rows

# NEC 2023, Table 430.248, single-phase motors, A at V; read.
TABLE_430_248 = """
hp        115    200    208    230
1/6       4.4    2.5    2.4    2.2
1/4       5.8    3.3    3.2    2.9
1/3       7.2    4.1    4.0    3.6
1/2       9.8    5.6    5.4    4.9
3/4      13.8    7.9    7.6    6.9
1          16    9.2    8.8    8.0
1-1/2      20   11.5   11.0     10
2          24   13.8   13.2     12
3          34   19.6   18.7     17
5          56   32.2   30.8     28
7-1/2      80   46.0   44.0     40
10        100   57.5   55.0     50
"""
# NEC 2023, Table 430.250, three-phase motors, A at V; read.
TABLE_430_250 = """
hp        200    208    230    460
1/2       2.5    2.4    2.2    1.1
3/4       3.7    3.5    3.2    1.6
1         4.8    4.6    4.2    2.1
1-1/2     6.9    6.6    6.0    3.0
2         7.8    7.5    6.8    3.4
3        11.0   10.6    9.6    4.8
5        17.5   16.7   15.2    7.6
7-1/2    25.3   24.2     22     11
10       32.2   30.8     28     14
15       48.3   46.2     42     21
20       62.1   59.4     54     27
25       78.2   74.8     68     34
30         92     88     80     40
40        120    114    104     52
50        150    143    130     65
"""
# NEC 2023, Table 430.251(A), single-phase locked rotor, A at V; read.
TABLE_430_251_A = """
hp        115    208    230
1/2      58.8   32.5   29.4
3/4      82.8   45.8   41.4
1          96     53     48
1-1/2     120     66     60
2         144     80     72
3         204    113    102
5         336    186    168
7-1/2     480    265    240
10        600    332    300
"""
# NEC 2023, Table 430.251(B), three-phase locked rotor, A at V; also NEMA MG 1 12.35; read.
TABLE_430_251_B = """
hp        200    208    230    460
1/2        23   22.1     20     10
3/4      28.8   27.6     25   12.5
1        34.5     33     30     15
1-1/2      46     44     40     20
2        57.5     55     50     25
3        73.6     71     64     32
5       105.8    102     92     46
7-1/2     146    140    127   63.5
10      186.3    179    162     81
15        267    257    232    116
20        334    321    290    145
25        420    404    365    183
"""
# NEC 2023, Table 430.7(B), locked-rotor kVA per hp by code letter, from and to; read. V is open at the top.
TABLE_430_7_B = """
letter  from     to
A          0   3.14
B       3.15   3.54
C       3.55   3.99
D        4.0   4.49
E        4.5   4.99
F        5.0   5.59
G        5.6   6.29
H        6.3   7.09
J        7.1   7.99
K        8.0   8.99
L        9.0   9.99
M       10.0  11.19
N       11.2  12.49
P       12.5  13.99
R       14.0  15.99
S       16.0  17.99
T       18.0  19.99
U       20.0  22.39
V       22.4      -
"""
# NEMA MG 1, curve of derating for unbalanced voltage, read off: percent, factor; read.
UNBALANCE = """
percent factor
0       1.0
0.5     1.0
1.5     0.97
2.0     0.95
2.5     0.93
3.0     0.89
3.5     0.85
4.0     0.82
4.5     0.78
5.0     0.76
"""
FULL = "full-load current, A"
LOCKED = "locked-rotor current, A"
MOTOR_TABLES = (
    (Passage(of.NEC, "Table 430.248", FULL, READ, held=True), motor_current, 1, TABLE_430_248),
    (Passage(of.NEC, "Table 430.250", FULL, READ, held=True), motor_current, 3, TABLE_430_250),
    (Passage(of.NEC, "Table 430.251(A)", LOCKED, READ, held=True), locked_rotor_current, 1, TABLE_430_251_A),
    (Passage(of.NEC, "Table 430.251(B)", LOCKED, READ, held=True), locked_rotor_current, 3, TABLE_430_251_B),
)
LETTERS = Passage(of.NEC, "Table 430.7(B)", "locked-rotor kVA per hp by code letter", READ, held=True)
CURVE = Passage(of.NEMA_MG_1, "curve of derating, read off", "derating for unbalanced voltage", READ, held=True)


def shaft(power: str) -> float:
    """Printed horsepower in W."""
    return from_unit(number(power), "hp")


def _letter(letter: str, end: str) -> float:
    """kVA per hp: the formula gives the upper end, the table holds both."""
    return CODE_LETTERS[letter][0] if end == "from" else code_letter_kva(letter) * from_unit(1.0, "hp") / 1000.0


FIGURES = [
    passage.figure(f"{power} hp, {voltage} V", text, lambda f=of_motor, p=power, v=voltage, n=n: f(shaft(p), float(v), n))
    for passage, of_motor, n, table in MOTOR_TABLES
    for power, voltage, text in rows(table)
] + [
    LETTERS.figure(f"{letter} {end}", text, lambda letter=letter, end=end: _letter(letter, end))
    for letter, end, text in rows(TABLE_430_7_B)
] + [
    CURVE.figure(f"{percent} %", text, lambda percent=percent: unbalance_derating(float(percent) / 100.0))
    for percent, _, text in rows(UNBALANCE)
]  # fmt: skip


@checked(FIGURES)
def test_motors(figure: Figure) -> None:
    """Every printed figure of the tables that we hold."""
    figure.check()


def test_the_tables_hold_no_other_figures():
    """Rows and columns held are those printed, no more."""
    full_load, locked_rotor = (TABLE_430_248, TABLE_430_250), (TABLE_430_251_A, TABLE_430_251_B)
    for held, printed_tables in ((FULL_LOAD, full_load), (LOCKED_ROTOR, locked_rotor)):
        for phases, table in zip((1, 3), printed_tables, strict=True):
            assert held[phases].currents.size == len(rows(table))


def test_code_letter_v_is_open_at_the_top():
    """Table 430.7(B): V is 22.4 and up."""
    assert CODE_LETTERS["V"][1] == inf


def test_code_letters_follow_on_each_other():
    """Law: each range starts a hundredth above the end of the one before."""
    ends = list(CODE_LETTERS.values())
    for (_, high), (low, _) in pairwise(ends):
        assert low - high == pytest.approx(0.01)


# --- laws that the tables do not state ------------------------------------------------------------------------------


@pytest.mark.parametrize("table", [*FULL_LOAD.values(), *LOCKED_ROTOR.values()], ids=lambda t: f"{t.phases}-phase")
def test_apparent_power_does_not_depend_on_the_column(table):
    """Law: the same motor wound for another voltage has the same V I, to half a printed step and 1 percent."""
    # the columns are 115/230/460 V wound alike; 200 and 208 V are 1.15 and 1.10 times 230 V, not exactly 230/V
    base = table.currents[table.voltages.index(230.0)] * 230.0
    for voltage, currents in zip(table.voltages, table.currents, strict=True):
        step = np.where(currents % 1.0 == 0.0, 0.5, 0.05)
        assert np.all(np.abs(currents * voltage - base) <= 0.01 * base + step * voltage + 0.05 * 230.0)


@pytest.mark.parametrize("phases", [1, 3])
def test_current_and_horsepower_agree(phases):
    """Law: shaft power is 0.24 to 0.73 of V I, rising with size: efficiency times power factor of real motors."""
    table = FULL_LOAD[phases]
    shares = from_unit(table.powers, "hp") / (sqrt(phases) * 230.0 * table.currents[table.voltages.index(230.0)])
    assert np.all((shares > 0.24) & (shares < 0.73))
    assert np.all(np.diff(shares) > -0.006)


@pytest.mark.parametrize("phases", [1, 3])
def test_locked_rotor_is_several_times_full_load(phases):
    """Law: a motor at standstill draws 5 to 10 times its full-load current."""
    for power in LOCKED_ROTOR[phases].powers:
        ratio = locked_rotor_current(from_unit(float(power), "hp"), 230.0, phases) / motor_current(
            from_unit(float(power), "hp"), 230.0, phases
        )
        assert 5.0 <= ratio <= 10.0


@pytest.mark.parametrize("phases", [1, 3])
def test_real_power_never_exceeds_apparent_power(phases):
    """Law: P <= S between the rows too, for the efficiencies from memory."""
    low, high = FULL_LOAD[phases].powers[[0, -1]]
    powers = from_unit(np.geomspace(low, high, 400), "hp")
    apparent = motor_apparent_power(powers, 230.0, phases)
    real = motor_real_power(powers, 230.0, phases)
    assert np.all(real < apparent)
    assert np.all(real > powers)
    assert to_unit(float(real[-1]), "kW") < 50.0
