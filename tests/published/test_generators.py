"""Generators and power relations against worked figures of published texts."""

from __future__ import annotations

import pytest

from solver.formulas.electricity import real_power, start_apparent_power_limit, three_phase_apparent_power, voltage_dip
from tests.published.printed import printed

# Worked examples in an engineering text; kVA = sqrt(3) V I / 1000; standing: read. The text prints two decimals.
POWER_RELATIONS = (
    ("480 V 100 A", 480.0, 100.0, None, "83.14"),
    ("480 V 100 A pf 0.9", 480.0, 100.0, 0.9, "74.82"),
    ("600 V 55 A pf 0.92", 600.0, 55.0, 0.92, "52.59"),
)


@pytest.mark.parametrize(
    ("voltage", "current", "power_factor", "figure"),
    [pytest.param(*row[1:], id=f"engineering text, read: {row[0]}") for row in POWER_RELATIONS],
)
def test_power_relations(voltage, current, power_factor, figure):
    """kVA, or kW where a power factor is given."""
    power = three_phase_apparent_power(voltage, current)
    if power_factor is not None:
        power = real_power(power, power_factor)
    assert power / 1000.0 == printed(figure)


def test_voltage_dip():
    """Divider form attributed to IEEE Std 141 and 399, quoted: 600 A locked rotor on a source of 5,000 A dips 10.7 %.

    A source that gives 5,000 A into a short circuit is a set with S/X = 5,000 A times the voltage.
    """
    assert voltage_dip(600.0, 5000.0, 1.0) * 100.0 == printed("10.7")


def test_the_usual_limit_is_reached_by_the_limit():
    """Usual limit 30 % (UFGS-16264A note; MIL-DTL-53133; read): the start allowed dips exactly that much."""
    start = start_apparent_power_limit(50e3, 0.2, 0.30)
    assert voltage_dip(start, 50e3, 0.2) * 100.0 == pytest.approx(30.0, rel=1e-12)
