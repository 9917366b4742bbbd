"""Reading whole folders: order changes nothing, all mistakes at once, ids, classes, hostile files, speed."""

from __future__ import annotations

import os
import random
import time

import numpy as np
import pytest

from solver.catalog import read_catalog
from solver.catalog.read import build_catalog, natural_order
from solver.errors import InputError, InternalError
from tests.catalog.samples import SAMPLES, line_of, sample, write_catalog, write_class


def sentences(folder) -> list[str]:
    with pytest.raises(InputError) as caught:
        read_catalog(folder)
    return str(caught.value).replace(f"{folder}{os.sep}", "").replace(str(folder), "FOLDER").splitlines()


def guns(*numbers: int) -> list[dict[str, str]]:
    return [sample("gun", id=f"gun-{k}", label=f"Gun {k}", price=f"{1000 + k} USD") for k in numbers]


def test_a_whole_catalog(tmp_path):
    catalog = read_catalog(write_catalog(tmp_path))
    assert set(catalog.classes) == set(catalog.tables) == set(SAMPLES)
    assert catalog.item("gun-1").label == "A sample"
    assert catalog.class_of("gun-1") == "gun"
    assert "gun-1" in catalog and "gun-2" not in catalog
    assert catalog.sources["gun-1"] == (str(tmp_path / "gun.yaml"), 3)
    assert catalog.folder == str(tmp_path)
    with pytest.raises(InternalError, match="the catalog has no item gun-2"):
        catalog.item("gun-2")


def test_a_class_that_may_stay_empty_is_there_with_no_items(tmp_path):
    catalog = read_catalog(write_catalog(tmp_path, tow_vehicle=[], winter_kit=[]))
    assert catalog.classes["tow_vehicle"] == ()
    assert len(catalog.tables["winter_kit"]) == 0
    assert catalog.tables["tow_vehicle"].column("gvwr").shape == (0,)


def test_items_come_in_the_natural_order_of_their_ids(tmp_path):
    catalog = read_catalog(write_catalog(tmp_path, gun=guns(10, 2, 1)))
    assert [item.id for item in catalog.classes["gun"]] == ["gun-1", "gun-2", "gun-10"]
    ids = ["a-1", "a-01", "a-2", "b", "a-10", "10", "9", "a"]
    assert sorted(ids, key=natural_order) == ["9", "10", "a", "a-01", "a-1", "a-2", "a-10", "b"]


def test_order_of_files_and_items_changes_nothing(tmp_path):
    items = guns(*range(1, 13))
    first = read_catalog(write_catalog(tmp_path / "one", gun=items))
    random.Random(7).shuffle(items)
    folder = write_catalog(tmp_path / "two", gun=[])
    for k in range(4):
        write_class(folder / f"{'zyxw'[k]}" / f"part-{k}.yml", "gun", *items[3 * k : 3 * k + 3])
    second = read_catalog(folder)
    assert second.classes == first.classes
    for name, table in first.tables.items():
        other = second.tables[name]
        assert (other.ids, other.labels, other.lists) == (table.ids, table.labels, table.lists)
        for field, column in table.numbers.items():
            assert np.array_equal(column, other.numbers[field])


def test_a_note_may_stand_in_a_file(tmp_path):
    write_catalog(tmp_path)
    path = tmp_path / "gun.yaml"
    path.write_text("note: >\n  Anything.\n" + path.read_text())
    assert read_catalog(tmp_path).sources["gun-1"].line == 5


def test_mistakes_of_all_files_come_at_once_in_the_order_of_file_and_line(tmp_path):
    write_catalog(
        tmp_path,
        gun=[sample("gun", weight="12", price="-1 USD"), sample("gun", purge="water")],
        hose=[sample("hose", jacket="maybe")],
    )
    (tmp_path / "a.yaml").write_text("class: gun\n\titems:\n")
    assert sentences(tmp_path) == [
        "a.yaml:2: found a tab; expected spaces before and between entries. Try: two spaces for each tab",
        'gun.yaml:5: found price "-1 USD"; expected an amount of money of at least 0 USD, such as 3200 USD.',
        'gun.yaml:6: found weight "12", without a unit; expected a mass above 0 lb, such as 480 lb. Try: 12 lb',
        'gun.yaml:24: found id "gun-1" a second time; expected each id once (first in gun.yaml:3).',
        'gun.yaml:38: found purge "water"; expected one of air, mechanical, solvent.',
        'hose.yaml:30: found jacket "maybe"; expected true or false.',
    ]


def test_one_id_in_two_files_and_classes(tmp_path):
    write_catalog(tmp_path, tool=[sample("tool", id="gun-1")])
    write_class(tmp_path / "guns.yaml", "gun", sample("gun"))
    assert sentences(tmp_path) == [
        'guns.yaml:3: found id "gun-1" a second time; expected each id once (first in gun.yaml:3).',
        'tool.yaml:3: found id "gun-1" a second time; expected each id once (first in gun.yaml:3).',
    ]


