"""Price lists into a catalog: nothing is dropped in silence, text stays text, files appear whole, ids are the folder's."""

from __future__ import annotations

import datetime
import shutil
import zipfile

import openpyxl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from solver.catalog.take.csv_in import read_csv
from solver.catalog.take.merges import MOST_UNPACKED
from solver.catalog.take.open import Opening
from solver.catalog.take.place import file_name, items_in, place
from solver.catalog.take.take import take_file
from solver.catalog.take.understand import Wish
from solver.errors import InputError, OutputExists
from solver.files import read_yaml
from tests.catalog.take_files import FILLS, RECEIVERS, accounted, book, csv_file, taken
from tests.cli.run import DEMO


def entries(path):
    """Items of a YAML file as it stands."""
    return read_yaml(path).data["items"]


def reasons(one):
    """Per refused row its mistakes without the file."""
    return {r.row.number: [str(m).partition(": ")[2] for m in r.mistakes] for r in one.refused}


UGLY = [
    ["Larkspur Supply, price list", "", "", "", "", "", "", "", ""],
    ["", "", "", "", "", "", "", "", ""],
    *RECEIVERS,
    ["Used stock", "", "", "", "", "", "", "", ""],
    RECEIVERS[0],
    ["Receiver, used, 60 gal", "call", "210", "48", "24", "50", "floor", "60", "150 psi"],
    ["Receiver, dented", "180*", "", "36", "24", "40", "on the wall", "20", "150 psi"],
    ["", "", "", "", "", "", "", "", ""],
    ["Total", "3,020.00", "", "", "", "", "", "", ""],
    ["* while stocks last", "", "", "", "", "", "", "", ""],
]


def test_every_row_of_an_ugly_list_is_an_item_refused_or_named(tmp_path):
    path = csv_file(tmp_path / "list.csv", UGLY)
    (one,) = taken(path).taken
    assert [read.row.number for read in one.items] == [4, 5, 6]
    assert {row.number: why for row, why in one.no_items} == {
        7: 'a title or note: "Used stock"',
        8: "the headings once more",
        12: 'a sum: "Total"',
        13: 'a title or note: "* while stocks last"',
    }
    assert reasons(one) == {
        9: ['found price (column B) "call", which does not begin with a number; expected an amount of money of at least 0 '
            "USD, such as 3200 USD."],
        10: ['found mounting (column G) "on the wall"; expected one of floor, wall, outside.',
             'found price (column B) "180*", with a mark that may belong to a footnote; expected one figure. Try: taking '
             "the mark out",
             'found weight (column C) nothing; expected a mass above 0 lb, such as 480 lb. Try: --fill "weight=..." for '
             "all rows that say nothing"],
    }  # fmt: skip
    assert accounted(one) == [4, 5, 6, 7, 8, 9, 10, 12, 13]


CELLS = ["", "x", "Total", "12", "12 lb", "-", "outside", "=1", "1.5,2"]


@settings(max_examples=60, deadline=None, derandomize=True)
@given(st.lists(st.lists(st.sampled_from(CELLS), min_size=9, max_size=9), max_size=12))
def test_no_row_is_lost_whatever_it_says(tmp_path_factory, rows):
    heads = [*RECEIVERS[0][:8], "Pressure (psi)"]
    path = csv_file(tmp_path_factory.mktemp("rows") / "list.csv", [heads, *RECEIVERS[1:], *rows])
    (one,) = taken(path, class_name="receiver", decimal="point").taken
    filled = [number for number, row in enumerate([*RECEIVERS, *rows], 1) if any(row)]
    assert accounted(one) == filled[1:]


def test_refused_rows_are_written_beside_and_can_be_mended_and_taken(tmp_path):
    path = csv_file(tmp_path / "list.csv", UGLY)
    folder = tmp_path / "own"
    placed = place(taken(path, folder).taken, folder, force=False, dry=False)
    assert [p.name for p in placed.files] == ["receiver-list.yaml"]
    assert [p.name for p in placed.beside] == ["receiver-list.refused.csv"]
    assert [e["id"] for e in entries(placed.files[0])] == ["receiver-01", "receiver-02", "receiver-03"]
    beside = placed.beside[0]
    text = beside.read_text("utf-8-sig")
    assert text.startswith('refused row,reason,Item,Price ($),"Weight, lbs",')
    mended = text.replace("call", "$400").replace("180*", "180").replace("on the wall", "wall").replace(",,36,", ",70,36,")
    beside.write_text(mended, "utf-8")
    (again,) = taken(beside, folder).taken
    assert [(read.item.id, read.entry["price"], read.entry["weight"]) for read in again.items] == [
        ("receiver-04", "400 USD", "210 lb"), ("receiver-05", "180 USD", "70 lb"),
    ]  # fmt: skip


