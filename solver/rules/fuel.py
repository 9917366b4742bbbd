"""Fuel for the day, and load enough for the engine.

Contents: PWR-06 fuel lasts the day, PWR-07 average load of the set.

The two err to opposite sides: PWR-06 counts the most that a day can take, PWR-07 the least that loads the engine.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from solver.formulas.engine import fuel_burn
from solver.formulas.heat import flow_heat
from solver.options.table import SlotOptions
from solver.rules.air_users import USERS, AirUser
from solver.rules.case import Case
from solver.rules.day import LATE
from solver.rules.loads import CREDIT, LOADS, Load, drums_covered, phase_time, seconds_on, seconds_running
from solver.rules.power_supply import WITH_GENERATOR
from solver.rules.record import (
    CLEANING,
    ENDS,
    OVERNIGHT,
    SPRAYING,
    WARM_UP,
    Basis,
    Effect,
    Part,
    Rule,
    Scope,
    Term,
    Words,
    declare,
    need,
    supply,
)

DAY_PHASES: tuple[str, ...] = (WARM_UP, LATE, SPRAYING, CLEANING)
WORK_PHASES: tuple[str, ...] = (SPRAYING, CLEANING)
UNLOADED_SHARE = 0.3
"""Power of a compressor that idles on its head unloaders, as a share of its full power: from memory."""
ENERGY_PER_AIR = 4.7e5
"""Electricity for a standard cubic metre of compressed air [J/m3]: a good piston machine (3.9 scfm per hp).
Practice."""
_BOTH_ENDS = Scope(ends=ENDS)


# --- PWR-06 -----------------------------------------------------------------------------------------------------------
def _burn(c: Case, energy: Any) -> Any:
    return fuel_burn(0.0, c.margin("fuel_slope"), 0.0, energy)


@cache
def _load_fuel(load: Load) -> Term:
    def term(o: Any, c: Case) -> Any:
        return _burn(c, load.kw(o, c) * seconds_running(c, load.row, DAY_PHASES))

    return need(load.slot, f"fuel for {load.what}", term)


def _idling(o: Any, c: Case) -> Any:
    return fuel_burn(o.idle_burn, 0.0, sum(phase_time(c, phase) for phase in DAY_PHASES), 0.0)


def _unloaded(o: Any, c: Case) -> Any:
    seconds = seconds_on(c, "compressor", DAY_PHASES) * (1.0 - c.margin("air_share"))
    return _burn(c, o.unloaders * o.motor_kw * (UNLOADED_SHARE * seconds))


def _saved(o: Any, c: Case) -> Any:
    return -1.0 * _burn(c, CREDIT.kw(o, c) * seconds_running(c, CREDIT.row, DAY_PHASES))


def _heater_burn(o: Any, c: Case) -> Any:
    night = seconds_on(c, "night_heat", (OVERNIGHT,)) if c.duty.keep_warm is not None else 0.0
    return o.burn * (seconds_running(c, "body_heater", DAY_PHASES) + night)


_FUEL = (
    need("generator", "fuel for idling", _idling),
    need("compressor", "fuel for the compressor while unloaded", _unloaded),
    need(CREDIT.slot, "fuel that warm drums save", _saved),
    need("body_heater", "fuel burnt in the body heater", _heater_burn),
    supply("generator", "its tank less the reserve", lambda o, c: o.tank * (1.0 - c.margin("fuel_reserve"))),
    supply("fuel_tank", "extra tank less the reserve", lambda o, c: o.volume * (1.0 - c.margin("fuel_reserve"))),
)


def _fuel_parts(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return (Part("", tuple(_load_fuel(load) for load in LOADS if seconds_on(c, load.row, DAY_PHASES) > 0.0)),)


declare(Rule(
    "PWR-06", "Fuel lasts the day", "gal", Basis.PHYSICS,
    "line of idle burn and burn per energy (Willans line): data sheet of the set, common slope of the brief",
    _BOTH_ENDS,
    Words("{place}: the day burns {need}, the tanks give {supply}; {margin} to spare.",
          "{place}: the day burns {need}, the tanks give {supply}: {short} short.",
          "The day's fuel decides the tanks: {need} of {supply} in {place}."),
    terms=_FUEL, parts=_fuel_parts, guard=WITH_GENERATOR,
    effects={
        "output": Effect.TIGHTENS, "coldest_air": Effect.EASES, "hottest_air": Effect.EASES,
        "body_floor": Effect.EASES, "drum_target": Effect.EASES, "drum_hold_share": Effect.TIGHTENS,
        "heater_efficiency": Effect.EASES, "tool_power": Effect.TIGHTENS, "warm_up_time": Effect.TIGHTENS,
        "spraying_time": Effect.BOTH, "cleaning_time": Effect.TIGHTENS, "trigger_share": Effect.BOTH,
        "air_share": Effect.TIGHTENS, "fuel_slope": Effect.TIGHTENS, "fuel_reserve": Effect.TIGHTENS,
        "overnight_time": Effect.TIGHTENS,
    },
    note="The set runs from warm-up to cleaning, on shore power at night. Heaters count at their rating through the "
         "whole warm-up, body heat and cooling all day, the compressor at its longest running share: the safe side. "
         "The slope is one figure for all sets, so that loads and sets stay apart. A heater that burns fuel draws on "
         "the same tanks; without a generator it is not judged.",
))  # fmt: skip


# --- PWR-07 -----------------------------------------------------------------------------------------------------------
def _least_energy(o: Any, c: Case) -> Any:
    return c.margin("least_load") * sum(phase_time(c, phase) for phase in WORK_PHASES) * o.power


def _flow_power(c: Case, rise: float) -> float:
    return float(flow_heat(c.output, c.heat_capacity, rise)) / c.margin("heater_efficiency")


def _warm_feed_heat(o: Any, c: Case) -> Any:
    return _flow_power(c, c.flow_rise) * seconds_running(c, "fluid_heat", WORK_PHASES)


def _warm_drums(o: Any, c: Case) -> Any:
    spray = float(c.material.spray_temperature)
    rise = max(0.0, min(c.margin("drum_target"), spray) - c.body_temperature)
    return drums_covered(o, c) * (_flow_power(c, rise) * seconds_running(c, "fluid_heat", WORK_PHASES))


@cache
def _load_energy(load: Load) -> Term:
    def term(o: Any, c: Case) -> Any:
        return load.kw(o, c) * seconds_running(c, load.row, WORK_PHASES)

    return supply(load.slot, load.what, term)


@cache
def _air_energy(user: AirUser) -> Term:
    def term(o: Any, c: Case) -> Any:
        return user.flow(o, c) * (ENERGY_PER_AIR * seconds_running(c, user.row, WORK_PHASES))

    return supply(user.slot, f"compressing {user.what}", term)


_WORK_LOADS = ("pump_motor", "hose_hold", "breathing_air", "tools")
"""Loads of the work itself, besides the heat into the flow and the air that is used. Lights, dryer, mixer, heaters of
drums and body and cooling are left out: they could be chosen larger for nothing, and a set is not to be loaded by
waste."""


def _load_parts(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    loads = tuple(
        _load_energy(load)
        for load in LOADS
        if load.row in _WORK_LOADS and seconds_on(c, load.row, WORK_PHASES) > 0.0
    )
    air = tuple(
        _air_energy(user)
        for user in USERS
        if user.slot != "drum_mixer" and seconds_on(c, user.row, WORK_PHASES) > 0.0
    )
    return (Part("", (*loads, *air)),)


declare(Rule(
    "PWR-07", "Average load of the set", "kWh", Basis.PRACTICE,
    "NFPA 110, exercise of sets at 30 % of their rating, used as a limit of the average; common practice", _BOTH_ENDS,
    Words("{place}: the work takes {supply}, the set should give {need} at the least; {margin} more.",
          "{place}: the work takes {supply}, the set should give {need} at the least: {short} too little load.",
          "A larger set would idle too much: {supply} of work against {need} in {place}."),
    terms=(
        need("generator", "least energy at its rating", _least_energy),
        need(CREDIT.slot, "heat that warm drums save", _warm_drums),
        supply("proportioner", "heat into the flow from the body's temperature", _warm_feed_heat),
    ),
    parts=_load_parts,
    effects={
        "least_load": Effect.TIGHTENS, "output": Effect.EASES, "spraying_time": Effect.BOTH,
        "cleaning_time": Effect.BOTH, "trigger_share": Effect.BOTH, "coldest_air": Effect.TIGHTENS,
        "hottest_air": Effect.TIGHTENS, "body_floor": Effect.TIGHTENS, "body_ceiling": Effect.TIGHTENS,
        "drum_target": Effect.TIGHTENS, "heater_efficiency": Effect.TIGHTENS,
        "tool_power": Effect.EASES, "respirators": Effect.EASES, "sprayers": Effect.EASES, "helpers": Effect.EASES,
        "trimmers": Effect.EASES,
    },
    note="Over spraying and cleaning, never state by state. The warm-up is left out on both sides: how long it lasts "
         "is up to the crew, and heaters load the set. The compressor counts by the air that is used, at a good "
         "machine's energy for it, the feed at the body's temperature of that end of the air; lights, dryer, mixer and "
         "all heating and cooling besides the liquid's are not counted: the safe side. Long light load fouls an "
         "engine.",
))  # fmt: skip
