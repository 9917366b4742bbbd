"""Heat in the liquid and its drums.

Contents: HEAT-01 heaters lift the flow, HEAT-02 drums are warm when work starts, HEAT-08 heated drums reach their
target, HEAT-07 skin temperature under drum heaters.
"""

from __future__ import annotations

from typing import Any

from solver.formulas.drums import drums_share, kept_heat
from solver.formulas.heat import flow_heat, warming_energy
from solver.quantities import from_unit
from solver.rules.case import Case
from solver.rules.loads import drum_saving, drums_covered, feed_heat
from solver.rules.night import (
    DRUM_CONDUCTANCE,
    NIGHT_EFFECTS,
    drum_heating_time,
    morning_temperature,
)
from solver.rules.record import (
    COLDEST,
    ONCE,
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
    need,
    supply,
)

LARGEST_SKIN_TEMPERATURE = from_unit(150.0, "degF")
"""Hottest skin of a drum under its heater (common practice, no source): liquid cooks at a hotter wall."""

BALANCE = "heat balance (Cengel, Heat and Mass Transfer, chapters 1, 3 and 4; from memory)"
_USE_EFFECTS = dict.fromkeys(("output", "spraying_time", "trigger_share"), Effect.BOTH)
"""More use opens more sets: more to be warmed, or more that is warm already."""


# --- flow -------------------------------------------------------------------------------------------------------------
declare(Rule(
    id="HEAT-01",
    title="the heaters lift the flow to spray temperature",
    unit="kW",
    basis=Basis.PHYSICS,
    source=BALANCE,
    scope=each_state(SPRAYING, ends=(COLDEST,)),
    words=Words(
        fits="{place}: heating the flow takes {need}, heaters and warm drums give {supply}: {margin} to spare.",
        fails="{place}: heating the flow takes {need}, heaters and warm drums give {supply}: {short} short.",
        binds="The heat for the flow decides how much heater power the proportioner must have.",
    ),
    terms=(
        need(None, "from the body's temperature to spray temperature", lambda o, c: feed_heat(c)),
        supply("proportioner", "heaters at the voltage supplied", lambda o, c: o.heaters_kw),
        supply(
            "drum_heater", "saved by drums at their target", lambda o, c: drums_covered(o, c) * drum_saving(c)
        ),
    ),
    effects={
        "output": Effect.TIGHTENS,
        "spraying_time": Effect.BOTH,
        "trigger_share": Effect.BOTH,
        "body_floor": Effect.EASES,
        "coldest_air": Effect.EASES,
        "drum_target": Effect.EASES,
        "heater_efficiency": Effect.EASES,
    },
    note="Drums without heaters are taken at the temperature of the body, heated ones at their target, which HEAT-08 "
    "makes sure of. Drums that are colder than the body until noon (HEAT-02 holds them at the least feed temperature) "
    "are neglected: the unsafe side; the work of the pump likewise: the safe side.",
))  # fmt: skip


# --- drums ------------------------------------------------------------------------------------------------------------
def _drum_heat(o: Any, c: Case) -> Any:
    """Heat that the drum heaters leave in the drums opened that day [J]."""
    drums = 2.0 * c.sets_opened
    power = o.power_at_voltage * drums_share(o.heated_drums, drums)
    return kept_heat(power, DRUM_CONDUCTANCE * drums, c.mass_opened * c.set_heat_capacity, drum_heating_time(c))


def _returned(to: float, o: Any, c: Case) -> Any:
    """Heat that the return hoses carry into drums of this temperature in warm-up [J]."""
    density = 0.5 * (c.material.density_a + c.material.density_b)
    rise = float(c.material.spray_temperature) - to
    return flow_heat(o.flow * density, c.heat_capacity, rise) * c.heating_time("fluid_heaters")


def _heaters(o: Any, c: Case) -> Any:
    """Heat that the proportioner's heaters give to what circulates in warm-up [J]."""
    return o.heaters_kw * (c.margin("heater_efficiency") * c.heating_time("fluid_heaters"))


def _least_feed(c: Case) -> float:
    return float(c.material.least_feed_temperature)


def _target(c: Case) -> float:
    return min(c.margin("drum_target"), float(c.material.spray_temperature))


