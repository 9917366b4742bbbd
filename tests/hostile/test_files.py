"""What may stand in a catalog's folder instead of a file, and files that go while they are read: told, never waited for."""

from __future__ import annotations

import os
import signal
import sys

import pytest

from solver.catalog import kept, kept_catalog, read_catalog
from solver.errors import CannotWrite, InputError
from solver.files import find_yaml, read_yaml, write_whole

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="links, pipes and devices as Unix has them")
GUN = "class: gun\nitems: []\n"
READERS = (read_catalog, kept_catalog)


@pytest.fixture(autouse=True)
def cache(tmp_path_factory, monkeypatch):
    """A cache of copies in use, since it reads the files too; and an end after ten seconds, since nothing may hang."""
    monkeypatch.setenv("RIGSET_CACHE", str(tmp_path_factory.mktemp("cache")))
    signal.alarm(10)
    yield
    signal.alarm(0)


def said(reader, folder) -> str:
    """The mistakes about files other than gun.yaml, with the folder taken out."""
    with pytest.raises(InputError) as caught:
        reader(folder)
    lines = str(caught.value).replace(f"{folder}{os.sep}", "").split("\n")
    return "\n".join(line for line in lines if not line.startswith("gun.yaml"))


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize(
    ("make", "sentence"),
    [
        (lambda path: os.mkfifo(path), "x.yaml: found no plain file; expected a YAML file."),
        (lambda path: path.symlink_to("/dev/zero"), "x.yaml: found no plain file; expected a YAML file."),
        (lambda path: path.symlink_to("/dev/tty"), "x.yaml: found no plain file; expected a YAML file."),
        (lambda path: path.symlink_to(path), "x.yaml: found too many levels of symbolic links; "
         "expected a YAML file that can be read."),
        (lambda path: path.symlink_to("gone"), "x.yaml: found nothing there; expected a YAML file that can be read."),
        (lambda path: path.write_bytes(GUN.encode("utf-16")), "x.yaml:1: found the byte 0xff, which is not UTF-8; "
         "expected text in UTF-8. Try: saving the file as UTF-8"),
    ],
    ids=["pipe", "endless device", "terminal", "loop", "dangling", "utf-16"],
)  # fmt: skip
def test_no_file(tmp_path, reader, make, sentence):
    (tmp_path / "gun.yaml").write_text(GUN)
    make(tmp_path / "x.yaml")
    assert said(reader, tmp_path) == sentence


def test_a_loop_of_folders_is_not_followed(tmp_path):
    (tmp_path / "gun.yaml").write_text(GUN)
    (tmp_path / "again").symlink_to(tmp_path, target_is_directory=True)
    assert [path.name for path in find_yaml(tmp_path)] == ["gun.yaml"]


def test_a_file_of_a_hundred_megabytes(tmp_path):
    path = tmp_path / "x.yaml"
    with path.open("wb") as file:
        file.truncate(100_000_000)
    with pytest.raises(InputError) as caught:
        read_yaml(path)
    assert str(caught.value) == f"{path}: found a larger file; expected at most 20 MB. Try: several smaller files"


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may list every folder")
def test_a_folder_that_cannot_be_listed_is_not_left_out(tmp_path):
    (tmp_path / "inner").mkdir(mode=0)
    try:
        expected = f"{tmp_path / 'inner'}: found permission denied; expected a folder that can be read."
        with pytest.raises(InputError) as caught:
            find_yaml(tmp_path)
        assert str(caught.value) == expected
    finally:
        (tmp_path / "inner").chmod(0o700)


def test_a_folder_whose_listing_fails_is_not_left_out(tmp_path, monkeypatch):
    real = os.scandir

    def scan(path):
        if str(path).endswith("inner"):
            raise PermissionError(13, "Permission denied", str(path))
        return real(path)

    (tmp_path / "inner").mkdir()
    monkeypatch.setattr(os, "scandir", scan)
    with pytest.raises(InputError) as caught:
        find_yaml(tmp_path)
    assert str(caught.value) == (f"{tmp_path / 'inner'}: found permission denied; expected a folder that can be read.")


