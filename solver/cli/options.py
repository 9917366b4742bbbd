"""Options that every command takes, and what they open.

Contents: `CatalogOption`, `JsonOption`, `UnitsOption`, `ByOption`, `open_catalog`, `open_brief`, `DEMO`.
"""

from __future__ import annotations

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from solver.brief import Brief
    from solver.catalog import Catalog

DEMO = Path(__file__).resolve().parents[2] / "catalog_demo"


class Units(StrEnum):
    """Unit systems of the output."""

    US = "us"
    SI = "si"


class By(StrEnum):
    """What to make least."""

    PRICE = "price"
    WEIGHT = "weight"
    YEARLY_COST = "yearly-cost"


CatalogOption = Annotated[
    Path | None,
    typer.Option("--catalog", metavar="DIR", help="Folder of the catalog. Default: the invented demo catalog."),
]
JsonOption = Annotated[bool, typer.Option("--json", help="The answer as JSON on stdout.")]
UnitsOption = Annotated[Units, typer.Option("--units", help="Units of the output.")]
ByOption = Annotated[By | None, typer.Option("--by", help="What to make least. Default: as the brief says.")]
PageOption = Annotated[
    Path | None, typer.Option("--page", metavar="FILE", help="Write the answer as a self-contained page (.html) too.")
]
BriefArgument = Annotated[Path, typer.Argument(metavar="BRIEF", help="The brief, a YAML file.")]


def open_brief(path: Path, stock: Catalog) -> Brief:
    """Read a brief against a catalog and the rules."""
    from solver.brief import read_brief
    from solver.rules import RULES
    from solver.rules.record import Basis

    practices = frozenset(rule.id for rule in RULES.values() if rule.basis is Basis.PRACTICE)
    return read_brief(path, stock, waivable=practices)


def open_catalog(folder: Path | None) -> Catalog:
    """Read the catalog of this folder, or the demo catalog."""
    from solver.catalog import kept_catalog

    return kept_catalog(folder if folder is not None else DEMO / "catalog")


def checked_page(page: Path | None, force: bool) -> None:
    """Everything about the page's file that can be known before the work."""
    from solver.errors import EntryError, OutputExists

    if page is None:
        return
    if page.suffix.lower() != ".html":
        raise EntryError(f'--page "{page}"', "a file that ends in .html", f"{page.stem}.html")
    if page.exists() and not force:
        raise OutputExists(str(page))


def write_page(page: Path, content: str, force: bool) -> None:
    """Write the page whole, and say so on stderr."""
    import sys

    from solver.files import write_whole

    write_whole(page, content, force)
    sys.stderr.write(f"written: {page}\n")
