"""rigset whatif BRIEF: the pick for every combination of changed requirements, and where the answer switches."""

from __future__ import annotations

import sys
from collections.abc import Callable
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from solver.cli.options import (
    BriefArgument,
    ByOption,
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

if TYPE_CHECKING:
    from solver.answers.whatif import WhatIf

VaryOption = Annotated[
    list[str],
    typer.Option(
        "--vary",
        metavar="PATH=VALUES",
        help="A requirement with its values: FROM:TO:STEP, or a list with commas. May be given again.",
    ),
]
AloneOption = Annotated[
    bool, typer.Option("--one-at-a-time", help="Each requirement alone around the brief, not every combination.")
]
OutOption = Annotated[
    Path | None, typer.Option("--out", metavar="FILE", help="Write all cells there: .csv, .json or .parquet.")
]
ResumeOption = Annotated[bool, typer.Option("--resume", help="Go on where a run with the same --out was stopped.")]
ForceOption = Annotated[bool, typer.Option("--force", help="Replace the file, and a stopped run's journal.")]
JobsOption = Annotated[int | None, typer.Option("--jobs", min=1, metavar="N", help="Processes. Default: one a core.")]


class Binding(StrEnum):
    """What to say of the rules that bind in a cell."""

    NONE = "none"
    RULES = "rules"
    SAVINGS = "savings"


BindingOption = Annotated[
    Binding | None,
    typer.Option(
        "--binding",
        help="What to say of the rules that bind in a cell: none, which they are, or also what each saves. "
        "Default: savings up to 100 cells, rules beyond.",
    ),
]

KINDS = (".csv", ".json", ".parquet")


def whatif(
    brief: BriefArgument,
    vary: VaryOption,
    one_at_a_time: AloneOption = False,
    out: OutOption = None,
    page: PageOption = None,
    resume: ResumeOption = False,
    force: ForceOption = False,
    jobs: JobsOption = None,
    binding: BindingOption = None,
    catalog: CatalogOption = None,
    by: ByOption = None,
    as_json: JsonOption = False,
    units: UnitsOption = Units.US,
) -> None:
    """Pick anew for every value of what is varied, and say where the answer switches and why."""
    from solver.answers.whatif import finished
    from solver.answers.whatif import whatif as answer

    _checked(out, resume, force)
    checked_page(page, force)
    stock = open_catalog(catalog)
    asked = open_brief(brief, stock)
    found = answer(
        stock,
        asked,
        vary,
        by.value if by is not None else None,
        one_at_a_time,
        binding=None if binding is None else binding.value,
        jobs=jobs,
        out=out,
        resume=resume,
        force=force,
        progress=_bar() if sys.stderr.isatty() else None,
    )
    if out is not None:
        from solver.files import write_whole

        write_whole(out, _content(found, out, units.value), force)
        finished(out)
    if page is not None:
        from solver.report.sheet.studies import study_page

        write_page(page, study_page(found, units.value), force)
    _print(found, as_json, units.value)
    if not any(cell.status == "found" for cell in found.cells):
        raise typer.Exit(1)


def _checked(out: Path | None, resume: bool, force: bool) -> None:
    """Everything about the file that can be known before hours of work."""
    from solver.errors import CannotWrite, EntryError, OutputExists

    if out is None:
        if resume:
            raise EntryError("--resume without --out", "the file whose run was stopped", "--out cells.csv --resume")
        return
    if out.suffix.lower() not in KINDS:
        raise EntryError(f'"{out}"', "a file that ends in .csv, .json or .parquet", f"{out}.csv")
    if out.is_dir():
        raise CannotWrite(str(out), "it is a folder")
    if out.exists() and not force:
        raise OutputExists(str(out))
    if out.suffix.lower() == ".parquet":
        from solver.report.whatif_data import check_parquet

        check_parquet()


def _content(found: WhatIf, out: Path, units: str) -> str | bytes:
    from solver.report.as_data import to_json
    from solver.report.whatif_data import to_csv, to_parquet, whatif_data

    kind = out.suffix.lower()
    if kind == ".json":
        return to_json(whatif_data(found, units))
    return to_csv(found, units) if kind == ".csv" else to_parquet(found, units)


def _print(found: WhatIf, as_json: bool, units: str) -> None:
    if as_json:
        from solver.report.as_data import to_json
        from solver.report.whatif_data import whatif_data

        sys.stdout.write(to_json(whatif_data(found, units)))
        return
    from solver.report.layout import width_of_terminal
    from solver.report.whatif_text import whatif_text

    sys.stdout.write(whatif_text(found, width_of_terminal(), units))


def _bar() -> Callable[[int, int], None]:
    """A progress bar on stderr, redrawn in its line and taken away at the end."""

    def drawn(done: int, of: int) -> None:
        filled = 30 * done // of
        text = f"\r[{'#' * filled}{'.' * (30 - filled)}] {done:,} of {of:,} cells"
        sys.stderr.write(text if done < of else f"\r{' ' * len(text)}\r")
        sys.stderr.flush()

    return drawn
