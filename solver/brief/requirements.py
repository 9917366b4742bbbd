"""Reading and changing one requirement of a brief.

Contents: `si`, `find` (from a path to a requirement), `value_of`, `with_value`, `moved_by`; handed on from
`requirement_table.py`: `Kind`, `Direction`, `Requirement`, `REQUIREMENTS`.
"""

from __future__ import annotations

from collections.abc import Iterable
from difflib import get_close_matches
from math import isfinite
from typing import Any

from pydantic import BaseModel, ValidationError

from solver.brief.models import Brief, BriefEntry
from solver.brief.requirement_table import REQUIREMENTS, Direction, Kind, Requirement
from solver.catalog.reading_errors import mistakes_of
from solver.errors import EntryError
from solver.files import Document
from solver.quantities import from_unit

__all__ = [
    "REQUIREMENTS", "Direction", "Kind", "Requirement", "find", "moved_by", "si", "value_of", "with_value",
]  # fmt: skip


def si(requirement: Requirement, value: float) -> float:
    """A figure in the requirement's unit, in SI."""
    return float(from_unit(value, requirement.unit))


def value_of(brief: Brief, requirement: Requirement, duty_name: str | None = None) -> float | None:
    """The present value in SI, of one duty or (None) of the first; None where the brief sets none.

    It sets none for a limit that is not there, for an output that follows from board feet, and for the supply of a site
    that has none.
    """
    name = requirement.id
    found: float | None
    if requirement.duty:
        duty = brief.duty(duty_name) if duty_name is not None else brief.duties[0]
        found = None if name == "site_power" and not duty.site_system else getattr(duty, name)
    elif name == "sets":
        found = brief.materials[0].sets
    elif name == "respirators" and brief.crew.respirators is None:
        found = brief.crew.sprayers + brief.crew.helpers + brief.crew.trimmers
    else:
        holder = brief if len(requirement.where) == 1 else getattr(brief, str(requirement.where[0]))
        found = getattr(holder, name)
    return None if found is None else float(found)


def with_value(
    brief: Brief, requirement: Requirement, value: float, duty_name: str | tuple[str, ...] | None = None
) -> Brief:
    """The brief with one requirement changed, as if its file said so; EntryError where the file could not say so.

    Parameters
    ----------
    brief : Brief
        Stays as it is.
    requirement : Requirement
        What is changed. An output takes the place of board feet a day, a reach that of its parts.
    value : float
        The new value in SI.
    duty_name : str or tuple of str, optional
        The duty or duties in which it is changed; all of them if not given.
    """
    new = _whole(requirement, value) if requirement.whole else float(value)
    names = _duty_names(brief, duty_name) if requirement.duty else ()
    try:
        return Brief(BriefEntry.model_validate(_with_value(_parts(brief.entry, requirement, names), requirement, new, names)))
    except ValidationError:
        data = _with_value(brief.entry.model_dump(by_alias=True, exclude_unset=True), requirement, new, names)
    try:
        return Brief(BriefEntry.model_validate(data))
    except ValidationError as error:
        first = min(mistakes_of(error, Document("", data, {}, 0), (), BriefEntry, data))
        raise EntryError(first.found, first.expected, first.advice) from None


def _parts(entry: BriefEntry, requirement: Requirement, names: tuple[str, ...]) -> dict[str, Any]:
    """The entry's parts, checked before, and as plain data those alone in which the value stands: less to check anew."""
    parts = {name: getattr(entry, name) for name in entry.model_fields_set}
    if requirement.duty:
        parts["duties"] = [_plain(duty) if duty.name in names else duty for duty in entry.duties]
    elif str(requirement.where[0]) in parts:
        parts[str(requirement.where[0])] = _plain(parts[str(requirement.where[0])])
    return parts


def _plain(part: Any) -> Any:
    """A part of an entry as its file would say it."""
    if isinstance(part, BaseModel):
        return part.model_dump(by_alias=True, exclude_unset=True)
    return [_plain(one) for one in part] if isinstance(part, tuple | list) else part


