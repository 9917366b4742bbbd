"""Generators and power relations against worked figures of published texts."""

from __future__ import annotations

import pytest

from solver.formulas.electricity import real_power, start_apparent_power_limit, three_phase_apparent_power, voltage_dip
from tests.published import documents as of
from tests.published.printed import QUOTED, READ, Figure, Passage, checked

POWER = Passage(of.POWER_TEXT, "worked examples", "kVA = sqrt(3) V I / 1000, and kW", READ)
# A source that gives 5,000 A into a short circuit is a set with S/X = 5,000 A times the voltage.
DIP = Passage(of.DIP_TEXT, "worked case", "dip of 600 A on a source of 5,000 A, %", QUOTED)
FIGURES = [
    POWER.figure("480 V 100 A, kVA", "83.14", lambda: three_phase_apparent_power(480.0, 100.0) / 1e3),
    POWER.figure("480 V 100 A 0.90, kW", "74.82", lambda: real_power(three_phase_apparent_power(480.0, 100.0), 0.9) / 1e3),
    POWER.figure("600 V 55 A 0.92, kW", "52.59", lambda: real_power(three_phase_apparent_power(600.0, 55.0), 0.92) / 1e3),
    DIP.figure("locked rotor", "10.7", lambda: voltage_dip(600.0, 5000.0, 1.0) * 100.0),
]


@checked(FIGURES)
def test_power_and_dip(figure: Figure) -> None:
    """Power relations, and the voltage divider of a start."""
    figure.check()


def test_the_usual_limit_is_reached_by_the_limit():
    """Usual limit 30 % (UFGS-16264A note; MIL-DTL-53133; read): the start allowed dips exactly that much."""
    start = start_apparent_power_limit(50e3, 0.2, 0.30)
    assert voltage_dip(start, 50e3, 0.2) * 100.0 == pytest.approx(30.0, rel=1e-12)
