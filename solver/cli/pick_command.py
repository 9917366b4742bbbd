"""rigset pick BRIEF: the answer and what binds."""

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
    from solver.answers.facts import Picked
    from solver.brief import Brief
    from solver.catalog import Catalog

SecondsOption = Annotated[
    float | None,
    typer.Option("--seconds", min=0.0, metavar="S", help="Give the best found within so many seconds, proven or not."),
]
WorkOption = Annotated[
    float | None,
    typer.Option("--work", min=0.0, metavar="W", help="Let no solve take more than W units: the same on any machine."),
]

CertificateOption = Annotated[
    Path | None,
    typer.Option("--certificate", metavar="FILE", help="Write the proof too, as a file that `rigset verify` checks."),
]
ExactOption = Annotated[
    bool, typer.Option("--exact", help="With --certificate: split parts that only the engine closed, until none is left.")
]
ForceOption = Annotated[bool, typer.Option("--force", help="With --certificate: replace a file that is there already.")]


def pick(
    brief: BriefArgument,
    catalog: CatalogOption = None,
    by: ByOption = None,
    as_json: JsonOption = False,
    units: UnitsOption = Units.US,
    seconds: SecondsOption = None,
    work: WorkOption = None,
    certificate: CertificateOption = None,
    exact: ExactOption = False,
    force: ForceOption = False,
) -> None:
    """Pick the cheapest (or lightest) rig that fits the brief, with proof, and say what binds.

    Where the brief gives requirements as ranges, the rig holds over all of them.
    """
    _usage(certificate, exact, force)
    if seconds is None and work is None:
        _picked(brief, catalog, by, as_json, units, certificate, exact, force)
        return
    from solver.search.engine import limited

    with limited(seconds, work):
        _picked(brief, catalog, by, as_json, units, certificate, exact, force)


def _usage(certificate: Path | None, exact: bool, force: bool) -> None:
    """Everything about the certificate's file that can be known before the work."""
    from solver.errors import EntryError, OutputExists

    for option, given in (("--exact", exact), ("--force", force)):
        if given and certificate is None:
            raise EntryError(f"{option} without --certificate", "both", f"--certificate FILE {option}")
    if certificate is not None and certificate.exists() and not force:
        raise OutputExists(str(certificate))


def _picked(
    brief: Path, catalog: Path | None, by: By | None, as_json: bool, units: Units, certificate: Path | None, exact: bool,
    force: bool,
) -> None:  # fmt: skip
    """Work out the answer, print it, and write its certificate if asked."""
    from solver.answers.pick import pick as answer

    stock = open_catalog(catalog)
    asked = open_brief(brief, stock)
    if certificate is not None:
        from solver.answers.certificate import certifiable

        certifiable(asked)
    if asked.ranges:
        _over_ranges(stock, asked, by.value if by is not None else None, as_json, units.value)
        return
    picked = answer(stock, asked, by.value if by is not None else None)
    if as_json:
        from solver.report.as_data import pick_data, to_json

        sys.stdout.write(to_json(pick_data(picked, units.value)))
    else:
        from solver.report.layout import width_of_terminal
        from solver.report.pick_text import pick_text

        sys.stdout.write(pick_text(picked, width_of_terminal(), units.value))
    if certificate is not None:
        _certify(stock, asked, picked, certificate, exact, force)
    if picked.status != "found":
        raise typer.Exit(1)


def _certify(stock: Catalog, brief: Brief, picked: Picked, path: Path, exact: bool, force: bool) -> None:
    """Write the proof of the answer, and say so on stderr."""
    from solver.answers.certificate import certify
    from solver.answers.certificate_file import certificate_text
    from solver.files import write_whole
    from solver.report.certificate_text import written_words

    sys.stdout.flush()
    certificate, findings = certify(stock, brief, picked, exact)
    write_whole(path, certificate_text(certificate), force)
    sys.stderr.write(f"{written_words(str(path), findings)}\n")


def _over_ranges(stock: Catalog, brief: Brief, by: str | None, as_json: bool, units: str) -> None:
    """The rig that holds over all ranges of the brief."""
    from solver.answers.robust import robust

    found = robust(stock, brief, by=by)
    if as_json:
        from solver.report.as_data import to_json
        from solver.report.robust_data import robust_data

        sys.stdout.write(to_json(robust_data(found, units)))
    else:
        from solver.report.layout import width_of_terminal
        from solver.report.robust_text import robust_text

        sys.stdout.write(robust_text(found, width_of_terminal(), units))
    if found.status != "found":
        raise typer.Exit(1)
