"""What each command loads, in a process of its own; help texts; faults of the program and broken pipes."""

from __future__ import annotations

import subprocess
import sys

import pytest

from docs.command_pages import command_tree
from solver.errors import InternalError
from tests.cli.run import ROOT, brief, python, rigset

LOADED = """
import sys
sys.argv = ["rigset", *{arguments!r}]
from solver.cli.main import outcome
code = outcome()
heavy = [name for name in {names!r} if name in sys.modules]
sys.stderr.write(f"{{code}} {{' '.join(heavy)}}")
"""
HEAVY = ("pydantic", "numpy", "ortools", "pint", "pandas", "yaml", "solver.answers", "solver.rules")
COMMANDS = sorted(command_tree())


def loaded(*arguments: str) -> tuple[int, set[str]]:
    """Exit code of a command, and which of the heavy modules it loaded."""
    found = python("-c", LOADED.format(arguments=arguments, names=HEAVY))
    code, _, names = found.stderr.rpartition("\n")[2].partition(" ")
    return int(code), set(names.split())


def test_help_loads_nothing_heavy():
    assert loaded("--help") == (0, set())


@pytest.mark.parametrize("command", COMMANDS, ids=" ".join)
def test_help_of_a_command_loads_nothing_heavy(command):
    """The library of the command line loads pydantic by itself when it prints a command's help."""
    code, names = loaded(*command, "--help")
    assert (code, names - {"pydantic"}) == (0, set())


def test_check_works_without_the_engine(tmp_path):
    rig = tmp_path / "rig.json"
    rig.write_text(rigset("pick", brief("first_rig"), "--json").out, "utf-8")
    code, names = loaded("check", str(rig), brief("first_rig"))
    assert code == 0
    assert "solver.rules" in names
    assert names.isdisjoint({"ortools", "pandas", "pint"})


def test_pick_loads_the_engine_without_its_modelling_layer():
    code, names = loaded("pick", brief("first_rig"))
    assert code == 0
    assert "ortools" in names
    assert names.isdisjoint({"pandas", "pint"})


def test_the_catalog_check_loads_neither_rules_nor_engine():
    code, names = loaded("catalog", "check", "catalog_demo/catalog")
    assert code == 0
    assert names.isdisjoint({"ortools", "pint", "solver.rules", "solver.answers"})


@pytest.mark.parametrize("columns", [80, 120])
@pytest.mark.parametrize("command", [(), ("catalog",), *COMMANDS], ids=" ".join)
def test_help_fits_the_terminal_and_goes_to_stdout(command, columns):
    outcome = rigset(*command, "--help", columns=columns)
    assert (outcome.code, outcome.err) == (0, "")
    assert outcome.out.startswith(" ".join(("Usage: rigset", *command)))
    assert max(len(line) for line in outcome.out.splitlines()) <= columns


def test_help_names_every_command():
    words = rigset("--help").out.split()
    assert all(command[0] in words for command in COMMANDS)


def test_a_fault_of_the_program_is_exit_code_70(monkeypatch):
    def broken(*arguments: object) -> None:
        raise InternalError("a row is missing")

    monkeypatch.setattr("solver.catalog.kept_catalog", broken)
    outcome = rigset.__wrapped__("pick", brief("first_rig"))
    assert (outcome.code, outcome.out) == (70, "")
    assert outcome.err == "A fault of rigset itself, please report it: a row is missing\n"


def test_stopping_by_hand_says_so_and_is_exit_code_130(monkeypatch):
    def stopped(*arguments: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("solver.catalog.kept_catalog", stopped)
    outcome = rigset.__wrapped__("pick", brief("first_rig"))
    assert (outcome.code, outcome.out) == (130, "")
    assert "Traceback" not in outcome.err


def test_a_reader_that_leaves_early_is_no_fault():
    command = [sys.executable, "-m", "solver.cli.main", "schema"]
    with subprocess.Popen(command, cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        complaint = process.stderr.read()
    assert "Traceback" not in complaint
