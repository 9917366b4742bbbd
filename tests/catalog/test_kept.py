"""The kept copy of a catalog: found again, made anew when a source changes, noticed when damaged, never a hindrance."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

import solver.catalog.kept as kept
from solver.catalog import kept_catalog, read_catalog
from solver.errors import InputError

DEMO = Path(__file__).resolve().parents[2] / "catalog_demo" / "catalog"


@pytest.fixture
def folders(tmp_path, monkeypatch):
    """A catalog of its own and an empty folder for copies."""
    shutil.copytree(DEMO, tmp_path / "catalog")
    monkeypatch.setenv("RIGSET_CACHE", str(tmp_path / "copies"))
    return tmp_path / "catalog", tmp_path / "copies"


@pytest.fixture
def readings(monkeypatch):
    """How often the YAML files were read."""
    count = []

    def counted(folder):
        count.append(folder)
        return read_catalog(folder)

    monkeypatch.setattr(kept, "read_catalog", counted)
    return count


def same(one, other):
    """Whether two catalogs hold the same items and columns."""
    assert one.classes == other.classes
    assert one.sources == other.sources
    for name, table in one.tables.items():
        assert {k: v.tolist() for k, v in table.numbers.items()} == {
            k: v.tolist() for k, v in other.tables[name].numbers.items()
        }
    return True


def test_the_second_start_finds_the_copy(folders, readings):
    catalog, copies = folders
    first, second = kept_catalog(catalog), kept_catalog(catalog)
    assert len(readings) == 1
    assert len(list(copies.iterdir())) == 1
    assert same(first, second) and same(second, read_catalog(catalog))


def test_a_changed_source_is_read_anew(folders, readings):
    catalog, _ = folders
    kept_catalog(catalog)
    gun = catalog / "gun.yaml"
    gun.write_text(gun.read_text("utf-8").replace("price: 1180 USD", "price: 1181 USD"), "utf-8")
    assert 1181.0 in kept_catalog(catalog).tables["gun"].numbers["price"]
    (catalog / "gun.yaml").rename(catalog / "guns.yaml")
    kept_catalog(catalog)
    assert len(readings) == 3


@pytest.mark.parametrize("damage", [b"", b"x", b"rigset catalog 1\n", None])
def test_a_damaged_copy_is_noticed_and_made_anew(folders, readings, damage):
    catalog, copies = folders
    kept_catalog(catalog)
    (copy,) = copies.iterdir()
    content = copy.read_bytes()
    flipped = content[:5000] + bytes([content[5000] ^ 1]) + content[5001:]
    copy.write_bytes(flipped if damage is None else damage)
    assert same(kept_catalog(catalog), read_catalog(catalog))
    assert copy.read_bytes() != (flipped if damage is None else damage)
    assert len(readings) == 2


def test_a_folder_that_takes_no_copy_is_no_mistake(folders, monkeypatch, tmp_path):
    (tmp_path / "file").write_text("in the way", "utf-8")
    monkeypatch.setenv("RIGSET_CACHE", str(tmp_path / "file" / "copies"))
    assert same(kept_catalog(folders[0]), read_catalog(folders[0]))


def test_mistakes_are_told_each_time_and_nothing_is_kept(folders):
    catalog, copies = folders
    (catalog / "bad.yaml").write_text("class: gum\nitems: []\n", "utf-8")
    for _ in range(2):
        with pytest.raises(InputError, match=r"bad\.yaml:1: found class"):
            kept_catalog(catalog)
    assert not copies.exists()


def test_off_keeps_nothing(folders, monkeypatch, readings):
    monkeypatch.setenv("RIGSET_CACHE", "off")
    kept_catalog(folders[0])
    kept_catalog(folders[0])
    assert len(readings) == 2
    assert not folders[1].exists()
