"""rigset check RIG BRIEF: a hand-chosen rig against every rule."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from solver.cli.options import BriefArgument, CatalogOption, JsonOption, Units, UnitsOption, open_brief, open_catalog


def check(
    rig: Annotated[Path, typer.Argument(metavar="RIG", help="The rig: YAML, or what `pick --json` prints.")],
    brief: BriefArgument,
    catalog: CatalogOption = None,
    as_json: JsonOption = False,
    units: UnitsOption = Units.US,
) -> None:
    """Check a hand-chosen rig: every balance, every failure at once."""
    from solver.answers.check import check as answer

    stock = open_catalog(catalog)
    checked = answer(stock, open_brief(brief, stock), rig)
    if as_json:
        from solver.report.as_data import check_data, to_json

        sys.stdout.write(to_json(check_data(checked, units.value)))
    else:
        from solver.report.check_text import check_text
        from solver.report.layout import width_of_terminal

        sys.stdout.write(check_text(checked, width_of_terminal(), units.value))
    if not checked.fits:
        raise typer.Exit(1)
