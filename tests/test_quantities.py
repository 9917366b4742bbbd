"""Units at the edges: every table row against pint, what is read, what is refused and how, round trips, speed."""

from __future__ import annotations

import doctest
import subprocess
import sys
import time

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver import quantities
from solver.errors import NotANumber, QuantityError, UnitForgotten, UnknownUnit, WrongDimension
from solver.quantities import (
    DIMENSIONS,
    UNITS,
    dimension_of,
    display_unit,
    example_of,
    factor_of,
    from_unit,
    parse,
    pint_registry,
    show,
    to_unit,
    write,
)
from solver.unit_table import OFFSETS, SI_UNITS, SPELLINGS, US_UNITS

ROWS = [(dimension, unit) for dimension, units in UNITS.items() for unit in units]


def in_pint(unit: str):
    """The quantity of one such unit in pint."""
    registry = pint_registry()
    if unit in OFFSETS:
        return registry.Quantity(1.0, unit)
    return registry.Quantity(1.0, "") * registry.parse_expression("" if unit in ("1", "-") else unit)


@pytest.mark.parametrize(("dimension", "unit"), ROWS)
def test_every_row_of_the_table_is_what_pint_says(dimension, unit):
    """pint 0.24 and later, with the trade's own units defined on top. Twelve digits: both compute in doubles."""
    registry = pint_registry()
    si = registry.parse_units(DIMENSIONS[dimension])
    one = in_pint(unit)
    expected = one.to(si).magnitude
    assert UNITS[dimension][unit] + OFFSETS.get(unit, 0.0) == pytest.approx(expected, rel=1e-12)
    if unit in OFFSETS:
        assert OFFSETS[unit] == pytest.approx(registry.Quantity(0.0, unit).to(si).magnitude, rel=1e-12)


def test_the_table_is_consistent_in_itself():
    assert all(next(iter(units.values())) == 1.0 for units in UNITS.values())
    assert all(unit in UNITS[dimension] for table in (US_UNITS, SI_UNITS) for dimension, unit in table.items())
    known = {unit for units in UNITS.values() for unit in units}
    assert [unit for unit in SPELLINGS.values() if unit not in known] == []
    assert [dimension for dimension in UNITS if parse(example_of(dimension), dimension) <= 0.0] == []


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("12 kW", "power", 12000.0),
        ("12kW", "power", 12000.0),
        ("  12   kW ", "power", 12000.0),
        ("7.5 hp", "power", 7.5 * 745.69987158227),
        ("10 kBtu/h", "power", 10 * 1055.056 / 3.6),
        ("3/8 in", "length", 0.009525),
        ("1 1/2 in", "length", 0.0381),
        ("1½ in", "length", 0.0381),
        ("-3/8 in", "length", -0.009525),
        ("1,234.5 lb", "mass", 1234.5 * 0.45359237),
        ("1e3 kg", "mass", 1000.0),
        ("1,200 ft", "length", 365.76),
        ("$3,200", "money", 3200.0),
        ("$ 3,200.50", "money", 3200.5),
        ("-$5", "money", -5.0),
        ("3200 USD", "money", 3200.0),
        ("$1.35/board_foot", "money_per_board_feet", 1.35),
        ("4.20 USD/gal", "money_per_volume", 4.2 / 0.003785411784),
        ("15 %", "share", 0.15),
        ("0.15", "share", 0.15),
        ("15%", "share", 0.15),
        ("70 °F", "temperature", 529.67 * 5 / 9),
        ("70 degF", "temperature", 529.67 * 5 / 9),
        ("-40 degC", "temperature", 233.15),
        ("−40 degC", "temperature", 233.15),
        ("40 delta_degF", "temperature_difference", 40 * 5 / 9),
        ("40 delta degF", "temperature_difference", 40 * 5 / 9),
        ("40 Δ°F", "temperature_difference", 40 * 5 / 9),
        ("5 K", "temperature_difference", 5.0),
        ("300 K", "temperature", 300.0),
        ("2000 psi", "pressure", 13789514.586336723),
        ("2000 psig", "pressure", 13789514.586336723),
        ("18 scfm", "standard_flow", 18 * 0.3048**3 / 60),
        ("30 standard m3/h", "standard_flow", 30 / 3600),
        ("2.1 scfm/(lb/min)", "standard_volume_per_mass", 2.1 * 0.3048**3 / 0.45359237),
        ("2 scfm/gpm", "standard_flow_per_flow", 2 * 0.3048**3 / 0.003785411784),
        ("0.4 gal/h", "fuel_rate", 0.4 * 0.003785411784 / 3600),
        ("250 mPa·s", "viscosity", 0.25),
        ("250 mPa*s", "viscosity", 0.25),
        ("250 cP", "viscosity", 0.25),
        ("0.18 W/(ft K)", "conductance_per_length", 0.18 / 0.3048),
        ("1.8 kJ/(kg K)", "specific_heat_capacity", 1800.0),
        ("3 %/kft", "share_per_length", 0.03 / 304.8),
        ("1 %/(5 delta_degF)", "share_per_temperature_difference", 0.01 / (5 * 5 / 9)),
        ("1 %/(3 delta_degF)", "share_per_temperature_difference", 0.01 / (3 * 5 / 9)),
        ("1800 rpm", "rotation_speed", 30.0),
        ("1.5 1/h", "rate", 1.5 / 3600),
        ("3000 board feet", "board_feet", 3000.0),
        ("3000 board_feet/day", "board_feet_rate", 3000 / 86400),
        ("12 ft\u00b2", "area", 12 * 0.3048**2),
        ("12\u00a0kW", "power", 12000.0),
        ("40 µm", "length", 4e-5),
        ("2 furlong", "length", 402.33680467360935),
        ("2 weeks", "time", 1209600.0),
    ],
)
def test_read(text, dimension, value):
    """Values worked out from the definitions of the units."""
    assert parse(text, dimension) == pytest.approx(value, rel=1e-13)