HOSTILE = [
    "<script>alert(1)</script>", "=HYPERLINK(1)", "+1+1", "-2 sets", "@sum", "'quoted", "a: b # c", "null", "~", "[x]",
    "{a: b}", "*star", "&anchor", "!tag", "%percent", "- dash", '"q"', "\\n", "1:30", "yes", "é 日本 🚚", "|", ">", "---",
]  # fmt: skip


def test_hostile_text_arrives_as_text(tmp_path):
    rows = [RECEIVERS[0], *([text, *RECEIVERS[1][1:]] for text in HOSTILE)]
    folder = tmp_path / "own"
    place(taken(csv_file(tmp_path / "list.csv", rows)).taken, folder, force=False, dry=False)
    assert [e["label"] for e in entries(folder / "receiver-list.yaml")] == HOSTILE
    assert [item.label for item in items_in(folder)["receiver"]] == HOSTILE


def test_an_apostrophe_before_a_formula_is_how_spreadsheets_mark_text(tmp_path):
    rows = [RECEIVERS[0], ["'=1+1", *RECEIVERS[1][1:]], ["'tis small", *RECEIVERS[1][1:]]]
    (one,) = taken(csv_file(tmp_path / "list.csv", rows)).taken
    assert [read.item.label for read in one.items] == ["=1+1", "'tis small"]


def test_labels_that_are_no_line_of_text_are_refused(tmp_path):
    rows = [RECEIVERS[0], ["bell \x07", *RECEIVERS[1][1:]], ["two\nlines", *RECEIVERS[1][1:]], ["x" * 121, *RECEIVERS[1][1:]]]
    (one,) = taken(csv_file(tmp_path / "list.csv", rows)).taken
    assert [read.item.label for read in one.items] == ["two lines"]
    assert [refused.row.number for refused in one.refused] == [2, 5]


def test_ids_go_on_from_those_of_the_folder_and_are_never_made_of_a_code(tmp_path):
    folder = tmp_path / "catalog"
    shutil.copytree(DEMO / "catalog", folder)
    rows = [[*row, code] for row, code in zip(RECEIVERS, ["Model", "AR-20", "AR-30", "AR-31"], strict=True)]
    (one,) = taken(csv_file(tmp_path / "list.csv", rows), folder).taken
    last = max(int(item.id.rpartition("-")[2]) for item in items_in(DEMO / "catalog")["receiver"])
    assert [read.item.id for read in one.items] == [f"receiver-{last + k:02d}" for k in (1, 2, 3)]


def test_ids_of_the_list_that_are_taken_already_are_mistakes_with_file_and_line(tmp_path):
    folder = tmp_path / "catalog"
    shutil.copytree(DEMO / "catalog", folder)
    ids = ["ID", "receiver-01", "tank-a", "tank-a"]
    path = csv_file(tmp_path / "list.csv", [[first, *row] for first, row in zip(ids, RECEIVERS, strict=True)])
    (one,) = taken(path, folder).taken
    line = (folder / "receiver.yaml").read_text("utf-8").split("\n").index("- id: receiver-01") + 1
    assert reasons(one) == {
        2: [f'found id "receiver-01" a second time; expected each id once (first in {folder}/receiver.yaml:{line}).'],
        4: [f'found id "tank-a" a second time; expected each id once (first in {path}:3).'],
    }
    assert [read.item.id for read in one.items] == ["tank-a"]


@pytest.mark.parametrize(
    ("word", "expected"), [("gun", "an id that is no word of the program's own"), ("Tank 7", "small letters")]
)
def test_ids_that_are_none(tmp_path, word, expected):
    rows = [[first, *row] for first, row in zip(["ID", word], RECEIVERS[:2], strict=True)]
    (one,) = taken(csv_file(tmp_path / "list.csv", rows)).taken
    (refused,) = one.refused
    assert refused.mistakes[0].expected.startswith(expected)


