"""Whatever is wrong with files or words: exit code 2, the reason on stderr with file and line, nothing on stdout."""

from __future__ import annotations

import os
import sys
from pathlib import Path

import pytest

from tests.cli.run import DEMO, brief, rigset

FIRST = Path(brief("first_rig"))


def refused(*arguments: str) -> str:
    """What stderr says of arguments that are refused."""
    outcome = rigset(*arguments)
    assert (outcome.code, outcome.out) == (2, "")
    return outcome.err


@pytest.mark.parametrize("command", [("pick",), ("check", str(FIRST))])
def test_a_brief_that_is_not_there(command, tmp_path):
    missing = tmp_path / "no.yaml"
    expected = f"{missing}: found nothing there; expected a YAML file that can be read.\n"
    assert refused(*command, str(missing)) == expected


@pytest.mark.parametrize("command", [("pick",), ("check", str(FIRST))])
def test_a_folder_given_as_brief(command, tmp_path):
    assert refused(*command, str(tmp_path)) == f"{tmp_path}: found no plain file; expected a YAML file.\n"


def test_a_rig_that_is_not_there(tmp_path):
    missing = tmp_path / "no.yaml"
    assert refused("check", str(missing), str(FIRST)).startswith(f"{missing}: found nothing there")


@pytest.mark.skipif(not hasattr(os, "geteuid") or os.geteuid() == 0, reason="root may read every file")
def test_a_brief_that_may_not_be_read(tmp_path):
    path = tmp_path / "brief.yaml"
    path.write_text("title: x\n", "utf-8")
    path.chmod(0)
    assert refused("pick", str(path)) == f"{path}: found permission denied; expected a YAML file that can be read.\n"


@pytest.mark.skipif(sys.platform == "win32", reason="needs a device file")
def test_a_device_given_as_brief():
    assert refused("pick", "/dev/null") == "/dev/null: found no plain file; expected a YAML file.\n"


def test_bytes_that_are_no_text(tmp_path):
    path = tmp_path / "brief.yaml"
    path.write_bytes(b"title: x\nstory: \xff\n")
    assert refused("pick", str(path)).startswith(f"{path}:2: found the byte 0xff, which is not UTF-8;")


def test_every_mistake_of_a_brief_at_once_sorted_by_line(tmp_path):
    path = tmp_path / "brief.yaml"
    text = FIRST.read_text("utf-8")
    assert "altitude: 900 ft" in text
    assert "by: price" in text
    path.write_text(text.replace("altitude: 900 ft", "altitude: 900 lb").replace("by: price", "by: prize"), "utf-8")
    lines = refused("pick", str(path)).splitlines()
    assert len(lines) == 2
    numbers = [int(line.removeprefix(f"{path}:").split(":")[0]) for line in lines]
    rows = path.read_text("utf-8").splitlines()
    assert rows[numbers[0] - 1] == "by: prize"
    assert rows[numbers[1] - 1].strip() == "altitude: 900 lb"
    assert lines[0].endswith('found by "prize"; expected one of price, weight, yearly-cost. Try: price')


def test_a_duplicate_key(tmp_path):
    path = tmp_path / "brief.yaml"
    path.write_text("title: a\ntitle: b\n", "utf-8")
    assert refused("pick", str(path)).startswith(f"{path}:2: ")


def test_an_id_that_the_catalog_lacks_comes_with_the_nearest(tmp_path):
    path = tmp_path / "brief.yaml"
    path.write_text(FIRST.read_text("utf-8").replace("material-02", "materiel-02"), "utf-8")
    message = refused("pick", str(path))
    assert 'found id "materiel-02"; expected the id of a material. Try: material-02' in message


def test_a_waived_rule_that_is_none_is_refused(tmp_path):
    path = tmp_path / "brief.yaml"
    path.write_text(FIRST.read_text("utf-8") + "waived: [AIR-99]\n", "utf-8")
    message = refused("pick", str(path))
    assert message.startswith(f"{path}:{len(path.read_text('utf-8').splitlines())}: ")
    assert "AIR-99" in message


def test_a_waived_rule_that_is_no_practice_is_refused(tmp_path):
    path = tmp_path / "brief.yaml"
    path.write_text(FIRST.read_text("utf-8") + "waived: [PWR-02]\n", "utf-8")
    assert "PWR-02" in refused("pick", str(path))


def test_a_catalog_with_mistakes_stops_pick(tmp_path):
    (tmp_path / "gun.yaml").write_text("class: gum\nitems: []\n", "utf-8")
    message = refused("pick", str(FIRST), "--catalog", str(tmp_path))
    assert message.startswith(f"{tmp_path / 'gun.yaml'}:1: found class")
    assert "Try: gun" in message


@pytest.mark.parametrize(
    "arguments",
    [
        ("pick",),
        ("check", str(FIRST)),
        ("nonsense",),
        ("pick", str(FIRST), "--nonsense"),
        ("pick", str(FIRST), "--by", "colour"),
        ("pick", str(FIRST), "--units", "metric"),
        ("pick", str(FIRST), str(FIRST)),
        ("catalog", "nonsense"),
        ("catalog", "check"),
        ("schema", "--out"),
    ],
)
def test_words_that_the_command_line_does_not_know(arguments):
    message = refused(*arguments)
    assert message.startswith(("Usage: rigset", "Error: "))
    assert "Traceback" not in message


def test_the_demo_catalog_can_be_named():
    same = rigset("pick", str(FIRST), "--catalog", str(DEMO / "catalog"))
    assert same == rigset("pick", str(FIRST))
