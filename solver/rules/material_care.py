"""Care of the material: what must be there for it, enough of it, and not stored too cold.

Contents: MAT-05 stick pump for the resin, MAT-06 drum mixer, MAT-07 drum dryer, MAT-08 circulation, MAT-09 temperature
gauges, MAT-10 pressure class, MAT-11 material of the day, MAT-13 storage at night.
"""

from __future__ import annotations

from solver.quantities import from_unit
from solver.rules.case import Case
from solver.rules.material_flow import HOLDERS, SIDES
from solver.rules.night import NIGHT_EFFECTS, morning_temperature
from solver.rules.record import (
    COLDEST,
    EACH_DUTY,
    ONCE,
    OVERNIGHT,
    Basis,
    Effect,
    Part,
    Rule,
    Words,
    declare,
    each_state,
    need,
    supply,
)

PRACTICE = "common practice, no source"
HUMID_AIR = 0.60
"""Relative humidity from which the isocyanate drum wants a desiccant breather (common practice, no source)."""
COLD_AIR = from_unit(50.0, "degF")
"""Air below which material is circulated through the heaters before work (common practice, no source)."""
PRESSURE_CLASS = from_unit(2000.0, "psi")
"""Pressure class of the high-pressure trade (common practice, no source)."""
# --- things that must be there ----------------------------------------------------------------------------------------
WANTED = need(None, "wanted", lambda o, c: 1.0)

declare(Rule(
    id="MAT-05",
    title="stick pump for the resin",
    unit="1",
    basis=Basis.PRACTICE,
    source=PRACTICE,
    scope=ONCE,
    words=Words(
        fits="The resin is fed by a stick pump.",
        fails="The resin is fed by a diaphragm pump; a stick pump is wanted.",
        binds="The resin must be fed by a stick pump.",
    ),
    terms=(WANTED, supply("feed_pump_b", "stick pump", lambda o, c: o.is_("kind", "stick"))),
))  # fmt: skip

declare(Rule(
    id="MAT-06",
    title="drum mixer where the resin must be mixed",
    unit="1",
    basis=Basis.RATING,
    source="data sheet of the material",
    scope=EACH_DUTY,
    words=Words(
        fits="{place}: the resin must be mixed, a drum mixer is aboard.",
        fails="{place}: the resin must be mixed, but no drum mixer is aboard.",
        binds="The material's resin must be mixed, which takes a drum mixer.",
    ),
    terms=(WANTED, supply("drum_mixer", "drum mixer", lambda o, c: o.present)),
    when=lambda c: bool(c.material.resin_must_be_mixed),
))  # fmt: skip


def _humid(c: Case) -> bool:
    return c.of_duty("humidity") >= HUMID_AIR


def _cold(c: Case) -> bool:
    return min(c.of_duty("coldest_air"), c.of_duty("overnight_air")) < COLD_AIR


declare(Rule(
    id="MAT-07",
    title="dry air into the isocyanate drum",
    unit="1",
    basis=Basis.PRACTICE,
    source=PRACTICE,
    scope=EACH_DUTY,
    words=Words(
        fits="{place}: the air is humid, the isocyanate drum breathes through a dryer.",
        fails="{place}: the air is humid, and nothing dries what the isocyanate drum breathes.",
        binds="Humid air asks for a drum dryer.",
    ),
    terms=(WANTED, supply("drum_dryer", "drum dryer", lambda o, c: o.present)),
    effects={"humidity": Effect.TIGHTENS},
    when=_humid,
    note="Asked from 60 % relative humidity. Isocyanate forms crystals with moisture from the air.",
))  # fmt: skip

