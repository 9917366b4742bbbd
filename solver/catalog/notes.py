"""The docstring under each field, for the reference page and the schema; read from the source only when asked.

Contents: `notes_of`.
"""

from __future__ import annotations

import ast
import inspect
import textwrap
from itertools import pairwise

from solver.catalog.base import Record


def notes_of(model: type[Record]) -> dict[str, str]:
    """Per field of a model the docstring under it, on one line; fields in their order."""
    found: dict[str, str] = {}
    for kind in reversed(model.__mro__):
        if issubclass(kind, Record) and kind is not Record:
            found.update(_own_notes(kind))
    return {name: found[name] for name in model.model_fields if name in found}


def _own_notes(kind: type) -> dict[str, str]:
    (definition,) = ast.parse(textwrap.dedent(inspect.getsource(kind))).body
    found: dict[str, str] = {}
    for entry, after in pairwise(getattr(definition, "body", [])):
        named = isinstance(entry, ast.AnnAssign) and isinstance(entry.target, ast.Name)
        if named and isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant):
            found[entry.target.id] = " ".join(str(after.value.value).split())
    return found
