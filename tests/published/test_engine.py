"""Engines and fuel against published figures. Each altitude rule is tested under its own name."""

from __future__ import annotations

import pytest

from solver.formulas.air import atmosphere_pressure
from solver.formulas.engine import (
    DIESEL_DENSITY,
    DIESEL_DENSITY_CONVENTIONAL,
    DIESEL_HIGHER_HEATING_VALUE,
    DIESEL_LOWER_HEATING_VALUE,
    Aspiration,
    altitude_factor,
    engine_power,
    fuel_burn,
    fuel_mass,
    handbook_altitude_factor,
    handbook_power,
    heat_value,
    iso_3046_factor,
    temperature_factor,
)
from solver.quantities import factor_of, from_unit, to_unit
from tests.published import documents as of
from tests.published.printed import READ, Figure, Passage, checked, printed

FREE, LOSS = from_unit(500.0, "ft"), from_unit(3.0, "%/kft")
WARM, WARM_LOSS = from_unit(85.0, "degF"), from_unit(1.0, "%/delta_degF") / 5.0
HIGH = from_unit(10000.0, "ft")


FARM = Passage(of.FARM_TEXT, "derating of engines", "loss per 1,000 ft and per 5 degF, %", READ)
# 800 hp at 10,000 ft. The shares that our formula holds are reconstructed from these results; 800 x 0.68 x 0.95 is 516.8.
HANDBOOK = Passage(of.ENERGY_HANDBOOK, "pp. 201-202", "power of an 800 hp engine at 10,000 ft", READ, held=True)
EIA_HEAT = Passage(of.EIA, "diesel fuel", "higher heating value, Btu/gal", READ, held=True)
GREET_HEAT = Passage(of.GREET, "diesel fuel", "lower heating value, Btu/gal", READ, held=True)
GREET_DENSITY = Passage(of.GREET, "diesel fuel", "density, lb/gal", READ, held=True)


def _gallon(heating_value: float) -> float:
    """Heat in a gallon [Btu]."""
    return heat_value(factor_of("gal"), heating_value) / factor_of("Btu")


def _handbook(fahrenheit: float) -> float:
    """The handbook's naturally aspirated engine in air so warm [hp]."""
    warm = from_unit(fahrenheit, "degF")
    return to_unit(handbook_power(from_unit(800.0, "hp"), HIGH, warm, Aspiration.NATURAL), "hp")


FIGURES = [
    FARM.figure("altitude", "3", lambda: (1.0 - altitude_factor(from_unit(1500.0, "ft"), FREE, LOSS)) * 100.0),
    FARM.figure("warm air", "1", lambda: (1.0 - temperature_factor(from_unit(90.0, "degF"), WARM, WARM_LOSS)) * 100.0),
    HANDBOOK.figure("80 degF, hp", "544", lambda: _handbook(80.0)),
    HANDBOOK.figure("110 degF, hp", "516", lambda: _handbook(110.0), steps=1.0, reason="the print seems to cut decimals off"),
    HANDBOOK.figure("supercharged, share", "0.74", lambda: handbook_altitude_factor(HIGH, Aspiration.TURBOCHARGED)),
    EIA_HEAT.figure("diesel", "137381", lambda: _gallon(DIESEL_HIGHER_HEATING_VALUE)),
    GREET_HEAT.figure("diesel", "128450", lambda: _gallon(DIESEL_LOWER_HEATING_VALUE)),
    GREET_DENSITY.figure(
        "conventional", "6.98", lambda: fuel_mass(factor_of("gal"), DIESEL_DENSITY_CONVENTIONAL) / factor_of("lb")
    ),
    GREET_DENSITY.figure("low-sulphur", "7.07", lambda: fuel_mass(factor_of("gal"), DIESEL_DENSITY) / factor_of("lb")),
]


@checked(FIGURES)
def test_engines_and_fuel(figure: Figure) -> None:
    """Each altitude rule under its own name; heat and mass of fuel."""
    figure.check()


