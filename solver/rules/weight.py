"""What the rig weighs against what the vehicle, the tow vehicle and the licence allow.

Contents: `CARRIED`, `LOAD`, `crew_weight`; WT-01 payload, WT-02 gross weight rating, WT-03 tow rating, WT-04 licence by
the sum of ratings, WT-05 gross combined rating, WT-06 payload of the tow vehicle, WT-07 hitch, WT-08 gross rating of
the tow vehicle, WT-09 rating of the trailer.

Weights are masses. Everything aboard counts at its heaviest: drums and tanks full, the crew in its seats. Where things
stand (axles, hitch, left and right) is not judged here: that comes with the floor plan, and at last with the scale.
"""

from __future__ import annotations

from typing import Any

from solver.formulas.fuel import fuel_mass
from solver.formulas.weight import hitch_load
from solver.options.slots import ACCESSORY_CLASSES, FIXED_SLOTS
from solver.rules.case import Case
from solver.rules.record import ONCE, Basis, Effect, Guard, Part, Rule, Term, Words, declare, need, supply

CARRIED: tuple[str, ...] = (
    *(slot.name for slot in FIXED_SLOTS if slot.name not in ("vehicle", "tow_vehicle")),
    *ACCESSORY_CLASSES,
)
"""Slots whose items ride in the vehicle."""

_PLATE = "maker's rating on the vehicle's certification label; curb weight and payload as defined in 49 CFR 571.3"
_TOWING = "maker's towing guide and the labels of both vehicles"
_LOAD_EFFECTS = {"sets": Effect.TIGHTENS, "fuel_density": Effect.TIGHTENS}
_CREW_EFFECTS = dict.fromkeys(("sprayers", "helpers", "trimmers", "crew_weight"), Effect.TIGHTENS)
_PLACES = "Where things stand is neglected: axle and hitch loads come with the floor plan; weigh the loaded rig."

TRUCK = Guard("vehicle", lambda o, c: o.is_("kind", "truck"), "the vehicle is a truck")
TRAILER = Guard("vehicle", lambda o, c: o.is_("kind", "trailer"), "the vehicle is a trailer")


def crew_weight(c: Case) -> float:
    """Weight of the whole crew with clothes and hand tools [kg]."""
    return float(c.people * c.margin("crew_weight"))


def _generator_fuel(o: Any, c: Case) -> Any:
    return fuel_mass(o.tank, c.margin("fuel_density"))


def _tank_fuel(o: Any, c: Case) -> Any:
    return fuel_mass(o.volume, c.margin("fuel_density"))


def _gross(share: str = "") -> tuple[Term, ...]:
    """The loaded vehicle, term by term; with a margin's name the part of each that lies on the hitch."""

    def part(of: Any) -> Any:
        return (lambda o, c: hitch_load(of(o, c), c.margin(share))) if share else of

    where = ", its part on the hitch" if share else ""
    return (
        need(CARRIED, f"item{where}", part(lambda o, c: o.weight)),
        need("generator", f"fuel in the generator's tank{where}", part(_generator_fuel)),
        need("fuel_tank", f"fuel in the extra tank{where}", part(_tank_fuel)),
        need(None, f"full drums{where}", part(lambda o, c: c.material_weight)),
        need("vehicle", f"empty vehicle{where}", part(lambda o, c: o.weight)),
    )


LOAD: tuple[Term, ...] = _gross()[:-1]
"""Everything aboard but the crew, term by term."""
GROSS: tuple[Term, ...] = _gross()
"""The loaded vehicle without crew, term by term."""
TRUCK_CREW = need("vehicle", "crew in the truck", lambda o, c: crew_weight(c) * o.is_("kind", "truck"))
TOW_CREW = need(None, "crew in the tow vehicle", lambda o, c: crew_weight(c))
TOW_CURB = need("tow_vehicle", "empty tow vehicle", lambda o, c: o.weight)

declare(Rule(
    id="WT-01",
    title="payload of the vehicle",
    unit="lb",
    basis=Basis.RATING,
    source=_PLATE,
    scope=ONCE,
    words=Words(
        fits="Everything aboard weighs {need} of the {supply} that the vehicle may carry: {margin} to spare.",
        fails="Everything aboard weighs {need}, but the vehicle may carry {supply}: {short} too much.",
        binds="The payload decides how heavy equipment and material may be.",
    ),
    terms=(*LOAD, TRUCK_CREW, supply("vehicle", "payload", lambda o, c: o.payload)),
    effects={**_LOAD_EFFECTS, **_CREW_EFFECTS},
    note=f"Full drums, full tanks and, in a truck, the crew. {_PLACES}",
))  # fmt: skip

