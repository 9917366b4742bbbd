"""rigset rivals BRIEF: the next best rigs; with --kinds the best of each kind, with --insist what every item costs more."""

from __future__ import annotations

import sys
from collections.abc import Callable
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
    from solver.brief import Brief
    from solver.catalog import Catalog

DifferOption = Annotated[
    str,
    typer.Option("--differ", metavar="SLOT,SLOT", help="Slots of which at least one must hold another item."),
]
CountOption = Annotated[int, typer.Option("--count", min=1, help="How many rigs, the pick among them.")]
KindsOption = Annotated[
    bool,
    typer.Option("--kinds", help="The best rig of each kind: power, truck or trailer, drive, new or used, delivery."),
]
InsistOption = Annotated[
    bool, typer.Option("--insist", help="For every item of the catalog, what insisting on it costs, or what excludes it.")
]


def rivals(
    brief: BriefArgument,
    differ: DifferOption = "proportioner,compressor,generator,vehicle",
    count: CountOption = 5,
    kinds: KindsOption = False,
    insist: InsistOption = False,
    catalog: CatalogOption = None,
    by: ByOption = None,
    as_json: JsonOption = False,
    units: UnitsOption = Units.US,
) -> None:
    """Show the next best rigs with other items in the slots that matter, and how each differs."""
    from solver.errors import EntryError

    if kinds and insist:
        raise EntryError("--kinds and --insist", "one of them")
    stock = open_catalog(catalog)
    asked = open_brief(brief, stock)
    wanted = by.value if by is not None else None
    if insist:
        status = _insist(stock, asked, wanted, as_json, units.value)
    else:
        slots = [name.strip() for name in differ.split(",") if name.strip()]
        status = _rivals(stock, asked, wanted, slots, count, kinds, as_json, units.value)
    if status != "found":
        raise typer.Exit(1)


def progress() -> Callable[[str, float], None] | None:
    """A line on stderr that says how far the work is; nothing where stderr is no terminal."""
    if not sys.stderr.isatty():
        return None

    def told(words: str, share: float) -> None:
        end = "\r" + " " * 60 + "\r" if share >= 1.0 else ""
        sys.stderr.write(f"\r{words}: {100.0 * min(share, 1.0):3.0f} %".ljust(60) + end)
        sys.stderr.flush()

    return told


def _rivals(
    stock: Catalog, asked: Brief, by: str | None, slots: list[str], count: int, kinds: bool, as_json: bool, units: str
) -> str:
    from solver.answers.rivals import rivals as answer

    found = answer(stock, asked, by, slots, count, kinds, progress())
    if as_json:
        from solver.report.as_data import to_json
        from solver.report.rivals_data import rivals_data

        sys.stdout.write(to_json(rivals_data(found, units)))
    else:
        from solver.report.layout import width_of_terminal
        from solver.report.rivals_text import rivals_text

        sys.stdout.write(rivals_text(found, width_of_terminal(), units))
    return found.status


def _insist(stock: Catalog, asked: Brief, by: str | None, as_json: bool, units: str) -> str:
    from solver.answers.insist import insist as answer

    found = answer(stock, asked, by, progress())
    if as_json:
        from solver.report.as_data import to_json
        from solver.report.rivals_data import insist_data

        sys.stdout.write(to_json(insist_data(found, units)))
    else:
        from solver.report.insist_text import insist_text
        from solver.report.layout import width_of_terminal

        sys.stdout.write(insist_text(found, width_of_terminal(), units))
    return found.status
