"""Headings of price lists: which column is which field, what is asked, what is left aside, where the table begins."""

from __future__ import annotations

import pytest

from solver.catalog.take.classes import class_named
from solver.catalog.take.words import parts_of
from solver.errors import EntryError, InputError
from tests.catalog.take_files import RECEIVERS, book, csv_file, taken


def columns(result):
    """Per letter the field and unit of a column that is one."""
    (one,) = result.understood
    return {c.letter: (c.field, c.unit) for c in one.columns if c.field}


def asides(result):
    """Per letter why a column was left aside."""
    (one,) = result.understood
    return {c.letter: c.aside for c in one.columns if not c.field}


def asked(result):
    """Every question with its options."""
    return {question.about: question.options for question in result.questions}


RIGHT = {
    "A": ("label", ""), "B": ("price", "USD"), "C": ("weight", "lb"), "D": ("length", "in"), "E": ("width", "in"),
    "F": ("height", "in"), "G": ("mounting", ""), "H": ("volume", "gal"), "I": ("pressure", ""),
}  # fmt: skip


def test_a_plain_list_is_understood_without_a_question(tmp_path):
    result = taken(csv_file(tmp_path / "list.csv", RECEIVERS))
    assert (columns(result), result.questions) == (RIGHT, ())
    (one,) = result.understood
    assert (one.model.class_name, one.why, one.heading.number) == ("receiver", "by its headings", 1)
    assert one.defaults == ("features", "condition")


@pytest.mark.parametrize(
    ("heading", "ways"),
    [
        ("Weight (lb)", ("Weight", "lb")),
        ("Weight, lbs", ("Weight", "lbs")),
        ("Weight in lbs", ("Weight", "lbs")),
        ("Air per output (scfm/(lb/min))", ("Air per output", "scfm/(lb/min)")),
        ("Weight\n[kg]", ("Weight", "kg")),
        ("Idle burn gal/h", ("Idle burn", "gal/h")),
        ("Price", ("Price", "")),
    ],
)
def test_a_heading_is_a_name_and_a_unit(heading, ways):
    assert ways in list(parts_of(heading))


@pytest.mark.parametrize(
    ("name", "item_class"),
    [
        ("Generators 2026", "generator"), ("air_dryer", "air_dryer"), ("drum-heaters_new", "drum_heater"),
        ("tow vehicles", "tow_vehicle"), ("vehicle", "vehicle"), ("hoses and guns", ""), ("prices", ""), ("shotgun", ""),
    ],
)  # fmt: skip
def test_a_name_speaks_of_one_class_or_of_none(name, item_class):
    assert class_named(name) == item_class


def test_titles_blank_rows_and_a_row_of_units_stand_around_the_headings(tmp_path):
    rows = [
        ["Larkspur Supply", "", "", "", "", "", "", "", ""],
        ["Prices as of autumn", "", "", "", "", "", "", "", ""],
        [""] * 9,
        ["Item", "Price", "Weight", "Length", "Width", "Height", "Mounting", "Volume", "Pressure"],
        ["", "USD", "lb", "in", "in", "in", "", "gal", "psi"],
        ["Receiver, steel, 20 gal", "290", "92", "0", "0", "0", "outside", "20", "150"],
    ]
    result = taken(csv_file(tmp_path / "list.csv", rows), class_name="receiver")
    assert columns(result) == RIGHT | {"I": ("pressure", "psi")}
    (one,) = result.understood
    assert (one.heading.number, one.units.number, result.questions) == (4, 5, ())
    (read,) = result.taken[0].items
    assert read.entry["price"] == "290 USD"
    assert read.entry["pressure"] == "150 psi"


def test_merged_headings_give_their_group_and_unit_to_the_columns_below_them_alone(tmp_path):
    rows = [
        ["Air receivers", None, None, None, None, None, None, None, None],
        ["Item", "Price (USD)", "Dimensions (in)", None, None, "Weight", "Volume", "Mounting", "Pressure"],
        [None, None, "L", "W", "H", "lb", "gal", None, "psi"],
        ["Receiver, steel", 290, 36, 24, 40, 92, 20, "floor", 150],
    ]
    merges = dict.fromkeys(("A1:I1", "A2:A3", "B2:B3", "C2:E2", "H2:H3"), "merge")
    result = taken(book(tmp_path / "list.xlsx", rows, formats=merges), class_name="receiver")
    found = columns(result)
    assert [found[letter] for letter in "CDE"] == [("length", "in"), ("width", "in"), ("height", "in")]
    assert [found[letter] for letter in "ABFGHI"] == [
        ("label", ""), ("price", "USD"), ("weight", "lb"), ("volume", "gal"), ("mounting", ""), ("pressure", "psi"),
    ]  # fmt: skip
    assert result.understood[0].heading.number == 3
    assert [read.entry["pressure"] for read in result.taken[0].items] == ["150 psi"]


def test_a_group_does_not_reach_beyond_its_merged_cell(tmp_path):
    rows = [
        ["Item", "Price (USD)", "Dimensions (in)", None, None, None, None, None, None],
        [None, None, "L", "W", "H", "Weight (lb)", "Volume (gal)", "Mounting", "Pressure"],
        ["Receiver, steel", 290, 36, 24, 40, 92, 20, "floor", 150],
    ]
    merges = dict.fromkeys(("A1:A2", "B1:B2", "C1:E1"), "merge")
    result = taken(book(tmp_path / "list.xlsx", rows, formats=merges), class_name="receiver")
    assert columns(result)["C"] == ("length", "in")
    assert asked(result) == {
        'column I "Pressure" is pressure without a unit': (
            '--map "Pressure=pressure psi"', '--map "Pressure=pressure kPa"',
        )
    }  # fmt: skip


