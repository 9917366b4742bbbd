"""Electrical loads: what each draws, once, for every rule on power, legs and fuel.

Contents: `Load`, `LOADS`, `CREDIT` (heat that warm drums save), `feed_temperature`, `feed_heat`, `drums_covered`; the
terms in kW (`kw_terms`), along a tangent (`tangent_terms`), per leg (`leg_terms`), with a starting motor
(`start_terms`); times (`phase_time`, `seconds_on`, `seconds_running`).

Supply and demand loads: what heats a flow draws what the flow takes, not its rating; the hose draws its loss. The drums
follow the air by hours, not minutes. So at both ends of the day's air the feed is as cold as in the cold of the day: in
the afternoon's heat the drums still hold the morning's cold. That is the safe side of every peak.

Each term is one object made here once: rows that need the same figure share it.
"""

from __future__ import annotations

from dataclasses import dataclass
from functools import cache
from math import pi
from typing import Any

from solver.formulas.electricity import apparent_power, real_power, tangent_load
from solver.formulas.heat import flow_heat, hose_loss
from solver.options import derived  # noqa: F401  (fills the register of derived fields, which the loads read)
from solver.options.wiring import WIRINGS
from solver.rules.case import Case
from solver.rules.day import WARM_UP_PHASES
from solver.rules.noting import kept
from solver.rules.record import Term, TermFunction, need, supply

LEGS: tuple[str, ...] = ("leg_a", "leg_b", "leg_c")


@dataclass(frozen=True)
class Load:
    """One load: its row in the day's table, the slot whose option draws it, real and reactive power at full share."""

    row: str
    slot: str
    what: str
    kw: TermFunction
    kvar: TermFunction | None = None


# --- what the brief alone decides -------------------------------------------------------------------------------------
def feed_temperature(c: Case) -> float:
    """Coldest temperature of drums without heat while spraying [K]: that of the body in the cold of the day."""
    return max(c.margin("body_floor"), c.of_duty("coldest_air"))


def _spray(c: Case) -> float:
    return float(c.material.spray_temperature)


def feed_heat(c: Case) -> float:
    """Power that lifts the flow from the coldest feed to spray temperature [W]."""
    rise = max(0.0, _spray(c) - feed_temperature(c))
    return float(flow_heat(c.output, c.heat_capacity, rise)) / c.margin("heater_efficiency")


def drum_saving(c: Case) -> float:
    """Part of it that drums at their target temperature save [W]; nothing where the body is warmer than that."""
    rise = max(0.0, min(c.margin("drum_target"), _spray(c)) - feed_temperature(c))
    return float(flow_heat(c.output, c.heat_capacity, rise)) / c.margin("heater_efficiency")


def drums_covered(o: Any, c: Case) -> Any:
    """1 where the option heats every drum that is opened in the day, else 0."""
    return 1.0 * (o.heated_drums >= 2.0 * c.sets_used)


# --- the loads --------------------------------------------------------------------------------------------------------
def _motor_kw(o: Any, c: Case) -> Any:
    return o.motor_kw


def _motor_kvar(o: Any, c: Case) -> Any:
    return o.motor_kvar


def _power(o: Any, c: Case) -> Any:
    return o.power


def _kvar(o: Any, c: Case) -> Any:
    return o.kvar


def _resistance(o: Any, c: Case) -> Any:
    return o.power_at_voltage


def _hose_loss(o: Any, c: Case) -> Any:
    return hose_loss(o.loss, o.heated_length, max(0.0, _spray(c) - c.air_temperature))


def _saving(o: Any, c: Case) -> Any:
    return drums_covered(o, c) * drum_saving(c)


LOADS: tuple[Load, ...] = (
    Load("pump_motor", "proportioner", "pump motor", _motor_kw, _motor_kvar),
    Load("fluid_heaters", "proportioner", "heaters at their rating", lambda o, c: o.heaters_kw),
    Load("fluid_heat", "proportioner", "heat into the flow from the body's temperature", lambda o, c: feed_heat(c)),
    Load("hose_heat", "proportioner", "hose heat at its rating", lambda o, c: o.hose_heat_kw),
    Load("hose_hold", "hose", "heat that the hose loses", _hose_loss),
    Load("compressor", "compressor", "compressor motor", _motor_kw, _motor_kvar),
    Load("air_dryer", "air_dryer", "air dryer", _power, _kvar),
    Load("breathing_air", "breathing_air", "breathing-air pump", _motor_kw, _motor_kvar),
    Load("drum_mixer", "drum_mixer", "drum mixer", _power, _kvar),
    Load("drum_heater", "drum_heater", "drum heaters", _resistance),
    Load("body_heater", "body_heater", "body heater", _resistance),
    Load("body_cooler", "body_cooler", "body cooler", _power, _kvar),
    Load("ventilation_fan", "ventilation_fan", "ventilation fan", _power, _kvar),
    Load("lighting", "lighting", "lights", _power),
    Load("tools", "lighting", "tools on the outlets", lambda o, c: c.of_duty("tool_power")),
)
"""Every load of the rig. Those without reactive power are taken as resistances."""

CREDIT = Load("fluid_heat", "drum_heater", "heat that warm drums save", _saving)
"""Drums at their target need less heat in the flow; it counts against the loads where all drums of the day are
heated."""

MOTORS: tuple[Load, ...] = tuple(
    load for load in LOADS if load.row in ("pump_motor", "compressor", "breathing_air", "body_cooler")
)
"""Loads that start a motor large enough to be felt."""