KNOWN = ", ".join(sorted(SAMPLES))


@pytest.mark.parametrize(
    ("text", "rest"),
    [
        ("class: gunn\nitems: [a]\n", f'1: found class "gunn"; expected one of {KNOWN}. Try: gun'),
        ("items: [a]\nnote: x\n", "1: found no class; expected class: and the name of a class. Try: class: gun"),
        ("class: [gun]\nitems: [a]\n", f"1: found class a list; expected one of {KNOWN}."),
        ("class: tool\nitems: []\n", "2: found no items; expected a list of items of class tool."),
        ("class: tool\n", "1: found no items; expected a list of items of class tool."),
        ("class: tool\nitems: {a: b}\n", "2: found items a mapping; expected a list of items of class tool."),
        ("class: tool\nitems:\n- hammer\n", '3: found "hammer"; expected an item, a mapping of fields.'),
        ("- class: tool\n", "1: found a list; expected a mapping with the keys class and items."),
        ("just words\n", '1: found "just words"; expected a mapping with the keys class and items.'),
    ],
)
def test_a_file_that_is_no_part_of_a_catalog(tmp_path, text, rest):
    write_catalog(tmp_path)
    (tmp_path / "odd.yaml").write_text(text)
    assert sentences(tmp_path) == [f"odd.yaml:{rest}"]


def test_an_unknown_key_at_the_top(tmp_path):
    write_catalog(tmp_path)
    path = tmp_path / "gun.yaml"
    path.write_text(path.read_text() + "notes: x\n")
    line = line_of(SAMPLES["gun"], "pressure") + 1
    assert sentences(tmp_path) == [f'gun.yaml:{line}: found the key "notes"; expected class, items or note. Try: note']


def test_classes_that_may_not_stay_empty(tmp_path):
    write_catalog(tmp_path, gun=[], hose=[], tow_vehicle=[])
    assert sentences(tmp_path) == [
        "FOLDER: found no items of class gun; expected at least one. Try: a file with class: gun",
        "FOLDER: found no items of class hose; expected at least one. Try: a file with class: hose",
    ]


def test_a_missing_class_is_not_reported_while_a_file_cannot_be_read(tmp_path):
    write_catalog(tmp_path, gun=[])
    (tmp_path / "guns.yaml").write_bytes(b"class: gun # \xe9\n")
    assert sentences(tmp_path) == [
        "guns.yaml:1: found the byte 0xe9, which is not UTF-8; expected text in UTF-8. Try: saving the file as UTF-8"
    ]


def test_an_empty_folder(tmp_path):
    assert sentences(tmp_path) == ["FOLDER: found no YAML files; expected files with the keys class and items."]


def test_an_entry_deep_in_a_list_is_reported_at_its_own_line(tmp_path):
    write_catalog(tmp_path)
    path = tmp_path / "generator.yaml"
    lines = path.read_text().splitlines()
    at = next(k for k, line in enumerate(lines) if "outputs" in line)
    lines[at : at + 1] = [
        "  outputs:",
        "  - system: split",
        "    power: 20 kW",
        "    apparent_power: 22 kVA",
        "  - system: wye",
        "    power: 20 kVA",
        "    aparent_power: 25 kVA",
    ]
    path.write_text("\n".join(lines))
    assert sentences(tmp_path) == [
        f'generator.yaml:{at + 6}: found outputs 2 power "20 kVA", an apparent power; '
        "expected a power above 0 kW, such as 12 kW.",
        f'generator.yaml:{at + 7}: found the key "aparent_power"; expected a key of outputs. Try: apparent_power',
    ]


def test_the_nearest_id(tmp_path):
    catalog = read_catalog(write_catalog(tmp_path, gun=guns(1, 2)))
    assert catalog.nearest("gunn-2") == "gun-2"
    assert catalog.nearest("gun-2", "gun") == "gun-2"
    assert catalog.nearest("gun-2", "receiver") is None
    assert catalog.nearest("zzzz") is None


def test_a_catalog_can_be_built_from_items(tmp_path):
    read = read_catalog(write_catalog(tmp_path, gun=guns(2, 1)))
    built = build_catalog("made", list(reversed(list(read.items.values()))))
    assert built.classes == read.classes


def test_reading_takes_at_most_25_microseconds_a_figure(tmp_path):
    """About 5,000 figures. The best of several runs, so that a busy machine does not fail it."""
    many = {
        name: [sample(name, id=f"{name.replace('_', '-')}-{k}", price=f"{k + 900} USD") for k in range(10)]
        for name in SAMPLES
    }
    write_catalog(tmp_path, **many)
    figures = sum(len(item) for items in many.values() for item in items)
    best = 1.0
    for _ in range(5):
        start = time.perf_counter()
        read_catalog(tmp_path)
        best = min(best, time.perf_counter() - start)
    assert figures > 5000
    assert best / figures <= 25e-6
