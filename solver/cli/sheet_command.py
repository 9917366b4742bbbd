"""rigset sheet BRIEF OUT: the sheet people hand over, as one self-contained page or as a workbook."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

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

if TYPE_CHECKING:
    from solver.report.sheet.bundle import Bundle

OutArgument = Annotated[Path, typer.Argument(metavar="OUT", help="What to write: a page (.html) or a workbook (.xlsx).")]
ForceOption = Annotated[bool, typer.Option("--force", help="Overwrite files that are there.")]
DrawingsOption = Annotated[
    Path | None, typer.Option("--drawings", metavar="DIR", help="Write the drawings to this folder too, as SVG files.")
]
QuickOption = Annotated[
    bool, typer.Option("--quick", help="Leave out what solves anew: curves, alternatives, front, repairs.")
]
KINDS = (".html", ".xlsx")


def sheet(
    brief: BriefArgument,
    out: OutArgument,
    drawings: DrawingsOption = None,
    quick: QuickOption = False,
    force: ForceOption = False,
    catalog: CatalogOption = None,
    by: ByOption = None,
    as_json: JsonOption = False,
    units: UnitsOption = Units.US,
) -> None:
    """Write the sheet of the best rig: list, reasons, balances, drawings, what binds, costs, cautions, every working.

    With --json everything on the page goes to stdout as data too.
    """
    from solver.errors import EntryError, OutputExists

    if out.suffix.lower() not in KINDS:
        raise EntryError(f"OUT {out.name}", f"a name that ends in {' or '.join(KINDS)}", f"{out.stem}.html")
    if out.exists() and not force:
        raise OutputExists(str(out))
    from solver.report.sheet.gather import gather

    stock = open_catalog(catalog)
    asked = open_brief(brief, stock)
    bundle = gather(stock, asked, by.value if by is not None else None, quick, progress_line())
    written = _write(bundle, out, drawings, units.value, force)
    if as_json:
        from solver.report.as_data import to_json
        from solver.report.sheet.bundle import sheet_data

        sys.stdout.write(to_json(sheet_data(bundle, units.value)))
    else:
        sys.stdout.write("".join(f"wrote {path}\n" for path in written))
    if bundle.picked.status != "found":
        raise typer.Exit(1)


def _write(bundle: Bundle, out: Path, drawings: Path | None, units: str, force: bool) -> list[Path]:
    """Write the files, each whole or not at all; the paths written."""
    from solver.files import write_whole

    content: str | bytes
    if out.suffix.lower() == ".xlsx":
        from solver.report.workbook import workbook

        content = workbook(bundle, units)
    else:
        from solver.report.sheet.page import page

        content = page(bundle, units)
    written = []
    if drawings is not None and bundle.drawn is not None:
        from solver.report.drawings import draw_all

        drawings.mkdir(parents=True, exist_ok=True)
        for name, svg in draw_all(bundle.drawn, units, alone=True).items():
            write_whole(drawings / f"{name}.svg", svg, force)
            written.append(drawings / f"{name}.svg")
    write_whole(out, content, force)
    return [out, *written]


def progress_line() -> Callable[[str], None]:
    """What is being worked out, on stderr where that is a terminal."""

    def show(what: str) -> None:
        if sys.stderr.isatty():
            sys.stderr.write(f"working out {what} ...\n")

    return show