# --- terms ------------------------------------------------------------------------------------------------------------
def _shared(of: TermFunction, row: str, phase: str) -> TermFunction:
    """A figure times its share: in this half of the warm-up, or in the state of the case where `phase` is empty."""

    def term(o: Any, c: Case) -> Any:
        return c.share(row, phase) * of(o, c)

    return term


def _phase(phase: str) -> str:
    """A late warm-up has terms of its own; elsewhere the state of the case decides, and the terms are shared."""
    return phase if phase in WARM_UP_PHASES[1:] else ""


@cache
def _kw_term(load: Load, phase: str) -> Term:
    return need(load.slot, load.what, _shared(load.kw, load.row, phase))


@cache
def _saving_term(phase: str, angle: float) -> Term:
    if angle == 0.0:
        return supply(CREDIT.slot, CREDIT.what, _shared(CREDIT.kw, CREDIT.row, phase))
    return supply(CREDIT.slot, CREDIT.what, _shared(_along(CREDIT, angle), CREDIT.row, phase))


def _running(c: Case, phase: str) -> tuple[Load, ...]:
    return kept(c, f"running {phase}", lambda case: tuple(load for load in LOADS if case.share(load.row, phase) != 0.0))


def kw_terms(c: Case, phase: str) -> tuple[Term, ...]:
    """Real power of everything that runs in a phase [W]."""
    return tangent_terms(c, phase, 0.0)


def _along(load: Load, angle: float) -> TermFunction:
    """Apparent power of a load along a tangent; that of a resistance is its real power seen along it."""
    kw, kvar = load.kw, load.kvar

    def term(o: Any, c: Case) -> Any:
        return tangent_load(kw(o, c), kvar(o, c) if kvar is not None else 0.0, angle)

    return term


@cache
def _tangent_term(load: Load, phase: str, angle: float) -> Term:
    return need(load.slot, load.what, _shared(_along(load, angle), load.row, phase))


def tangent_terms(c: Case, phase: str, angle: float) -> tuple[Term, ...]:
    """Apparent power along a tangent of everything that runs in a phase [VA]; at angle 0 it is the real power."""
    own = _phase(phase)
    running = _running(c, own)
    if angle >= 0.5 * pi:
        return tuple(_tangent_term(load, own, angle) for load in running if load.kvar is not None)
    saving = (_saving_term(own, angle),) if c.share(CREDIT.row, own) != 0.0 else ()
    if angle == 0.0:
        return (*(_kw_term(load, own) for load in running), *saving)
    return (*(_tangent_term(load, own, angle) for load in running), *saving)


def start_terms(c: Case, phase: str, starting: Load) -> tuple[Term, ...]:
    """Real power of a phase while one motor starts: its starting power in place of its running power [W]."""
    others = tuple(term for term in kw_terms(c, phase) if term is not _kw_term(starting, _phase(phase)))
    return (*others, _start_term(starting))


@cache
def _start_term(load: Load) -> Term:
    def term(o: Any, c: Case) -> Any:
        return real_power(o.start_kva, c.margin("start_power_factor"))

    return need(load.slot, f"{load.what}, starting", term)


# --- legs -------------------------------------------------------------------------------------------------------------
def _largest_share(leg: int) -> float:
    """Largest share of a 240 V or three-phase load in a leg, whatever its wiring (the first way is the fixed one)."""
    keys = (("240 V", "split"), ("240 V", "wye"), ("3-phase", "wye"))
    return max(WIRINGS[key][0].legs[leg] for key in keys)


HOSE_LEG_SHARES: tuple[float, ...] = tuple(_largest_share(leg) for leg in range(3))
"""Share of the hose's heat in each leg. It flows through the proportioner's wiring, which the hose does not know: the
largest share of any wiring is taken, the safe side. The drums' saving, likewise unknown, is not credited to a leg."""


@cache
def _leg_term(load: Load, phase: str, leg: int) -> Term:
    kw, kvar, name = load.kw, load.kvar, LEGS[leg]

    def on_leg(o: Any, c: Case) -> Any:
        volt_amperes = apparent_power(kw(o, c), kvar(o, c)) if kvar is not None else kw(o, c)
        return (HOSE_LEG_SHARES[leg] if load.slot == "hose" else getattr(o, name)) * volt_amperes

    return need(load.slot, load.what, _shared(on_leg, load.row, phase))


def leg_terms(c: Case, phase: str, leg: int) -> tuple[Term, ...]:
    """Apparent power in one leg of everything that runs in a phase [VA]."""
    own = _phase(phase)
    return tuple(_leg_term(load, own, leg) for load in _running(c, own))


# --- energy -----------------------------------------------------------------------------------------------------------
def phase_time(c: Case, phase: str) -> float:
    """How long a phase lasts [s]."""
    if phase in WARM_UP_PHASES:
        return 0.5 * c.of_duty("warm_up_time")
    return c.of_duty(f"{phase}_time")


def seconds_on(c: Case, row: str, phases: tuple[str, ...]) -> float:
    """Time over which a row of the day's table is switched on, weighted with its shares [s]."""
    return sum(phase_time(c, phase) * share for phase in phases if (share := c.share(row, phase)))


def seconds_running(c: Case, row: str, phases: tuple[str, ...]) -> float:
    """Time at full load that it amounts to: the time on times its average [s]."""
    on = seconds_on(c, row, phases)
    return on * c.average(row) if on else 0.0
