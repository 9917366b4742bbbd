"""How a figure of a balance is written, in both systems, and what a balance says at its very edge."""

from __future__ import annotations

import math

import pytest

from solver.rules.balance import RESOLUTION, Balance
from solver.rules.instances import Place
from solver.rules.record import ONCE, Basis, Rule, Words
from solver.rules.sentence import binding_sentence, difference, figure, place_words, sentence, shown

FIGURES = {
    "lb/min": ("12.35 lb/min", "5.60 kg/min"),
    "psi": ("12 psi", "85 kPa"),
    "ft": ("12.35 ft", "3.76 m"),
    "W": ("12 W", "12 W"),
    "kW": ("12.35 kW", "12.35 kW"),
    "kVA": ("12.35 kVA", "12.35 kVA"),
    "kWh": ("12.35 kWh", "12.35 kWh"),
    "scfm": ("12.35 scfm", "5.8 L/s free air"),
    "gal": ("12.35 gal", "46.73 L"),
    "lb": ("12 lb", "6 kg"),
    "USD": ("$12", "$12"),
    "ft2": ("12.3 ft2", "1.15 m2"),
    "delta_degF": ("12.35 degF", "6.86 K"),
    "degF": ("12.3 degF", "-10.9 degC"),
    "in": ("12 in", "314 mm"),
    "h": ("12.3 h", "12.3 h"),
    "day": ("12 days", "12 days"),
    "week": ("12 weeks", "12 weeks"),
    "set": ("12.3 sets", "12.3 sets"),
    "1": ("12.3", "12.3"),
    "gpm": ("12.35 gpm", "46.73 L/min"),
}
"""12.3456 of each unit of a rule: 1 lb = 0.45359 kg, 1 psi = 6.8948 kPa, 1 ft = 0.3048 m, 1 gal = 3.78541 L, 12.3456 degF is
(12.3456 - 32) / 1.8 = -10.9 degC, 12.3456 in = 313.6 mm."""


@pytest.mark.parametrize("unit", RESOLUTION)
def test_a_figure_in_both_systems(unit):
    assert (figure(12.3456, unit), figure(12.3456, unit, "si")) == FIGURES[unit]


@pytest.mark.parametrize(
    ("value", "unit", "text"),
    [
        (-1234.5, "USD", "-$1,234"), (-0.4, "USD", "$0"), (-0.6, "USD", "-$1"), (1234.5, "kW", "1,234.50 kW"),
        (-0.001, "kW", "0.00 kW"), (-0.006, "kW", "-0.01 kW"), (0.004, "ft", "0.00 ft"), (-0.4, "psi", "0 psi"),
        (0.0, "1", "0"), (1234.0, "1", "1.23e+03"), (-2.0, "set", "-2 sets"), (100.0, "kW", "100.00 kW"),
    ],
)  # fmt: skip
def test_thousands_signs_and_nothing(value, unit, text):
    assert figure(value, unit) == text


def test_what_is_shown_is_value_and_unit():
    assert shown(10.0, "ft") == (10.0, "ft")
    assert shown(10.0, "kW", "si") == (10.0, "kW")
    assert shown(10.0, "ft", "si") == (pytest.approx(3.048), "m")


def test_a_margin_of_temperatures_has_no_offset():
    assert (difference("degF"), difference("delta_degF"), difference("kW")) == ("delta_degF", "delta_degF", "kW")


# --- places -----------------------------------------------------------------------------------------------------------
@pytest.mark.parametrize(
    ("place", "words"),
    [
        (Place("R-01"), "the whole rig"),
        (Place("R-01", "barn"), "barn"),
        (Place("R-01", "barn", "spraying", "coldest"), "barn, spraying, coldest air"),
        (Place("R-01", "barn", "overnight", "coldest"), "barn, overnight"),
        (Place("R-01", "barn", "", "hottest"), "barn, hottest air"),
        (Place("R-01", part="leg A"), "the whole rig"),
    ],
)
def test_a_place_in_words(place, words):
    assert place_words(Balance(place, "kW", 1.0, 2.0)) == words


def test_a_place_as_it_is_written_in_short():
    assert str(Place("R-01")) == "R-01"
    assert str(Place("R-01", "barn", "spraying", "coldest", "leg A")) == "R-01 (barn, spraying, coldest air, leg A)"
    assert str(Place("R-01", part="leg A")) == "R-01 (leg A)"


# --- balances ---------------------------------------------------------------------------------------------------------
RULES = {
    "R-01": Rule("R-01", "a title", "kW", Basis.PHYSICS, "none: invented", ONCE,
                 Words("{place}: {need} of {supply}, {margin} to spare.", "{place} ({part}): {short} short.",
                       "{need} decides.")),
}  # fmt: skip


def _balance(need: float, supply: float, unit: str = "kW", **more: object) -> Balance:
    return Balance(Place("R-01", part="leg A"), unit, need, supply, **more)  # type: ignore[arg-type]


def test_sentences_begin_with_a_capital_and_are_filled():
    assert sentence(_balance(3.0, 5.0), rules=RULES) == "The whole rig: 3.00 kW of 5.00 kW, 2.00 kW to spare."
    assert sentence(_balance(5.0, 3.0), rules=RULES) == "The whole rig (leg A): 2.00 kW short."
    assert binding_sentence(_balance(3.0, 5.0), rules=RULES) == "3.00 kW decides."


WITHIN = " (Within the resolution of the figures; counted as not fitting.)"


@pytest.mark.parametrize(
    ("short", "unit", "told"),
    [(0.0005, "kW", True), (0.0009999, "kW", True), (0.0015, "kW", False), (0.5, "1", False), (0.0005, "set", False)],
)
def test_what_fails_by_rounding_alone_says_so(short, unit, told):
    """A kW is counted in thousandths. Things and sets are whole: missing half of one is missing one."""
    assert sentence(_balance(3.0, 3.0 - short, unit), rules=RULES).endswith(WITHIN) == told


def test_noise_is_no_margin():
    """A hundred-thousandth of the resolution of 0.001 kW: 1e-8 kW."""
    assert _balance(3.0, 3.0 - 0.9e-8).margin == 0.0
    assert _balance(3.0, 3.0 + 0.9e-8).margin == 0.0
    assert _balance(3.0, 3.0 - 1.1e-8).margin == pytest.approx(-1.1e-8, rel=1e-6)
    assert [_balance(3.0, 3.0 - short).holds for short in (0.0, 0.9e-8, 1.1e-8)] == [True, True, False]
    assert _balance(3.0, 2.0, applies=False).holds


def test_how_tight_a_balance_is():
    """Margin over the larger side."""
    assert _balance(3.0, 4.0).slack_share == 0.25
    assert _balance(4.0, 3.0).slack_share == -0.25
    assert _balance(-4.0, -3.0).slack_share == 0.25
    assert _balance(0.0, 0.0).slack_share == math.inf
