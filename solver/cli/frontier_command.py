"""rigset frontier BRIEF: price against weight, every point of the exact front."""

from __future__ import annotations

import sys
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from solver.cli.options import (
    BriefArgument,
    CatalogOption,
    JsonOption,
    PageOption,
    Units,
    UnitsOption,
    checked_page,
    open_brief,
    open_catalog,
    write_page,
)


class Third(StrEnum):
    """What may be made least beside price and weight."""

    YEARLY_COST = "yearly-cost"


CsvOption = Annotated[Path | None, typer.Option("--csv", metavar="FILE", help="Write every point to this file as CSV.")]
WithOption = Annotated[
    Third | None, typer.Option("--with", help="A third thing to make least; far more points, far more time.")
]
ForceOption = Annotated[bool, typer.Option("--force", help="Replace the file if it is there already.")]


def frontier(
    brief: BriefArgument,
    csv: CsvOption = None,
    page: PageOption = None,
    third: WithOption = None,
    force: ForceOption = False,
    catalog: CatalogOption = None,
    as_json: JsonOption = False,
    units: UnitsOption = Units.US,
) -> None:
    """Show every rig that no other one beats in both price and weight, and what changes from one to the next."""
    from solver.answers.frontier import frontier as answer
    from solver.errors import OutputExists

    if csv is not None and csv.exists() and not force:
        raise OutputExists(str(csv))
    checked_page(page, force)
    stock = open_catalog(catalog)
    found = answer(stock, open_brief(brief, stock), third is not None, _progress if sys.stderr.isatty() else None)
    if csv is not None and found.status == "found":
        from solver.files import write_whole
        from solver.report.frontier_data import frontier_csv

        write_whole(csv, frontier_csv(found), force)
        sys.stderr.write(f"written: {csv}\n")
    if page is not None and found.status == "found":
        from solver.report.sheet.fronts import front_page

        write_page(page, front_page(found, units.value), force)
    if as_json:
        from solver.report.frontier_data import frontier_json

        sys.stdout.writelines(frontier_json(found, units.value))
    else:
        from solver.report.frontier_text import frontier_text
        from solver.report.layout import width_of_terminal

        sys.stdout.write(frontier_text(found, width_of_terminal(), units.value, _plain()))
    if found.status != "found":
        raise typer.Exit(1)


def _plain() -> bool:
    """Whether stdout cannot take more than ASCII."""
    try:
        "•│─└".encode(sys.stdout.encoding or "ascii")
    except UnicodeEncodeError:
        return True
    return False


def _progress(words: str, share: float) -> None:
    end = "\r" + " " * 70 + "\r" if share >= 1.0 else ""
    sys.stderr.write(f"\r{words}".ljust(70) + end)
    sys.stderr.flush()
