"""From a YAML file to a brief, or to every mistake in it at once.

Contents: `read_brief`, `brief_of`, `MOST_ENTRIES`.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from solver.brief.lookups import unknown_names
from solver.brief.models import Brief, BriefEntry
from solver.brief.shape import misfits, not_waivable
from solver.catalog.fields import found
from solver.catalog.read import Catalog
from solver.catalog.reading_errors import mistakes_of
from solver.errors import InputError
from solver.files import Document, read_yaml

MOST_ENTRIES = 5_000
"""Entries of a brief, at all depths: a hundred duties have fewer."""


def read_brief(
    path: Path | str,
    catalog: Catalog | None = None,
    slots: Iterable[str] = (),
    waivable: Collection[str] | None = None,
) -> Brief:
    """Read a brief; InputError with every mistake, sorted by line.

    Parameters
    ----------
    path : Path or str
        The YAML file.
    catalog : Catalog, optional
        Where ids of materials, owned and unwanted items, slots and features are looked up.
    slots : iterable of str
        Slot names that `asked` may use besides the fixed ones.
    waivable : collection of str, optional
        Ids of the rules that may be waived; without it only the shape of an id is checked.
    """
    return _brief(read_yaml(path), catalog, slots, waivable)


def brief_of(data: dict[str, Any], catalog: Catalog | None = None) -> Brief:
    """A brief from Python data of the file's shape: figures as text with a unit, or as float in SI."""
    return _brief(Document("(data)", data, {}, 0), catalog, (), None)


def _brief(
    document: Document, catalog: Catalog | None, slots: Iterable[str], waivable: Collection[str] | None
) -> Brief:
    data: Any = document.data
    if not isinstance(data, dict):
        raise InputError([document.mistake((), found(data), "a mapping with the keys of a brief", "title: ...")])
    if document.size > MOST_ENTRIES:
        what = f"{document.size:,} entries"
        raise InputError([document.mistake((), what, f"a brief, which has at most {MOST_ENTRIES:,}", "several briefs")])
    wrong = misfits(data, document)
    if waivable is not None:
        wrong += not_waivable(data, document, waivable)
    if catalog is not None:
        wrong += unknown_names(data, document, catalog, slots)
    try:
        entry = BriefEntry.model_validate(data)
    except ValidationError as error:
        raise InputError([*wrong, *mistakes_of(error, document, (), BriefEntry, data)]) from None
    if wrong:
        raise InputError(wrong)
    brief = Brief(entry)
    if brief.ranges:
        from solver.brief.ranges import misfits_of_ranges

        wrong = misfits_of_ranges(brief, document)
        if wrong:
            raise InputError(wrong)
    return brief
