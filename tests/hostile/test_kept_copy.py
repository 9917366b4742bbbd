"""The kept copy of a catalog: a wrong one is left aside, and nothing but a catalog is ever built from it."""

from __future__ import annotations

import hashlib
import os
import pickle
import shutil
import sys

import pytest

from solver.catalog import kept, kept_catalog, read_catalog
from tests.demo.demo import FOLDER

pytestmark = pytest.mark.skipif(sys.platform == "win32", reason="owners and modes as Unix has them")


@pytest.fixture(scope="module")
def folder(tmp_path_factory):
    """A catalog with its copy."""
    place = tmp_path_factory.mktemp("stock") / "catalog"
    shutil.copytree(FOLDER / "catalog", place)
    return place


@pytest.fixture
def copy(folder, tmp_path, monkeypatch):
    """The copy's file, made a moment ago."""
    monkeypatch.setenv("RIGSET_CACHE", str(tmp_path / "cache"))
    kept_catalog(folder)
    (found,) = (tmp_path / "cache").iterdir()
    return found


def whole(body: bytes) -> bytes:
    """A copy with the right digest, as anybody can make it."""
    return kept._HEAD + hashlib.sha256(body).digest() + body


def test_a_good_copy_is_taken_and_is_this_users_alone(copy):
    assert kept._load(copy) is not None
    assert copy.stat().st_mode & 0o777 == 0o600
    assert copy.parent.stat().st_mode & 0o777 == 0o700


class Evil:
    """Runs a command when it is unpickled by the common way."""

    def __reduce__(self):
        return (os.system, ("touch EVIL",))


HOSTILE = {
    "empty": lambda good: b"",
    "head only": lambda good: good[: len(kept._HEAD)],
    "cut": lambda good: good[:-1],
    "one bit": lambda good: good[:5000] + bytes([good[5000] ^ 1]) + good[5001:],
    "longer": lambda good: good + b"x",
    "no pickle": lambda good: whole(b"\x80\x05garbage"),
    "another object": lambda good: whole(pickle.dumps({"classes": 1})),
    "a command": lambda good: whole(pickle.dumps(Evil())),
    "a function of a module": lambda good: whole(
        b"\x80\x04\x8c\x13solver.catalog.kept\x8c\x09os.system\x93\x8c\x0atouch EVIL\x85R."
    ),
    "a function of ours": lambda good: whole(b"\x80\x04\x8c\x13solver.catalog.kept\x8c\x0cread_catalog\x93\x8c\x01/\x85R."),
    "a class from elsewhere": lambda good: whole(b"\x80\x04\x8c\x13solver.catalog.kept\x8c\x04Path\x93\x8c\x01/\x85R."),
    "deep": lambda good: whole(b"\x80\x04" + b"(" * 200_000 + b"."),
    "a number without end": lambda good: whole(b"\x80\x04\x8b\xff\xff\xff\x7f."),
}  # fmt: skip


@pytest.mark.parametrize("name", HOSTILE)
def test_a_wrong_copy_is_made_anew(copy, folder, tmp_path, monkeypatch, name):
    monkeypatch.chdir(tmp_path)
    good = copy.read_bytes()
    copy.write_bytes(HOSTILE[name](good))
    assert kept._load(copy) is None
    assert kept_catalog(folder).classes == read_catalog(folder).classes
    assert copy.read_bytes()[: len(kept._HEAD)] == kept._HEAD
    assert kept._load(copy) is not None
    assert not (tmp_path / "EVIL").exists()


def test_a_copy_that_others_may_write_does_not_count(copy):
    copy.chmod(0o620)
    assert kept._load(copy) is None
    copy.chmod(0o602)
    assert kept._load(copy) is None


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() != 0, reason="only root can give a file away")
def test_a_copy_of_another_user_does_not_count(copy):
    os.chown(copy, 12345, -1)
    assert kept._load(copy) is None


def test_a_link_or_a_pipe_in_its_place(copy, folder, tmp_path):
    other = tmp_path / "precious.txt"
    other.write_text("precious")
    copy.unlink()
    copy.symlink_to(other)
    assert kept._load(copy) is None
    assert kept_catalog(folder).folder == str(folder)
    assert other.read_text() == "precious"
    copy.unlink()
    os.mkfifo(copy)
    assert kept._load(copy) is None
    assert kept_catalog(folder).folder == str(folder)


def test_a_catalog_changed_while_it_is_read_is_not_kept(folder, tmp_path, monkeypatch):
    monkeypatch.setenv("RIGSET_CACHE", str(tmp_path / "cache"))
    own = tmp_path / "catalog"
    shutil.copytree(folder, own)
    real = kept.read_catalog

    def slow(place):
        found = real(place)
        path = own / "gun.yaml"
        path.write_text(path.read_text("utf-8") + "# changed\n", "utf-8")
        return found

    monkeypatch.setattr(kept, "read_catalog", slow)
    kept_catalog(own)
    assert not (tmp_path / "cache").exists()
