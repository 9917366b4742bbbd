"""`rigset catalog put`: the workbook and back from the command line, its exit codes, no file overwritten unasked."""

from __future__ import annotations

import pytest

from tests.cli.run import DEMO, rigset

run = rigset.__wrapped__


@pytest.mark.parametrize("units", ["us", "si"])
def test_a_class_goes_out_and_comes_back_unchanged(tmp_path, units):
    book, folder = tmp_path / "own.xlsx", tmp_path / "own"
    put = run("catalog", "put", str(DEMO / "catalog"), str(book), "--class", "vehicle", "--units", units)
    count = (DEMO / "catalog" / "vehicle.yaml").read_text("utf-8").count("\n- id:")
    assert (put.code, put.err) == (0, "")
    assert put.out == f"written: {book}, {count} items on 1 sheet, and a sheet of notes\n"
    assert run("catalog", "take", str(book), "--into", str(folder)).code == 0
    again = tmp_path / "again.xlsx"
    assert run("catalog", "put", str(folder), str(again), "--units", units).code == 0
    assert again.read_bytes() == book.read_bytes()


def test_a_workbook_that_is_there_is_kept(tmp_path):
    book = tmp_path / "own.xlsx"
    book.write_bytes(b"mine")
    command = ("catalog", "put", str(DEMO / "catalog"), str(book), "--class", "gun")
    outcome = run(*command)
    assert (outcome.code, outcome.out, book.read_bytes()) == (2, "", b"mine")
    assert outcome.err == f"{book} exists already and was left as it is. Try: another name, or --force to replace it\n"
    assert run(*command, "--force").code == 0


def test_a_folder_that_is_not_there(tmp_path):
    outcome = run("catalog", "put", str(tmp_path / "nowhere"), str(tmp_path / "x.xlsx"))
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == f"{tmp_path}/nowhere: found nothing there; expected a folder with YAML files.\n"
