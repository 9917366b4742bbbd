"""What pydantic finds wrong with an entry, as mistakes with file and line in the program's own words.

Contents: `mistakes_of`, `expected_of` (what a field wants, in words), `model_at`, `words_of`, `keys_of`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from difflib import get_close_matches
from typing import Any, Literal, get_args, get_origin

from pydantic import ValidationError
from pydantic.fields import FieldInfo

from solver.catalog.base import ImpossiblePairs, Record, checks_of
from solver.catalog.checks import Count, Name, Quantity, Slug, Switch, Tags, found
from solver.errors import EntryError, Mistake
from solver.files import Document

Place = tuple[str | int, ...]
Row = tuple[Place, str, str, str]
"""Place, what was found, expected and advised."""


def mistakes_of(
    error: ValidationError, document: Document, place: Place, model: type[Record], entry: Mapping[str, Any]
) -> list[Mistake]:
    """Every mistake of one entry, which stands at `place` of the document."""
    errors = error.errors(include_url=False)
    extra = {tuple(e["loc"]): near_key(model, tuple(e["loc"])) for e in errors if e["type"] == "extra_forbidden"}
    meant = {(*loc[:-1], near) for loc, near in extra.items() if near}
    rows: list[Row] = []
    for e in errors:
        if e["type"] != "missing" or tuple(e["loc"]) not in meant:
            rows.extend(_rows(e, model, extra))
    if not any(isinstance(e.get("ctx", {}).get("error"), ImpossiblePairs) for e in errors):
        rows.extend(_orders(model, entry))
    return [document.mistake((*place, *where), *words) for where, *words in rows]


def _rows(e: Any, model: type[Record], extra: Mapping[Place, str]) -> Iterator[Row]:
    """One of pydantic's errors in the program's words."""
    loc: Place = tuple(e["loc"])
    cause = e.get("ctx", {}).get("error")
    if isinstance(cause, ImpossiblePairs):
        for wrong in cause.findings:
            yield (*loc, wrong.field), wrong.found, wrong.expected, wrong.advice
    elif isinstance(cause, EntryError):
        yield loc, f"{_name(loc)} {cause.found}".strip(), cause.expected, cause.advice
    elif e["type"] == "missing":
        yield loc[:-1], f"no {loc[-1]}", f"{loc[-1]}: {expected_of(model_at(model, loc[:-1]), str(loc[-1]))}", ""
    elif e["type"] == "extra_forbidden":
        yield loc, f'the key "{loc[-1]}"', f"a key of {_owner(model, loc)}", extra[loc]
    elif e["type"] == "literal_error":
        words = words_of(model, loc)
        near = get_close_matches(str(e["input"]), words, 1, 0.6)
        yield loc, f"{_name(loc)} {found(e['input'])}", f"one of {', '.join(words)}", near[0] if near else ""
    else:
        wanted = {"tuple_type": "a list", "list_type": "a list", "dict_type": "a mapping", "model_type": "a mapping"}
        wanted["model_attributes_type"] = "a mapping"
        wanted["string_type"] = "text"
        yield loc, f"{_name(loc)} {found(e['input'])}".strip(), wanted.get(e["type"], str(e["msg"])), ""


def _orders(model: type[Record], entry: Mapping[str, Any]) -> Iterator[Row]:
    """Orders that are broken by fields which are right by themselves, when others kept the item from being built."""
    values = {}
    for name in {name for order in model.orders for name in order[:2]}:
        quantity = model.quantity(name)
        if quantity is not None and name in entry:
            try:
                values[name] = quantity.checker()(entry[name])
            except EntryError:
                continue
    for order in model.orders:
        wrong = order.finding(values, model)
        if wrong:
            yield (wrong.field,), wrong.found, wrong.expected, wrong.advice


def _name(loc: Place) -> str:
    """The field's name; an entry of a list goes by its number from 1."""
    return " ".join(str(step + 1) if isinstance(step, int) else step for step in loc)


def _owner(model: type[Record], loc: Place) -> str:
    """What the mapping that holds a key is called."""
    names = [str(step) for step in loc[:-1] if isinstance(step, str)]
    return names[-1] if names else str(getattr(model, "class_name", "") or "this file")


def keys_of(model: type[Record]) -> dict[str, FieldInfo]:
    """The keys that a mapping of this model may have."""
    return {info.alias or name: info for name, info in model.model_fields.items()}


def near_key(model: type[Record], loc: Place) -> str:
    """The key that one which is none was probably meant to be."""
    near = get_close_matches(str(loc[-1]), list(keys_of(model_at(model, loc[:-1]))), 1, 0.6)
    return near[0] if near else ""


def _record_in(kind: Any) -> type[Record] | None:
    """The model inside of an annotation such as a tuple of it, or it or none."""
    if isinstance(kind, type) and issubclass(kind, Record):
        return kind
    return next((inner for part in get_args(kind) if (inner := _record_in(part))), None)


def model_at(model: type[Record], loc: Place) -> type[Record]:
    """The model of the mapping at this place; lists of mappings are followed into their entries."""
    for step in loc:
        info = keys_of(model).get(step) if isinstance(step, str) else None
        model = (_record_in(info.annotation) if info else None) or model
    return model


def _words_in(kind: Any) -> tuple[str, ...]:
    if get_origin(kind) is Literal:
        return tuple(str(word) for word in get_args(kind))
    return next((words for part in get_args(kind) if (words := _words_in(part))), ())


def words_of(model: type[Record], loc: Place) -> tuple[str, ...]:
    """The words that a field of words may take."""
    names = [at for at, step in enumerate(loc) if isinstance(step, str)]
    info = keys_of(model_at(model, loc[: names[-1]])).get(str(loc[names[-1]])) if names else None
    return _words_in(info.annotation) if info else ()


def expected_of(model: type[Record], key: str) -> str:
    """What a field wants, in words."""
    info = keys_of(model)[key]
    for check in checks_of(info):
        if isinstance(check, Quantity | Count):
            return check.expected()
        if isinstance(check, Tags):
            return f"a list {check.expected()}"
        if isinstance(check, Switch):
            return "true or false"
        if isinstance(check, Slug):
            return "small letters, digits and hyphens"
        if isinstance(check, Name):
            return "one line of text"
    inner = _record_in(info.annotation)
    if inner is not None:
        many = get_origin(info.annotation) is tuple
        keys = ", ".join(keys_of(inner))
        return f"a list of mappings with {keys}" if many else f"a mapping with {keys}"
    return f"one of {', '.join(_words_in(info.annotation))}" if _words_in(info.annotation) else "text"