declare(Rule(
    id="WT-02",
    title="gross weight rating of the vehicle",
    unit="lb",
    basis=Basis.RATING,
    source=_PLATE,
    scope=ONCE,
    words=Words(
        fits="The loaded vehicle weighs {need} of its gross rating of {supply}: {margin} to spare.",
        fails="The loaded vehicle weighs {need}, its gross rating is {supply}: {short} too much.",
        binds="The gross rating decides how heavy the loaded vehicle may be.",
    ),
    terms=(*GROSS, TRUCK_CREW, supply("vehicle", "gross vehicle weight rating", lambda o, c: o.gvwr)),
    effects={**_LOAD_EFFECTS, **_CREW_EFFECTS},
    note=f"A trailer counts whole, hitch load included: the safe side. {_PLACES}",
))  # fmt: skip

declare(Rule(
    id="WT-03",
    title="tow rating",
    unit="lb",
    basis=Basis.RATING,
    source=_TOWING,
    scope=ONCE,
    words=Words(
        fits="The loaded trailer weighs {need}, the tow vehicle may tow {supply}: {margin} to spare.",
        fails="The loaded trailer weighs {need}, but the tow vehicle may tow {supply}: {short} too much.",
        binds="The tow rating decides how heavy the trailer may be.",
    ),
    terms=(*GROSS, supply("tow_vehicle", "tow rating", lambda o, c: o.tow_rating)),
    effects=_LOAD_EFFECTS,
    guard=TRAILER,
    note="Ratings are for level roads at sea level; hills and altitude ask for more room: the unsafe side.",
))  # fmt: skip

declare(Rule(
    id="WT-04",
    title="licence: sum of the gross ratings",
    unit="lb",
    basis=Basis.BRIEF,
    source="limit of the brief; thresholds in 49 CFR 383.91 and 390.5 (older text: the current rule also compares "
    "actual weight)",
    scope=ONCE,
    words=Words(
        fits="The gross ratings of the {part} come to {need} of the {supply} that the licence allows: "
        "{margin} to spare.",
        fails="The gross ratings of the {part} come to {need}, the licence allows {supply}: {short} too much.",
        binds="The licence decides how large a vehicle the rig may have.",
    ),
    parts=(
        Part("truck", (need("vehicle", "gross rating of the truck", lambda o, c: o.gvwr),), guard=TRUCK),
        Part(
            "trailer with its tow vehicle",
            (
                need("vehicle", "gross rating of the trailer", lambda o, c: o.gvwr),
                need("tow_vehicle", "gross rating of the tow vehicle", lambda o, c: o.gvwr),
            ),
            guard=TRAILER,
        ),
    ),
    terms=(supply(None, "limit of the brief", lambda o, c: c.limit("combined_rating")),),
    effects={"combined_rating": Effect.EASES},
    when=lambda c: c.has_limit("combined_rating"),
    note="Ratings count, not what is loaded. State law may differ.",
))  # fmt: skip

declare(Rule(
    id="WT-05",
    title="gross combined weight rating",
    unit="lb",
    basis=Basis.RATING,
    source=_TOWING,
    scope=ONCE,
    words=Words(
        fits="Trailer, tow vehicle and crew weigh {need} of the combined rating of {supply}: {margin} to spare.",
        fails="Trailer, tow vehicle and crew weigh {need}, the combined rating is {supply}: {short} too much.",
        binds="The combined rating decides how heavy trailer and tow vehicle may be together.",
    ),
    terms=(
        *GROSS, TOW_CURB, TOW_CREW,
        supply("tow_vehicle", "gross combined weight rating", lambda o, c: o.gcwr),
    ),
    effects={**_LOAD_EFFECTS, **_CREW_EFFECTS},
    guard=TRAILER,
    note="The curb weight of the tow vehicle includes its own fuel; cargo in it is neglected: the unsafe side.",
))  # fmt: skip


def _hitch_part(hitch: str, share: str, extra: tuple[Term, ...] = ()) -> Part:
    """The hitch load of a trailer of this kind on the tow vehicle."""
    guard = Guard("vehicle", lambda o, c: o.is_("hitch", hitch), f"the trailer has a {hitch} hitch")
    return Part(f"{hitch} hitch", (*_gross(share), *extra), guard=guard)


