"""rigset pick BRIEF: the answer and what binds."""

from __future__ import annotations

import sys

import typer

from solver.cli.options import (
    BriefArgument,
    ByOption,
    CatalogOption,
    JsonOption,
    Units,
    UnitsOption,
    open_brief,
    open_catalog,
)


def pick(
    brief: BriefArgument,
    catalog: CatalogOption = None,
    by: ByOption = None,
    as_json: JsonOption = False,
    units: UnitsOption = Units.US,
) -> None:
    """Pick the cheapest (or lightest) rig that fits the brief, with proof, and say what binds."""
    from solver.answers.pick import pick as answer

    stock = open_catalog(catalog)
    picked = answer(stock, open_brief(brief, stock), by.value if by is not None else None)
    if as_json:
        from solver.report.as_data import pick_data, to_json

        sys.stdout.write(to_json(pick_data(picked, units.value)))
    else:
        from solver.report.layout import width_of_terminal
        from solver.report.pick_text import pick_text

        sys.stdout.write(pick_text(picked, width_of_terminal(), units.value))
    if picked.status != "found":
        raise typer.Exit(1)
