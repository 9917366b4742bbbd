"""The day as a table: which load runs in which phase, and how much of it on average. Data, not conditions.

Contents: `Running`, `DAY` (load to its row), `INTERLOCKS` (what an interlock of the brief changes), the phases,
`row_of`, `phases_of` (the phases of a state that must be judged apart).

A phase is a state of the day; the warm-up has two halves, which differ only where an interlock makes them differ. A
share is a number or the name of the margin that holds it. Figures without a margin of that name are common practice,
no source.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace
from functools import cache

from solver.errors import InternalError
from solver.rules.record import CLEANING, COLDEST, ENDS, HOTTEST, OVERNIGHT, SPRAYING, STATES, WARM_UP

LATE = "late warm-up"
"""Second half of the warm-up; the state's own name stands for the first half, or the whole where both are alike."""
PHASES: tuple[str, ...] = (OVERNIGHT, WARM_UP, LATE, SPRAYING, CLEANING)
WARM_UP_PHASES: tuple[str, ...] = (WARM_UP, LATE)

Share = float | str


@dataclass(frozen=True)
class Running:
    """When a load runs: its share in each phase that has one, at these ends of the air, and on average while it
    runs."""

    phases: Mapping[str, Share] = field(default_factory=dict)
    ends: tuple[str, ...] = ENDS
    average: Share = 1.0

    def share(self, phase: str, end: str) -> Share:
        """The share in a phase; nothing at the other end of the air."""
        if phase not in PHASES:
            raise InternalError(f"{phase!r} is not a phase of the day")
        return self.phases.get(phase, 0.0) if not end or end in self.ends else 0.0


def _in(*phases: str) -> dict[str, Share]:
    return dict.fromkeys(phases, 1.0)


_HALVES = (WARM_UP, LATE)
_DAY = (WARM_UP, LATE, SPRAYING, CLEANING)
_WORK = (SPRAYING, CLEANING)

DAY: dict[str, Running] = {
    # liquid and hose
    "pump_motor": Running(_in(SPRAYING), average="trigger_share"),
    "fluid_heaters": Running(_in(*_HALVES)),
    "fluid_heat": Running(_in(SPRAYING), average="trigger_share"),
    "hose_heat": Running(_in(*_HALVES)),
    "hose_hold": Running(_in(*_WORK)),
    # compressed air and its users
    "compressor": Running(_in(*_DAY), average="air_share"),
    "air_dryer": Running(_in(*_DAY)),
    "gun_air": Running(_in(SPRAYING)),
    "blow_gun": Running(_in(CLEANING), average="trigger_share"),
    "feed_air": Running(_in(SPRAYING), average="trigger_share"),
    "drive_air": Running(_in(SPRAYING), average="trigger_share"),
    # people, drums, body
    "breathing_air": Running(_in(*_WORK)),
    "drum_mixer": Running(_in(*_HALVES, SPRAYING)),
    "drum_heater": Running({**_in(OVERNIGHT, *_HALVES), SPRAYING: "drum_hold_share"}),
    "body_heater": Running(_in(*_DAY), ends=(COLDEST,)),
    "night_heat": Running(_in(OVERNIGHT), ends=(COLDEST,)),
    "body_cooler": Running(_in(SPRAYING), ends=(HOTTEST,)),
    "ventilation_fan": Running(_in(SPRAYING), ends=(HOTTEST,)),
    "lighting": Running(_in(*_DAY)),
    "tools": Running(_in(SPRAYING)),
}
"""The table. What draws its rating in warm-up (heaters) draws what the work takes while spraying (heat, hold). Night
loads hang on shore power: drum heaters where there is any, the body heater where the brief keeps the body warm."""

INTERLOCKS: dict[str, dict[str, dict[str, Share]]] = {
    "drum-heat-after-hose": {
        "drum_heater": {WARM_UP: 0.0},
        "hose_heat": {LATE: 0.0},
        "hose_hold": {LATE: 1.0},
    },
    "compressor-after-warm-up": {"compressor": {WARM_UP: 0.0, LATE: 0.0}},
}
"""Per interlock of the brief: load, phase, share in place of the table's. The drums wait for half of the warm-up: the
hose must then be warm in the first half, and the drums have the second."""


def row_of(load: str, interlocks: Iterable[str]) -> Running:
    """The row of a load with what the interlocks change."""
    row = DAY[load]
    for interlock in interlocks:
        changed = INTERLOCKS[interlock].get(load)
        if changed:
            row = replace(row, phases={**row.phases, **changed})
    return row


@cache
def share_of(load: str, interlocks: tuple[str, ...], phase: str, end: str) -> Share:
    """Share at which a load runs in a phase of the day, with what the interlocks change."""
    return row_of(load, interlocks).share(phase, end)


def phases_of(state: str, interlocks: Iterable[str]) -> tuple[str, ...]:
    """The phases of a state that differ: the two halves of the warm-up count once where all their shares agree."""
    if state not in STATES:
        raise InternalError(f"{state!r} is not a state of the day")
    if state != WARM_UP:
        return (state,)
    locks = tuple(interlocks)
    rows = [row_of(load, locks).phases for load in DAY]
    alike = all(row.get(WARM_UP, 0.0) == row.get(LATE, 0.0) for row in rows)
    return (WARM_UP,) if alike else WARM_UP_PHASES
