"""Texts that are no quantity of the wanted dimension, each with its whole sentence."""

from __future__ import annotations

import pytest

from solver.errors import NotANumber, UnitForgotten, UnknownUnit, WrongDimension
from solver.quantities import parse


@pytest.mark.parametrize(
    ("text", "dimension", "kind", "sentence"),
    [
        ("12", "power", UnitForgotten, 'found "12", without a unit; expected a power such as 12 kW. Try: 12 kW'),
        (12, "power", UnitForgotten, "found 12; expected a power such as 12 kW. Try: 12 kW"),
        (True, "power", NotANumber, "found True; expected a power such as 12 kW."),
        (None, "power", NotANumber, "found None; expected a power such as 12 kW."),
        (["1"], "power", NotANumber, "found a list; expected a power such as 12 kW."),
        ({"a": "1"}, "power", NotANumber, "found a mapping; expected a power such as 12 kW."),
        ("", "power", NotANumber, 'found "", which is empty; expected a power such as 12 kW.'),
        (
            "kW",
            "power",
            NotANumber,
            'found "kW", which does not begin with a number; expected a power such as 12 kW.',
        ),
        (
            "nan kW",
            "power",
            NotANumber,
            'found "nan kW", which does not begin with a number; expected a power such as 12 kW.',
        ),
        (
            ".inf kW",
            "power",
            NotANumber,
            'found ".inf kW", which does not begin with a number; expected a power such as 12 kW.',
        ),
        ("1e999 kW", "power", NotANumber, 'found "1e999 kW", beyond any number; expected a power such as 12 kW.'),
        ("1e308 kW", "power", NotANumber, 'found "1e308 kW", beyond any number; expected a power such as 12 kW.'),
        (
            "2,5 kW",
            "power",
            NotANumber,
            'found "2,5 kW", in which 2,5 is no number; expected a power such as 12 kW. '
            "Try: a decimal point, and commas only between thousands",
        ),
        (
            "1.2.3 kW",
            "power",
            NotANumber,
            'found "1.2.3 kW", in which 1.2.3 is no number; expected a power such as 12 kW.',
        ),
        (
            "2/0 in",
            "length",
            NotANumber,
            'found "2/0 in", a fraction that is no number; expected a length such as 50 ft.',
        ),
        (
            "10-12 kW",
            "power",
            NotANumber,
            'found "10-12 kW", more than one number; expected a power such as 12 kW. Try: one number with one unit',
        ),
        (
            "5 ft 6 in",
            "length",
            NotANumber,
            'found "5 ft 6 in", more than one number; expected a length such as 50 ft. Try: one number with one unit',
        ),
        (
            "\uff15 kW",
            "power",
            NotANumber,
            'found "\uff15 kW", which does not begin with a number; expected a power such as 12 kW.',
        ),
        (
            "12 KW",
            "power",
            UnknownUnit,
            'found "12 KW", whose unit KW is unknown; expected a power such as 12 kW. Try: 12 kW',
        ),
        (
            "5 F",
            "temperature",
            UnknownUnit,
            'found "5 F", whose unit F is unknown; expected a temperature such as 60 degF. '
            "Try: degF (or delta_degF for a difference)",
        ),
        (
            "5 psia",
            "pressure",
            UnknownUnit,
            'found "5 psia", whose unit psia is unknown; expected a pressure such as 120 psi. '
            "Try: the gauge pressure, in psi",
        ),
        (
            "5 zorkmid",
            "pressure",
            UnknownUnit,
            'found "5 zorkmid", whose unit zorkmid is unknown; expected a pressure such as 120 psi.',
        ),
        (
            "1 m^9^9^9^9",
            "length",
            UnknownUnit,
            'found "1 m^9^9^9^9", whose unit m^9^9^9^9 is unknown; expected a length such as 50 ft.',
        ),
        ("12 ft", "pressure", WrongDimension, 'found "12 ft", a length; expected a pressure such as 120 psi.'),
        ("12 kVA", "power", WrongDimension, 'found "12 kVA", an apparent power; expected a power such as 12 kW.'),
        (
            "12 kW",
            "apparent_power",
            WrongDimension,
            'found "12 kW", a power; expected an apparent power such as 25 kVA.',
        ),
        (
            "18 cfm",
            "standard_flow",
            WrongDimension,
            'found "18 cfm", a volume flow; expected a standard flow such as 18 scfm.',
        ),
        (
            "35 degF",
            "temperature_difference",
            WrongDimension,
            'found "35 degF", a temperature; expected a temperature difference such as 2 delta_degF. '
            "Try: 35 delta_degF",
        ),
        (
            "1 %/5 delta_degF",
            "share_per_temperature_difference",
            WrongDimension,
            'found "1 %/5 delta_degF", a temperature; expected a share per temperature difference such as '
            "2 %/delta_degF. Try: 1 %/(5 delta_degF)",
        ),
        ("5 N m", "power", WrongDimension, 'found "5 N m", an energy; expected a power such as 12 kW.'),
        (
            "5 mol",
            "power",
            WrongDimension,
            'found "5 mol", a quantity of dimension [substance]; expected a power such as 12 kW.',
        ),
    ],
)
def test_refused(text, dimension, kind, sentence):
    with pytest.raises(kind) as caught:
        parse(text, dimension)
    assert type(caught.value) is kind
    assert str(caught.value) == sentence
