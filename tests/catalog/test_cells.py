"""One cell to one entry: figures as price lists write them, what is refused, and that nothing changes on the way."""

from __future__ import annotations

from decimal import Decimal

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.catalog.base import item_classes
from solver.catalog.checks import Quantity
from solver.catalog.take.exact import exact_number, exact_text
from solver.catalog.take.guard import with_guard, without_guard
from solver.catalog.take.numbers import Convention
from solver.catalog.take.sheet import Cell
from solver.catalog.take.units import unit_in
from solver.catalog.take.values import entry_of, figure_text
from solver.errors import EntryError, NotANumber, QuantityError, UnitForgotten, WrongDimension
from solver.quantities import UNITS, parse

POINT, COMMA, OPEN = Convention("point"), Convention("comma"), Convention()
DOUBT = Convention(doubt='row 4 has "12,5"')


def read(text: str, field: str, item_class: str = "generator", unit: str | None = None, way: Convention = OPEN):
    """The entry of a cell with this text."""
    return entry_of(Cell(text), item_classes()[item_class], field, unit, way)


@pytest.mark.parametrize(
    ("text", "field", "unit", "entry"),
    [
        ("1,250 lb", "weight", None, "1250 lb"),
        ("1,250 LBS.", "weight", None, "1250 lb"),
        ("1,250", "weight", "lb", "1250 lb"),
        ("560 kg", "weight", "lb", "560 kg"),
        ("$1,250.00", "price", None, "1250.00 USD"),
        ("US$ 1,250", "price", None, "1250 USD"),
        ("1250 USD", "price", None, "1250 USD"),
        ("$1,250/ea", "price", None, "1250 USD"),
        ("1,250 each", "price", "USD", "1250 USD"),
        ("USD 7,600", "price", None, "7600 USD"),
        ("1,250 $", "price", None, "1250 USD"),
        ("3/8 in", "length", None, "3/8 in"),
        ("2 1/2 in", "length", None, "2 1/2 in"),
        ("2-1/2\"", "length", None, "2 1/2 in"),
        ("2½ in.", "length", None, "2 1/2 in"),
        ("6' 3\"", "length", None, "75 in"),
        ("6 ft 3 1/2 in", "length", None, "75 1/2 in"),
        ("6'", "length", None, "6 ft"),
        (".5", "length", "ft", ".5 ft"),
        ("12.5%", "transient_reactance", None, "12.5 %"),
        ("12.5 pct", "transient_reactance", None, "12.5 %"),
        ("77 °F", "temperature_free", None, "77 degF"),
        ("25 C", "temperature_free", None, "25 degC"),
        ("1,800 RPM", "speed", None, "1800 rpm"),
        ("0.42 gal/hr", "idle_burn", None, "0.42 gal/h"),
        ("68 dB(A)", "sound", None, "68 dBA"),
        ("2 weeks", "delivery", None, "2 week"),
        ("1 250 kg", "weight", None, None),
    ],
)  # fmt: skip
def test_figures_as_price_lists_write_them(text, field, unit, entry):
    if entry is None:
        with pytest.raises(EntryError, match=r"\"1 250\", which may be written with a decimal comma"):
            read(text, field, unit=unit)
        return
    assert read(text, field, unit=unit) == entry


@pytest.mark.parametrize(
    ("text", "entry"),
    [
        ("1.250,00", "1250.00 lb"),
        ("1.250", "1250 lb"),
        ("1,250", "1.250 lb"),
        ("1 250,5 lb", "1250.5 lb"),
        ("0,125", "0.125 lb"),
    ],
)
def test_figures_with_a_decimal_comma_where_that_was_said(text, entry):
    assert read(text, "weight", unit="lb", way=COMMA) == entry


GENERATOR_WEIGHT = "a mass above 0 lb, such as 480 lb"


