"""Air to breathe. Importing this file enters all RESP rules.

Contents: RESP-01 respirators, RESP-02 flow of a panel, RESP-03 alarm of an oil-lubricated compressor, RESP-04
ambient-air pump, RESP-05 length of the breathing hose, RESP-06 Grade D dew point, RESP-07 monoxide alarm.

The rules are those of general industry; in construction 29 CFR 1926.103 leads to the same text.
"""

from __future__ import annotations

from typing import Any

from solver.formulas.breathing import LONGEST_HOSE, grade_d_dew_point
from solver.formulas.moist_air import dew_point_at_pressure
from solver.formulas.standard_air import SEA_LEVEL_PRESSURE
from solver.rules.air_drying import RATING_PRESSURE
from solver.rules.case import Case
from solver.rules.record import (
    COLDEST,
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


def _is_panel(o: Any, c: Case) -> Any:
    return o.is_("kind", "compressor-panel")


PANEL = Guard("breathing_air", _is_panel, "the respirators are fed by the compressor")
_CREW = dict.fromkeys(("sprayers", "helpers", "trimmers", "respirators"), Effect.TIGHTENS)

declare(Rule(
    "RESP-01", "Respirators for the crew", "1", Basis.BRIEF, "the brief", ONCE,
    Words("{supply} respirators can be fed, {need} are worn.",
          "{need} respirators are worn, {supply} can be fed: {short} short.",
          "The crew decides the breathing air: {need} respirators of {supply}."),
    terms=(
        need(None, "respirators worn at once", lambda o, c: c.respirators),
        supply("breathing_air", "respirators that it feeds", lambda o, c: o.respirators),
    ),
    effects=_CREW,
    note="Everybody in the room wears one, unless the brief states how many.",
))  # fmt: skip

declare(Rule(
    "RESP-02", "Flow to each respirator", "scfm", Basis.REGULATION,
    "42 CFR 84 subpart J, Table 8 (continuous flow, Type C): 115 L/min tight-fitting, 170 L/min loose-fitting", ONCE,
    Words("Each respirator must get {need}, the panel gives {supply}; {margin} to spare.",
          "Each respirator must get {need}, the panel gives {supply}: {short} short.",
          "The flow to each respirator decides the panel: {need} of {supply}."),
    terms=(
        need(None, "least flow by regulation", lambda o, c: c.respirator_flow),
        supply("breathing_air", "flow for each respirator", lambda o, c: o.air_per_respirator),
    ),
    guard=PANEL,
    note="The approval of the respirator rules, with its hose and pressure. An ambient-air pump is sold for its "
         "number of respirators.",
))  # fmt: skip

declare(Rule(
    "RESP-03", "Alarm for an oil-lubricated source", "1", Basis.REGULATION,
    "29 CFR 1910.134(i)(7), as of 2025", ONCE,
    Words("The compressor that feeds the respirators is free of oil or watched by an alarm.",
          "The compressor that feeds the respirators holds oil and has no high-temperature or carbon monoxide alarm.",
          "Breathing air from an oil-lubricated compressor costs an alarm."),
    terms=(
        need(None, "wanted", lambda o, c: 1.0),
        supply("compressor", "free of oil, or with an alarm of its own",
               lambda o, c: 1.0 + -1.0 * o.oil_lubricated * o.is_("alarm", "none")),
        supply("breathing_air", "carbon monoxide alarm in the panel", lambda o, c: o.monoxide_alarm),
    ),
    guard=PANEL,
    note="With a high-temperature alarm alone the air must be watched for carbon monoxide at intervals.",
))  # fmt: skip

declare(Rule(
    "RESP-04", "Ambient-air pump", "1", Basis.PRACTICE, "common practice, no source", ONCE,
    Words("The respirators do not hang on the compressor.",
          "The respirators hang on the compressor; a pump of their own for ambient air is preferred.",
          "A pump for ambient air costs more than a panel on the compressor."),
    terms=(need("breathing_air", "fed by the compressor", _is_panel),),
    note="A pump without oil keeps the breathing air apart from oil, monoxide and pressure of the compressor. Its "
         "intake must stand in clean air.",
))  # fmt: skip

declare(Rule(
    "RESP-05", "Length of the breathing hose", "ft", Basis.REGULATION, "42 CFR 84 subpart J, Table 8: 300 ft", ONCE,
    Words("The breathing hose is {need} long, {supply} are allowed; {margin} to spare.",
          "The breathing hose is {need} long, {supply} are allowed: {short} too long.",
          "The breathing hose is at the longest that is allowed: {need} of {supply}."),
    terms=(
        need("breathing_air", "breathing hose", lambda o, c: o.hose_length),
        supply(None, "longest allowed", lambda o, c: LONGEST_HOSE),
    ),
    note="For the hose of each respirator, with its couplings.",
))  # fmt: skip


def _dew_point_at_one_atmosphere(o: Any, c: Case) -> Any:
    return dew_point_at_pressure(o.dew_point, RATING_PRESSURE + c.air_pressure, SEA_LEVEL_PRESSURE)


declare(Rule(
    "RESP-06", "Grade D dew point", "degF", Basis.REGULATION,
    "29 CFR 1910.134(i)(5)(ii) and ANSI/CGA G-7.1, Grade D, as of 2025", each_state(SPRAYING, ends=(COLDEST,)),
    Words("{place}: the breathing air has its dew point at {need}, {supply} is allowed; {margin} to spare.",
          "{place}: the breathing air has its dew point at {need}, {supply} is allowed: {short} too wet.",
          "The cold decides how dry the breathing air must be: {need} of {supply}."),
    terms=(
        need("air_dryer", "dew point at 1 atm", _dew_point_at_one_atmosphere),
        supply(None, "10 degF below the coldest air", lambda o, c: grade_d_dew_point(c.of_duty("coldest_air"))),
    ),
    guard=PANEL,
    effects={"coldest_air": Effect.EASES, "altitude": Effect.TIGHTENS},
    note="The dryer's dew point counts at 100 psi; at another pressure in the dryer it moves by about 1 degF for each "
         "5 psi. Without a dryer the air counts as steam-wet and fails.",
))  # fmt: skip

declare(Rule(
    "RESP-07", "Carbon monoxide alarm on the breathing air", "1", Basis.PRACTICE, "common practice, no source", ONCE,
    Words("The breathing air is watched for carbon monoxide.",
          "The breathing air is not watched for carbon monoxide.",
          "A carbon monoxide alarm on the breathing air costs money."),
    terms=(
        need("breathing_air", "breathing air is aboard", lambda o, c: o.present),
        supply("breathing_air", "carbon monoxide alarm", lambda o, c: o.monoxide_alarm),
    ),
    note="An engine runs beside every intake of a rig.",
))  # fmt: skip
