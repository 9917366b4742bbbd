"""Requirements: every number of a brief that a person may change, or that the site sets.

Contents: `Kind`, `Easier`, `Requirement`, `REQUIREMENTS`, `value_of`, `with_value`, `find`.

A requirement is one record: its kind (a wish and a limit can be changed, a margin with a caution, a site fact never), its
unit, the grid on which it is stepped, the finest amount that means something, the direction in which it gets easier, and
the ends of what is admissible. Later answers (steps, curves, repairs, what-ifs) stand on these records.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace
from difflib import get_close_matches
from enum import Enum
from typing import Any

from solver.brief.models import Brief, Duty
from solver.errors import EntryError
from solver.quantities import from_unit


class Kind(Enum):
    """What a requirement is to the owner."""

    WISH = "wish"
    LIMIT = "limit"
    MARGIN = "margin"
    SITE = "site fact"


class Easier(Enum):
    """The direction in which a requirement gets easier to meet; EITHER where both ways can help."""

    LOWER = "lower"
    HIGHER = "higher"
    EITHER = "either"


@dataclass(frozen=True)
class Requirement:
    """One number of the brief. `step`, `resolution`, `least` and `most` are in `unit`; `duty` is True for one per duty."""

    id: str
    title: str
    kind: Kind
    duty: bool
    unit: str
    step: float
    resolution: float
    easier: Easier
    least: float
    most: float
    holder: str = ""
    """Part of the brief that holds it: limits, margins, crew or ""."""


_LOWER, _HIGHER, _EITHER = Easier.LOWER, Easier.HIGHER, Easier.EITHER
REQUIREMENTS: dict[str, Requirement] = {}


def _add(kind: Kind, duty: bool, holder: str, *rows: tuple[str, str, str, float, float, Easier, float, float]) -> None:
    for name, title, unit, step, resolution, easier, least, most in rows:
        REQUIREMENTS[name] = Requirement(name, title, kind, duty, unit, step, resolution, easier, least, most, holder)


_add(Kind.WISH, True, "",
     ("output", "output", "lb/min", 0.5, 0.1, _LOWER, 4, 45),
     ("hose_reach", "hose reach", "ft", 5, 1, _LOWER, 25, 330),
     ("warm_up_time", "warm-up time", "h", 0.25, 0.05, _HIGHER, 0.25, 6),
     ("spraying_time", "spraying time", "h", 0.5, 0.1, _EITHER, 0.5, 12),
     ("cleaning_time", "cleaning time", "h", 0.25, 0.05, _EITHER, 0, 3),
     ("tool_power", "tool power", "kW", 0.2, 0.05, _EITHER, 0, 6),
     ("resupply", "sets brought to the site", "1", 1, 1, _HIGHER, 0, 10))  # fmt: skip
_add(Kind.WISH, False, "crew",
     ("sprayers", "sprayers", "1", 1, 1, _LOWER, 1, 4),
     ("helpers", "helpers", "1", 1, 1, _LOWER, 0, 4),
     ("trimmers", "trimmers", "1", 1, 1, _LOWER, 0, 4),
     ("respirators", "respirators", "1", 1, 1, _LOWER, 1, 8))  # fmt: skip
_add(Kind.WISH, False, "",
     ("sets", "sets of material aboard", "1", 1, 1, _EITHER, 1, 10),
     ("outlets", "outlets", "1", 1, 1, _LOWER, 0, 12))  # fmt: skip
_add(Kind.LIMIT, True, "",
     ("shore_power", "shore power", "kW", 0.5, 0.1, _HIGHER, 0, 20),
     ("site_power", "site supply", "kVA", 1, 0.1, _HIGHER, 0, 60))  # fmt: skip
_add(Kind.LIMIT, False, "limits",
     ("budget", "budget", "USD", 500, 1, _HIGHER, 10_000, 500_000),
     ("combined_rating", "combined rating", "lb", 500, 10, _HIGHER, 6000, 45_000),
     ("trailer_rating", "trailer rating", "lb", 500, 10, _HIGHER, 3000, 25_000),
     ("upkeep_time", "upkeep time a year", "h", 5, 1, _HIGHER, 20, 600),
     ("parts_time", "wait for parts", "day", 1, 1, _HIGHER, 1, 90),
     ("delivery_time", "wait for delivery", "week", 1, 1, _HIGHER, 1, 60))  # fmt: skip
_add(Kind.MARGIN, False, "margins",
     ("trigger_share", "trigger share", "%", 5, 1, _EITHER, 20, 100),
     ("air_share", "running share of the compressor", "%", 5, 1, _HIGHER, 40, 100),
     ("filter_drop", "pressure lost in filters", "psi", 1, 0.5, _LOWER, 0, 20),
     ("pressure_band", "pressure band of the receiver", "psi", 5, 1, _HIGHER, 10, 60),
     ("peak_time", "time of the peak", "min", 0.25, 0.05, _LOWER, 0, 5),
     ("blow_time", "time of blowing off", "min", 0.25, 0.05, _LOWER, 0, 5),
     ("least_receiver", "least receiver", "gal", 5, 1, _LOWER, 0, 120),
     ("gun_air_design", "design air of the gun line", "scfm", 0.5, 0.1, _EITHER, 1, 12),
     ("dryer_dew_point", "design dew point of the dryer", "degF", 1, 0.5, _HIGHER, 35, 50),
     ("power_margin", "apparent power kept free", "%", 5, 1, _LOWER, 0, 40),
     ("engine_margin", "engine power kept free", "%", 5, 1, _LOWER, 0, 40),
     ("voltage_dip", "voltage dip", "%", 5, 1, _HIGHER, 10, 35),
     ("start_power_factor", "power factor of a starting motor", "%", 5, 1, _LOWER, 20, 80),
     ("start_overload", "short-time engine power", "%", 5, 1, _HIGHER, 100, 120),
     ("least_load", "least load of the set", "%", 5, 1, _LOWER, 0, 50),
     ("fuel_reserve", "fuel reserve", "%", 5, 1, _LOWER, 0, 40),
     ("fuel_slope", "fuel for each kWh", "gal/kWh", 0.005, 0.001, _LOWER, 0.05, 0.1),
     ("fuel_density", "density of fuel", "lb/gal", 0.05, 0.01, _LOWER, 6.7, 7.3),
     ("hitch_share", "hitch share, conventional", "%", 1, 0.5, _LOWER, 10, 20),
     ("gooseneck_share", "hitch share, gooseneck", "%", 1, 0.5, _LOWER, 15, 30),
     ("floor_factor", "floor factor", "%", 5, 1, _LOWER, 100, 150),
     ("aisle_width", "aisle", "in", 2, 1, _LOWER, 0, 48),
     ("crew_weight", "weight of a person", "lb", 10, 1, _LOWER, 120, 300),
     ("body_floor", "least temperature inside", "degF", 5, 1, _EITHER, 40, 80),
     ("body_ceiling", "highest temperature inside", "degF", 5, 1, _EITHER, 80, 120),
     ("evening_temperature", "temperature of the drums in the evening", "degF", 5, 1, _HIGHER, 40, 90),
     ("drum_target", "temperature of heated drums", "degF", 5, 1, _EITHER, 60, 100),
     ("drum_hold_share", "holding share of drum heaters", "%", 5, 1, _EITHER, 0, 100),
     ("hose_margin", "sag of the hose temperature", "delta_degF", 1, 0.5, _LOWER, 0, 25),
     ("dew_margin", "margin of the dew point", "delta_degF", 1, 0.5, _LOWER, 0, 30),
     ("heater_efficiency", "efficiency of the heaters", "%", 1, 0.5, _HIGHER, 80, 100))  # fmt: skip
_add(Kind.SITE, True, "",
     ("altitude", "altitude", "ft", 500, 100, _EITHER, 0, 11_000),
     ("coldest_air", "coldest air", "degF", 5, 1, _EITHER, -40, 110),
     ("hottest_air", "hottest air", "degF", 5, 1, _EITHER, -20, 125),
     ("humidity", "humidity", "%", 5, 1, _LOWER, 5, 100),
     ("overnight_air", "air at night", "degF", 5, 1, _HIGHER, -40, 100),
     ("overnight_time", "length of the night", "h", 1, 0.25, _EITHER, 6, 20))  # fmt: skip


def _owner(brief: Brief, requirement: Requirement, duty_name: str | None) -> object:
    if requirement.duty:
        return brief.duty(duty_name) if duty_name else brief.duties[0]
    return getattr(brief, requirement.holder) if requirement.holder else brief


def value_of(brief: Brief, requirement: Requirement, duty_name: str | None = None) -> float | None:
    """The present value in SI; None where the brief sets none (no limit; an output worked out from board feet)."""
    if requirement.id == "sets":
        return float(brief.materials[0].sets)
    if requirement.id == "respirators" and brief.crew.respirators is None:
        return float(brief.crew.sprayers + brief.crew.helpers + brief.crew.trimmers)
    found = getattr(_owner(brief, requirement, duty_name), requirement.id)
    return None if found is None else float(found)


def _set_duty(brief: Brief, duty_name: str | None, name: str, value: float) -> Brief:
    changes: dict[str, Any] = {name: value}
    if name == "output":
        changes["board_feet_a_day"] = None
    if name == "hose_reach":
        changes["reach_parts"] = None
    if name == "resupply":
        changes[name] = round(value)

    def changed(duty: Duty) -> Duty:
        return replace(duty, **changes) if duty_name in (None, duty.name) else duty

    return replace(brief, duties=tuple(changed(duty) for duty in brief.duties))


def with_value(brief: Brief, requirement: Requirement, value: float, duty_name: str | None = None) -> Brief:
    """The brief with one requirement changed to an SI value, in one duty or (None) in all."""
    name = requirement.id
    if requirement.duty:
        return _set_duty(brief, duty_name, name, value)
    if name == "sets":
        first = brief.materials[0].model_copy(update={"sets": round(value)})
        return replace(brief, materials=(first, *brief.materials[1:]))
    if name == "outlets":
        return replace(brief, outlets=round(value))
    if requirement.holder == "crew":
        changes: dict[str, Any] = {name: round(value)}
        return replace(brief, crew=replace(brief.crew, **changes))
    held = getattr(brief, requirement.holder).model_copy(update={name: value})
    return replace(brief, **{requirement.holder: held})


def find(path: str, brief: Brief) -> tuple[Requirement, str | None]:
    """The requirement and duty that a path names: "budget", "limits.budget", "duty.hose_reach", "winter attic.output".

    `duty` stands for every duty (None is given back).
    """
    head, _, name = path.rpartition(".")
    names = [duty.name for duty in brief.duties]
    requirement = REQUIREMENTS.get(name)
    if requirement is None:
        near = _near(name, REQUIREMENTS)
        raise EntryError(f'"{path}"', "a requirement of the brief", near)
    if requirement.duty and head not in ("", "duty", *names):
        raise EntryError(f'"{path}"', f"one of the duties {', '.join(names)}", _near(head, names))
    if not requirement.duty and head not in ("", "brief", requirement.holder):
        raise EntryError(f'"{path}"', "a requirement of the brief", name)
    return requirement, head if head in names else None


def _near(word: str, words: Iterable[str]) -> str:
    near = get_close_matches(word, list(words), 1, 0.4)
    return near[0] if near else ""


def si(requirement: Requirement, value: float) -> float:
    """A figure in the requirement's unit, in SI."""
    return value if requirement.unit == "1" else float(from_unit(value, requirement.unit))
