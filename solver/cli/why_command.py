"""rigset why BRIEF: what holds the best rig where it is; with --rule, the working of a rule on it."""

from __future__ import annotations

import sys
from typing import Annotated

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

RuleOption = Annotated[
    list[str] | None,
    typer.Option("--rule", metavar="ID", help="Show the working of this rule on the best rig. May be given again."),
]


def why(
    brief: BriefArgument,
    catalog: CatalogOption = None,
    by: ByOption = None,
    rule: RuleOption = None,
    as_json: JsonOption = False,
    units: UnitsOption = Units.US,
) -> None:
    """Say what binds the best rig, or why none fits; with --rule, show a rule's working step by step."""
    from solver.answers.why import why as answer

    stock = open_catalog(catalog)
    asked = open_brief(brief, stock)
    found = answer(stock, asked, by.value if by is not None else None, tuple(rule or ()))
    if as_json:
        from solver.report.as_data import to_json, why_data

        sys.stdout.write(to_json(why_data(found, units.value)))
    else:
        from solver.report.layout import width_of_terminal
        from solver.report.why_text import why_text

        sys.stdout.write(why_text(found, width_of_terminal(), units.value))
    if found.status != "found":
        raise typer.Exit(1)
