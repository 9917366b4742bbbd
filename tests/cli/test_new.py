"""`rigset new`: a folder that works as it stands, with a brief that explains every key truly; whole or not at all."""

from __future__ import annotations

import json
import re
import shlex

import pytest
import yaml

from docs.pages import BRIEF_PARTS
from solver.brief import read_brief
from solver.catalog import read_catalog
from solver.rules import RULES
from solver.rules.record import Basis
from tests.cli.run import DEMO, rigset
from tests.cli.small_validator import mistakes

run = rigset.__wrapped__
MARK = "# yaml-language-server: $schema="
PRACTICES = frozenset(rule.id for rule in RULES.values() if rule.basis is Basis.PRACTICE)


@pytest.fixture(scope="module")
def made(tmp_path_factory):
    """A folder made by the command, and what it said."""
    folder = tmp_path_factory.mktemp("new") / "my rig"
    return folder, run("new", str(folder))


def test_it_says_what_it_made_and_what_to_try(made):
    folder, outcome = made
    quoted = shlex.quote(str(folder))
    assert (outcome.code, outcome.err) == (0, "")
    assert outcome.out == (
        f"made: {folder}, with brief.yaml, catalog/, schema/ and README.md. Try next:\n"
        "\n"
        f"  rigset pick {quoted}/brief.yaml --catalog {quoted}/catalog\n"
        f"  rigset why {quoted}/brief.yaml --catalog {quoted}/catalog\n"
        f"  rigset catalog check {quoted}/catalog\n"
    )
    assert sorted(p.name for p in folder.parent.iterdir()) == ["my rig"]


@pytest.mark.parametrize("number", [0, 1, 2])
def test_each_of_the_three_commands_runs_and_the_rig_is_proven(made, number):
    commands = [line for line in made[1].out.splitlines() if line.startswith("  rigset ")]
    outcome = run(*shlex.split(commands[number])[1:])
    assert (outcome.code, outcome.err) == (0, "")
    starts = ["My first rig\n\nCheapest rig that fits: $", "My first rig\n", "No mistakes. "]
    assert outcome.out.startswith(starts[number])
    if number == 0:
        assert "\nProven: no rig in this catalog that fits costs less" in outcome.out


def test_the_readme_names_the_same_commands(made):
    text = (made[0] / "README.md").read_text("utf-8")
    commands = [line[2:] for line in made[1].out.splitlines() if line.startswith("  rigset ")]
    there = [command.replace(f"{shlex.quote(str(made[0]))}/", "") for command in commands]
    assert [line for line in text.splitlines() if line.startswith("rigset ")] == there


def test_the_catalog_is_that_of_the_demo(made):
    ours, demo = read_catalog(made[0] / "catalog"), read_catalog(DEMO / "catalog")
    assert ours.classes == demo.classes


def test_every_yaml_file_names_its_schema_and_is_right_under_it(made):
    folder = made[0]
    for path in sorted(folder.rglob("*.yaml")):
        first, _, rest = path.read_text("utf-8").partition("\n")
        assert first.startswith(MARK)
        schema = json.loads((path.parent / first.removeprefix(MARK)).read_text("utf-8"))
        assert schema["title"] == ("A rigset brief" if path.name == "brief.yaml" else "A file of a rigset catalog")
        assert mistakes(yaml.safe_load(rest), schema) == []


KEY = re.compile(r"^( *)#([a-z_-]+: .*?)  # (default|example; nothing by default)$")


def template():
    """The lines of the brief to start from."""
    return (DEMO / "start" / "brief.yaml").read_text("utf-8").splitlines()


def said(tmp_path, lines):
    """The brief that these lines make."""
    path = tmp_path / "brief.yaml"
    path.write_text("\n".join(lines) + "\n", "utf-8")
    return read_brief(path, read_catalog(DEMO / "catalog"), waivable=PRACTICES)


def test_saying_every_default_changes_nothing(tmp_path):
    plain = template()
    full = [f"{m[1]}{m[2]}" if (m := KEY.match(line)) and m[3] == "default" else line for line in plain]
    assert sum(a != b for a, b in zip(plain, full, strict=True)) > 40
    assert said(tmp_path, full).entry.model_dump() == said(tmp_path, plain).entry.model_dump()


def test_each_example_may_be_said(tmp_path):
    plain = template()
    examples = [k for k, line in enumerate(plain) if (m := KEY.match(line)) and m[3] != "default"]
    assert len(examples) == 10
    instead = {"board_feet_a_day": ("  output:",), "length": ("    distance:", "    height:", "    slack:")}
    for k in examples:
        match = KEY.match(plain[k])
        out = instead.get(match[2].partition(":")[0], ())
        lines = [
            f"{match[1]}{match[2]}" if at == k else line for at, line in enumerate(plain) if not line.startswith(out or "\0")
        ]
        assert said(tmp_path, lines).title == "My first rig"


def test_every_key_of_a_brief_is_there_and_explained():
    lines = template()
    for title, model in BRIEF_PARTS:
        for name, info in model.model_fields.items():
            key = info.alias or name
            at = [k for k, line in enumerate(lines) if re.match(rf"^ *(- )?#?{re.escape(key)}:( |$)", line)]
            inline = any(re.search(rf"[{{ ]{re.escape(key)}: ", line) for line in lines)
            assert at or (inline and title in ("site_supply", "unwanted", "ranges")), f"{title}.{key}"
            assert all(lines[k - 1].lstrip().startswith("# ") for k in at), f"{title}.{key}"
    assert max(map(len, lines)) <= 82


def test_a_folder_that_is_not_empty_is_left_alone(tmp_path):
    (tmp_path / "mine").mkdir()
    (tmp_path / "mine" / "notes.txt").write_text("mine", "utf-8")
    outcome = run("new", str(tmp_path / "mine"))
    assert (outcome.code, outcome.out) == (2, "")
    assert outcome.err == (
        f"{tmp_path}/mine could not be written (the folder is not empty). Nothing was written. Try: another folder\n"
    )
    assert [p.name for p in tmp_path.rglob("*")] == ["mine", "notes.txt"]


def test_an_empty_folder_is_filled_and_a_file_is_not_replaced(tmp_path):
    (tmp_path / "empty").mkdir()
    assert run("new", str(tmp_path / "empty")).code == 0
    assert (tmp_path / "empty" / "brief.yaml").exists()
    (tmp_path / "file").write_text("mine", "utf-8")
    outcome = run("new", str(tmp_path / "file"))
    assert outcome.code == 2
    assert "something of that name is there that is no empty folder" in outcome.err


def test_where_the_folder_above_is_missing_or_it_is_the_one_that_we_are_in(tmp_path, monkeypatch):
    outcome = run("new", str(tmp_path / "a" / "b"))
    assert outcome.code == 2
    assert outcome.err == (
        f"{tmp_path}/a/b could not be written (the folder above it is not there). Nothing was written. Try: another folder\n"
    )
    monkeypatch.chdir(tmp_path)
    outcome = run("new", ".")
    assert (outcome.code, outcome.err) == (
        2, ". could not be written (it is the folder that you are in). Nothing was written. Try: another folder\n",
    )  # fmt: skip


def test_a_failure_on_the_way_leaves_nothing(tmp_path, monkeypatch):
    def broken():
        raise OSError(28, "No space left on device")

    monkeypatch.setattr("solver.report.schema.schemas", broken)
    outcome = run("new", str(tmp_path / "rig"))
    assert outcome.code == 2
    assert outcome.err == (
        f"{tmp_path}/rig could not be written (no space left on device). Nothing was written. Try: another folder\n"
    )
    assert list(tmp_path.iterdir()) == []
