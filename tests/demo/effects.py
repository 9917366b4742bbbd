"""What raising a requirement does to a rule, judged on the figures of every option at once.

Contents: `Change`, `float_row`, `change_of`, `setting_with`, `raised`.

A margin is a sum over slots, so over all rigs its change lies between the sum of the slots' least changes and the sum of
their largest. These ends are attained by rigs (one option of every slot), so the bounds are exact but for rounding.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from solver.answers.ask import Asked
from solver.brief.models import Brief
from solver.brief.requirements import REQUIREMENTS, si, value_of, with_value
from solver.rules.instances import Instance, Setting
from solver.rules.record import Side

Floats = NDArray[np.float64]
NOISE = 1e-9
"""Share of the figures' own size that counts as floating-point noise."""


@dataclass(frozen=True)
class Row:
    """One balance as margin per option: slot to array, what the brief alone gives, and where it counts (by its guard)."""

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
    assert before.slots.keys() == after.slots.keys()
    least = most = after.alone - before.alone
    for name, values in before.slots.items():
        moved = after.slots[name] - values
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


def raised(brief: Brief, name: str, steps: int = 1) -> Brief | None:
    """The brief with one requirement raised by grid steps, in all duties alike; None where it sets none."""
    requirement = REQUIREMENTS[name]
    value = value_of(brief, requirement)
    if value is None:
        return None
    step = si(requirement, requirement.step) - si(requirement, 0.0)
    if not requirement.duty:
        return with_value(brief, requirement, value + steps * step)
    for duty in brief.duties:
        own = value_of(brief, requirement, duty.name)
        if own is None:
            return None
        brief = with_value(brief, requirement, own + steps * step, duty.name)
    return brief