@pytest.mark.parametrize("reader", READERS)
def test_a_file_that_goes_between_listing_and_reading(tmp_path, monkeypatch, reader):
    (tmp_path / "gun.yaml").write_text(GUN)
    (tmp_path / "x.yaml").write_text(GUN)

    def listed(folder):
        found = find_yaml(folder)
        (tmp_path / "x.yaml").unlink(missing_ok=True)
        return (*[path for path in found if path.name != "x.yaml"], tmp_path / "x.yaml")

    monkeypatch.setattr(kept, "find_yaml", listed)
    monkeypatch.setattr("solver.catalog.read.find_yaml", listed)
    assert said(reader, tmp_path) == "x.yaml: found nothing there; expected a YAML file that can be read."


@pytest.mark.parametrize("reader", READERS)
def test_a_name_that_is_no_text(tmp_path, reader):
    name = os.fsdecode(b"x\xff\n.yaml")
    (tmp_path / "gun.yaml").write_text(GUN)
    try:
        (tmp_path / name).write_text("class: gum\n")
    except OSError:
        pytest.skip("the file system takes names of text only")
    assert said(reader, tmp_path).split(": expected")[0].startswith("x\\udcff\\n.yaml:1: found class")


def test_marks_of_direction_do_not_reach_the_terminal(tmp_path):
    path = tmp_path / "x.yaml"
    path.write_text("class: gun\nitems: []\n\u202eclass: a\n", "utf-8")
    assert "\u202e" not in said(read_catalog, tmp_path)
    assert "\\u202e" in said(read_catalog, tmp_path)


@pytest.mark.parametrize("key", ["a" * 300, "\n".join(["a", "b"])])
def test_keys_nobody_types(tmp_path, key):
    path = tmp_path / "x.yaml"
    path.write_text(f"? |\n  {key.replace(chr(10), chr(10) + '  ')}\n: 1\n")
    lines = said(read_catalog, tmp_path).split("\n")
    assert all(line.isprintable() and len(line) < 300 for line in lines)


def test_more_keys_than_a_mapping_has(tmp_path):
    path = tmp_path / "x.yaml"
    path.write_text("".join(f"k{k}: 1\n" for k in range(1001)))
    with pytest.raises(InputError) as caught:
        read_yaml(path)
    assert str(caught.value) == f"{path}:1001: found more than 1,000 keys in one mapping; expected at most 1,000."


def test_mistakes_without_end_are_told_up_to_a_thousand(tmp_path):
    (tmp_path / "gun.yaml").write_text("class: gun\nitems:\n" + "- x\n" * 3000)
    with pytest.raises(InputError) as caught:
        read_catalog(tmp_path)
    assert len(caught.value.mistakes) == 1001
    assert str(caught.value.mistakes[0]) == (
        f"{tmp_path}: found 1,000 mistakes, and the rest not read; expected the files of a catalog. Try: mending these first"
    )


@pytest.mark.parametrize("name", ["../out.txt", "a/../out.txt", "./out.txt"])
def test_a_path_is_what_it_says(tmp_path, name):
    """A path given by hand may lead anywhere its owner may write; nothing in a file is ever made a path."""
    (tmp_path / "here" / "a").mkdir(parents=True)
    write_whole(tmp_path / "here" / name, "x")
    assert [path.name for path in tmp_path.rglob("out.txt")] == ["out.txt"]


def test_a_name_longer_than_the_system_takes(tmp_path):
    with pytest.raises(CannotWrite) as caught:
        write_whole(tmp_path / ("é" * 200), "x")
    assert caught.value.reason == "file name too long"
    write_whole(tmp_path / ("é" * 120), "x")
    assert len(list(tmp_path.iterdir())) == 1
