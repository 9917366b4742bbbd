"""rigset catalog check DIR: every mistake in a catalog, with file and line."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

app = typer.Typer(help="Look after a catalog.", no_args_is_help=True, rich_markup_mode=None)


@app.callback()
def group() -> None:
    """Look after a catalog."""


@app.command("check")
def check(folder: Annotated[Path, typer.Argument(metavar="DIR", help="Folder of the catalog.")]) -> None:
    """Read a whole catalog and report every mistake, with file and line; then count what it holds."""
    from solver.catalog import read_catalog

    catalog = read_catalog(folder)
    count = sum(len(items) for items in catalog.classes.values())
    lines = [f"{name.replace('_', ' ')}: {len(items)}" for name, items in catalog.classes.items()]
    sys.stdout.write("\n".join([f"No mistakes. {count} items:", *lines]) + "\n")
