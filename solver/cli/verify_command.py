"""rigset verify FILE BRIEF: whether a certificate holds, worked out without the engine."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import Annotated

import typer

from solver.cli.options import (
    BriefArgument,
    CatalogOption,
    JsonOption,
    Units,
    UnitsOption,
    open_brief,
    open_catalog,
)


def verify(
    file: Annotated[
        Path, typer.Argument(metavar="FILE", help="The certificate, as `pick --certificate FILE` writes it.")
    ],
    brief: BriefArgument,
    catalog: CatalogOption = None,
    as_json: JsonOption = False,
    units: UnitsOption = Units.US,
) -> None:
    """Check a certificate that no rig is better, in whole numbers and without any solver.

    It belongs to one brief and catalog: with any figure changed it is refused. Exit code 1 if it does not hold; 0 if it
    does, parts that only the engine closed being named.
    """
    from solver.answers.certificate import verify as answer

    stock = open_catalog(catalog)
    verified = answer(stock, open_brief(brief, stock), file)
    if as_json:
        from solver.report.as_data import to_json
        from solver.report.certificate_text import verified_data

        sys.stdout.write(to_json(verified_data(verified)))
    else:
        from solver.report.certificate_text import verified_text
        from solver.report.layout import width_of_terminal

        sys.stdout.write(verified_text(verified, width_of_terminal(), units.value))
    if verified.status == "refused":
        raise typer.Exit(1)
