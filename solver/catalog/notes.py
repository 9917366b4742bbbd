"""The docstring under each field, for the reference page and the schema; read from the source only when asked.

Contents: `notes_of`.
"""

from __future__ import annotations

import ast
import sys
from functools import cache
from itertools import pairwise
from pathlib import Path

from solver.catalog.base import Record


def notes_of(model: type[Record]) -> dict[str, str]:
    """Per field of a model the docstring under it, on one line; fields in their order."""
    found: dict[str, str] = {}
    for kind in reversed(model.__mro__):
        if issubclass(kind, Record) and kind is not Record:
            found.update(_classes(kind.__module__).get(kind.__name__, {}))
    return {name: found[name] for name in model.model_fields if name in found}


@cache
def _classes(module: str) -> dict[str, dict[str, str]]:
    """The notes of every class at the top of a module; its source is read and parsed once."""
    path = sys.modules[module].__file__
    tree = ast.parse(Path(path).read_text("utf-8")) if path else ast.Module([], [])
    return {entry.name: _notes(entry) for entry in tree.body if isinstance(entry, ast.ClassDef)}


def _notes(definition: ast.ClassDef) -> dict[str, str]:
    found: dict[str, str] = {}
    for entry, after in pairwise(definition.body):
        named = isinstance(entry, ast.AnnAssign) and isinstance(entry.target, ast.Name)
        if named and isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant):
            found[entry.target.id] = " ".join(str(after.value.value).split())  # type: ignore[attr-defined]
    return found
