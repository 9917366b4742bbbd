"""Outputs appear whole or not at all, and no file is replaced unasked."""

from __future__ import annotations

import os
import stat
from pathlib import Path

import pytest

from solver import files
from solver.errors import CannotWrite, OutputExists
from solver.files import write_whole


def test_a_file_is_written_whole_and_nothing_else_is_left(tmp_path):
    write_whole(tmp_path / "out.txt", "ünicode\n")
    write_whole(tmp_path / "out.bin", b"\x00\x01")
    assert (tmp_path / "out.txt").read_bytes() == "ünicode\n".encode()
    assert (tmp_path / "out.bin").read_bytes() == b"\x00\x01"
    assert sorted(path.name for path in tmp_path.iterdir()) == ["out.bin", "out.txt"]


def test_a_file_that_is_there_is_kept_without_force(tmp_path):
    path = tmp_path / "out.txt"
    path.write_text("old")
    path.chmod(0o600)
    with pytest.raises(OutputExists) as caught:
        write_whole(path, "new")
    assert (
        str(caught.value) == f"{path} exists already and was left as it is. Try: another name, or --force to replace it"
    )
    assert path.read_text() == "old"
    write_whole(path, "new", force=True)
    assert path.read_text() == "new"
    assert stat.S_IMODE(path.stat().st_mode) == 0o600


def test_a_link_keeps_being_a_link(tmp_path):
    (tmp_path / "real.txt").write_text("old")
    (tmp_path / "link.txt").symlink_to("real.txt")
    write_whole(tmp_path / "link.txt", "new", force=True)
    assert (tmp_path / "link.txt").is_symlink()
    assert (tmp_path / "real.txt").read_text() == "new"


def test_a_file_that_appears_meanwhile_is_kept(tmp_path, monkeypatch):
    path = tmp_path / "out.txt"
    draft = files._write_draft

    def slow(where: Path, data: bytes) -> None:
        draft(where, data)
        path.write_text("theirs")

    monkeypatch.setattr(files, "_write_draft", slow)
    with pytest.raises(OutputExists, match=r"out\.txt exists already"):
        write_whole(path, "ours")
    assert path.read_text() == "theirs"
    assert [found.name for found in tmp_path.iterdir()] == ["out.txt"]


def test_a_write_that_fails_halfway_leaves_the_old_file(tmp_path, monkeypatch):
    path = tmp_path / "out.txt"
    path.write_text("old")

    def full(*_: object) -> None:
        raise OSError(28, "No space left on device")

    monkeypatch.setattr(os, "fsync", full)
    with pytest.raises(CannotWrite) as caught:
        write_whole(path, "new", force=True)
    assert str(caught.value) == (
        f"{path} could not be written (no space left on device). Nothing was written. Try: another folder"
    )
    assert path.read_text() == "old"
    assert [found.name for found in tmp_path.iterdir()] == ["out.txt"]


def test_where_nothing_can_be_written(tmp_path):
    with pytest.raises(CannotWrite) as caught:
        write_whole(tmp_path / "absent" / "out.txt", "x")
    assert caught.value.reason == "the folder is not there"
    with pytest.raises(CannotWrite) as caught:
        write_whole(tmp_path, "x", force=True)
    assert caught.value.reason == "it is a folder"