@pytest.mark.parametrize(
    ("text", "field", "way", "kind", "message"),
    [
        ("1.250,00 lb", "weight", OPEN, EntryError,
         'found "1.250,00", which may be written with a decimal comma; expected a decimal point, or one way for the whole '
         "file. Try: --decimal comma"),
        ("0,125 lb", "weight", OPEN, EntryError,
         'found "0,125", which may be written with a decimal comma; expected a decimal point, or one way for the whole '
         "file. Try: --decimal comma"),
        ("1.250,00 lb", "weight", POINT, EntryError,
         'found "1.250,00", which may be written with a decimal comma; expected a decimal point, or one way for the whole '
         "file."),
        ("1,250 lb", "weight", DOUBT, EntryError,
         'found "1,250", which is one figure with a decimal point and another with a comma (row 4 has "12,5"); expected '
         "one way for the whole file. Try: --decimal comma or --decimal point"),
        ("1.250 lb", "weight", DOUBT, EntryError,
         'found "1.250", which is one figure with a decimal point and another with a comma (row 4 has "12,5"); expected '
         "one way for the whole file. Try: --decimal comma or --decimal point"),
        ("1,25,0 lb", "weight", OPEN, EntryError,
         'found "1,25,0", which is no number; expected a number such as 1250 or 1,250.50.'),
        ("call", "weight", OPEN, QuantityError,
         f'found "call", which does not begin with a number; expected {GENERATOR_WEIGHT}.'),
        ("~480 lb", "weight", OPEN, QuantityError,
         f'found "~480 lb", which does not begin with a number; expected {GENERATOR_WEIGHT}.'),
        ("480", "weight", OPEN, UnitForgotten,
         f'found "480", without a unit; expected {GENERATOR_WEIGHT}. Try: 480 lb'),
        ("480 kW", "weight", OPEN, WrongDimension,
         f'found "480 kW", a power; expected {GENERATOR_WEIGHT}.'),
        ("480 lb*", "weight", OPEN, EntryError,
         'found "480 lb*", with a mark that may belong to a footnote; expected one figure. Try: taking the mark out'),
        ("480² lb", "weight", OPEN, EntryError,
         'found "480² lb", with a mark that may belong to a footnote; expected one figure. Try: taking the mark out'),
        ("400-480 lb", "weight", OPEN, NotANumber,
         f'found "400 -480 lb", more than one number; expected {GENERATOR_WEIGHT}. Try: one number with one unit'),
        ("120/240 lb", "weight", OPEN, EntryError,
         'found "120/240 lb", two figures or an odd fraction; expected one figure.'),
        ("€1,250", "price", OPEN, QuantityError,
         'found "€1,250", an amount in €; expected an amount of money of at least 0 USD, such as 3200 USD. Try: the '
         "amount in US dollars"),
        ("1,250 EUR", "price", OPEN, QuantityError,
         'found "1,250 EUR", an amount in EUR; expected an amount of money of at least 0 USD, such as 3200 USD. Try: the '
         "amount in US dollars"),
        ("$12.50/ft", "price", OPEN, WrongDimension, None),
        ("(1,250)", "price", OPEN, QuantityError,
         'found "(1,250)", which does not begin with a number; expected an amount of money of at least 0 USD, such as 3200 '
         "USD."),
        ("-5 lb", "weight", OPEN, QuantityError, f'found "-5 lb"; expected {GENERATOR_WEIGHT}.'),
        ("=1+1", "weight", OPEN, QuantityError,
         f'found "=1+1", which does not begin with a number; expected {GENERATOR_WEIGHT}.'),
        ("maybe", "cooling", OPEN, EntryError, 'found "maybe"; expected one of liquid, air.'),
        ("<b>quiet</b>", "features", OPEN, EntryError,
         'found "<b>quiet</b>" in the list; expected a list of tags in small letters, digits and hyphens.'),
        ("split 12 kW", "outputs", OPEN, EntryError,
         'found "split 12 kW", with 2 values; expected system power apparent_power, entries apart by ;. Try: split 12 kW '
         "25 kVA"),
        ("split 12 kVA 12 kW", "outputs", OPEN, EntryError, None),
    ],
)  # fmt: skip
def test_what_is_refused_and_why(text, field, way, kind, message):
    with pytest.raises(EntryError) as refused:
        read(text, field, way=way)
    if message is None:
        starts = {
            "split 12 kVA 12 kW": 'found power "12 kVA", an apparent power; expected a power above 0 kW',
            "$12.50/ft": 'found "12.50 USD/ft", a quantity of dimension ',
        }
        assert str(refused.value).startswith(starts[text])
        assert type(refused.value) is kind
        return
    assert str(refused.value) == message
    assert type(refused.value) is kind


@pytest.mark.parametrize("text", ["", "-", "--", "–", "—", "n/a", "N/A", "NA", "n.a."])
def test_cells_that_say_nothing(text):
    assert read(text, "weight", unit="lb") is None
    assert read(text, "features") is None


@pytest.mark.parametrize(
    ("text", "field", "item_class", "entry"),
    [
        ("Yes", "jacket", "hose", "true"),
        ("n", "jacket", "hose", "false"),
        ("Closed cell", "kind", "material", "closed-cell"),
        ("NONE", "hitch", "vehicle", "none"),
        ("none", "features", "vehicle", []),
        ("Remote start; QUIET", "features", "generator", ["remote-start", "quiet"]),
        ("240V, 3 phase", "connections", "compressor", ["240 V", "3-phase"]),
        ("120 volts", "connections", "compressor", ["120 V"]),
        ("none", "connections", "compressor", []),
        ("none", "provides", "tool", None),
        ("2", "stages", "compressor", "2"),
        ("split 12 kW 12 kVA; wye 20 kW 25 kVA", "outputs", "generator",
         [{"system": "split", "power": "12 kW", "apparent_power": "12 kVA"},
          {"system": "wye", "power": "20 kW", "apparent_power": "25 kVA"}]),
        ("50 °F, 1,300 cps; 77 F, 600 cP", "viscosity_b", "material",
         [{"temperature": "50 degF", "viscosity": "1300 cps"}, {"temperature": "77 degF", "viscosity": "600 cP"}]),
    ],
)  # fmt: skip
def test_words_lists_and_flat_spellings(text, field, item_class, entry):
    assert read(text, field, item_class) == entry


