"""Options that every command takes, and what they open.

Contents: `CatalogOption`, `JsonOption`, `UnitsOption`, `ByOption`, `open_catalog`, `DEMO`.
"""

from __future__ import annotations

from enum import Enum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated

import typer

if TYPE_CHECKING:
    from solver.catalog import Catalog

DEMO = Path(__file__).resolve().parents[2] / "catalog_demo"


class Units(str, Enum):
    """Unit systems of the output."""

    US = "us"
    SI = "si"


class By(str, Enum):
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
BriefArgument = Annotated[Path, typer.Argument(metavar="BRIEF", help="The brief, a YAML file.")]


def open_catalog(folder: Path | None) -> Catalog:
    """Read the catalog of this folder, or the demo catalog."""
    from solver.catalog import read_catalog

    return read_catalog(folder if folder is not None else DEMO / "catalog")