def _drum_terms(temperature: Any) -> tuple[tuple[Term, ...], tuple[Part, ...]]:
    """Terms and parts of the rules that drums reach a temperature: circulation gives the smaller of two heats."""

    def warming(o: Any, c: Case) -> Any:
        rise = temperature(c) - 1.0 * morning_temperature(o, c)
        return warming_energy(c.mass_opened, c.set_heat_capacity, rise)

    terms = (
        need("vehicle", "heat that the drums lack in the morning", warming),
        supply("drum_heater", "from the drum heaters", _drum_heat),
    )
    returned = supply(
        "circulation_set", "through the return hoses", lambda o, c: _returned(temperature(c), o, c)
    )
    parts = (
        Part("return hoses", (returned,)),
        Part("proportioner's heaters", (supply("proportioner", "from the heaters", _heaters),)),
    )
    return terms, parts


_DRUM_EFFECTS = {
    **NIGHT_EFFECTS,
    **_USE_EFFECTS,
    "warm_up_time": Effect.EASES,
    "shore_power": Effect.EASES,
    "heater_efficiency": Effect.EASES,
}
_DRUM_NOTE = (
    "The liquid circulated can give no more than the return hoses carry and no more than the heaters make: both parts "
    "must hold. Drum heaters lose to a body that stays as cold as it would be without them, from bare drums, and count "
    "only if every drum opened that day has one: the safe side. Losses during warm-up and the steel of the drums are "
    "neglected: the unsafe side. Sets brought during the day are taken to come warm."
)
_terms, _parts = _drum_terms(_least_feed)

declare(Rule(
    id="HEAT-02",
    title="the drums are warm when work starts",
    unit="kWh",
    basis=Basis.PHYSICS,
    source=BALANCE + "; least feed temperature of the material's data sheet",
    scope=each_state(WARM_UP, ends=(COLDEST,)),
    words=Words(
        fits="{place}: warming the drums takes {need}; drum heaters and {part} give {supply}: {margin} to spare.",
        fails="{place}: warming the drums takes {need}; drum heaters and {part} give {supply}: {short} short.",
        binds="The heat that the drums lack in the morning decides on drum heat, circulation and the night's place.",
    ),
    terms=_terms,
    parts=_parts,
    effects=_DRUM_EFFECTS,
    note=_DRUM_NOTE,
))  # fmt: skip

_terms, _parts = _drum_terms(_target)


def _counted_on(c: Case) -> bool:
    return drum_saving(c) > 0.0


declare(Rule(
    id="HEAT-08",
    title="heated drums reach their target",
    unit="kWh",
    basis=Basis.PHYSICS,
    source=BALANCE,
    scope=each_state(WARM_UP, ends=(COLDEST,)),
    words=Words(
        fits="{place}: bringing heated drums to their target takes {need}; their heaters and {part} give {supply}: "
        "{margin} to spare.",
        fails="{place}: bringing heated drums to their target takes {need}; their heaters and {part} give {supply}: "
        "{short} short.",
        binds="Drums that save heater power must be brought to their target, which asks for stronger drum heaters.",
    ),
    terms=_terms,
    parts=_parts,
    effects={
        **_DRUM_EFFECTS,
        "drum_target": Effect.TIGHTENS,
        "body_floor": Effect.EASES,
        "coldest_air": Effect.EASES,
    },
    when=_counted_on,
    guard=Guard("drum_heater", drums_covered, "all drums of the day are heated"),
    note="The heat that warm drums save (HEAT-01, PWR-) is earned here. Where drums need no more than the least feed "
    "temperature, set the drum target of the brief there. " + _DRUM_NOTE,
))  # fmt: skip

declare(Rule(
    id="HEAT-07",
    title="drum heaters do not cook the liquid",
    unit="degF",
    basis=Basis.PRACTICE,
    source="common practice, no source",
    scope=ONCE,
    words=Words(
        fits="The drum's skin gets {need} hot under its heater, {supply} is the most: {margin} to spare.",
        fails="The drum's skin gets {need} hot under its heater, {supply} is the most: {short} too hot.",
        binds="The skin temperature decides which drum heaters are good enough.",
    ),
    terms=(
        need("drum_heater", "hottest skin", lambda o, c: o.skin_temperature),
        supply(None, "most allowed", lambda o, c: LARGEST_SKIN_TEMPERATURE),
    ),
    guard=Guard("drum_heater", lambda o, c: o.present, "there are drum heaters"),
    note="The material's data sheet rules where it states a lower figure.",
))  # fmt: skip
