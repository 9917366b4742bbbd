"""A validator for the part of JSON Schema that `rigset schema` uses. An unknown keyword is an error, not a pass.

Contents: `mistakes`.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

TYPES = {"object": dict, "array": list, "string": str, "integer": int, "boolean": bool}
NOTES = {"$schema", "$defs", "title", "description", "examples", "default"}
KEYWORDS = NOTES | {
    "type", "enum", "const", "pattern", "minLength", "maxLength", "minimum", "maximum", "minItems", "uniqueItems",
    "items", "properties", "required", "additionalProperties", "anyOf", "allOf", "if", "then", "$ref",
}  # fmt: skip


def mistakes(data: Any, schema: dict[str, Any]) -> list[str]:
    """Where the data breaks the schema: paths with the keyword that is broken."""
    return list(_walk(data, schema, schema, "top"))


def _walk(data: Any, schema: dict[str, Any], whole: dict[str, Any], at: str) -> Iterator[str]:
    unknown = set(schema) - KEYWORDS
    assert not unknown, f"the validator does not know {sorted(unknown)}"
    if "$ref" in schema:
        name = schema["$ref"].removeprefix("#/$defs/")
        yield from _walk(data, whole["$defs"][name], whole, at)
    if "anyOf" in schema and all(list(_walk(data, way, whole, at)) for way in schema["anyOf"]):
        yield f"{at}: anyOf"
    for part in schema.get("allOf", ()):
        yield from _walk(data, part, whole, at)
    if "if" in schema and not list(_walk(data, schema["if"], whole, at)):
        yield from _walk(data, schema["then"], whole, at)
    wrong = next(_plain(data, schema), None)
    if wrong:
        yield f"{at}: {wrong}"
    elif isinstance(data, dict):
        yield from _mapping(data, schema, whole, at)
    elif isinstance(data, list) and "items" in schema:
        for k, entry in enumerate(data):
            yield from _walk(entry, schema["items"], whole, f"{at}.{k}")


def _plain(data: Any, schema: dict[str, Any]) -> Iterator[str]:
    """Keywords broken by the value itself."""
    wanted = schema.get("type")
    if wanted and not (isinstance(data, TYPES[wanted]) and (wanted == "boolean" or not isinstance(data, bool))):
        yield f"type {wanted}"
        return
    if "enum" in schema and not any(data == word and type(data) is type(word) for word in schema["enum"]):
        yield "enum"
    if "const" in schema and data != schema["const"]:
        yield "const"
    if isinstance(data, str) and not re.search(schema.get("pattern", ""), data):
        yield "pattern"
    if isinstance(data, str) and not schema.get("minLength", 0) <= len(data) <= schema.get("maxLength", 10**9):
        yield "length"
    if isinstance(data, int) and not schema.get("minimum", data) <= data <= schema.get("maximum", data):
        yield "range"
    if isinstance(data, list) and len(data) < schema.get("minItems", 0):
        yield "minItems"
    if isinstance(data, list) and schema.get("uniqueItems") and len({str(entry) for entry in data}) < len(data):
        yield "uniqueItems"


def _mapping(data: dict[str, Any], schema: dict[str, Any], whole: dict[str, Any], at: str) -> Iterator[str]:
    fields, more = schema.get("properties", {}), schema.get("additionalProperties", True)
    yield from (f"{at}: {key} is required" for key in schema.get("required", ()) if key not in data)
    for key, value in data.items():
        if key in fields:
            yield from _walk(value, fields[key], whole, f"{at}.{key}")
        elif more is False:
            yield f"{at}: no key {key}"
        elif isinstance(more, dict):
            yield from _walk(value, more, whole, f"{at}.{key}")
