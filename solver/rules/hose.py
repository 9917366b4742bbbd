"""The heated hose: long enough, not too long, and warm.

Contents: HOSE-01 reach, HOSE-02 longest hose of the proportioner, HOSE-03 heat against loss, HOSE-04 warm within the
warm-up, HOSE-05 reach of the breathing air.
"""

from __future__ import annotations

from typing import Any

from solver.formulas.body_heat import warm_up_power
from solver.formulas.heat import hose_loss
from solver.rules.case import Case
from solver.rules.record import (
    COLDEST,
    EACH_DUTY,
    ONCE,
    SPRAYING,
    WARM_UP,
    Basis,
    Effect,
    Guard,
    Rule,
    Words,
    declare,
    each_state,
    need,
    supply,
)

_REACH = "the brief: distance, height and slack (common practice 10 %)"

declare(Rule(
    id="HOSE-01",
    title="the hose reaches the work",
    unit="ft",
    basis=Basis.BRIEF,
    source=_REACH,
    scope=EACH_DUTY,
    words=Words(
        fits="{place}: {need} of hose reach the work, {supply} are aboard: {margin} to spare.",
        fails="{place}: {need} of hose reach the work, {supply} are aboard: {short} short.",
        binds="The reach decides how many sections of hose are needed.",
    ),
    terms=(
        need(None, "length to the work", lambda o, c: c.of_duty("hose_reach")),
        supply("hose", "heated hose and whip", lambda o, c: o.hose_length),
    ),
    effects={"hose_reach": Effect.TIGHTENS},
    note="Whole sections and the whip. The gun's air line lies in the bundle and is as long.",
))  # fmt: skip

declare(Rule(
    id="HOSE-02",
    title="heated hose within the proportioner's longest",
    unit="ft",
    basis=Basis.RATING,
    source="maker's data sheet of the proportioner",
    scope=ONCE,
    words=Words(
        fits="The heated hose is {need} long, the proportioner feeds up to {supply}: {margin} to spare.",
        fails="The heated hose is {need} long, the proportioner feeds up to {supply}: {short} too long.",
        binds="The length of heated hose decides which proportioner can feed it.",
    ),
    terms=(
        need("hose", "heated hose", lambda o, c: o.heated_length),
        supply("proportioner", "longest heated hose", lambda o, c: o.longest_hose),
    ),
    note="The whip is not heated and not counted.",
))  # fmt: skip


def _spray(c: Case) -> float:
    return float(c.material.spray_temperature)


def _loss(o: Any, c: Case) -> Any:
    return hose_loss(o.loss, o.heated_length, _spray(c) - c.air_temperature)


def _warm_up(o: Any, c: Case) -> Any:
    return warm_up_power(
        o.loss * o.heated_length,
        o.heat_capacity * o.heated_length,
        c.heating_time("hose_heat"),
        _spray(c),
        c.air_temperature,
        c.hose_start,
    )


HOSE_HEAT = supply("proportioner", "hose heat at the voltage supplied", lambda o, c: o.hose_heat_kw)

declare(Rule(
    id="HOSE-03",
    title="the hose stays warm",
    unit="kW",
    basis=Basis.PHYSICS,
    source="loss for each length and degree by the maker or measured; heat balance",
    scope=each_state(SPRAYING, ends=(COLDEST,)),
    words=Words(
        fits="{place}: the hose loses {need}, the proportioner heats it with {supply}: {margin} to spare.",
        fails="{place}: the hose loses {need}, the proportioner heats it with {supply}: {short} short.",
        binds="The loss of the hose in the cold decides how much hose heat the proportioner must have.",
    ),
    terms=(need("hose", "heat lost to the air", _loss), HOSE_HEAT),
    effects={"coldest_air": Effect.EASES},
    note="The whole hose at spray temperature with the gun shut, all of it outdoors in the coldest air: the safe side. "
    "The sag that the pressure rules allow is for couplings and the dead band of the control, and is not used up here. "
    "Wind and wet raise the loss: the unsafe side.",
))  # fmt: skip

declare(Rule(
    id="HOSE-04",
    title="the hose is warm when work starts",
    unit="kW",
    basis=Basis.PHYSICS,
    source="lumped body with constant heat and loss (Cengel, Heat and Mass Transfer, chapter 4; from memory)",
    scope=each_state(WARM_UP, ends=(COLDEST,)),
    words=Words(
        fits="{place}: warming the hose in time takes {need}, the proportioner gives {supply}: {margin} to spare.",
        fails="{place}: warming the hose in time takes {need}, the proportioner gives {supply}: {short} short.",
        binds="The time for warming the hose decides how much hose heat the proportioner must have.",
    ),
    terms=(need("hose", "heat that warms the hose in time", _warm_up), HOSE_HEAT),
    effects={"warm_up_time": Effect.EASES, "coldest_air": Effect.EASES, "overnight_air": Effect.EASES},
    note="The hose starts as cold as the night's air unless it is carried inside a body that is kept warm; what a body "
    "that coasts has left is neglected: the safe side. With an interlock the hose has the first half of the warm-up.",
))  # fmt: skip

def _pump_distance(o: Any, c: Case) -> Any:
    return c.margin("pump_distance") * o.is_("kind", "ambient-pump")


declare(Rule(
    id="HOSE-05",
    title="the breathing air reaches the work",
    unit="ft",
    basis=Basis.BRIEF,
    source=_REACH,
    scope=EACH_DUTY,
    words=Words(
        fits="{place}: {need} of breathing hose reach the work, {supply} are aboard: {margin} to spare.",
        fails="{place}: {need} of breathing hose reach the work, {supply} are aboard: {short} short.",
        binds="The reach decides how long the breathing hose must be.",
    ),
    terms=(
        need(None, "length to the work", lambda o, c: c.of_duty("hose_reach")),
        supply("breathing_air", "breathing hose", lambda o, c: o.hose_length),
        supply("breathing_air", "pump set up towards the work", _pump_distance),
    ),
    effects={"hose_reach": Effect.TIGHTENS, "pump_distance": Effect.EASES},
    note="A pump for ambient air is carried towards the work and stands in clean air; a panel stays at the rig.",
    guard=Guard("breathing_air", lambda o, c: o.present, "there is breathing air"),
))  # fmt: skip
