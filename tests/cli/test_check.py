"""`rigset check`: the rig that `pick` prints fits; a rig spoilt by hand fails with its reasons; mistakes in files."""

from __future__ import annotations

import json

import pytest

from tests.cli.run import brief, rigset
from tests.demo.demo import POSSIBLE

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


@pytest.mark.parametrize("text", ["rig: {gun: {choice: x}}\naboard: 3\n", "rig:\n- gun\naboard:\n- [a]\n", "rig: 5\n", "5\n"])
def test_a_rig_of_another_shape_is_a_mistake_not_a_fault(tmp_path, text):
    path = tmp_path / "rig.yaml"
    path.write_text(text, "utf-8")
    outcome = rigset("check", str(path), brief(NAME))
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.startswith(f"{path}:")


# --- --complete and --mend --------------------------------------------------------------------------------------------
def whole(name):
    """Rig of a demo brief as `pick --json` prints it."""
    return rigset("pick", brief(name), "--json").data["rig"]


@pytest.mark.parametrize("name", POSSIBLE)
def test_complete_gives_back_what_was_taken_out_on_every_brief(name, tmp_path):
    lines = whole(name)
    path = write(tmp_path, [line for line in lines if line["slot"] not in ("gun", "generator", "lighting")])
    outcome = rigset("check", path, brief(name), "--complete")
    assert (outcome.code, outcome.err) == (0, "")
    assert "What was added" in outcome.out
    assert max(len(line) for line in outcome.out.splitlines()) <= 80
    data = rigset("check", path, brief(name), "--complete", "--json").data
    assert data["status"] == "found"
    assert {line["slot"] for line in data["added"]} == {"gun", "generator", "lighting"} & {line["slot"] for line in lines}
    assert sum(line["price"] for line in data["added"]) == pytest.approx(data["added_price"])
    assert data["rig"] == lines


@pytest.mark.parametrize(("name", "fewest"), [*((name, ()) for name in POSSIBLE), ("owned_truck", ("--fewest-swaps",))])
def test_mend_on_every_brief_gives_a_rig_that_check_passes(name, fewest, tmp_path):
    lines = [line for line in whole(name) if line["slot"] not in ("air_dryer", "breathing_air")]
    lines = [line if line["slot"] != "hose" else {**line, "choice": "1 x 50 ft + whip"} for line in lines]
    path = write(tmp_path, lines)
    assert rigset("check", path, brief(name)).code == 1
    outcome = rigset("check", path, brief(name), "--mend", *fewest)
    assert (outcome.code, outcome.err) == (0, "")
    assert ("none takes fewer swaps, and" if fewest else "none costs less, and") in " ".join(outcome.out.split())
    assert max(len(line) for line in outcome.out.splitlines()) <= 80
    data = rigset("check", path, brief(name), "--mend", *fewest, "--json").data
    assert data["status"] == "mended"
    assert data["order"] == ("fewest swaps" if fewest else "least money")
    assert data["spending"] == pytest.approx(sum(swap["cost"] for swap in data["swaps"]))
    assert all(swap["words"] in " ".join(outcome.out.split()) for swap in data["swaps"])
    mended = tmp_path / "mended.json"
    mended.write_text(json.dumps(data), "utf-8")
    assert rigset("check", str(mended), brief(name)).code == 0


@pytest.mark.parametrize("option", ["--complete", "--mend"])
def test_no_rig_fits_is_exit_code_1_with_the_conflict(option, tmp_path):
    path = write(tmp_path, whole("mountain_winter"))
    outcome = rigset("check", path, brief("wish_list"), option, columns=120)
    assert (outcome.code, outcome.err) == (1, "")
    assert "What cannot hold together" in outcome.out
    assert max(len(line) for line in outcome.out.splitlines()) <= 120


@pytest.mark.parametrize(
    ("options", "message"),
    [
        (("--complete", "--mend"), "found --complete and --mend together; expected one of them.\n"),
        (("--fewest-swaps",), "found --fewest-swaps without --mend; expected both. Try: --mend --fewest-swaps\n"),
        (("--mend", "--by", "weight"), "found --by without --complete; expected both, since only a completion makes "
         "something least. Try: --complete --by weight\n"),
    ],
)  # fmt: skip
def test_options_that_do_not_go_together(options, message, tmp_path):
    outcome = rigset("check", str(tmp_path / "rig.json"), brief(NAME), *options)
    assert (outcome.code, outcome.out, outcome.err) == (2, "", message)


def test_complete_by_weight_and_a_mistake_in_the_file(tmp_path):
    path = tmp_path / "rig.yaml"
    path.write_text("rig:\n  gun: gun-01\n", "utf-8")
    light, cheap = (rigset("check", str(path), brief("light_trailer"), "--complete", "--by", by, "--json").data
                    for by in ("weight", "price"))  # fmt: skip
    assert light["total"]["weight_lb"] <= cheap["total"]["weight_lb"]
    assert cheap["total"]["price"] <= light["total"]["price"]
    path.write_text("rig:\n  gun: gum-01\n", "utf-8")
    outcome = rigset("check", str(path), brief(NAME), "--complete", columns=81)
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err.startswith(f"{path}:2: found item `gum-01` in slot gun; expected an item of class gun.")
