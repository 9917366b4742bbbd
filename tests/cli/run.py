"""Running the command line inside the test's own process, as `rigset` itself runs: every error becomes an exit code.

Contents: `rigset`, `Outcome`, `DEMO`, `brief`, `forget`, `python` (a process of its own, for what is imported).

What `pick` finds for a demo brief is worked out once and kept, so that text, JSON and units can be looked at without
solving each time; `forget` drops it.
"""

from __future__ import annotations

import json
import os
import subprocess
import sys
from contextlib import redirect_stderr, redirect_stdout
from dataclasses import dataclass
from functools import cache
from io import StringIO
from pathlib import Path
from typing import Any
from unittest.mock import patch

from solver.answers.facts import Picked
from solver.answers.pick import pick
from solver.brief import Brief
from solver.catalog import Catalog
from solver.cli.main import outcome

ROOT = Path(__file__).resolve().parents[2]
DEMO = ROOT / "catalog_demo"


@dataclass(frozen=True)
class Outcome:
    """Exit code, stdout and stderr of one run."""

    code: int
    out: str
    err: str

    @property
    def data(self) -> Any:
        """What stdout says as JSON."""
        return json.loads(self.out)


_PICKED: dict[tuple[str, str, str | None], Picked] = {}


def _kept(catalog: Catalog, asked: Brief, by: str | None = None) -> Picked:
    """What pick finds, worked out once per catalog, brief and objective."""
    key = (catalog.folder, repr(asked), by)
    if key not in _PICKED:
        _PICKED[key] = pick(catalog, asked, by)
    return _PICKED[key]


def forget() -> None:
    """Drop everything that was kept."""
    _PICKED.clear()
    rigset.cache_clear()


def brief(name: str) -> str:
    """Path of a demo brief."""
    return str(DEMO / "briefs" / f"{name}.yaml")


@cache
def rigset(*arguments: str, columns: int = 80) -> Outcome:
    """`rigset` with these arguments, on a terminal of that many columns."""
    out, err = StringIO(), StringIO()
    with (
        patch.object(sys, "argv", ["rigset", *arguments]),
        patch("solver.answers.pick.pick", _kept),
        patch.dict(os.environ, {"COLUMNS": str(columns)}),
        redirect_stdout(out),
        redirect_stderr(err),
    ):
        code = outcome()
    return Outcome(code, out.getvalue(), err.getvalue())


def python(*arguments: str) -> subprocess.CompletedProcess[str]:
    """Python in a process of its own, in the project's folder."""
    return subprocess.run(
        [sys.executable, *arguments], cwd=ROOT, capture_output=True, text=True, timeout=120, check=False
    )