_HITCH_EFFECTS = {"hitch_share": Effect.TIGHTENS, "gooseneck_share": Effect.TIGHTENS}
_HITCH_NOTE = (
    "Part of the trailer's weight on the hitch by practice, 10-15 % conventional, 15-25 % gooseneck; the upper end is "
    "the safe side here. The floor plan gives the real load. Cargo in the tow vehicle is neglected: the unsafe side."
)

declare(Rule(
    id="WT-06",
    title="payload of the tow vehicle",
    unit="lb",
    basis=Basis.RATING,
    source=f"{_TOWING}; share on the hitch: common practice, quoted in one text",
    scope=ONCE,
    words=Words(
        fits="Hitch load and crew come to {need} of the tow vehicle's payload of {supply}: {margin} to spare.",
        fails="Hitch load and crew come to {need}, but the tow vehicle may carry {supply}: {short} too much.",
        binds="The hitch load decides which tow vehicle is enough.",
    ),
    terms=(TOW_CREW, supply("tow_vehicle", "payload of the tow vehicle", lambda o, c: o.payload)),
    parts=(_hitch_part("conventional", "hitch_share"), _hitch_part("gooseneck", "gooseneck_share")),
    effects={**_LOAD_EFFECTS, **_CREW_EFFECTS, **_HITCH_EFFECTS},
    note=_HITCH_NOTE,
))  # fmt: skip


def _coupling(hitch: str) -> Part:
    return Part(
        hitch,
        (
            need("vehicle", f"trailer with a {hitch} hitch", lambda o, c: o.is_("hitch", hitch)),
            supply("tow_vehicle", f"takes a {hitch} hitch", lambda o, c: getattr(o, f"takes_{hitch}")),
        ),
    )


declare(Rule(
    id="WT-07",
    title="a trailer has a tow vehicle with its hitch",
    unit="1",
    basis=Basis.RATING,
    source="maker's description of the coupling",
    scope=ONCE,
    words=Words(
        fits="The tow vehicle takes the trailer's hitch, if that is a {part} one.",
        fails="The trailer has a {part} hitch and no tow vehicle here that takes it.",
        binds="A trailer with a {part} hitch needs a tow vehicle that takes it.",
    ),
    parts=(_coupling("conventional"), _coupling("gooseneck")),
    note="A truck needs no tow vehicle. Ball size, brake controller and plug are left to the vehicles' data.",
))  # fmt: skip

declare(Rule(
    id="WT-08",
    title="gross weight rating of the tow vehicle",
    unit="lb",
    basis=Basis.RATING,
    source=f"{_TOWING}; share on the hitch: common practice, quoted in one text",
    scope=ONCE,
    words=Words(
        fits="Tow vehicle, hitch load and crew weigh {need} of its gross rating of {supply}: {margin} to spare.",
        fails="Tow vehicle, hitch load and crew weigh {need}, its gross rating is {supply}: {short} too much.",
        binds="The gross rating of the tow vehicle decides how much hitch load it may take.",
    ),
    terms=(
        TOW_CREW, TOW_CURB,
        supply("tow_vehicle", "gross rating of the tow vehicle", lambda o, c: o.gvwr),
    ),
    parts=(_hitch_part("conventional", "hitch_share"), _hitch_part("gooseneck", "gooseneck_share")),
    effects={**_LOAD_EFFECTS, **_CREW_EFFECTS, **_HITCH_EFFECTS},
    note=_HITCH_NOTE,
))  # fmt: skip

declare(Rule(
    id="WT-09",
    title="licence: gross rating of the trailer",
    unit="lb",
    basis=Basis.BRIEF,
    source="limit of the brief; thresholds in 49 CFR 383.91 (towed unit rated over 10,000 lb)",
    scope=ONCE,
    words=Words(
        fits="The trailer is rated {need} of the {supply} that the licence allows: {margin} to spare.",
        fails="The trailer is rated {need}, the licence allows {supply}: {short} too much.",
        binds="The licence decides how large the trailer may be.",
    ),
    terms=(
        need("vehicle", "gross rating of the trailer", lambda o, c: o.gvwr),
        supply(None, "limit of the brief", lambda o, c: c.limit("trailer_rating")),
    ),
    effects={"trailer_rating": Effect.EASES},
    when=lambda c: c.has_limit("trailer_rating"),
    guard=TRAILER,
    note="Ratings count, not what is loaded. State law may differ.",
))  # fmt: skip