declare(Rule(
    id="MAT-08",
    title="circulation in the cold",
    unit="1",
    basis=Basis.PRACTICE,
    source=PRACTICE,
    scope=EACH_DUTY,
    words=Words(
        fits="{place}: it is cold, the material can be circulated through the heaters.",
        fails="{place}: it is cold, but nothing circulates the material through the heaters.",
        binds="Cold air asks for a circulation set.",
    ),
    terms=(WANTED, supply("circulation_set", "circulation set", lambda o, c: o.present)),
    effects={"coldest_air": Effect.EASES, "overnight_air": Effect.EASES},
    when=_cold,
    note="Asked below 50 degF by day or by night.",
))  # fmt: skip

declare(Rule(
    id="MAT-09",
    title="temperature gauges on both feeds",
    unit="1",
    basis=Basis.PRACTICE,
    source=PRACTICE,
    scope=ONCE,
    words=Words(
        fits="The feed pump of the {part} has a temperature gauge.",
        fails="The feed pump of the {part} has no temperature gauge.",
        binds="The feed pump of the {part} must have a temperature gauge.",
    ),
    terms=(WANTED,),
    parts=tuple(
        Part(name, (supply(f"feed_pump_{side}", "temperature gauge", lambda o, c: o.temperature_gauge),))
        for side, name in SIDES.items()
    ),
))  # fmt: skip

declare(Rule(
    id="MAT-10",
    title="2,000 psi class",
    unit="psi",
    basis=Basis.PRACTICE,
    source=PRACTICE,
    scope=ONCE,
    words=Words(
        fits="The class asks for {need}, the {part} is rated {supply}: {margin} to spare.",
        fails="The class asks for {need}, the {part} is rated {supply}: {short} short.",
        binds="The 2,000 psi class decides which {part} is good enough.",
    ),
    terms=(need(None, "pressure class", lambda o, c: PRESSURE_CLASS),),
    parts=HOLDERS,
))  # fmt: skip

declare(Rule(
    id="MAT-11",
    title="material for the day",
    unit="set",
    basis=Basis.BRIEF,
    source="the brief: sets aboard and brought to the site",
    scope=EACH_DUTY,
    words=Words(
        fits="{place}: the day takes {need}, there are {supply}: {margin} to spare.",
        fails="{place}: the day takes {need}, there are {supply}: {short} short.",
        binds="The material aboard decides how much can be sprayed in a day.",
    ),
    terms=(
        need(None, "sets sprayed in the day", lambda o, c: c.material_used * (1.0 / c.set_mass)),
        supply(None, "sets aboard", lambda o, c: c.sets_of_material),
        supply(None, "sets brought to the site", lambda o, c: c.of_duty("resupply")),
    ),
    effects={
        "output": Effect.TIGHTENS,
        "spraying_time": Effect.TIGHTENS,
        "trigger_share": Effect.TIGHTENS,
        "sets": Effect.EASES,
        "resupply": Effect.EASES,
    },
    note="What stays in drums and hoses (1 to 2 percent) is neglected: the unsafe side.",
))  # fmt: skip

declare(Rule(
    id="MAT-13",
    title="the material is not stored too cold at night",
    unit="degF",
    basis=Basis.RATING,
    source="storage temperature of the material's data sheet; the night as a cooling lump",
    scope=each_state(OVERNIGHT, ends=(COLDEST,)),
    words=Words(
        fits="{place}: the material may not be colder than {need}, the night leaves it at {supply}: {margin} to spare.",
        fails="{place}: the material may not be colder than {need}, but the night leaves it at {supply}: "
        "{short} too cold.",
        binds="The cold of the night decides how well the body must be insulated, or that it is kept warm.",
    ),
    terms=(
        need(None, "least storage temperature", lambda o, c: c.storage_temperature),
        supply("vehicle", "drums in the morning", morning_temperature),
    ),
    effects=NIGHT_EFFECTS,
    note="Every material aboard counts, with its full drums; a rig that comes home with empty ones cools faster: the "
    "unsafe side. Drum heaters at night are not counted: the safe side. Where the body is kept warm, HEAT-05 judges "
    "the heater.",
))  # fmt: skip
