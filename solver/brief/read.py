"""From a YAML file to a brief, or to every mistake in it at once.

Contents: `read_brief`, `brief_of`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from difflib import get_close_matches
from pathlib import Path
from typing import Any

from pydantic import ValidationError

from solver.brief.models import Brief, BriefEntry, flatten
from solver.catalog.fields import found
from solver.catalog.read import Catalog
from solver.catalog.reading_errors import mistakes_of
from solver.errors import InputError, Mistake
from solver.files import Document, read_yaml

_RULE_ID = re.compile(r"[A-Z]+-\d\d[A-Z]?")
Place = tuple[str | int, ...]


def read_brief(path: Path | str, catalog: Catalog | None = None, slots: Iterable[str] = ()) -> Brief:
    """Read a brief; InputError with every mistake, sorted by line.

    Parameters
    ----------
    path : Path or str
        The YAML file.
    catalog : Catalog, optional
        Where ids of materials, owned and unwanted items are looked up.
    slots : iterable of str
        Slot names that `asked` may use besides the catalog's classes.
    """
    document = read_yaml(path)
    data: Any = document.data
    if not isinstance(data, dict):
        raise InputError([document.mistake((), found(data), "a mapping with the keys of a brief", "title: ...")])
    wrong = list(_ids(data, document, catalog, set(slots))) if catalog else []
    try:
        entry = BriefEntry.model_validate(data)
        wrong += _shape(entry, document)
    except ValidationError as error:
        raise InputError([*wrong, *mistakes_of(error, document, (), BriefEntry, data)]) from None
    if wrong:
        raise InputError(wrong)
    return flatten(entry)


def brief_of(data: dict[str, Any], catalog: Catalog | None = None) -> Brief:
    """A brief from Python data of the file's shape, every figure as text with its unit."""
    entry = BriefEntry.model_validate(data)
    document = Document("(data)", data, {})
    wrong = [*_shape(entry, document), *(_ids(data, document, catalog, set()) if catalog else ())]
    if wrong:
        raise InputError(wrong)
    return flatten(entry)


def _shape(entry: BriefEntry, document: Document) -> Iterator[Mistake]:
    if not entry.materials:
        yield document.mistake(("materials",), "no material", "at least one", "{material: material-01, sets: 1}")
    if not entry.duties:
        yield document.mistake(("duties",), "no duty", "at least one", "a list that begins with `- name: ...`")
    aboard = [m.material for m in entry.materials]
    for k, name in enumerate(aboard):
        if name in aboard[:k]:
            yield document.mistake(("materials", k), f"material {name} a second time", "each material once", "add the sets")
    names = [duty.name for duty in entry.duties]
    for k, duty in enumerate(entry.duties):
        if duty.name in names[:k]:
            yield document.mistake(("duties", k, "name"), f'duty "{duty.name}" a second time', "each name once")
        if duty.material is not None and duty.material not in aboard:
            near = get_close_matches(duty.material, aboard, 1, 0.4)
            yield document.mistake(("duties", k, "material"), f"material {duty.material}", "a material that is aboard",
                                   near[0] if near else "")  # fmt: skip
    for k, rule in enumerate(entry.waived):
        if not _RULE_ID.fullmatch(rule):
            yield document.mistake(("waived", k), f'"{rule}"', "the id of a practice rule, such as AIR-07", rule.upper())


def _entries(data: dict[str, Any], *keys: str) -> list[Any]:
    """A list somewhere in the file, or an empty one if something else stands there."""
    here: Any = data
    for key in keys:
        here = here.get(key) if isinstance(here, dict) else None
    return here if isinstance(here, list) else []


def _ids(data: dict[str, Any], document: Document, catalog: Catalog, slots: set[str]) -> Iterator[Mistake]:
    wanted: list[tuple[Place, Any, str | None]] = [
        *((("owned", k), item, None) for k, item in enumerate(_entries(data, "owned"))),
        *((("unwanted", "items", k), item, None) for k, item in enumerate(_entries(data, "unwanted", "items"))),
    ]
    for k, aboard in enumerate(_entries(data, "materials")):
        if isinstance(aboard, dict) and "material" in aboard:
            wanted.append((("materials", k, "material"), aboard["material"], "material"))
    for place, item, item_class in wanted:
        if isinstance(item, str) and (item not in catalog or (item_class and catalog.class_of(item) != item_class)):
            expected = f"the id of a {item_class}" if item_class else "an id of the catalog"
            near = catalog.nearest(item, item_class)
            yield document.mistake(place, f'id "{item}"', expected, near or "look the id up in the catalog")
    known = {*catalog.classes, "feed_pump_a", "feed_pump_b", *slots}
    asked = data.get("asked")
    names: list[tuple[Place, Any]] = [(("asked", name), name) for name in (asked if isinstance(asked, dict) else {})]
    names += [(("unwanted", "classes", k), name) for k, name in enumerate(_entries(data, "unwanted", "classes"))]
    for place, name in names:
        if isinstance(name, str) and name not in known:
            near_names = get_close_matches(name, known, 1, 0.4)
            yield document.mistake(place, f'"{name}"', "a slot or class of the rig", near_names[0] if near_names else "")
