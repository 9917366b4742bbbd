"""`rigset check`: the rig that `pick` prints fits; a rig spoilt by hand fails with its reasons; mistakes in files."""

from __future__ import annotations

import json

import pytest

from tests.cli.run import brief, rigset

NAME = "first_rig"


@pytest.fixture(scope="module")
def picked(tmp_path_factory):
    """What `pick --json` prints, as a file and as data."""
    path = tmp_path_factory.mktemp("rig") / "picked.json"
    path.write_text(rigset("pick", brief(NAME), "--json").out, "utf-8")
    return path, json.loads(path.read_text("utf-8"))


def write(folder, lines):
    """A rig file of these lines."""
    path = folder / "rig.json"
    path.write_text(json.dumps({"rig": lines}), "utf-8")
    return str(path)


def test_the_picked_rig_fits(picked):
    path, data = picked
    outcome = rigset("check", str(path), brief(NAME))
    assert (outcome.code, outcome.err) == (0, "")
    assert "This rig fits the brief: every rule holds." in outcome.out
    found = rigset("check", str(path), brief(NAME), "--json").data
    assert found["fits"] is True
    assert found["failures"] == []
    assert found["balances"] == data["balances"]
    assert found["rig"] == data["rig"]


@pytest.mark.parametrize("columns", [80, 120])
@pytest.mark.parametrize("units", ["us", "si"])
def test_text_fits_the_terminal(picked, columns, units):
    outcome = rigset("check", str(picked[0]), brief(NAME), "--units", units, columns=columns)
    assert max(len(line) for line in outcome.out.splitlines()) <= columns


def test_a_spoilt_rig_is_exit_code_1_with_every_failure(picked, tmp_path):
    lines = [line for line in picked[1]["rig"] if line["slot"] not in ("generator", "breathing_air")]
    path = write(tmp_path, lines)
    outcome = rigset("check", path, brief(NAME))
    assert (outcome.code, outcome.err) == (1, "")
    assert "This rig does not fit" in outcome.out
    assert "What fails" in outcome.out
    data = rigset("check", path, brief(NAME), "--json").data
    broken = {failure["rule"] for failure in data["failures"]}
    assert data["fits"] is False
    assert {"RESP-01", "PWR-02"} <= broken
    assert all(failure["margin"] < 0 and failure["sentence"] for failure in data["failures"])


def test_an_empty_slot_that_cannot_stay_empty_is_a_mistake(picked, tmp_path):
    path = write(tmp_path, [line for line in picked[1]["rig"] if line["slot"] != "gun"])
    outcome = rigset("check", path, brief(NAME))
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.startswith(f"{path}:1: found nothing for slot gun; expected an item in every slot")


def test_an_unknown_item_and_slot_are_mistakes_with_their_lines_and_the_nearest_name(tmp_path):
    path = tmp_path / "rig.yaml"
    path.write_text("rig:\n  gunn: gun-01\n  hose: hoze-01\n", "utf-8")
    outcome = rigset("check", str(path), brief(NAME))
    assert (outcome.code, outcome.out) == (2, "")
    assert f"{path}:2: found slot `gunn`; expected a slot of the rig. Try: did you mean `gun`?\n" in outcome.err
    assert f"{path}:3: found item `hoze-01` in slot hose; expected an item of class hose." in outcome.err


def test_a_file_without_a_rig_is_a_mistake(tmp_path):
    path = tmp_path / "rig.yaml"
    path.write_text("title: nothing\n", "utf-8")
    outcome = rigset("check", str(path), brief(NAME))
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.startswith(f"{path}:1: found no key `rig`; expected a mapping with the key `rig`")


@pytest.mark.parametrize(
    "text", ["rig: {gun: {choice: x}}\naboard: 3\n", "rig:\n- gun\naboard:\n- [a]\n", "rig: 5\n", "5\n"]
)
def test_a_rig_of_another_shape_is_a_mistake_not_a_fault(tmp_path, text):
    path = tmp_path / "rig.yaml"
    path.write_text(text, "utf-8")
    outcome = rigset("check", str(path), brief(NAME))
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.startswith(f"{path}:")
