"""Dry air: the dryer carries the compressor's air, bears the body's air, and dries far enough.

Contents: AIR-04 cooling capacity, AIR-05 hottest and AIR-11 coldest air around the dryer, AIR-06 dew point against the
coldest line, AIR-08 a dryer is aboard. All but AIR-08 speak of a dryer that is there.
"""

from __future__ import annotations

from typing import Any

from solver.formulas.moist_air import cooling_load
from solver.formulas.standard_air import SEA_LEVEL_PRESSURE
from solver.quantities import parse
from solver.rules.air_supply import delivered
from solver.rules.case import Case
from solver.rules.record import (
    COLDEST,
    HOTTEST,
    ONCE,
    SPRAYING,
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

RATING_PRESSURE = parse("100 psi", "pressure")
"""Gauge pressure at which a dryer's flow is rated [Pa]."""
RATING_INLET = parse("100 degF", "temperature")
"""Saturated inlet temperature at which a dryer's flow is rated [K]."""

WITH_DRYER = Guard("air_dryer", lambda o, c: o.present, "an air dryer is aboard")


def _load(o: Any, c: Case) -> Any:
    return cooling_load(
        delivered(o, c),
        c.body_temperature + o.approach,
        o.cut_in + c.air_pressure,
        c.margin("dryer_dew_point"),
    )


def _capacity(o: Any, c: Case) -> Any:
    return cooling_load(o.rated_flow, RATING_INLET, RATING_PRESSURE + SEA_LEVEL_PRESSURE, c.margin("dryer_dew_point"))


declare(Rule(
    "AIR-04", "The dryer carries the compressor's flow", "W", Basis.PHYSICS,
    "energy balance with ASHRAE Handbook Fundamentals, chapter 1, enthalpy of moist air; rating point of ISO 7183 "
    "(100 degF inlet, 100 psig, 100 degF around)", each_state(SPRAYING, ends=(HOTTEST,)),
    Words("{place}: drying the compressor's full flow takes {need}, the dryer has {supply}; {margin} to spare.",
          "{place}: drying the compressor's full flow takes {need}, the dryer has {supply}: {short} short.",
          "The compressor's full flow at its hot outlet decides the dryer: {need} of {supply} in {place}."),
    terms=(
        need("compressor", "heat of its full flow, saturated at its outlet", _load),
        supply("air_dryer", "heat of its rated flow at its rating point", _capacity),
    ),
    guard=WITH_DRYER,
    effects={"altitude": Effect.BOTH, "hottest_air": Effect.BOTH, "humidity": Effect.EASES,
             "body_ceiling": Effect.BOTH, "dryer_dew_point": Effect.BOTH},
    note="Flow and capacity are held together as heat, so that a hot inlet costs capacity by physics and not by a "
         "table. The air counts as saturated at the outlet, and the pressure as the cut-in: the safe side. A "
         "desiccant dryer is held to the same ratio, which is mostly water. Air around above 100 degF costs a "
         "refrigerated dryer some capacity on top, the unsafe side up to its largest ambient.",
))  # fmt: skip

declare(Rule(
    "AIR-05", "Hottest air around the dryer", "degF", Basis.RATING, "data sheet of the dryer",
    each_state(SPRAYING, ends=(HOTTEST,)),
    Words("{place}: the body is at {need} at most, the dryer bears {supply}; {margin} to spare.",
          "{place}: the body is at {need} at most, the dryer bears {supply}: {short} too hot.",
          "The heat in the body decides the dryer: {need} of {supply}."),
    terms=(
        need(None, "air in the body", lambda o, c: c.body_temperature),
        supply("air_dryer", "largest air temperature", lambda o, c: o.largest_ambient),
    ),
    guard=WITH_DRYER,
    effects={"hottest_air": Effect.TIGHTENS, "body_ceiling": Effect.TIGHTENS},
    note="The body is held below its ceiling by HEAT-04; hotter outdoor air counts as it is.",
))  # fmt: skip

declare(Rule(
    "AIR-11", "Coldest air around the dryer", "degF", Basis.RATING, "data sheet of the dryer",
    each_state(SPRAYING, ends=(COLDEST,)),
    Words("{place}: the dryer asks for {need} around it, the body is at {supply} at least; {margin} to spare.",
          "{place}: the dryer asks for {need} around it, the body is at {supply} at least: {short} too cold.",
          "The cold in the body decides the dryer: {need} of {supply}."),
    terms=(
        need("air_dryer", "least air temperature", lambda o, c: o.least_ambient),
        supply(None, "air in the body", lambda o, c: c.body_temperature),
    ),
    guard=WITH_DRYER,
    effects={"coldest_air": Effect.EASES, "body_floor": Effect.EASES},
    note="The body is held above its floor by HEAT-03 before the air is asked for.",
))  # fmt: skip


def _coldest_line(o: Any, c: Case) -> float:
    lines = [c.body_temperature, c.hose_temperature]
    if c.brief.unheated_air_line:
        lines.append(c.of_duty("coldest_air"))
    return min(lines) - c.margin("dew_margin")


declare(Rule(
    "AIR-06", "No water falls out in the lines", "degF", Basis.PRACTICE,
    "common practice, no source; saturation at line pressure", each_state(SPRAYING, ends=(COLDEST,)),
    Words("{place}: the air is dry down to {need}, its coldest line is at {supply}; {margin} to spare.",
          "{place}: the air is dry down to {need}, its coldest line is at {supply}: {short} too wet.",
          "The coldest line decides the dryer: {need} of {supply}."),
    terms=(
        need("air_dryer", "dew point under pressure", lambda o, c: o.dew_point),
        supply(None, "coldest line less its margin", _coldest_line),
    ),
    guard=WITH_DRYER,
    effects={"coldest_air": Effect.EASES, "body_floor": Effect.EASES, "hose_margin": Effect.TIGHTENS,
             "dew_margin": Effect.TIGHTENS},
    note="Lines inside are at the body's temperature, the gun's line lies in the heated bundle; outdoor air counts "
         "only for an unheated line. After a regulator the air is drier still: the safe side.",
))  # fmt: skip

declare(Rule(
    "AIR-08", "An air dryer", "1", Basis.PRACTICE, "common practice, no source", ONCE,
    Words("An air dryer is aboard.",
          "An air dryer is wanted aboard, none is there.",
          "Dry air costs a dryer: wet air reaches the gun, the isocyanate and the pumps without one."),
    terms=(
        need(None, "wanted", lambda o, c: 1.0),
        supply("air_dryer", "a dryer is aboard", lambda o, c: o.present),
    ),
))  # fmt: skip