def _with_value(data: dict[str, Any], requirement: Requirement, value: float, names: tuple[str, ...]) -> dict[str, Any]:
    """The data with the value in its place."""
    if not requirement.duty:
        _set(data, requirement.where, value)
        return data
    for duty in data["duties"]:
        if isinstance(duty, dict) and duty["name"] in names:
            _set_in_duty(duty, requirement, value)
    return data


def _whole(requirement: Requirement, value: float) -> int:
    if not isfinite(value) or abs(value - round(value)) > 1e-9:
        raise EntryError(f"{requirement.title} {value:g}", "a whole number", f"{value:.0f}" if isfinite(value) else "")
    return round(value)


def _duty_names(brief: Brief, duty_name: str | tuple[str, ...] | None) -> tuple[str, ...]:
    if duty_name is None:
        return tuple(duty.name for duty in brief.duties)
    names = (duty_name,) if isinstance(duty_name, str) else duty_name
    return tuple(brief.duty(name).name for name in names)


def _set_in_duty(duty: dict[str, Any], requirement: Requirement, value: float) -> None:
    if requirement.id == "site_power" and duty.get("site_supply") is None:
        expected = "a duty with a site_supply, which says the system"
        raise EntryError(f'{requirement.title} in "{duty["name"]}"', expected, "site_supply: {system: split, ...}")
    if requirement.id == "hose_reach":
        duty["hose_reach"] = {"length": value}
        return
    if requirement.id == "output":
        duty.pop("board_feet_a_day", None)
    _set(duty, requirement.where, value)


def _set(data: Any, where: tuple[str | int, ...], value: float) -> None:
    for key in where[:-1]:
        data = data.setdefault(key, {}) if isinstance(data, dict) else data[key]
    data[where[-1]] = value


def moved_by(brief: Brief, requirement: Requirement, duty_name: str | None = None) -> frozenset[str]:
    """Ids of all requirements whose value changes with this one: what follows it moves too."""
    moved = {requirement.id}
    if requirement.id == "coldest_air":
        entries = [duty for duty in brief.entry.duties if duty_name in (None, duty.name)]
        if any(duty.overnight.air is None for duty in entries):
            moved.add("overnight_air")
    if requirement.id in ("sprayers", "helpers", "trimmers") and brief.crew.respirators is None:
        moved.add("respirators")
    return frozenset(moved)


def find(path: str, brief: Brief) -> tuple[Requirement, tuple[str, ...]]:
    """The requirement that a path names, and the duties it is meant in; EntryError if it names none.

    Paths are such as `budget`, `limits.budget`, `hose_reach`, `duty.hose_reach` (in every duty), `winter attic.output`.
    A requirement of the whole brief has no duties.
    """
    head, _, name = (part.strip() for part in path.rpartition("."))
    names = tuple(duty.name for duty in brief.duties)
    requirement = REQUIREMENTS.get(name)
    if requirement is None:
        near = _near(name.replace("-", "_"), REQUIREMENTS)
        advice = f"{head}.{near}" if head and near else near
        raise EntryError(f'"{path}"', "a requirement of the brief, such as duty.hose_reach or limits.budget", advice)
    if requirement.duty:
        if head in ("", "duty"):
            return requirement, names
        if head in names:
            return requirement, (head,)
        near = _near(head, names) or "duty"
        expected = f"duty.{name}, or one of the duties {', '.join(names)} before it"
        raise EntryError(f'"{path}"', expected, f"{near}.{name}")
    holder = str(requirement.where[0]) if len(requirement.where) > 1 else "brief"
    if head not in ("", "brief", holder):
        raise EntryError(f'"{path}"', "a requirement of the whole brief, which no duty has of its own", name)
    return requirement, ()


def _near(word: str, words: Iterable[str]) -> str:
    near = get_close_matches(word, list(words), 1, 0.4)
    return near[0] if near else ""
