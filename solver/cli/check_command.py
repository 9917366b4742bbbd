"""rigset check RIG BRIEF: a hand-chosen rig against every rule; --complete and --mend say what to do about it."""

from __future__ import annotations

import sys
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

from solver.cli.options import (
    BriefArgument,
    By,
    ByOption,
    CatalogOption,
    JsonOption,
    Units,
    UnitsOption,
    open_brief,
    open_catalog,
)

if TYPE_CHECKING:
    from solver.brief import Brief
    from solver.catalog import Catalog

CompleteOption = Annotated[
    bool, typer.Option("--complete", help="Fill the slots that the file does not name, at least price or --by.")
]
MendOption = Annotated[
    bool, typer.Option("--mend", help="The swaps that make the rig fit, at least money, then fewest swaps.")
]
FewestOption = Annotated[bool, typer.Option("--fewest-swaps", help="With --mend: fewest swaps, then least money.")]


def check(
    rig: Annotated[Path, typer.Argument(metavar="RIG", help="The rig: YAML, or what `pick --json` prints.")],
    brief: BriefArgument,
    complete: CompleteOption = False,
    mend: MendOption = False,
    fewest_swaps: FewestOption = False,
    catalog: CatalogOption = None,
    by: ByOption = None,
    as_json: JsonOption = False,
    units: UnitsOption = Units.US,
) -> None:
    """Check a hand-chosen rig: every balance, every failure at once. Or complete a partial one, or mend one that fails."""
    _usage(complete, mend, fewest_swaps, by)
    stock = open_catalog(catalog)
    asked = open_brief(brief, stock)
    if complete:
        text, good = _complete(stock, asked, rig, by.value if by is not None else None, as_json, units.value)
    elif mend:
        text, good = _mend(stock, asked, rig, fewest_swaps, as_json, units.value)
    else:
        text, good = _check(stock, asked, rig, as_json, units.value)
    sys.stdout.write(text)
    if not good:
        raise typer.Exit(1)


def _usage(complete: bool, mend: bool, fewest_swaps: bool, by: By | None) -> None:
    from solver.errors import EntryError

    if complete and mend:
        raise EntryError("--complete and --mend together", "one of them")
    if fewest_swaps and not mend:
        raise EntryError("--fewest-swaps without --mend", "both", "--mend --fewest-swaps")
    if by is not None and not complete:
        raise EntryError("--by without --complete", "both, since only a completion makes something least",
                         "--complete --by weight")  # fmt: skip


def _check(stock: Catalog, asked: Brief, rig: Path, as_json: bool, units: str) -> tuple[str, bool]:
    from solver.answers.check import check as answer

    checked = answer(stock, asked, rig)
    if as_json:
        from solver.report.as_data import check_data, to_json

        return to_json(check_data(checked, units)), checked.fits
    from solver.report.check_text import check_text
    from solver.report.layout import width_of_terminal

    return check_text(checked, width_of_terminal(), units), checked.fits


def _complete(stock: Catalog, asked: Brief, rig: Path, by: str | None, as_json: bool, units: str) -> tuple[str, bool]:
    from solver.answers.complete import complete as answer

    completed = answer(stock, asked, rig, by)
    good = completed.status == "found"
    if as_json:
        from solver.report.as_data import to_json
        from solver.report.complete_data import complete_data

        return to_json(complete_data(completed, units)), good
    from solver.report.complete_text import complete_text
    from solver.report.layout import width_of_terminal

    return complete_text(completed, width_of_terminal(), units), good


def _mend(stock: Catalog, asked: Brief, rig: Path, fewest: bool, as_json: bool, units: str) -> tuple[str, bool]:
    from solver.answers.mend import mend as answer

    mended = answer(stock, asked, rig, fewest)
    good = mended.status != "none"
    if as_json:
        from solver.report.as_data import to_json
        from solver.report.mend_data import mend_data

        return to_json(mend_data(mended, units)), good
    from solver.report.layout import width_of_terminal
    from solver.report.mend_text import mend_text

    return mend_text(mended, width_of_terminal(), units), good