def test_nothing_is_lost_below_the_limits():
    """The losses begin at 500 ft and at 85 degF; agricultural engineering text, read."""
    assert altitude_factor(from_unit(500.0, "ft"), FREE, LOSS) == 1.0
    assert temperature_factor(from_unit(85.0, "degF"), WARM, WARM_LOSS) == 1.0


def test_iso_3046():
    """ISO 3046-1 from memory (exponents, references): turbocharged at 10,000 ft 0.734 to 0.738, efficiency 0.8."""
    share = iso_3046_factor(atmosphere_pressure(HIGH), 298.0, Aspiration.TURBOCHARGED, 0.8)
    assert 0.734 <= share <= 0.738


@pytest.mark.parametrize(
    ("aspiration", "pressure_exponent", "temperature_exponent"),
    [
        pytest.param(Aspiration.NATURAL, 1.0, 0.75, id="ISO 3046-1, memory: naturally aspirated"),
        pytest.param(Aspiration.TURBOCHARGED, 0.7, 2.0, id="ISO 3046-1, memory: turbocharged"),
        pytest.param(Aspiration.CHARGE_COOLED, 0.7, 1.2, id="ISO 3046-1, memory: turbocharged, charge-cooled"),
    ],
)
def test_iso_3046_exponents(aspiration, pressure_exponent, temperature_exponent):
    """The stated form with an efficiency of 0.8; at the reference (100 kPa, 298 K) nothing is lost."""
    ratio = 0.75**pressure_exponent * (298.0 / 310.0) ** temperature_exponent
    wanted = ratio - 0.7 * (1.0 - ratio) * (1.0 / 0.8 - 1.0)
    assert iso_3046_factor(75e3, 310.0, aspiration, 0.8) == pytest.approx(wanted, rel=1e-12)
    assert iso_3046_factor(100e3, 298.0, aspiration, 0.8) == 1.0


def test_rules_disagree_within_the_stated_band():
    """Published altitude rules, naturally aspirated at 10,000 ft: 0.62 to 0.715, the band in which they disagree."""
    shares = (
        altitude_factor(HIGH, FREE, LOSS),
        handbook_altitude_factor(HIGH, Aspiration.NATURAL),
        iso_3046_factor(atmosphere_pressure(HIGH), 298.0, Aspiration.NATURAL, 0.8),
    )
    assert all(0.62 <= share <= 0.715 + 1e-12 for share in shares)
    assert shares[0] == printed("0.715")
    assert engine_power(1.0, shares[0], 1.0) == shares[0]


# Approximate chart found in five texts, origin unknown; quoted. Size kW, then gal/h at 1/4, 1/2, 3/4 and full load.
FUEL_CHART = (
    (20, 0.6, 0.9, 1.3, 1.6),
    (30, 1.3, 1.8, 2.4, 2.9),
    (40, 1.6, 2.3, 3.2, 4.0),
    (60, 1.8, 2.9, 3.8, 4.8),
    (75, 2.4, 3.4, 4.6, 6.1),
    (100, 2.6, 4.1, 5.8, 7.4),
)


@pytest.mark.parametrize(
    ("size", "load", "gallons"),
    [
        pytest.param(row[0], load, figure, id=f"fuel chart, quoted: {row[0]} kW at {load:.0%}")
        for row in FUEL_CHART
        for load, figure in zip((0.25, 0.5, 0.75, 1.0), row[1:], strict=True)
    ],
)
def test_fuel_chart(size, load, gallons):
    """A line of 0.0125 gal/h idle per rated kW and 0.07 gal/kWh (practice) lies within a third of the chart.

    A range check only: the chart is approximate, and its 30 and 40 kW rows are 17 to 20 percent worse per kWh.
    """
    burn = fuel_burn(
        from_unit(0.0125 * size, "gal/h"), from_unit(0.07, "gal/kWh"), 3600.0, from_unit(size * load, "kWh")
    )
    assert to_unit(burn, "gal") == pytest.approx(gallons, rel=1.0 / 3.0)
