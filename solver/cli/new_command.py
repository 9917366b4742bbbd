"""rigset new FOLDER: a folder to start from, with a commented brief, a catalog, and schemas for editors."""

from __future__ import annotations

import contextlib
import json
import secrets
import shlex
import shutil
import sys
from pathlib import Path
from typing import Annotated

import typer

from solver.cli.options import DEMO

NEXT = (
    "rigset pick {folder}/brief.yaml --catalog {folder}/catalog",
    "rigset why {folder}/brief.yaml --catalog {folder}/catalog",
    "rigset catalog check {folder}/catalog",
)
"""The commands to try first; `catalog_demo/start/README.md` has the same."""
_HEAD = "# yaml-language-server: $schema=../schema/catalog.schema.json\n"


def new(folder: Annotated[Path, typer.Argument(metavar="FOLDER", help="The folder to make.")]) -> None:
    """Make a folder to start from: a commented brief, a copy of the demo catalog, schemas for editors."""
    from solver.errors import CannotWrite

    target = folder.absolute()
    _refuse(folder, target)
    if not target.parent.is_dir():
        raise CannotWrite(str(folder), "the folder above it is not there")
    draft = target.with_name(f".{target.name[:100]}.{secrets.token_hex(6)}.part")
    try:
        _build(draft)
        draft.rename(target)
    except OSError as error:
        raise CannotWrite(str(folder), (error.strerror or "an error").lower()) from None
    finally:
        with contextlib.suppress(OSError):
            shutil.rmtree(draft)
    lines = [f"made: {folder}, with brief.yaml, catalog/, schema/ and README.md. Try next:", ""]
    sys.stdout.write("\n".join([*lines, *(f"  {command.format(folder=_named(folder))}" for command in NEXT)]) + "\n")


def _named(folder: Path) -> str:
    """The folder as a shell takes it."""
    text = shlex.quote(str(folder))
    return f"./{text}" if text.startswith("-") else text


def _refuse(folder: Path, target: Path) -> None:
    """CannotWrite where something is that would have to make way."""
    from solver.errors import CannotWrite

    if target.is_dir() and not target.is_symlink():
        if target.samefile(Path.cwd()):
            raise CannotWrite(str(folder), "it is the folder that you are in")
        if any(target.iterdir()):
            raise CannotWrite(str(folder), "the folder is not empty")
    elif target.exists() or target.is_symlink():
        raise CannotWrite(str(folder), "something of that name is there that is no empty folder")


def _build(draft: Path) -> None:
    """All of the folder, under a name that nobody looks for."""
    from solver.report.schema import schemas

    start = DEMO / "start"
    for part in ("catalog", "schema"):
        (draft / part).mkdir(parents=True)
    (draft / "brief.yaml").write_bytes((start / "brief.yaml").read_bytes())
    (draft / "README.md").write_bytes((start / "README.md").read_bytes())
    (draft / "catalog" / "README.md").write_bytes((DEMO / "README.md").read_bytes())
    for path in sorted((DEMO / "catalog").glob("*.yaml")):
        (draft / "catalog" / path.name).write_text(_HEAD + path.read_text("utf-8"), "utf-8")
    for name, schema in schemas().items():
        text = json.dumps(schema, indent=2, ensure_ascii=False) + "\n"
        (draft / "schema" / f"{name}.schema.json").write_text(text, "utf-8")
