"""Motors that start: what the alternator's voltage and the engine make of it.

Contents: PWR-03 voltage dip, PWR-10 engine while a motor starts and the rest runs.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from solver.formulas.electricity import start_apparent_power_limit
from solver.options.table import SlotOptions
from solver.rules.case import Case
from solver.rules.loads import MOTORS, Load, start_terms
from solver.rules.power_supply import LOAD_EFFECTS, WITH_GENERATOR, engine, judged_phases, phase_name
from solver.rules.record import (
    ENDS,
    ONCE,
    SPRAYING,
    WARM_UP,
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


def _as_balanced(o: Any, c: Case) -> Any:
    """Starting apparent power, turned into the balanced one that would dip the voltage as far.

    Number of legs times the sum of the squared leg shares: 1 for a balanced load, 2 between two lines of a three-phase
    set, 3 from a line to neutral, 2 on one half of a split-phase set.
    """
    legs = 3.0 * o.system_wye + 2.0 * o.system_split
    return legs * (o.leg_a * o.leg_a + o.leg_b * o.leg_b + o.leg_c * o.leg_c) * o.start_kva


def _dip_part(load: Load) -> Part:
    return Part(load.what, (need(load.slot, "start, as a balanced load", _as_balanced),))


def _dip_limit(o: Any, c: Case) -> Any:
    return start_apparent_power_limit(o.apparent_power, o.transient_reactance, c.margin("voltage_dip"))


declare(Rule(
    "PWR-03", "Voltage dip when a motor starts", "kVA", Basis.PRACTICE,
    "divider form attributed to IEEE Std 141 and IEEE Std 399, as quoted in one text; NFPA 70 (NEC), 2023, Table "
    "430.7(B) for starting kVA; the limit of the dip is common practice, no source", ONCE,
    Words("The {part} starts with {need}, the set bears {supply} within its dip; {margin} to spare.",
          "The {part} starts with {need}, the set bears {supply} within its dip: {short} too much.",
          "The start of the {part} decides the alternator, or a soft starter: {need} of {supply}."),
    terms=(supply("generator", "start that keeps the dip within its limit", _dip_limit),),
    parts=tuple(_dip_part(load) for load in MOTORS), guard=WITH_GENERATOR,
    effects={"voltage_dip": Effect.EASES},
    note="Motor and set count as two reactances in a row, the load already running is left out. The alternator's "
         "plate counts, not its rating at the site: a dip is no matter of heat. A single-phase motor on a three-phase "
         "set dips its own phases two to three times as far; it counts as the balanced load that does the same. "
         "Starts on a site's supply are not judged.",
))  # fmt: skip


def _start_limit(o: Any, c: Case) -> Any:
    return c.margin("start_overload") * engine(o, c)


_ENGINE_FOR_A_MOMENT = supply("generator", "engine at the site for a moment", _start_limit)


def _starts(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return tuple(
        Part(phase_name(phase, c, load.what), _with_start(c, phase, load))
        for phase in judged_phases(c)
        for load in MOTORS
        if load.slot in slots and c.share(load.row, phase) > 0.0
    )


def _with_start(c: Case, phase: str, load: Load) -> tuple[Term, ...]:
    return (*start_terms(c, phase, load), _ENGINE_FOR_A_MOMENT)


declare(Rule(
    "PWR-10", "Engine while a motor starts and the rest runs", "kW", Basis.PRACTICE,
    "common practice, no source; NFPA 70 (NEC), 2023, Table 430.7(B) for starting kVA",
    each_state(WARM_UP, SPRAYING, ends=ENDS),
    Words("{place}: with the start of the {part} the loads take {need}, the engine bears {supply}; {margin} to spare.",
          "{place}: with the start of the {part} the loads take {need}, the engine bears {supply}: {short} short.",
          "The start of the {part} decides the engine, or a soft starter: {need} of {supply} in {place}."),
    parts=_starts, guard=WITH_GENERATOR,
    effects={**LOAD_EFFECTS, "start_power_factor": Effect.TIGHTENS, "start_overload": Effect.EASES},
    note="One motor starts at a time, everything else that runs in that state runs on. The sag of the voltage, which "
         "lowers both, and the swing of the engine's flywheel are neglected: the safe side.",
))  # fmt: skip