def test_units_know_their_dimension():
    assert {unit: dimension_of(unit) for unit in ("K", "VA/W", "m3/s", "J/(kg K)", "dBA", "-")} == {
        "K": "temperature",
        "VA/W": "apparent_power_per_power",
        "m3/s": "volume_flow",
        "J/(kg K)": "specific_heat_capacity",
        "dBA": "sound_level",
        "-": "share",
    }
    with pytest.raises(UnknownUnit) as caught:
        dimension_of("kw")
    assert str(caught.value) == 'found the unit "kw"; expected a unit that is known, such as kW. Try: kW'


def test_arrays_and_floats_go_through_the_same_conversion():
    values = np.array([0.0, 294.26111111111106])
    assert to_unit(values, "degF") == pytest.approx([-459.67, 70.0])
    assert from_unit(np.array([1.0, 2.0]), "kW") == pytest.approx([1000.0, 2000.0])
    assert from_unit(70.0, "degF") == pytest.approx(294.26111111111106)
    assert factor_of("degF") == 5 / 9


@pytest.mark.parametrize(
    ("value", "unit", "digits", "text"),
    [
        (12000.0, "kW", None, "12.0 kW"),
        (3200.0, "USD", None, "3,200 USD"),
        (1234567.0, "USD", None, "1,234,567 USD"),
        (0.15, "%", None, "15.0 %"),
        (0.15, "%", 0, "15 %"),
        (0.0, "kW", None, "0 kW"),
        (-1e-9, "kW", 1, "0.0 kW"),
        (255.37222222222223, "degF", 1, "0.0 degF"),
        (0.009525, "in", None, "0.375 in"),
        (1e-12, "m", None, "1e-12 m"),
        (float("nan"), "m", None, "nan m"),
    ],
)
def test_show(value, unit, digits, text):
    assert show(value, unit, digits) == text


PAIRS = [(dimension, display_unit(dimension, system)) for dimension in UNITS for system in ("us", "si")]


@given(st.sampled_from(PAIRS), st.floats(1e-6, 1e9))
def test_what_is_written_reads_back_as_the_same_value(pair, figure):
    dimension, unit = pair
    value = from_unit(figure, unit)
    assert parse(write(value, unit), dimension) == pytest.approx(value, rel=1e-11)


@given(st.sampled_from(PAIRS), st.floats(1e-3, 1e9))
def test_what_is_shown_reads_back_to_its_three_figures(pair, figure):
    dimension, unit = pair
    again = to_unit(parse(show(from_unit(figure, unit), unit), dimension), unit)
    assert again == pytest.approx(figure, rel=5.1e-3)


EVERY_UNIT = [(dimension, unit) for dimension, units in UNITS.items() for unit in units]


@given(st.sampled_from(EVERY_UNIT), st.from_regex(r"-?[0-9]{1,16}(\.[0-9]{1,16})?", fullmatch=True))
def test_the_commonest_form_is_read_as_the_same_text_with_a_space_more(pair, figure):
    """Two spaces lead the long way, past the short one."""
    dimension, unit = pair

    def read(text):
        try:
            return parse(text, dimension)
        except QuantityError as error:
            return type(error), error.expected, error.advice

    assert read(f"{figure} {unit}") == read(f"{figure}  {unit}")


@given(st.text(max_size=40), st.sampled_from(sorted(UNITS)))
def test_any_text_is_a_finite_number_or_refused_in_one_line(text, dimension):
    try:
        assert np.isfinite(parse(text, dimension))
    except (NotANumber, UnitForgotten, UnknownUnit, WrongDimension) as error:
        assert str(error).startswith("found ")


def test_the_table_path_does_not_import_pint():
    script = "import sys; from solver.quantities import parse; parse('12 kW', 'power'); print('pint' in sys.modules)"
    done = subprocess.run([sys.executable, "-c", script], capture_output=True, text=True, check=True)
    assert done.stdout == "False\n"


def test_a_repeated_text_is_read_within_two_microseconds():
    """The best of many runs, so that a busy machine does not fail it."""
    parse("12 kW", "power")
    best = 1.0
    for _ in range(50):
        start = time.perf_counter()
        for _ in range(1000):
            parse("12 kW", "power")
        best = min(best, (time.perf_counter() - start) / 1000)
    assert best <= 2e-6


def test_examples_in_the_docstrings():
    assert doctest.testmod(quantities).failed == 0
