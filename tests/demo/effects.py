"""What raising a requirement does to a rule, judged on the figures of every option at once.

Contents: `Change`, `float_row`, `change_of`, `setting_with`, `raised`.

A margin is a sum over slots, so over all rigs its change lies between the sum of the slots' least changes and the sum
of their largest. These ends are attained by rigs (one option of every slot), so the bounds are exact but for rounding.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import NDArray
from pydantic import ValidationError

from solver.answers.ask import Asked
from solver.brief.models import Brief
from solver.brief.requirements import REQUIREMENTS, Requirement, si, value_of
from solver.rules.instances import Instance, Setting
from solver.rules.record import Side

Floats = NDArray[np.float64]
NOISE = 1e-9
"""Share of the figures' own size that counts as floating-point noise."""


@dataclass(frozen=True)
class Row:
    """One balance as margin per option: slot to array, what the brief alone gives, where it counts (by its guard)."""

    slots: dict[str, Floats]
    alone: float
    inside: dict[str, NDArray[np.bool_]]
    size: float


@dataclass(frozen=True)
class Change:
    """Least and largest change of a margin over all rigs, noise taken out."""

    least: float
    most: float

    @property
    def nothing(self) -> bool:
        """Whether no rig's margin moves."""
        return self.least == 0.0 == self.most


def float_row(setting: Setting, instance: Instance) -> Row:
    """The margin of one balance, option by option [SI]."""
    slots: dict[str, Floats] = {}
    alone, size = 0.0, 0.0
    for term in instance.terms:
        sign = 1.0 if term.side is Side.SUPPLY else -1.0
        if term.slot is None:
            value = sign * float(term.of(None, instance.case))
            alone, size = alone + value, size + abs(value)
            continue
        for name in setting.slots_of(term):
            table = setting.slots[name]
            values = sign * np.broadcast_to(np.asarray(term.of(table, instance.case), float), (len(table),))
            slots[name] = slots[name] + values if name in slots else values
            size += float(np.abs(values).max())
    inside = {}
    if instance.guard is not None:
        table = setting.slots[instance.guard.slot]
        when = np.broadcast_to(np.asarray(instance.guard.when(table, instance.case), float), (len(table),)) > 0.5
        inside[instance.guard.slot] = when
        slots.setdefault(instance.guard.slot, np.zeros(len(table)))
    return Row(slots, alone, inside, size)


def change_of(before: Row, after: Row) -> Change:
    """How the margin of every rig that is judged before and after changes."""
    least = most = after.alone - before.alone
    for name in dict.fromkeys((*before.slots, *after.slots)):
        moved = after.slots.get(name, np.zeros(1)) - before.slots.get(name, np.zeros(1))
        if name in before.inside:
            moved = moved[before.inside[name] & after.inside[name]]
            if not len(moved):
                return Change(0.0, 0.0)
        least, most = least + float(moved.min()), most + float(moved.max())
    noise = NOISE * max(before.size, after.size, 1e-12)
    return Change(0.0 if abs(least) < noise else least, 0.0 if abs(most) < noise else most)


def setting_with(asked: Asked, brief: Brief) -> Setting:
    """The same options and materials under another brief."""
    return Setting(brief, asked.setting.slots, asked.setting.materials)


def raised(brief: Brief, *names: str, steps: int = 1) -> Brief | None:
    """The brief with these requirements raised by steps of their grids, in all duties alike.

    Those that the brief does not set stay as they are; None if it sets none of them, or could not say so (a coldest
    temperature above the hottest).
    """
    data = brief.entry.model_dump(by_alias=True, exclude_unset=True)
    found = False
    for requirement in (REQUIREMENTS[name] for name in names):
        step = steps * (si(requirement, requirement.step) - si(requirement, 0.0))
        for place, duty in zip(data["duties"] if requirement.duty else [data], brief.duties, strict=False):
            value = value_of(brief, requirement, duty.name)
            if value is not None:
                found = True
                _put(place, requirement, value + step)
    try:
        return brief.changed(**data) if found else None
    except ValidationError:
        return None


def _put(place: Any, requirement: Requirement, value: float) -> None:
    """Set one requirement in the mapping of a brief or duty."""
    where, whole = requirement.where, round(value) if requirement.whole else value
    if requirement.id == "hose_reach":
        where = ("hose_reach", "length")
        place["hose_reach"] = {}
    for key in where[:-1]:
        place = place.setdefault(key, {}) if isinstance(place, dict) else place[key]
    place[where[-1]] = whole
