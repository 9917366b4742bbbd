"""Whether everything goes into the body: floor, height, and a fit-out made for the vehicle.

Contents: FIT-01 floor area, FIT-02 height, FIT-03 fit-out of the vehicle's kind.

An area says nothing of shapes: the exact plan of the floor comes later and may still fail where this fits.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from solver.formulas.weight import floor_area
from solver.options.table import SlotOptions
from solver.rules.case import Case
from solver.rules.record import ONCE, Basis, Effect, Guard, Part, Rule, Words, declare, need, supply
from solver.rules.weight import CARRIED

FLOOR_FACTORS = 1.0
"""Aisle, door zone and the floor itself take no extra for gaps."""


def _footprint(o: Any, c: Case) -> Any:
    return floor_area(o.length, o.width, c.margin("floor_factor")) * o.is_("mounting", "floor")


def _drums(o: Any, c: Case) -> float:
    factor = c.margin("floor_factor")
    return sum(sets * float(floor_area(item.length, item.width, factor)) for item, sets in c.materials_aboard)


declare(Rule(
    id="FIT-01",
    title="floor area",
    unit="ft2",
    basis=Basis.PHYSICS,
    source="sum of areas; floor factor and aisle are margins of the brief (common practice, no source; 28 in of aisle "
    "after 29 CFR 1910.36(g)(2), a building rule)",
    scope=ONCE,
    words=Words(
        fits="Items, drums, aisle and door zone take {need} of the {supply} of floor: {margin} to spare.",
        fails="Items, drums, aisle and door zone take {need}, the floor has {supply}: {short} short.",
        binds="The floor decides which body is large enough.",
    ),
    terms=(
        need(CARRIED, "footprint with gaps", _footprint),
        need(None, "drums aboard with gaps", _drums),
        need("vehicle", "aisle", lambda o, c: floor_area(o.floor_length, c.margin("aisle_width"), FLOOR_FACTORS)),
        need("vehicle", "door zone", lambda o, c: floor_area(o.door_zone, o.floor_width, FLOOR_FACTORS)),
        supply("vehicle", "floor", lambda o, c: floor_area(o.floor_length, o.floor_width, FLOOR_FACTORS)),
    ),
    effects=dict.fromkeys(("sets", "floor_factor", "aisle_width"), Effect.TIGHTENS),
    note="Shapes and clearances for service beyond the floor factor are neglected: the unsafe side. Where aisle and "
    "door zone overlap the floor is counted twice: the safe side. The plan of the floor decides.",
))  # fmt: skip


def _on_the_floor(o: Any, c: Case) -> Any:
    return o.is_("mounting", "floor")


def _standing(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    """One part for each slot, the small kit apart, in which something may stand on the floor."""
    return tuple(
        Part(
            table.slot.title,
            (need(name, "height", lambda o, c: o.height),),
            guard=Guard(name, _on_the_floor, f"the {table.slot.title} stands on the floor"),
        )
        for name, table in slots.items()
        if name in CARRIED and float(_on_the_floor(table, c).max()) > 0.5
    )


declare(Rule(
    id="FIT-02",
    title="height inside",
    unit="in",
    basis=Basis.PHYSICS,
    source="heights compared",
    scope=ONCE,
    words=Words(
        fits="The {part} is {need} high under a ceiling of {supply}: {margin} to spare.",
        fails="The {part} is {need} high, the ceiling is at {supply}: {short} short.",
        binds="The height of the {part} decides which body is high enough.",
    ),
    terms=(supply("vehicle", "inside height", lambda o, c: o.inside_height),),
    parts=_standing,
    note="Room to lift it over a wheel box, or to pull a pump out of a drum, is neglected: the unsafe side.",
))  # fmt: skip


def _made_for(kind: str) -> Part:
    return Part(
        kind,
        (
            need("fit_out", f"fit-out for a {kind}", lambda o, c: o.is_("vehicle_kind", kind)),
            supply("vehicle", f"a {kind}", lambda o, c: o.is_("kind", kind)),
        ),
    )


declare(Rule(
    id="FIT-03",
    title="fit-out made for the vehicle",
    unit="1",
    basis=Basis.RATING,
    source="maker's description of the fit-out",
    scope=ONCE,
    words=Words(
        fits="A fit-out for a {part} is not built into anything else.",
        fails="The fit-out is made for a {part}, but the vehicle is not one.",
        binds="A fit-out for a {part} needs a {part}.",
    ),
    parts=(_made_for("truck"), _made_for("trailer")),
))  # fmt: skip
