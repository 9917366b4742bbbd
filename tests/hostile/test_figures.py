"""Figures that look like one thing and were read as another are refused, with a way out."""

from __future__ import annotations

import pytest

from solver.catalog.checks import Quantity
from solver.errors import NotANumber, QuantityError, UnknownUnit
from solver.quantities import parse

POINT = "Try: a decimal point, and commas only between thousands"
FRACTION = "Try: one figure with one unit; a fraction below 1 in lowest terms, such as 3/8"
ONE = "Try: one number with one unit"
RAISED = "Try: the raised figure written out, or after the unit"


@pytest.mark.parametrize(
    ("text", "dimension", "sentence"),
    [
        ("0,125 kg", "mass", f'found "0,125 kg", in which 0,125 is no number; expected a mass such as 480 lb. {POINT}'),
        ("12,5 kg", "mass", f'found "12,5 kg", in which 12,5 is no number; expected a mass such as 480 lb. {POINT}'),
        ("1,25,000 kg", "mass",
         f'found "1,25,000 kg", in which 1,25,000 is no number; expected a mass such as 480 lb. {POINT}'),
        ("120/240 V", "voltage",
         f'found "120/240 V", in which 120/240 is no fraction; expected a voltage such as 240 V. {FRACTION}'),
        ("12/24 V", "voltage",
         f'found "12/24 V", in which 12/24 is no fraction; expected a voltage such as 240 V. {FRACTION}'),
        ("9/8 in", "length", f'found "9/8 in", in which 9/8 is no fraction; expected a length such as 50 ft. {FRACTION}'),
        ("1250² ft", "length",
         f'found "1250² ft", a raised figure after a number; expected a length such as 50 ft. {RAISED}'),
        ("1e-400 kg", "mass", 'found "1e-400 kg", too small for any number; expected a mass such as 480 lb.'),
        ("1 kg (5)", "mass", f'found "1 kg (5)", more than one number; expected a mass such as 480 lb. {ONE}'),
        ("1'250 kg", "mass", f"found \"1'250 kg\", more than one number; expected a mass such as 480 lb. {ONE}"),
        ("\u202e12 kg", "mass",
         'found "\\u202e12 kg", which does not begin with a number; expected a mass such as 480 lb.'),
        ("9" * 200 + " kg", "mass",
         f'found "{"9" * 57}...", a text of 203 characters; expected a mass such as 480 lb.'),
    ],
)  # fmt: skip
def test_refused(text, dimension, sentence):
    with pytest.raises(NotANumber) as caught:
        parse(text, dimension)
    assert str(caught.value) == sentence


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("1_000 kg", 'found "1_000 kg", whose unit _000 kg is unknown; expected a mass such as 480 lb.'),
        ("0x10 kg", 'found "0x10 kg", whose unit x10 kg is unknown; expected a mass such as 480 lb.'),
        ("12 k\u0433", 'found "12 k\u0433", whose unit k\u0433 is unknown; expected a mass such as 480 lb.'),
        ("1 kg inf", 'found "1 kg inf", whose unit kg inf is unknown; expected a mass such as 480 lb. Try: 1 kg/min'),
        ("1 kg nan", 'found "1 kg nan", whose unit kg nan is unknown; expected a mass such as 480 lb.'),
    ],
)
def test_not_a_unit(text, sentence):
    with pytest.raises(UnknownUnit) as caught:
        parse(text, "mass")
    assert str(caught.value) == sentence


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("1,250 lb", "mass", 1250 * 0.45359237),
        ("1,250,000.5 kg", "mass", 1250000.5),
        ("0.125 kg", "mass", 0.125),
        ("010 kg", "mass", 10.0),
        ("1/3 hp", "power", 745.69987158227022 / 3),
        ("1 63/64 in", "length", (1 + 63 / 64) * 0.0254),
        ("12 ft²", "area", 12 * 0.3048**2),
        ("1 %/(100 m)", "share_per_length", 1e-4),
    ],
)
def test_still_read(text, dimension, value):
    assert parse(text, dimension) == pytest.approx(value, rel=1e-13)


def test_a_figure_too_small_to_divide_by_is_taken_for_a_slip():
    check = Quantity("mass", "480 lb").checker()
    with pytest.raises(QuantityError) as caught:
        check("5e-324 kg")
    assert str(caught.value) == (
        'found "5e-324 kg", a figure too small to be meant; expected a mass above 0 lb, such as 480 lb.'
    )
    assert check("1 mg") == 1e-6


@pytest.mark.parametrize("text", ["1e15 USD", "-1 USD"])
def test_a_price_that_cannot_be(text):
    with pytest.raises(QuantityError, match=r'^found "-?1e?1?5? USD"; expected an amount of money of at least 0 USD'):
        Quantity("money", "3200 USD", above=False).checker()(text)
