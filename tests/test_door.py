"""The door for Python: what it leads to, that it loads nothing before it is asked, and that its types are told."""

from __future__ import annotations

import ast
from importlib import import_module
from pathlib import Path

import pytest

import solver
from tests.cli.run import python

HEAVY = ("numpy", "ortools", "pandas", "pydantic", "typer", "pint", "yaml")


@pytest.mark.parametrize("name", solver.__all__)
def test_every_name_leads_to_what_it_says(name):
    found = getattr(solver, name)
    assert found.__name__ == name
    assert found.__module__.startswith("solver.")
    assert found.__doc__


def test_importing_it_loads_nothing_of_the_house():
    code = f"import sys, solver; print([name for name in {HEAVY!r} if name in sys.modules], solver.__version__)"
    done = python("-c", code)
    assert done.stdout == f"[] {solver.__version__}\n"
    assert done.stderr == ""


def test_check_from_the_door_loads_neither_engine_nor_pandas():
    code = (
        "import sys\nfrom solver import check, read_brief, read_catalog, to_frame\n"
        "print(check.__module__, [name for name in ('ortools', 'pandas') if name in sys.modules])"
    )
    assert python("-c", code).stdout == "solver.answers.check []\n"


def test_a_name_that_is_not_there():
    with pytest.raises(AttributeError, match=r"^module 'solver' has no attribute 'choose'$"):
        solver.choose  # noqa: B018


def test_it_says_what_it_has():
    assert set(solver.__all__) <= set(dir(solver))
    assert {"pick", "why", "check", "complete", "mend", "read_brief", "read_catalog", "to_frame"} <= set(solver.__all__)


def test_the_types_are_those_of_the_door():
    """`__init__.pyi` imports each name from the module that the door loads it from."""
    told = {}
    path = Path(solver.__file__).with_suffix(".pyi")
    for node in ast.parse(path.read_text("utf-8")).body:
        if isinstance(node, ast.ImportFrom):
            assert [alias.asname for alias in node.names] == [alias.name for alias in node.names]
            told |= {alias.name: node.module for alias in node.names}
    assert sorted(told) == solver.__all__
    for name, module in told.items():
        assert getattr(import_module(module), name) is getattr(solver, name)
    assert path.with_name("py.typed").exists()