def test_numbers_of_a_workbook_take_the_unit_of_their_format_then_that_of_the_column():
    share, money = item_classes()["generator"], item_classes()["generator"].quantity("price")
    assert entry_of(Cell("0.125", True, "%"), share, "transient_reactance", None, OPEN) == "12.5 %"
    assert entry_of(Cell("0.07", True, "%"), share, "transient_reactance", "%", OPEN) == "7 %"
    assert entry_of(Cell("7600", True, "$"), share, "price", None, OPEN) == "7600 USD"
    assert entry_of(Cell("1250.5", True), share, "weight", "lb", OPEN) == "1250.5 lb"
    assert isinstance(money, Quantity)
    with pytest.raises(QuantityError) as refused:
        figure_text(Cell("7600", True, "€"), money, "USD", OPEN)
    assert refused.value.found == "7600, which its format shows in €"
    with pytest.raises(EntryError) as refused:
        entry_of(Cell(wrong="the date or time 2026-03-08 00:00:00"), share, "length", "in", OPEN)
    assert refused.value.found == "the date or time 2026-03-08 00:00:00"


@pytest.mark.parametrize("dimension", UNITS)
def test_every_known_unit_is_found_by_its_own_name(dimension):
    for unit in UNITS[dimension]:
        assert unit_in(unit, dimension) == unit
        assert unit_in(f"({unit})", dimension) == unit


@pytest.mark.parametrize(
    ("text", "dimension"),
    [
        ("CFM", "standard_flow"),
        ("kVA", "power"),
        ("kW", "apparent_power"),
        ("dB", "sound_level"),
        ("each", "money"),
        ("", "mass"),
    ],
)
def test_what_differs_in_meaning_is_not_taken_for_a_unit(text, dimension):
    assert unit_in(text, dimension) is None


QUANTITIES = sorted(
    {
        (name, field)
        for name, model in item_classes().items()
        for field in model.model_fields
        if model.quantity(field) is not None
    }
)


@settings(max_examples=300, deadline=None, derandomize=True)
@given(
    st.sampled_from([("weight", "lb"), ("price", "USD"), ("length", "in"), ("idle_burn", "gal/h"), ("speed", "rpm")]),
    st.decimals(min_value=Decimal("0.001"), max_value=Decimal("9999999"), places=3),
    st.sampled_from(["plain", "thousands", "unit", "dollar", "comma", "upper"]),
)
def test_a_figure_means_the_same_however_it_is_written(of, number, how):
    field, unit = of
    quantity = item_classes()["generator"].quantity(field)
    assert quantity is not None
    wanted = parse(f"{number} {unit}", quantity.dimension)
    text, said, way = f"{number}", unit, OPEN
    if how == "thousands":
        text = f"{number:,}"
    elif how == "unit":
        text, said = f"{number:,} {unit}", "kg"
    elif how == "dollar" and field == "price":
        text, said = f"${number:,}", ""
    elif how == "comma":
        text, way = f"{number:,}".translate(str.maketrans(",.", ".,")), COMMA
    elif how == "upper":
        text, said = f"{number} {unit.upper()}", ""
    written = figure_text(Cell(text), quantity, said or None, way)
    assert parse(written, quantity.dimension) == wanted


@settings(max_examples=300, deadline=None, derandomize=True)
@given(st.sampled_from(QUANTITIES), st.floats(min_value=1e-6, max_value=1e6, allow_subnormal=False))
def test_an_exact_figure_is_exact(of, value):
    quantity = item_classes()[of[0]].quantity(of[1])
    assert quantity is not None
    number = exact_number(value, quantity.dimension, quantity.unit)
    if number is not None:
        assert parse(f"{number!r} {quantity.unit}", quantity.dimension) == value
    assert parse(exact_text(value, quantity.dimension, quantity.unit), quantity.dimension) == value


@settings(max_examples=500, deadline=None, derandomize=True)
@given(st.text(alphabet="'=+-@\t ab1,.", max_size=8))
def test_the_guard_against_formulas_is_undone_exactly(text):
    assert without_guard(with_guard(text)) == text
    assert with_guard(text)[:1] not in ("=", "@") or not text


@settings(max_examples=400, deadline=None, derandomize=True)
@given(st.text(max_size=30), st.sampled_from(QUANTITIES), st.sampled_from([OPEN, COMMA, DOUBT]))
def test_any_text_is_read_or_refused_in_a_sentence(text, of, way):
    model = item_classes()[of[0]]
    try:
        entry = entry_of(Cell(text.strip()), model, of[1], None, way)
    except EntryError as error:
        assert error.found
        assert error.expected
    else:
        quantity = model.quantity(of[1])
        assert entry is None or (quantity is not None and quantity.checker()(entry) >= quantity.least)
