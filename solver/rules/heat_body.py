"""Heat in the body: warm in the cold, cool in the heat, kept warm at night.

Contents: HEAT-03 body warm in the cold, HEAT-04 body cool in the heat, HEAT-05 body kept warm at night. (What the
heaters draw at night is judged by PWR-12.)
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from solver.formulas.body_heat import body_loss, ventilation_heat, warm_up_power
from solver.formulas.heat import heater_power
from solver.options.table import SlotOptions
from solver.rules.case import Case
from solver.rules.heat_liquid import BALANCE
from solver.rules.night import (
    NIGHT_EFFECTS,
    body_conductance,
    morning_temperature,
)
from solver.rules.record import (
    COLDEST,
    HOTTEST,
    OVERNIGHT,
    SPRAYING,
    WARM_UP,
    Basis,
    Effect,
    Part,
    Rule,
    Term,
    TermFunction,
    Words,
    declare,
    each_state,
    need,
    supply,
)


# --- body in the cold -------------------------------------------------------------------------------------------------
def _body_loss(o: Any, c: Case, inside: float, outside: float, air_density: float) -> Any:
    return body_loss(body_conductance(o, c, air_density), inside, outside)


def _cold_loss(o: Any, c: Case) -> Any:
    return _body_loss(o, c, c.margin("body_floor"), c.air_temperature, c.outdoor_air_density)


def _body_warm_up(o: Any, c: Case) -> Any:
    return warm_up_power(
        body_conductance(o, c, c.outdoor_air_density),
        o.heat_capacity,
        c.of_duty("warm_up_time"),
        c.margin("body_floor"),
        c.air_temperature,
        morning_temperature(o, c),
    )


def _heater(o: Any, c: Case) -> Any:
    """Heat of an electric heater at the voltage supplied, or of a fuel-fired one [W]."""
    electric = o.is_("kind", "electric") * heater_power(o.heat, o.rated_voltage, o.voltage)
    return electric + o.is_("kind", "fuel") * o.heat


BODY_HEATER = supply("body_heater", "body heater", _heater)


def _machines(side: Any, compressor: TermFunction) -> tuple[Term, ...]:
    """Heat that machines give off to the body while spraying."""
    return (
        side("compressor", "heat of the compressor", compressor),
        side("proportioner", "heat of the proportioner", lambda o, c: o.body_heat),
        side("generator", "heat of the generator", lambda o, c: o.body_heat),
    )


_COLD_PARTS: Mapping[str, Part] = {
    WARM_UP: Part("", (need("vehicle", "heat that warms the body in time", _body_warm_up), BODY_HEATER)),
    SPRAYING: Part(
        "",
        (
            need("vehicle", "heat lost through walls and by change of air", _cold_loss),
            BODY_HEATER,
            *_machines(supply, lambda o, c: o.motor_power * o.heat_share * c.margin("trigger_share")),
        ),
    ),
}


def _cold_part(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return (_COLD_PARTS[c.state],)


declare(Rule(
    id="HEAT-03",
    title="the body is warm in the cold",
    unit="kW",
    basis=Basis.PHYSICS,
    source=BALANCE + "; least temperature inside: common practice, no source",
    scope=each_state(WARM_UP, SPRAYING, ends=(COLDEST,)),
    words=Words(
        fits="{place}: keeping the body warm takes {need}, heater and machines give {supply}: {margin} to spare.",
        fails="{place}: keeping the body warm takes {need}, heater and machines give {supply}: {short} short.",
        binds="The cold decides how much body heat and insulation are needed.",
    ),
    parts=_cold_part,
    effects={
        **NIGHT_EFFECTS,
        "body_floor": Effect.TIGHTENS,
        "coldest_air": Effect.EASES,
        "warm_up_time": Effect.BOTH,
        "trigger_share": Effect.EASES,
    },
    note="In warm-up lining and floor are brought from the morning's temperature to the least of the brief, without "
    "heat of machines; the drums have their own rule (HEAT-02). While spraying the compressor counts for the gun's "
    "open time alone: the safe side. Open doors are neglected: the unsafe side.",
))  # fmt: skip


# --- body in the heat -------------------------------------------------------------------------------------------------
def _walls_out(o: Any, c: Case) -> Any:
    return body_loss(o.ua, c.margin("body_ceiling"), c.air_temperature)


def _fan(o: Any, c: Case) -> Any:
    """Heat that the fan carries out; it stands still where it is hotter outside than the ceiling of the brief."""
    difference = max(0.0, c.margin("body_ceiling") - c.air_temperature)
    return ventilation_heat(o.flow, c.outdoor_air_density, difference)


declare(Rule(
    id="HEAT-04",
    title="the body stays cool in the heat",
    unit="kW",
    basis=Basis.PHYSICS,
    source=BALANCE + "; highest temperature inside: common practice, no source",
    scope=each_state(SPRAYING, ends=(HOTTEST,)),
    words=Words(
        fits="{place}: the machines give off {need}, walls, cooler and fan carry {supply} out: {margin} to spare.",
        fails="{place}: the machines give off {need}, walls, cooler and fan carry {supply} out: {short} short.",
        binds="The heat of the machines decides how much cooling or outside air is needed.",
    ),
    terms=(
        *_machines(need, lambda o, c: o.motor_power * o.heat_share),
        need("air_dryer", "heat of the air dryer", lambda o, c: o.power),
        supply("vehicle", "out through the walls", _walls_out),
        supply("body_cooler", "body cooler", lambda o, c: o.heat),
        supply("ventilation_fan", "outside air", _fan),
    ),
    effects={
        "hottest_air": Effect.TIGHTENS,
        "body_ceiling": Effect.EASES,
        "altitude": Effect.TIGHTENS,
        "humidity": Effect.TIGHTENS,
    },
    note="All machines run without a pause, and air leaks are not counted: the safe side. Sun on the roof and small "
    "loads (lights, mixer, breathing pump) are neglected: the unsafe side.",
))  # fmt: skip


# --- night and heaters ------------------------------------------------------------------------------------------------
def _night_loss(o: Any, c: Case) -> Any:
    inside = float(c.duty.keep_warm) if c.duty.keep_warm is not None else c.of_duty("overnight_air")
    return _body_loss(o, c, inside, c.of_duty("overnight_air"), c.night_air_density)


declare(Rule(
    id="HEAT-05",
    title="the body is kept warm at night",
    unit="kW",
    basis=Basis.PHYSICS,
    source=BALANCE,
    scope=each_state(OVERNIGHT, ends=(COLDEST,)),
    words=Words(
        fits="{place}: keeping the body warm takes {need}, its heater gives {supply}: {margin} to spare.",
        fails="{place}: keeping the body warm takes {need}, its heater gives {supply}: {short} short.",
        binds="Keeping the body warm at night decides how strong its heater must be.",
    ),
    terms=(need("vehicle", "heat lost through walls and by change of air", _night_loss), BODY_HEATER),
    effects={"overnight_air": Effect.EASES, "altitude": Effect.EASES, "humidity": Effect.EASES},
    when=lambda c: c.duty.keep_warm is not None,
    note="Steady, in the coldest air of the night: the safe side. What the heater draws is judged by PWR-12.",
))  # fmt: skip
