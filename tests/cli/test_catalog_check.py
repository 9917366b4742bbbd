"""`rigset catalog check`: the demo catalog has no mistakes; a catalog with mistakes shows all of them, sorted."""

from __future__ import annotations

import shutil

from tests.cli.run import DEMO, rigset


def spoilt(tmp_path):
    """A copy of the demo catalog with three mistakes in two files."""
    folder = tmp_path / "catalog"
    shutil.copytree(DEMO / "catalog", folder)
    gun = folder / "gun.yaml"
    text = gun.read_text("utf-8")
    gun.write_text(text.replace("price: ", "price: -", 1).replace("weight: ", "wieght: ", 1), "utf-8")
    (folder / "tool.yaml").write_text("class: tool\nitems:\n- 5\n", "utf-8")
    return folder


def test_the_demo_catalog_has_no_mistakes():
    outcome = rigset("catalog", "check", str(DEMO / "catalog"))
    assert (outcome.code, outcome.err) == (0, "")
    assert outcome.out.startswith("No mistakes. ")
    assert "\nfeed pump: " in outcome.out
    assert max(len(line) for line in outcome.out.splitlines()) <= 80


def test_every_mistake_is_on_stderr_with_file_and_line(tmp_path):
    folder = spoilt(tmp_path)
    outcome = rigset("catalog", "check", str(folder))
    assert (outcome.code, outcome.out) == (2, "")
    lines = outcome.err.splitlines()
    assert len(lines) == 3
    places = [line.split(": found ")[0].rpartition(":") for line in lines]
    assert [(file, int(number)) for file, _, number in places] == sorted((f, int(n)) for f, _, n in places)
    assert "weight" in outcome.err
    assert 'found the key "wieght"' in outcome.err


def test_a_folder_that_is_not_there(tmp_path):
    missing = tmp_path / "nowhere"
    outcome = rigset("catalog", "check", str(missing))
    assert outcome.code == 2
    assert outcome.err == f"{missing}: found nothing there; expected a folder with YAML files.\n"


def test_a_folder_without_files(tmp_path):
    outcome = rigset("catalog", "check", str(tmp_path))
    assert outcome.code == 2
    assert outcome.err == f"{tmp_path}: found no YAML files; expected files with the keys class and items.\n"
