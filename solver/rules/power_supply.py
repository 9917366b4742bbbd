"""What the generator set (or the site's supply) must carry.

Contents: `ANGLES`, `alternator`, `engine`, `judged_phases`; PWR-01 apparent power, PWR-02 engine power, PWR-05 legs.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from math import cos, pi
from typing import Any

from solver.formulas.engine import altitude_factor, engine_power, temperature_factor
from solver.options.table import SlotOptions
from solver.rules.case import Case
from solver.rules.day import phases_of
from solver.rules.loads import LEGS, LOADS, kw_terms, leg_terms, tangent_terms
from solver.rules.record import (
    CLEANING,
    ENDS,
    SPRAYING,
    WARM_UP,
    Basis,
    Effect,
    Guard,
    Part,
    Rule,
    Term,
    Words,
    declare,
    each_state,
    supply,
)

DAY_STATES = each_state(WARM_UP, SPRAYING, CLEANING, ends=ENDS)
STEP_DEGREES = 15
ANGLES: tuple[int, ...] = tuple(range(0, 91, STEP_DEGREES))
"""Directions of the tangents [degrees]."""
SAFE = cos(STEP_DEGREES / 2 * pi / 180)
"""By this factor the largest tangent may fall short of the true apparent power: the supply is scaled with it."""
LOAD_EFFECTS: dict[str, Effect] = {
    "output": Effect.TIGHTENS,
    "coldest_air": Effect.BOTH,
    "hottest_air": Effect.BOTH,
    "altitude": Effect.TIGHTENS,
    "body_floor": Effect.BOTH,
    "body_ceiling": Effect.TIGHTENS,
    "drum_target": Effect.EASES,
    "drum_hold_share": Effect.TIGHTENS,
    "heater_efficiency": Effect.EASES,
    "tool_power": Effect.TIGHTENS,
    "spraying_time": Effect.BOTH,
    "trigger_share": Effect.BOTH,
}
"""What raising each requirement does to the loads against what the set gives. Hot air takes from the set and leaves the
hose warmer; a warm body draws less heat for the flow, and a set that stands inside breathes its air. Time and trigger
share count by the number of drums that must be heated, and by the output where board feet a day are asked."""


# --- what the set gives -----------------------------------------------------------------------------------------------
def set_air(o: Any, c: Case) -> Any:
    """Air that the set breathes [K]: outdoor air where it hangs outside, the body's where it stands inside."""
    return c.body_temperature + o.is_("mounting", "outside") * (c.air_temperature - c.body_temperature)


def alternator(o: Any, c: Case) -> Any:
    """Apparent power of the alternator at the site [VA]."""
    return engine_power(
        o.apparent_power,
        altitude_factor(c.of_duty("altitude"), o.alternator_altitude_free, o.alternator_altitude_loss),
        temperature_factor(set_air(o, c), o.alternator_temperature_free, o.alternator_temperature_loss),
    )


def engine(o: Any, c: Case) -> Any:
    """Power of the engine at the site [W]."""
    return engine_power(
        o.power,
        altitude_factor(c.of_duty("altitude"), o.altitude_free, o.altitude_loss),
        temperature_factor(set_air(o, c), o.temperature_free, o.temperature_loss),
    )


def _site(o: Any, c: Case) -> Any:
    return (1.0 - o.present) * c.of_duty("site_power")


ALTERNATOR = supply("generator", "alternator at the site's altitude and air, less its margin",
                    lambda o, c: SAFE * (1.0 - c.margin("power_margin")) * alternator(o, c))  # fmt: skip
SITE_VA = supply("generator", "the site's supply, without a generator", lambda o, c: SAFE * _site(o, c))
ENGINE = supply("generator", "engine at the site's altitude and air, less its margin",
                lambda o, c: (1.0 - c.margin("engine_margin")) * engine(o, c))  # fmt: skip
SITE_W = supply("generator", "the site's supply, without a generator", _site)


WITH_GENERATOR = Guard("generator", lambda o, c: o.present, "the rig has a generator")


# --- PWR-01, PWR-02: every phase that spraying does not cover ---------------------------------------------------------
def covered_by_spraying(c: Case) -> bool:
    """Whether every load runs in this state at most as it does while spraying: then spraying judges for both."""
    return c.state == CLEANING and all(
        c.share(row, CLEANING) <= c.share(row, SPRAYING) for row in {load.row for load in LOADS}
    )


def judged_phases(c: Case) -> tuple[str, ...]:
    """Phases of the case's state that need a balance of their own."""
    return () if covered_by_spraying(c) else phases_of(c.state, c.brief.interlocks)