def test_figures_that_cannot_stand_beside_each_other_are_a_refused_row(tmp_path):
    rows = [
        ["Item", "Price ($)", "Weight (lb)", "Length (in)", "Width (in)", "Height (in)", "Mounting", "Purge",
         "Purge air (scfm)", "Cleaning air (scfm)", "Air pressure (psi)",
         "Least output (lb/min)", "Largest output (lb/min)", "Pressure (psi)"],
        ["Gun", "1420", "5", "0", "0", "0", "wall", "air", "4.5", "10", "80", "20", "16", "3000"],
    ]  # fmt: skip
    (one,) = taken(csv_file(tmp_path / "guns.csv", rows)).taken
    assert reasons(one) == {2: ["found least_output 20.0 lb/min; expected below largest_output, which is 16.0 lb/min."]}


def test_a_file_is_placed_whole_or_not_at_all(tmp_path):
    result = taken(csv_file(tmp_path / "list.csv", UGLY))
    folder = tmp_path / "own"
    folder.mkdir()
    (folder / "receiver-list.refused.csv").write_text("mine", "utf-8")
    with pytest.raises(OutputExists) as refused:
        place(result.taken, folder, force=False, dry=False)
    assert refused.value.path == str(folder / "receiver-list.refused.csv")
    assert [p.name for p in folder.iterdir()] == ["receiver-list.refused.csv"]
    place(result.taken, folder, force=True, dry=False)
    assert len(entries(folder / "receiver-list.yaml")) == 3


def test_taking_again_with_force_replaces_the_same_ids(tmp_path):
    folder = tmp_path / "own"
    path = csv_file(tmp_path / "list.csv", RECEIVERS)
    place(taken(path, folder).taken, folder, force=False, dry=False)
    result = take_file(path, Opening(), Wish(fills=FILLS), folder, force=True)
    place(result.taken, folder, force=True, dry=False)
    assert [e["id"] for e in entries(folder / "receiver-list.yaml")] == ["receiver-01", "receiver-02", "receiver-03"]


def test_a_folder_with_mistakes_takes_nothing_more(tmp_path):
    folder = tmp_path / "own"
    folder.mkdir()
    (folder / "gun.yaml").write_text("class: gun\nitems: []\n", "utf-8")
    with pytest.raises(InputError) as refused:
        taken(csv_file(tmp_path / "list.csv", RECEIVERS), folder)
    assert str(refused.value) == f"{folder}/gun.yaml:2: found no items; expected a list of items of class gun."


@pytest.mark.parametrize(
    ("path", "name"),
    [("Prices 2026.csv", "gun-prices-2026"), ("gun.csv", "gun"), ("gun-prices.csv", "gun-gun-prices"), ("日本.csv", "gun")],
)
def test_the_file_is_named_after_class_and_list(path, name):
    assert file_name("gun", path) == name


# CSV


@pytest.mark.parametrize("separator", [",", ";", "\t", "|"])
@pytest.mark.parametrize("encoding", ["utf-8", "utf-8-sig", "utf-16"])
def test_separators_and_encodings_give_the_same_items(tmp_path, separator, encoding):
    path = csv_file(tmp_path / "list.csv", RECEIVERS, separator, encoding)
    (one,) = taken(path, decimal="point").taken
    assert [read.entry["price"] for read in one.items] == ["290 USD", "1250.00 USD", "1480 USD"]


def test_a_first_line_that_names_the_separator_is_no_row(tmp_path):
    path = csv_file(tmp_path / "list.csv", RECEIVERS, ";", before="sep=;\r\n")
    result = taken(path, decimal="point")
    assert (result.understood[0].heading.number, len(result.taken[0].items)) == (2, 3)


def test_semicolons_leave_a_doubt_about_commas(tmp_path):
    (one,) = taken(csv_file(tmp_path / "list.csv", RECEIVERS, ";")).taken
    assert reasons(one) == {
        4: ['found price (column B) "1,480", which is one figure with a decimal point and another with a comma (semicolons '
            "stand between the columns); expected one way for the whole file. Try: --decimal comma or --decimal point"],
    }  # fmt: skip


def test_a_list_with_decimal_commas_is_read_when_that_is_said(tmp_path):
    rows = [list(row) for row in RECEIVERS]
    rows[2][1], rows[3][1], rows[3][2] = "1.250,00", "1.480", "40,5 kg"
    path = csv_file(tmp_path / "list.csv", rows, ";")
    (one,) = taken(path).taken
    assert [refused.row.number for refused in one.refused] == [3, 4]
    (said,) = taken(path, decimal="comma").taken
    assert [read.entry["price"] for read in said.items] == ["290 USD", "1250.00 USD", "1480 USD"]
    assert said.items[2].entry["weight"] == "40.5 kg"


def refused_file(path, **opening):
    """What is said of a file that cannot be read."""
    with pytest.raises(InputError) as refused:
        taken(path, opening=Opening(**opening))
    return str(refused.value).replace(str(path), "FILE")


