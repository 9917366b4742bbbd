"""rigset schema: JSON Schema of a catalog file and of a brief, for editors."""

from __future__ import annotations

import json
import sys
from pathlib import Path
from typing import Annotated

import typer

OutOption = Annotated[
    Path | None,
    typer.Option("--out", metavar="FOLDER", help="Write catalog.schema.json and brief.schema.json into this folder."),
]
ForceOption = Annotated[bool, typer.Option("--force", help="Replace files that are there already.")]


def schema(out: OutOption = None, force: ForceOption = False) -> None:
    """JSON Schema of a catalog file and of a brief, for editors that check as one types."""
    from solver.report.schema import schemas

    found = schemas()
    if out is None:
        sys.stdout.write(_text(found))
        return
    from solver.errors import OutputExists
    from solver.files import write_whole

    files = {out / f"{name}.schema.json": _text(one) for name, one in found.items()}
    for path in files:
        if path.exists() and not force:
            raise OutputExists(str(path))
    for path, text in files.items():
        write_whole(path, text, force)
        sys.stdout.write(f"written: {path}\n")


def _text(data: object) -> str:
    return json.dumps(data, indent=2, ensure_ascii=False) + "\n"
