"""rigset why BRIEF: the reasons; with --rule the working of a rule, with --curve the least cost over a requirement."""

from __future__ import annotations

import sys
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
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
CurveOption = Annotated[
    str | None,
    typer.Option("--curve", metavar="PATH", help="Least cost over one requirement, such as hose_reach or limits.budget."),
]
BetterOption = Annotated[
    str,
    typer.Option("--better-by", metavar="SHARE", help="How much better a rig must be in \"why is nothing better\"."),
]
ConflictsOption = Annotated[
    int,
    typer.Option("--conflicts", metavar="NUMBER", help="How many minimal conflicts to list at most, where no rig fits."),
]


def why(
    brief: BriefArgument,
    catalog: CatalogOption = None,
    by: ByOption = None,
    rule: RuleOption = None,
    curve: CurveOption = None,
    better_by: BetterOption = "5 %",
    conflicts: ConflictsOption = 3,
    as_json: JsonOption = False,
    units: UnitsOption = Units.US,
) -> None:
    """Say what holds the best rig where it is and what a change would bring; or what clashes, and how to mend it."""
    if curve is not None:
        _curve(brief, catalog, by.value if by is not None else None, curve, as_json, units.value)
        return
    from solver.answers.why import why as answer
    from solver.quantities import parse

    stock = open_catalog(catalog)
    asked = open_brief(brief, stock)
    share = parse(better_by if "%" in better_by else f"{better_by} %", "share")
    with _told("the reasons"):
        found = answer(stock, asked, by.value if by is not None else None, tuple(rule or ()), share, conflicts)
    if as_json:
        from solver.report.as_data import to_json
        from solver.report.why_data import why_data

        sys.stdout.write(to_json(why_data(found, units.value)))
    else:
        from solver.report.layout import width_of_terminal
        from solver.report.why_text import why_text

        sys.stdout.write(why_text(found, width_of_terminal(), units.value))
    if found.status != "found":
        raise typer.Exit(1)


def _curve(brief: Path, catalog: Path | None, by: str | None, path: str, as_json: bool, units: str) -> None:
    from solver.answers.why import curve_of

    stock = open_catalog(catalog)
    asked = open_brief(brief, stock)
    with _told("the curve"):
        found = curve_of(stock, asked, path, by)
    if as_json:
        from solver.report.as_data import to_json
        from solver.report.curve_data import curve_data

        sys.stdout.write(to_json(curve_data(found, units)))
    else:
        from solver.report.curve_text import curve_text
        from solver.report.layout import width_of_terminal

        encoding = (getattr(sys.stdout, "encoding", None) or "ascii").lower()
        sys.stdout.write(curve_text(found, width_of_terminal(), units, unicode=encoding.startswith("utf")))
    if all(cost is None for _, cost in found.points):
        raise typer.Exit(1)


@contextmanager
def _told(what: str) -> Iterator[None]:
    """What is being worked out, on stderr where that is a terminal, and taken away at the end."""
    words = f"working out {what} ..." if sys.stderr.isatty() else ""
    sys.stderr.write(words)
    sys.stderr.flush()
    try:
        yield
    finally:
        if words:
            sys.stderr.write(f"\r{' ' * len(words)}\r")
            sys.stderr.flush()
