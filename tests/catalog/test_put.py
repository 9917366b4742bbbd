"""A catalog into a workbook and back: every item of every class equal field by field, text as text, the same bytes."""

from __future__ import annotations

import io

import openpyxl
import pytest

from solver.catalog.base import item_classes
from solver.catalog.take.open import NOTES, Opening
from solver.catalog.take.place import items_in, place
from solver.catalog.take.put import put_workbook
from solver.catalog.take.take import take_file
from solver.catalog.take.understand import Wish
from solver.errors import EntryError, InputError
from tests.catalog.samples import sample, write_class
from tests.cli.run import DEMO

CATALOG = DEMO / "catalog"


@pytest.fixture(scope="module", params=["us", "si"])
def there_and_back(request, tmp_path_factory):
    """The demo catalog as a workbook of one unit system, and the items that `take` makes of it."""
    folder = tmp_path_factory.mktemp(request.param)
    path = folder / "all.xlsx"
    path.write_bytes(put_workbook(CATALOG, path, system=request.param).content)
    result = take_file(path, Opening(), Wish(), folder / "back")
    assert result.questions == ()
    place(result.taken, folder / "back", force=False, dry=False)
    return items_in(folder / "back"), openpyxl.load_workbook(path), request.param


@pytest.mark.parametrize("name", item_classes())
def test_every_class_comes_back_unchanged(there_and_back, name):
    back, before = there_and_back[0][name], items_in(CATALOG)[name]
    assert len(before) > 0
    assert [item.model_dump() for item in back] == [item.model_dump() for item in before]


def test_the_sheets_are_the_classes_and_a_sheet_of_notes(there_and_back):
    assert there_and_back[1].sheetnames == [*item_classes(), NOTES]


def test_figures_are_numbers_under_headings_with_units(there_and_back):
    book, system = there_and_back[1:]
    figures = texts = 0
    for name, model in item_classes().items():
        heads, *rows = book[name].iter_rows()
        for head, field, column in zip(heads, model.model_fields, zip(*rows, strict=True), strict=True):
            if model.quantity(field) is None:
                continue
            assert head.value.startswith(field.replace("_", " ") + " (")
            figures += len(column)
            texts += sum(isinstance(cell.value, str) for cell in column)
            assert all(isinstance(cell.value, int | float | str) for cell in column)
    assert figures > 4000
    assert texts == 0 if system == "us" else texts < figures / 4


def test_headings_are_frozen_and_widths_fit(there_and_back):
    book = there_and_back[1]
    for name in item_classes():
        sheet = book[name]
        assert sheet.freeze_panes == "C2"
        for column in sheet.iter_cols(min_row=2):
            longest = max(len(str(cell.value)) for cell in column)
            assert sheet.column_dimensions[column[0].column_letter].width >= min(longest, 60)


def test_the_notes_say_how_to_read_it_back_and_name_every_field(there_and_back):
    sheet = there_and_back[1][NOTES]
    text = "\n".join(str(cell.value) for row in sheet.iter_rows() for cell in row)
    assert "rigset catalog take THIS_FILE.xlsx --into FOLDER" in text
    assert all(field.replace("_", " ") in text for model in item_classes().values() for field in model.model_fields)


HOSTILE = ["=HYPERLINK(1)", "+1+1", "-2 sets", "@sum", "'quoted", "<b>bold</b>", "007", "1,250 lb", "none", "n-a", "12"]


def test_hostile_text_is_text_in_the_workbook_and_comes_back(tmp_path):
    items = [sample("gun", id=f"gun-{k}", label=f'"{text}"') for k, text in enumerate(HOSTILE)]
    write_class(tmp_path / "own" / "gun.yaml", "gun", *items)
    path = tmp_path / "gun.xlsx"
    path.write_bytes(put_workbook(tmp_path / "own", path).content)
    column = [row[1] for row in openpyxl.load_workbook(path)["gun"].iter_rows(min_row=2)]
    assert [(cell.data_type, cell.value) for cell in column] == [("s", text) for text in HOSTILE]
    assert [cell.quotePrefix for cell in column[:5]] == [True] * 5
    result = take_file(path, Opening(), Wish(), None)
    assert [read.item.label for read in result.taken[0].items] == HOSTILE


def test_figures_that_no_number_gives_exactly_are_text_with_their_unit(tmp_path):
    write_class(tmp_path / "own" / "gun.yaml", "gun", sample("gun", weight="0.333333333333333333 kg", pressure="207 bar"))
    path = tmp_path / "gun.xlsx"
    path.write_bytes(put_workbook(tmp_path / "own", path).content)
    result = take_file(path, Opening(), Wish(), None)
    assert [read.item for read in result.taken[0].items] == items_in(tmp_path / "own")["gun"]


def test_the_same_catalog_gives_the_same_bytes(tmp_path):
    books = [put_workbook(CATALOG, tmp_path / "x.xlsx", "gun").content for _ in range(2)]
    assert books[0] == books[1]
    assert openpyxl.load_workbook(io.BytesIO(books[0])).sheetnames == ["gun", NOTES]


@pytest.mark.parametrize(
    ("folder", "out", "name", "message"),
    [
        (CATALOG, "x.xls", "", 'found the file name "x.xls"; expected a name that ends in .xlsx. Try: x.xlsx'),
        (CATALOG, "x.xlsx", "guns", 'found class "guns"; expected one of '),
    ],
)
def test_what_cannot_be_put(tmp_path, folder, out, name, message):
    with pytest.raises(EntryError) as refused:
        put_workbook(folder, tmp_path / out, name)
    assert str(refused.value).startswith(message)


def test_a_class_that_the_folder_lacks_and_a_folder_with_mistakes(tmp_path):
    write_class(tmp_path / "own" / "gun.yaml", "gun", sample("gun"))
    with pytest.raises(EntryError) as refused:
        put_workbook(tmp_path / "own", tmp_path / "x.xlsx", "hose")
    assert str(refused.value) == (
        f"found no items of class hose in {tmp_path / 'own'}; expected a class that the catalog has. Try: gun"
    )
    write_class(tmp_path / "own" / "gun.yaml", "gun", sample("gun", weight="heavy"))
    with pytest.raises(InputError) as wrong:
        put_workbook(tmp_path / "own", tmp_path / "x.xlsx")
    assert 'found weight "heavy", which does not begin with a number' in str(wrong.value)


def test_a_class_of_a_whole_workbook_is_its_sheet_and_another_class_is_asked_about(tmp_path):
    for name in ("gun", "receiver"):
        write_class(tmp_path / "own" / f"{name}.yaml", name, sample(name))
    path = tmp_path / "own.xlsx"
    path.write_bytes(put_workbook(tmp_path / "own", path).content)
    assert [one.model.class_name for one in take_file(path, Opening(), Wish(), None).taken] == ["gun", "receiver"]
    (one,) = take_file(path, Opening(), Wish(class_name="receiver"), None).taken
    assert one.items[0].item == items_in(tmp_path / "own")["receiver"][0]
    (question,) = take_file(path, Opening(), Wish(class_name="hose"), None).questions
    assert question.options == ('--sheet "gun"', '--sheet "receiver"', '--sheet "notes"')
    with pytest.raises(EntryError) as refused:
        take_file(path, Opening(), Wish(fills=("parts=2 day",)), None)
    assert str(refused.value) == (
        "found --map, --fill or --row for a workbook with several sheets; expected one sheet. Try: --sheet NAME as well"
    )