def test_bytes_that_are_no_utf_8_are_refused_until_the_encoding_is_named(tmp_path):
    rows = [*RECEIVERS, ["Récipient", *RECEIVERS[1][1:]]]
    path = csv_file(tmp_path / "list.csv", rows, encoding="cp1252")
    assert refused_file(path) == (
        "FILE:5: found the byte 0xE9, which is no UTF-8; expected a text file in UTF-8. Try: saving it as CSV in UTF-8, or "
        "--encoding cp1252 if it comes from an older Windows spreadsheet"
    )
    (one,) = taken(path, opening=Opening(encoding="cp1252")).taken
    assert one.items[3].item.label == "Récipient"


@pytest.mark.parametrize(
    ("content", "message"),
    [
        (b"", "FILE: found nothing in it; expected headings and rows."),
        (b"\n \n,,\n", "FILE: found nothing in it; expected headings and rows."),
        (b"Item,Price\n\"open,1\n", "FILE:2: found a row that is no CSV (unexpected end of data); expected CSV. Try: "
         "quotation marks in pairs around a cell, doubled inside of it"),
        (b"Item\0,Price\n", "FILE:1: found a NUL character; expected a text file. Try: saving it as CSV in UTF-8, or "
         "as XLSX"),
        (b"Item,Price\n" + b"x" * 5000 + b",1\n", "FILE:2: found a cell of 5,000 characters; expected at most 4,000. Try: a "
         "closing quotation mark that may be missing"),
        (b"," * 500 + b"x\n", "FILE:1: found 501 columns; expected at most 400."),
        (b"x,1\n" * 20_001, "FILE:20001: found more than 20,000 rows; expected a price list. Try: several smaller files"),
    ],
)  # fmt: skip
def test_csv_files_that_cannot_be_read(tmp_path, content, message):
    path = tmp_path / "list.csv"
    path.write_bytes(content)
    assert refused_file(path) == message


def test_a_separator_that_may_be_either_is_asked_for(tmp_path):
    path = tmp_path / "list.csv"
    path.write_text("a,b;c\nd,e;f\n", "utf-8")
    with pytest.raises(InputError) as refused:
        read_csv(path, lambda rows: 0)
    assert str(refused.value) == (
        f"{path}: found columns that commas or semicolons may separate; expected one way to read it. Try: "
        "--separator comma or --separator semicolon"
    )


@pytest.mark.parametrize(
    ("name", "message"),
    [
        ("list.pdf", 'FILE: found a file that ends in ".pdf"; expected a .csv or .xlsx file. Try: saving it as XLSX, or as '
         "CSV in UTF-8"),
        ("nowhere.csv", "FILE: found nothing there; expected a CSV or XLSX file."),
        ("nowhere.xlsx", "FILE: found nothing there; expected a CSV or XLSX file."),
    ],
)  # fmt: skip
def test_files_of_another_kind_or_not_there(tmp_path, name, message):
    assert refused_file(tmp_path / name) == message


# workbooks


def test_a_workbook_gives_numbers_with_the_units_of_their_formats(tmp_path):
    rows = [
        ["Item", "Price", "Weight", "Length (in)", "Width (in)", "Height (in)", "Mounting", "Volume", "Pressure (psi)"],
        ["Receiver, steel", 290, 92.5, 0, 0, 0, "outside", 20, 150],
        ["Receiver, alloy", 1250.5, 120, 36, 24.5, 40, "floor", 30, 200],
    ]
    formats = {
        "B2": '"$"#,##0.00',
        "B3": "[$$-409]#,##0.00",
        "C2": '0.0" lb"',
        "C3": '0" lb"',
        "H2": '0 "gal"',
        "H3": '0 "gal"',
    }
    result = taken(book(tmp_path / "receivers.xlsx", rows, formats=formats))
    assert result.questions == ()
    assert [(r.entry["price"], r.entry["weight"], r.entry["volume"]) for r in result.taken[0].items] == [
        ("290 USD", "92.5 lb", "20 gal"), ("1250.5 USD", "120 lb", "30 gal"),
    ]  # fmt: skip


