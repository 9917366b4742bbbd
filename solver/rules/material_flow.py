"""The material on its way from the drum to the gun: flow and pressure.

Contents: MAT-01 output of the proportioner, MAT-02 and MAT-12 range of the gun, MAT-03 feed pumps, MAT-04A and MAT-04B
pressure at the gun.
"""

from __future__ import annotations

from typing import Any

from solver.formulas.hose_flow import laminar_drop, pump_flow
from solver.rules.case import Case
from solver.rules.record import (
    EACH_DUTY,
    SPRAYING,
    Basis,
    Effect,
    Part,
    Rule,
    Term,
    Words,
    declare,
    each_state,
    need,
    supply,
)

DATA_SHEETS = "maker's data sheets of the equipment and of the material"
SIDES = {"a": "isocyanate", "b": "resin"}

OUTPUT_EFFECTS = {
    "output": Effect.TIGHTENS,
    "spraying_time": Effect.EASES,
    "trigger_share": Effect.EASES,
}
"""Where the brief states board feet a day, more time means less output."""


def _raise_output(*, tightens: bool) -> dict[str, Effect]:
    """What raising the output, and what it is worked out from, does."""
    if tightens:
        return dict(OUTPUT_EFFECTS)
    return {"output": Effect.EASES, "spraying_time": Effect.TIGHTENS, "trigger_share": Effect.TIGHTENS}


declare(Rule(
    id="MAT-01",
    title="the proportioner gives the output",
    unit="lb/min",
    basis=Basis.RATING,
    source=DATA_SHEETS,
    scope=EACH_DUTY,
    words=Words(
        fits="{place}: {need} is sprayed, the proportioner gives {supply}: {margin} to spare.",
        fails="{place}: {need} is sprayed, the proportioner gives {supply}: {short} short.",
        binds="The output decides how large a proportioner is needed.",
    ),
    terms=(
        need(None, "output while the gun is open", lambda o, c: c.output),
        supply("proportioner", "rated output", lambda o, c: o.output),
    ),
    effects=_raise_output(tightens=True),
    note="Rated output at the mixing chamber of the data sheet; a smaller chamber gives less: the unsafe side.",
))  # fmt: skip

declare(Rule(
    id="MAT-02",
    title="the gun passes the output",
    unit="lb/min",
    basis=Basis.RATING,
    source=DATA_SHEETS,
    scope=EACH_DUTY,
    words=Words(
        fits="{place}: {need} is sprayed, the gun passes up to {supply}: {margin} to spare.",
        fails="{place}: {need} is sprayed, the gun passes up to {supply}: {short} short.",
        binds="The output decides how large a gun is needed.",
    ),
    terms=(
        need(None, "output while the gun is open", lambda o, c: c.output),
        supply("gun", "largest output", lambda o, c: o.largest_output),
    ),
    effects=_raise_output(tightens=True),
))  # fmt: skip

declare(Rule(
    id="MAT-12",
    title="the gun is not starved",
    unit="lb/min",
    basis=Basis.RATING,
    source=DATA_SHEETS,
    scope=EACH_DUTY,
    words=Words(
        fits="{place}: the gun mixes well from {need}, {supply} is sprayed: {margin} to spare.",
        fails="{place}: the gun mixes well from {need}, only {supply} is sprayed: {short} short.",
        binds="The small output rules out guns made for more.",
    ),
    terms=(
        need("gun", "least output", lambda o, c: o.least_output),
        supply(None, "output while the gun is open", lambda o, c: c.output),
    ),
    effects=_raise_output(tightens=False),
))  # fmt: skip


# --- feed -------------------------------------------------------------------------------------------------------------
def _feed(side: str) -> Part:
    """The feed pump of one side with the liquid as cold as the body."""

    def flow(o: Any, c: Case) -> Any:
        return pump_flow(o.flow, c.viscosity(side, c.body_temperature), o.half_flow_viscosity)

    return Part(SIDES[side], (supply(f"feed_pump_{side}", f"flow with cold {SIDES[side]}", flow),))


declare(Rule(
    id="MAT-03",
    title="the feed pumps keep up",
    unit="gpm",
    basis=Basis.RATING,
    source="maker's flow with a thin liquid and viscosity at half of it; shape between: common practice, no source",
    scope=each_state(SPRAYING),
    words=Words(
        fits="{place}: the {part} flows at {need}, its feed pump gives {supply}: {margin} to spare.",
        fails="{place}: the {part} flows at {need}, its feed pump gives {supply}: {short} short.",
        binds="The thickness of cold {part} decides how large its feed pump must be.",
    ),
    terms=(need(None, "flow of one side", lambda o, c: c.side_flow),),
    parts=(_feed("a"), _feed("b")),
    effects={
        **_raise_output(tightens=True),
        "body_floor": Effect.EASES,
        "coldest_air": Effect.EASES,
    },
    note="The liquid is taken at the temperature of the body in the cold. Drums colder than the body until noon are "
    "neglected: the unsafe side. The pump's pressure with thick liquid is left to its curve.",
))  # fmt: skip


# --- pressure ---------------------------------------------------------------------------------------------------------
def _drops(side: str) -> tuple[Term, ...]:
    """Pressure that the machine must make on one side: the gun's and what hose and whip take."""

    def hose(o: Any, c: Case) -> Any:
        return laminar_drop(c.viscosity(side, c.hose_temperature), o.heated_length, c.side_flow, o.bore)

    def whip(o: Any, c: Case) -> Any:
        return laminar_drop(c.viscosity(side, c.hose_temperature), o.whip_length, c.side_flow, o.whip_bore)

    return (
        need(None, "pressure at the gun", lambda o, c: float(c.material.gun_pressure)),
        need("hose", "lost in the heated hose", hose),
        need("hose", "lost in the whip", whip),
    )


HOLDERS = tuple(
    Part(slot, (supply(slot, "rated pressure", lambda o, c: o.pressure),)) for slot in ("proportioner", "hose", "gun")
)
"""What must bear the pressure. With the gun shut the hose and the gun stand under all that the machine makes."""

for _id, _side in (("MAT-04A", "a"), ("MAT-04B", "b")):
    declare(Rule(
        id=_id,
        title=f"pressure at the gun, {SIDES[_side]} side",
        unit="psi",
        basis=Basis.RATING,
        source="maker's pressure ratings; gun pressure of the material's data sheet; drop by Hagen-Poiseuille",
        scope=each_state(SPRAYING),
        words=Words(
            fits=f"{{place}}: the {SIDES[_side]} takes {{need}} to reach the gun, the {{part}} bears {{supply}}: "
            "{margin} to spare.",
            fails=f"{{place}}: the {SIDES[_side]} takes {{need}} to reach the gun, the {{part}} bears {{supply}}: "
            "{short} short.",
            binds=f"The pressure that the {SIDES[_side]} loses decides the bore of the hose and the {{part}}'s rating.",
        ),
        terms=_drops(_side),
        parts=HOLDERS,
        effects={**_raise_output(tightens=True), "hose_margin": Effect.TIGHTENS},
        note="Laminar flow, the whole hose at the least temperature that its heat is trusted with: the safe side. "
        "Couplings, filters and height are neglected (6 psi for 12 ft): the unsafe side.",
    ))  # fmt: skip
