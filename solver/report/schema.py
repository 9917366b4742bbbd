"""JSON Schema of a catalog file and of a brief, made from the models themselves, for editors that check as one types.

Contents: `SCHEMAS`, `schemas`, `catalog_schema`, `brief_schema`.

The schema knows keys, words, forms and which keys are needed. It does not know what a unit measures, nor what cannot
stand beside what: `rigset catalog check` and the reading of the brief do.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from typing import Any, get_args

from pydantic.json_schema import models_json_schema

from solver.brief.entries import AirEntry, ReachEntry
from solver.brief.models import BriefEntry
from solver.catalog.base import Record, item_classes
from solver.catalog.notes import notes_of
from solver.catalog.reading_errors import expected_of
from solver.errors import InternalError
from solver.quantities import write

Schema = dict[str, Any]

DIALECT = "https://json-schema.org/draft/2020-12/schema"
SCHEMAS = ("catalog", "brief")
"""Names of the two schemas."""

_SHORT: Mapping[type[Record], str] = {ReachEntry: "length", AirEntry: "coldest"}
"""Mappings that may be written as one text, and the field whose form that text has."""


def schemas() -> dict[str, Schema]:
    """Both schemas by name."""
    return {"catalog": catalog_schema(), "brief": brief_schema()}


def catalog_schema() -> Schema:
    """Schema of one file of a catalog: a class, and items of that class."""
    classes = item_classes()
    choices = [
        {
            "if": {"properties": {"class": {"const": name}}, "required": ["class"]},
            "then": {"properties": {"items": {"items": _reference(model)}}},
        }
        for name, model in classes.items()
    ]
    return {
        "$schema": DIALECT,
        "title": "A file of a rigset catalog",
        "description": "Items of one class. Every figure is text with its unit.",
        "type": "object",
        "properties": {
            "class": {"enum": list(classes), "description": "Class of the items in this file."},
            "items": {"type": "array", "minItems": 1, "description": "The items."},
            "note": {"description": "Anything worth saying about the file; not read."},
        },
        "required": ["class", "items"],
        "additionalProperties": False,
        "allOf": choices,
        "$defs": _definitions(classes.values()),
    }


def brief_schema() -> Schema:
    """Schema of a brief."""
    definitions = _definitions([BriefEntry])
    whole = definitions.pop(BriefEntry.__name__)
    return {"$schema": DIALECT, **whole, "title": "A rigset brief", "$defs": definitions}


def _reference(model: type[Record]) -> Schema:
    return {"$ref": f"#/$defs/{model.__name__}"}


def _definitions(models: Iterable[type[Record]]) -> dict[str, Schema]:
    """The schema of each of these models and of all mappings inside of them, by the model's name."""
    wanted = list(dict.fromkeys(inner for model in models for inner in _within(model)))
    if len({model.__name__ for model in wanted}) != len(wanted):
        raise InternalError("two mappings of the schema have one name")
    _, found = models_json_schema([(model, "validation") for model in wanted], ref_template="#/$defs/{model}")
    return {model.__name__: _finished(model, found["$defs"][model.__name__]) for model in wanted}


def _within(model: type[Record]) -> Iterator[type[Record]]:
    """The model and those that its fields hold."""
    yield model
    for info in model.model_fields.values():
        for inner in _records_in(info.annotation):
            yield from _within(inner)


def _records_in(kind: Any) -> Iterator[type[Record]]:
    if isinstance(kind, type) and issubclass(kind, Record):
        yield kind
    for part in get_args(kind):
        yield from _records_in(part)


def _finished(model: type[Record], schema: Schema) -> Schema:
    """The model's schema with what each field means, what is expected there and its default, as people write them."""
    notes = notes_of(model)
    properties = {}
    for name, info in model.model_fields.items():
        key = info.alias or name
        properties[key] = _as_typed(schema["properties"][key])
        properties[key]["description"] = f"{notes.get(name, '')} Expected: {expected_of(model, key)}.".strip()
        if not info.is_required():
            properties[key] |= _default(model, name, info.default)
    whole = {**schema, "description": " ".join((model.__doc__ or "").split()), "properties": properties}
    short = _SHORT.get(model)
    if short is None:
        return whole
    return {"anyOf": [properties[short] | {"description": "All of it in one figure."}, whole]}


def _as_typed(schema: Schema) -> Schema:
    """What an editor sees in the file: no null, and true and false without quotation marks."""
    found = {key: value for key, value in schema.items() if key not in ("default", "title")}
    ways = found.get("anyOf")
    if ways is not None:
        left = [way for way in ways if way != {"type": "null"}]
        found = {**found, **left[0]} if len(left) == 1 else {**found, "anyOf": left}
        if len(left) == 1:
            del found["anyOf"]
    words = found.get("enum", [])
    if {"true", "false"} <= set(words):
        found = {key: value for key, value in found.items() if key != "type"} | {"enum": [*words, True, False]}
    return found


def _default(model: type[Record], name: str, value: Any) -> Schema:
    """The default as it would be written; none where nothing would be, or where a mapping has its own defaults."""
    quantity = model.quantity(name)
    if quantity is not None and isinstance(value, float):
        return {"default": write(value, quantity.unit)}
    if isinstance(value, str | bool | int):
        return {"default": value}
    return {}