def test_formulas_dates_and_errors_of_a_workbook_are_refused_cells(tmp_path):
    row = ["Receiver", 290, 92, 0, 0, 0, "outside", 20, 150]
    heads = ["Item", "Price (USD)", "Weight (lb)", "Length (in)", "Width (in)", "Height (in)", "Mounting", "Volume (gal)",
             "Pressure (psi)"]  # fmt: skip
    rows = [heads, list(row), list(row), list(row), list(row), list(row)]
    rows[2][1] = "=B2*2"
    rows[3][3] = datetime.datetime(2026, 3, 8)
    rows[4][2] = "#REF!"
    rows[5][0] = "=A2"
    (one,) = taken(book(tmp_path / "receivers.xlsx", rows, formats={"A6": "text"})).taken
    assert [read.item.label for read in one.items] == ["Receiver", "=A2"]
    found = {r.row.number: r.mistakes[0].found for r in one.refused}
    assert found == {
        3: "price (column B) a formula without a stored value",
        4: "length (column D) the date or time 2026-03-08 00:00:00",
        5: "weight (column C) the error #REF!",
    }


def test_a_merged_cell_speaks_for_all_its_rows_and_a_merged_title_for_none(tmp_path):
    rows = [
        [*RECEIVERS[0], "Condition"],
        ["New stock", *[None] * 9],
        *([*row, "new" if k == 0 else None] for k, row in enumerate(RECEIVERS[1:])),
        ["Used stock", *[None] * 9],
        [*RECEIVERS[1], "used"],
        [*RECEIVERS[2], None],
    ]
    merges = dict.fromkeys(("A2:J2", "J3:J5", "A6:J6", "J7:J8"), "merge")
    (one,) = taken(book(tmp_path / "list.xlsx", rows, formats=merges)).taken
    assert [read.item.condition for read in one.items] == ["new", "new", "new", "used", "used"]
    assert [why for _, why in one.no_items] == ['a title or note: "New stock"', 'a title or note: "Used stock"']


def test_a_workbook_with_several_sheets_asks_which(tmp_path):
    path = book(tmp_path / "list.xlsx", RECEIVERS, "Stock")
    made = openpyxl.load_workbook(path)
    made.create_sheet("Other").append(["x"])
    made.create_sheet("Empty")
    made.save(path)
    (question,) = taken(path).questions
    assert (question.about, question.options) == ("the workbook has 2 sheets", ('--sheet "Stock"', '--sheet "Other"'))
    result = taken(path, opening=Opening(sheet="stock"))
    assert len(result.taken[0].items) == 3
    assert refused_file(path, sheet="Stok") == (
        'FILE: found no sheet "Stok"; expected one of Stock, Other, Empty. Try: Stock'
    )


def test_archives_that_unpack_to_too_much_or_are_none_are_refused_before_they_are_opened(tmp_path):
    bomb = tmp_path / "bomb.xlsx"
    with zipfile.ZipFile(bomb, "w", zipfile.ZIP_DEFLATED) as archive:
        archive.writestr("xl/workbook.xml", b" " * (MOST_UNPACKED + 1))
    assert bomb.stat().st_size < 200_000
    assert refused_file(bomb) == (
        "FILE: found a workbook that unpacks to far more than a price list; expected at most 100 MB in at most 2,000 parts."
    )
    entity = tmp_path / "entity.xlsx"
    with zipfile.ZipFile(entity, "w") as archive:
        archive.writestr("xl/workbook.xml", '<?xml version="1.0"?><!DOCTYPE x [<!ENTITY a "b">]><x>&a;</x>')
    assert refused_file(entity) == "FILE: found a document type in xl/workbook.xml; expected a plain XLSX workbook."
    none = tmp_path / "none.xlsx"
    none.write_bytes(b"no archive at all")
    assert refused_file(none) == (
        "FILE: found no readable workbook (File is not a zip file); expected an XLSX workbook. Try: saving it anew as XLSX, "
        "without a password, or as CSV"
    )
    other = tmp_path / "other.xlsx"
    with zipfile.ZipFile(other, "w") as archive:
        archive.writestr("hello.xml", "<x/>")
    assert refused_file(other).startswith("FILE: found no readable workbook (")


def test_a_part_that_is_longer_than_it_says_is_refused(tmp_path):
    path = book(tmp_path / "list.xlsx", RECEIVERS)
    content = bytearray(path.read_bytes())
    with zipfile.ZipFile(path) as archive:
        part = archive.getinfo("xl/workbook.xml")
    at = content.rindex(b"xl/workbook.xml") - 46
    size = content[at + 24 : at + 28]
    assert int.from_bytes(size, "little") == part.file_size
    content[at + 24 : at + 28] = (10).to_bytes(4, "little")
    path.write_bytes(bytes(content))
    assert refused_file(path).startswith("FILE: found no readable workbook (")