def test_two_columns_for_one_field_are_asked_about_once(tmp_path):
    rows = [[*row, extra] for row, extra in zip(RECEIVERS, ["Net price (USD)", "250", "1000", "1300"], strict=True)]
    result = taken(csv_file(tmp_path / "list.csv", rows))
    assert asked(result) == {
        'columns B "Price ($)", J "Net price (USD)" are all price': (
            '--map "column B=price"', '--map "Net price (USD)=price"',
        )
    }  # fmt: skip
    assert result.taken == ()
    answered = taken(csv_file(tmp_path / "list.csv", rows), maps=("Net price (USD)=price",))
    assert answered.questions == ()
    assert asides(answered) == {"B": "price is another column's, as --map says"}
    assert [read.entry["price"] for read in answered.taken[0].items] == ["250 USD", "1000 USD", "1300 USD"]


def test_a_heading_that_is_only_like_a_name_is_asked_about_and_an_unknown_one_left_aside(tmp_path):
    rows = [list(row) for row in RECEIVERS]
    rows[0][2] = "Shipping weight, lbs"
    rows = [
        [*row, *more]
        for row, more in zip(rows, [["Colour", "Model no."], ["red", "X"], ["blue", "Y"], ["", "Z"]], strict=True)
    ]
    result = taken(csv_file(tmp_path / "list.csv", rows))
    assert asked(result) == {
        'column C "Shipping weight, lbs" may be weight, or none of the class': (
            '--map "Shipping weight, lbs=weight"', '--map "Shipping weight, lbs=-"',
        )
    }  # fmt: skip
    assert asides(result) == {
        "C": "not sure what it is",
        "J": "no field of the class receiver is called so",
        "K": "a code of a maker or dealer is never made an id",
    }
    left = taken(csv_file(tmp_path / "list.csv", rows), maps=("Shipping weight, lbs=-",), fills=("upkeep_time=1 h",))
    about = [question.about for question in left.questions]
    assert [text.split(":")[0] for text in about] == [
        f"no column is {f}" for f in ("weight", "upkeep_cost", "delivery", "parts")
    ]
    assert left.questions[0].options == ('--fill "weight=... lb"',)


def test_an_actual_flow_is_never_taken_for_a_standard_flow(tmp_path):
    rows = [
        ["Item", "Flow (CFM)", "Dew point (F)", "Pressure drop (psi)", "Purge share (%)"],
        ["Dryer", "25", "39", "3", "0"],
    ]
    rows[0][1] = "Rated flow (CFM)"
    result = taken(csv_file(tmp_path / "dryers.csv", rows), class_name="air_dryer", fills=())
    about = 'column B "Rated flow (CFM)" is rated_flow in CFM, which is no unit of its kind'
    assert asked(result)[about] == (
        '--map "Rated flow (CFM)=rated_flow scfm"', '--map "Rated flow (CFM)=rated_flow standard_L/s"',
    )  # fmt: skip


def test_heading_that_is_itself_a_unit(tmp_path):
    rows = [["Item", "HP", "SCFM", "Cut in (psi)"], ["Compressor", "5", "18", "95"]]
    result = taken(csv_file(tmp_path / "list.csv", rows), class_name="compressor", fills=())
    assert columns(result) == {
        "A": ("label", ""), "B": ("motor_power", "hp"), "C": ("free_air", "scfm"), "D": ("cut_in", "psi"),
    }  # fmt: skip


@pytest.mark.parametrize(
    ("wish", "kind", "message"),
    [
        ({"maps": ("Colour=price",)}, InputError,
         '{file}:1: found no column "Colour"; expected a heading of the table.'),
        ({"maps": ("Item=prize",)}, EntryError,
         'found the field "prize" in "Item=prize" for {file}; expected a field of the class receiver. Try: price'),
        ({"maps": ("Item",)}, EntryError,
         'found --map "Item" for {file}; expected a heading, an equals sign and a field. Try: --map "Item=price"'),
        ({"maps": ("Item=weight kW",)}, EntryError,
         'found the unit "kW" in --map "Item=weight kW" for {file}; expected a unit for weight, such as lb.'),
        ({"fills": ("delivery=soon",)}, EntryError,
         'found --fill "delivery=soon" with "soon", which does not begin with a number for {file}; expected a time of at '
         "least 0 week, such as 4 week."),
        ({"fills": ("label=x",)}, EntryError,
         'found --fill "label=x" for {file}; expected each item\'s own label, from a column.'),
        ({"class_name": "recievers"}, EntryError, 'found class "recievers"; expected one of '),
        ({"row": 9}, InputError, "{file}:9: found nothing in row 9; expected the row of the headings."),
    ],
)  # fmt: skip
def test_what_was_said_wrongly(tmp_path, wish, kind, message):
    path = csv_file(tmp_path / "list.csv", RECEIVERS)
    with pytest.raises(kind) as refused:
        taken(path, **{"class_name": "receiver"} | wish)
    assert str(refused.value).startswith(message.format(file=path))


def test_a_list_of_prices_alone_asks_for_its_class(tmp_path):
    rows = [["Item", "Price ($)"], ["A thing", "12"]]
    result = taken(csv_file(tmp_path / "list.csv", rows), fills=())
    (question,) = result.questions
    assert question.about == "the class of the items is not known"
    assert "--class generator" in question.options


def test_a_file_without_headings(tmp_path):
    path = csv_file(tmp_path / "list.csv", [["1", "2"], ["3", "4"]])
    with pytest.raises(InputError) as refused:
        taken(path, class_name="gun")
    assert str(refused.value) == (
        f"{path}: found no headings; expected a row with headings of the class gun, such as label, price, weight. Try: "
        '--row and --map "Heading=field"'
    )
