"""Compressed air: enough of it, at pressure, stored for peaks.

Contents: AIR-01 average flow, AIR-12 the compressor's own running share, AIR-02 pressure, AIR-10 air of the gun's line,
AIR-03 peaks, AIR-09 least receiver, AIR-13 pressure of the extra receiver, AIR-07 kind of compressor. The users are in
`air_users`.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from solver.formulas.air import delivered_flow
from solver.formulas.compressed_air import line_pressure_drop
from solver.options.table import SlotOptions
from solver.quantities import parse
from solver.rules.air_users import average_terms, peak_terms, volume_of
from solver.rules.case import Case
from solver.rules.record import (
    CLEANING,
    EACH_DUTY,
    HOTTEST,
    ONCE,
    SPRAYING,
    Basis,
    Effect,
    Guard,
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

WORK_IN_HEAT = each_state(SPRAYING, CLEANING, ends=(HOTTEST,))
LOWEST_GUN_PRESSURE = parse("80 psi", "pressure")
"""Pressure at the gun for which the drop of its line is worked out [Pa]: common practice, no source. At any higher
pressure the air is denser and the drop smaller."""


def delivered(o: Any, c: Case) -> Any:
    """What the compressor delivers from the air of the body, as standard flow [m3/s]."""
    return delivered_flow(o.free_air, c.air_pressure, c.body_temperature, c.body_humidity)


_USER_EFFECTS = {
    "output": Effect.TIGHTENS, "spraying_time": Effect.BOTH, "trigger_share": Effect.BOTH,
    "respirators": Effect.TIGHTENS, "sprayers": Effect.TIGHTENS, "helpers": Effect.TIGHTENS,
    "trimmers": Effect.TIGHTENS,
}  # fmt: skip
_DELIVERY_EFFECTS = {
    "altitude": Effect.TIGHTENS, "hottest_air": Effect.TIGHTENS, "humidity": Effect.TIGHTENS,
    "body_ceiling": Effect.BOTH,
}  # fmt: skip
"""Body ceiling: warmer air is thinner; the same moisture in it takes the same room."""


# --- AIR-01, AIR-12: average flow -------------------------------------------------------------------------------------
def _average_parts(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return (Part("", average_terms(c)),)


_DELIVERED_SOURCE = "ISO 1217, standard inlet air (1 bar, 20 degC, dry)"
_AVERAGE_NOTE = (
    "The gun's purge draws all the spraying time, trigger or not; what goes with the output draws for the trigger "
    "share, the blow gun likewise while cleaning. The compressor breathes the body's air at its ceiling. Leaks are "
    "neglected, the unsafe side."
)

declare(Rule(
    "AIR-01", "Average compressed air", "scfm", Basis.PRACTICE,
    f"longest running share: common practice, no source; delivery: {_DELIVERED_SOURCE}", WORK_IN_HEAT,
    Words("{place}: the users take {need} on average, the compressor may give {supply}; {margin} to spare.",
          "{place}: the users take {need} on average, the compressor may give {supply}: {short} short.",
          "Average air decides the compressor: {need} of {supply} are taken in {place}."),
    terms=(supply("compressor", "delivery at its longest running share",
                  lambda o, c: c.margin("air_share") * delivered(o, c)),),
    parts=_average_parts, effects={**_USER_EFFECTS, **_DELIVERY_EFFECTS, "air_share": Effect.EASES},
    note=_AVERAGE_NOTE,
))  # fmt: skip

declare(Rule(
    "AIR-12", "The compressor's own running share", "scfm", Basis.RATING,
    f"the maker's longest running share; delivery: {_DELIVERED_SOURCE}", WORK_IN_HEAT,
    Words("{place}: the users take {need} on average, the maker lets the compressor give {supply}; {margin} to spare.",
          "{place}: the users take {need} on average, the maker lets the compressor give {supply}: {short} short.",
          "The maker's running share decides the compressor: {need} of {supply} are taken in {place}."),
    terms=(supply("compressor", "delivery at the maker's running share", lambda o, c: o.duty_share * delivered(o, c)),),
    parts=_average_parts, effects={**_USER_EFFECTS, **_DELIVERY_EFFECTS},
    note=_AVERAGE_NOTE,
))  # fmt: skip


# --- AIR-02, AIR-10: pressure -----------------------------------------------------------------------------------------
def _gun_line_drop(o: Any, c: Case) -> Any:
    return line_pressure_drop(
        c.margin("gun_air_design"),
        o.hose_length,
        o.gun_air_bore,
        LOWEST_GUN_PRESSURE,
        float(c.material.spray_temperature),
        c.air_pressure,
    )


def _pressure_at(what: str, slot: str, *lost: Term, field: str = "", word: str = "") -> tuple[str, Part]:
    """The part of one user; where a field of words decides whether it takes air, only for that word."""
    guard = Guard(slot, lambda o, c: o.is_(field, word), f"it is fed with air: {word}") if field else None
    return slot, Part(what, (need(slot, "air pressure that it needs", lambda o, c: o.air_pressure), *lost), guard=guard)


_PRESSURES: tuple[tuple[str, Part], ...] = (
    _pressure_at("gun", "gun", need("hose", "pressure lost in the gun's air line", _gun_line_drop)),
    _pressure_at("drive of the proportioner", "proportioner", field="drive", word="air"),
    _pressure_at("feed pump A", "feed_pump_a"),
    _pressure_at("feed pump B", "feed_pump_b"),
    _pressure_at("drum mixer", "drum_mixer", field="drive", word="air"),
    _pressure_at("breathing-air panel", "breathing_air", field="kind", word="compressor-panel"),
)


def _pressure_parts(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return tuple(part for slot, part in _PRESSURES if slot in slots)

declare(Rule(
    "AIR-02", "Air pressure at every user", "psi", Basis.PHYSICS,
    "pressures add up; isothermal pipe flow (Crane TP 410) for the gun's line; data sheets of the users", EACH_DUTY,
    Words("{place}: the {part} asks for {need} at the compressor, which starts again at {supply}; {margin} to spare.",
          "{place}: the {part} asks for {need} at the compressor, which starts again at {supply}: {short} short.",
          "The pressure for the {part} decides the compressor's cut-in or the bore of the air line: {need} of "
          "{supply}."),
    terms=(
        need("air_dryer", "pressure lost in the dryer", lambda o, c: o.pressure_drop),
        need(None, "pressure lost in the filters", lambda o, c: c.margin("filter_drop")),
        supply("compressor", "cut-in pressure", lambda o, c: o.cut_in),
    ),
    parts=_pressure_parts,
    effects={"altitude": Effect.TIGHTENS, "filter_drop": Effect.TIGHTENS, "gun_air_design": Effect.TIGHTENS},
    note="Gauge pressures. The dryer's drop is that at its rated flow. The gun's line carries its design air at 80 "
         "psi and the temperature of the hose: the safe side. Couplings and the air piping of the rig are neglected. "
         "A peak that starts at cut-in goes below it: see AIR-03.",
))  # fmt: skip

declare(Rule(
    "AIR-10", "Air of the gun within the design of its line", "scfm", Basis.PRACTICE, "common practice, no source",
    ONCE,
    Words("The gun takes {need}, its line is checked for {supply}; {margin} to spare.",
          "The gun takes {need}, its line is checked for {supply} only: {short} more.",
          "The gun's air is what its line is checked for: {need}."),
    terms=(
        need("gun", "purge air", lambda o, c: o.purge_air),
        supply(None, "design air of the line", lambda o, c: c.margin("gun_air_design")),
    ),
    effects={"gun_air_design": Effect.EASES},
    note="AIR-02 works out the drop of the line for the design air, so that hose and gun stay apart.",
))  # fmt: skip


# --- AIR-03, AIR-09, AIR-13: receivers --------------------------------------------------------------------------------
def _peak_parts(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return (Part("", peak_terms(c)),)


declare(Rule(
    "AIR-03", "Air peaks ride on the receiver", "gal", Basis.PHYSICS,
    f"US DOE / ORNL plant-energy calculation library, V = t (C - S) P / (P1 - P2); {_DELIVERED_SOURCE}", WORK_IN_HEAT,
    Words("{place}: the peak takes {need} of receiver, compressor and receivers make up {supply}; {margin} to spare.",
          "{place}: the peak takes {need} of receiver, compressor and receivers make up {supply}: {short} short.",
          "Peaks of air decide compressor or receiver: {need} of {supply} in {place}."),
    terms=(
        supply("compressor", "receiver volume that its delivery saves", lambda o, c: volume_of(c, delivered(o, c))),
        supply("compressor", "its own receiver", lambda o, c: o.receiver),
        supply("receiver", "extra receiver", lambda o, c: o.volume),
    ),
    parts=_peak_parts,
    effects={**_USER_EFFECTS, **_DELIVERY_EFFECTS, "peak_time": Effect.BOTH, "blow_time": Effect.BOTH,
             "pressure_band": Effect.BOTH},
    note="All users of the state draw at once, without trigger share, for the time of the peak; the compressor "
         "delivers meanwhile. The receivers start full, at cut-out: a peak that meets them at cut-in takes the "
         "pressure below it, the unsafe side. The air in them keeps its temperature.",
))  # fmt: skip

declare(Rule(
    "AIR-09", "Least receiver", "gal", Basis.PRACTICE, "common practice, no source", ONCE,
    Words("{supply} of receiver are aboard, {need} are the least; {margin} to spare.",
          "{supply} of receiver are aboard, {need} are the least: {short} short.",
          "The least receiver decides the compressor's tank or an extra one: {need} of {supply}."),
    terms=(
        need(None, "least volume", lambda o, c: c.margin("least_receiver")),
        supply("compressor", "its own receiver", lambda o, c: o.receiver),
        supply("receiver", "extra receiver", lambda o, c: o.volume),
    ),
    effects={"least_receiver": Effect.TIGHTENS},
    note="Against fast cycling, and for water to fall out.",
))  # fmt: skip

declare(Rule(
    "AIR-13", "Pressure of the extra receiver", "psi", Basis.RATING,
    "rated pressure on the receiver's plate (ASME BPVC section VIII stamp)", ONCE,
    Words("The compressor goes up to {need}, the extra receiver bears {supply}; {margin} to spare.",
          "The compressor goes up to {need}, the extra receiver bears {supply}: {short} too much.",
          "The compressor's cut-out pressure decides the extra receiver: {need} of {supply}."),
    terms=(
        need("compressor", "cut-out pressure", lambda o, c: o.cut_out),
        supply("receiver", "rated pressure", lambda o, c: o.pressure),
    ),
    guard=Guard("receiver", lambda o, c: o.present, "an extra receiver is aboard"),
    note="The safety valve must open at or below the lowest rated pressure of the vessels it guards.",
))  # fmt: skip


# --- AIR-07: kind of compressor ---------------------------------------------------------------------------------------
def _is(what: str, figure: float, of: TermFunction) -> Part:
    return Part(what, (need(None, "wanted", lambda o, c: figure), supply("compressor", what, of)))


def _oil_pump_or_no_oil(o: Any, c: Case) -> Any:
    return 1.0 + -1.0 * o.oil_lubricated * (1.0 + -1.0 * o.pressure_lubricated)


declare(Rule(
    "AIR-07", "Kind of compressor", "1", Basis.PRACTICE, "common practice, no source", ONCE,
    Words("The compressor has what it should: {part}.",
          "The compressor lacks what it should have: {part}.",
          "A compressor must have {part}, which the cheaper ones lack."),
    parts=(
        _is("two stages", 2.0, lambda o, c: o.stages),
        _is("an oil pump (or no oil)", 1.0, _oil_pump_or_no_oil),
        _is("head unloaders", 1.0, lambda o, c: o.unloaders),
    ),
    note="Two stages run cooler and last longer at 150 psi and above; an oil pump stands a sloping floor; unloaders "
         "spare the motor its starts, and the generator theirs.",
))  # fmt: skip
