"""The short way for items without a mistake: the same checks, without building pydantic's validators.

Contents: `quick_item`.

Building the validators of all classes takes longer than reading a catalog with them. So an entry is first checked field by
field with the very functions that the annotated types give to pydantic; if anything at all is not plainly right, the answer
is None and pydantic itself judges the entry, mistakes and all. A test holds both ways against each other.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from functools import cache
from typing import Any, Literal, TypeVar, cast, get_args, get_origin

from solver.catalog.base import Record
from solver.catalog.checks import Checked
from solver.errors import EntryError

T = TypeVar("T", bound=Record)
Check = Callable[[Any], Any]
_MISSING = object()


class _NotPlainError(Exception):
    """Something that the short way does not know or that is not right."""


def _of_words(words: tuple[Any, ...]) -> Check:
    allowed = frozenset(words)

    def check(entry: Any) -> Any:
        if isinstance(entry, str) and entry in allowed:
            return entry
        raise _NotPlainError

    return check


def _of_records(model: type[Record]) -> Check:
    def check(entry: Any) -> Any:
        if not isinstance(entry, list):
            raise _NotPlainError
        return tuple(_record(model, part) for part in entry)

    return check


def _check_of(annotation: Any, metadata: list[Any]) -> Check | None:
    if metadata:
        only = metadata[0]
        return only.checker() if len(metadata) == 1 and isinstance(only, Checked) else None
    if get_origin(annotation) is Literal:
        return _of_words(get_args(annotation))
    if get_origin(annotation) is tuple:
        inner = get_args(annotation)[0]
        if isinstance(inner, type) and issubclass(inner, Record):
            return _of_records(inner)
    return None


@cache
def _plan(model: type[Record]) -> tuple[tuple[str, Check, Any], ...] | None:
    """Name, check and default of every field; None for a model that the short way does not know."""
    plan = []
    for name, info in model.model_fields.items():
        check = _check_of(info.annotation, info.metadata)
        if check is None or info.alias is not None or info.default_factory is not None:
            return None
        plan.append((name, check, _MISSING if info.is_required() else info.default))
    return tuple(plan)


def _record(model: type[Record], entry: Any) -> Record:
    plan = _plan(model)
    if plan is None or not isinstance(entry, Mapping):
        raise _NotPlainError
    values: dict[str, Any] = {}
    given = 0
    for name, check, default in plan:
        found = entry.get(name, _MISSING)
        if found is _MISSING:
            if default is _MISSING:
                raise _NotPlainError
            values[name] = default
        else:
            given += 1
            values[name] = check(found)
    if given != len(entry):
        raise _NotPlainError
    made = model.model_construct(_fields_set={name for name in values if name in entry}, **values)
    if any(order.finding(values, model) for order in model.orders) or next(iter(made.findings()), None) is not None:
        raise _NotPlainError
    return made


def quick_item(model: type[T], entry: Any) -> T | None:
    """The item of an entry that is plainly right, or None."""
    try:
        return cast(T, _record(model, entry))
    except (_NotPlainError, EntryError):
        return None
