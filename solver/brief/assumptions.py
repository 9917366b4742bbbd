"""Which figures of a brief are defaults, and which its file states.

Contents: `Assumption`, `figures_of`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache

from solver.brief.entries import BriefEntry, CrewEntry, DutyEntry
from solver.catalog.base import Record
from solver.catalog.notes import notes_of
from solver.quantities import show, to_unit

STATED = "Stated by the brief."


@dataclass(frozen=True)
class Assumption:
    """A figure of the brief and on what it stands: a default, or what the file states."""

    name: str
    """What it is; a figure of one duty begins with the duty's name."""
    value: str
    """With its unit."""
    why: str
    """Why it is taken."""


def figures_of(entry: BriefEntry) -> Iterator[tuple[Assumption, bool]]:
    """Every figure that has a default, and whether the file states it; figures that are simply absent are left out."""
    yield from _figures(entry, ("by",))
    for aboard in entry.materials:
        yield from _figures(aboard, ("sets",), f"{aboard.material}: ")
    yield from _crew(entry.crew)
    for duty in entry.duties:
        yield from _duty(duty)
    yield from _figures(entry, ("outlets", "unheated_air_line", "winter"))
    yield from _figures(entry.margins, tuple(type(entry.margins).model_fields))
    yield from _figures(entry.money, tuple(type(entry.money).model_fields))


def _crew(crew: CrewEntry) -> Iterator[tuple[Assumption, bool]]:
    yield from _figures(crew, ("sprayers", "helpers", "trimmers", "respirator"))
    if crew.respirators is None:
        everybody = crew.sprayers + crew.helpers + crew.trimmers
        yield Assumption("respirators", str(everybody), "Everybody in the crew wears one."), False
    else:
        yield from _figures(crew, ("respirators",))


def _duty(duty: DutyEntry) -> Iterator[tuple[Assumption, bool]]:
    of, night = f"{duty.name}: ", duty.overnight
    if duty.hose_reach.distance is not None:
        yield from _figures(duty.hose_reach, ("height", "slack"), of + "hose ")
    yield from _figures(duty, ("humidity",), of)
    yield from _figures(duty.hours, ("overnight", "warm_up", "spraying", "cleaning"), of, " time")
    yield from _figures(night, ("parking",), of)
    if night.air is None:
        coldest = _text(duty.air_temperature, "coldest", False)
        yield Assumption(f"{of}air at night", coldest, "The day's coldest air, since the rig stands outdoors."), False
    else:
        yield Assumption(f"{of}air at night", _text(night, "air", True), STATED), True
    yield from _figures(night, ("hose_inside", "shore_power"), of)
    yield from _figures(duty, ("resupply", "tool_power"), of)


def _figures(
    record: Record, names: tuple[str, ...], before: str = "", after: str = ""
) -> Iterator[tuple[Assumption, bool]]:
    notes = _notes(type(record))
    for name in names:
        said = name in record.model_fields_set
        words = f"{before}{name.replace('_', ' ')}{after}"
        yield Assumption(words, _text(record, name, said), STATED if said else notes[name]), said


def _text(record: Record, name: str, said: bool) -> str:
    value, quantity = getattr(record, name), record.quantity(name)
    if quantity is None:
        return str(value).lower()
    if said:
        return show(value, quantity.unit)
    return f"{to_unit(value, quantity.unit):,.10g} {quantity.unit}"


@cache
def _notes(model: type[Record]) -> dict[str, str]:
    return notes_of(model)