def phase_name(phase: str, c: Case, name: str = "") -> str:
    """Name of a part: what it is, and the half of the warm-up where the halves differ."""
    return name if phase == c.state else ", ".join(word for word in (phase, name) if word)


def _tangents(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return tuple(
        Part(phase_name(phase, c, f"{angle} degrees"), tangent_terms(c, phase, angle * pi / 180))
        for phase in judged_phases(c)
        for angle in ANGLES
    )


def _real_power(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return tuple(Part(phase_name(phase, c), kw_terms(c, phase)) for phase in judged_phases(c))


declare(Rule(
    "PWR-01", "Apparent power of the loads", "kVA", Basis.PHYSICS,
    "NFPA 70 (NEC), 2023, Tables 430.248 and 430.250, for motors; power relations of alternating current; data sheet "
    "of the set for its losses", DAY_STATES,
    Words("{place}: the loads draw {need} seen along {part}, the alternator may give {supply}; {margin} to spare.",
          "{place}: the loads draw {need} seen along {part}, the alternator may give {supply}: {short} short.",
          "Apparent power decides the size of the alternator: {need} of {supply} are taken in {place}."),
    terms=(ALTERNATOR, SITE_VA), parts=_tangents,
    effects={**LOAD_EFFECTS, "power_margin": Effect.TIGHTENS, "site_power": Effect.EASES},
    note="kVA is the root of kW squared plus kvar squared. It is judged along tangents 15 degrees apart, the supply "
         "scaled by cos 7.5 degrees (0.9914): the safe side by at most 0.9 %. Loads stated without a power factor "
         "count as resistances; harmonics are neglected, the unsafe side. Cleaning is not judged where spraying runs "
         "every one of its loads at least as hard.",
))  # fmt: skip

declare(Rule(
    "PWR-02", "Engine power for the loads", "kW", Basis.PHYSICS,
    "energy balance; losses by altitude and air temperature from the data sheet of the set", DAY_STATES,
    Words("{place}: the loads draw {need}, the engine may give {supply}; {margin} to spare.",
          "{place}: the loads draw {need}, the engine may give {supply}: {short} short.",
          "Real power decides the size of the engine: {need} of {supply} are taken in {place}."),
    terms=(ENGINE, SITE_W), parts=_real_power,
    effects={**LOAD_EFFECTS, "engine_margin": Effect.TIGHTENS, "site_power": Effect.EASES},
    note="Each set loses by its own figures, altitude and temperature taken as independent; credit for cold dense air "
         "is capped at 1.0. A set that stands inside the body breathes the body's air. The output of a set is stated "
         "at its terminals, so losses of the alternator are in it. The feed counts as cold as in the cold of the day "
         "at both ends of the air, the safe side.",
))  # fmt: skip


# --- PWR-05: legs -----------------------------------------------------------------------------------------------------
@cache
def _leg_supply(leg: int) -> Term:
    split_share = (0.5, 0.5, 0.0)[leg]

    def on_leg(o: Any, c: Case) -> Any:
        return (split_share * o.system_split + 1.0 / 3.0 * o.system_wye) * alternator(o, c)

    return supply("generator", "one leg of the alternator at the site's altitude and air", on_leg)


_WYE = Guard("generator", lambda o, c: o.system_wye, "the generator gives three-phase")
_LEG_NAMES = ("leg A", "leg B", "leg C")


def _legs(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return tuple(
        Part(phase_name(phase, c, _LEG_NAMES[leg]), (*leg_terms(c, phase, leg), _leg_supply(leg)),
             guard=_WYE if leg == LEGS.index("leg_c") else WITH_GENERATOR)
        for phase in judged_phases(c)
        for leg in range(3)
    )  # fmt: skip


declare(Rule(
    "PWR-05", "Load of each leg", "kVA", Basis.PHYSICS,
    "power relations of three-phase and split-phase circuits; data sheet of the set for its losses", DAY_STATES,
    Words("{place}: {part} carries {need} of the {supply} that it may; {margin} to spare.",
          "{place}: {part} would carry {need}, it may carry {supply}: {short} too much.",
          "The load of {part} is at its limit in {place}: {need} of {supply}."),
    parts=_legs, effects={name: effect for name, effect in LOAD_EFFECTS.items() if name != "drum_target"},
    note="A leg gives a third of a three-phase alternator, half of a split-phase one. Apparent powers are added as "
         "they stand, the safe side. The hose's heat counts in each leg at the largest share that any wiring of the "
         "proportioner gives it; drums that are warm are not credited: the safe side. Without a generator it is not "
         "judged.",
))  # fmt: skip
