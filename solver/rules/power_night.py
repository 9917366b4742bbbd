"""Shore power at night.

Contents: PWR-12 loads of the night.
"""

from __future__ import annotations

from typing import Any

from solver.rules.case import Case
from solver.rules.record import COLDEST, OVERNIGHT, Basis, Effect, Rule, Words, declare, each_state, need, supply


def _kept_warm(c: Case) -> float:
    return float(c.duty.keep_warm is not None)


def _on_shore(c: Case) -> float:
    return float(c.of_duty("shore_power") > 0.0)


def _body_heater(o: Any, c: Case) -> Any:
    return c.share("night_heat") * _kept_warm(c) * o.power_at_voltage


def _drum_heaters(o: Any, c: Case) -> Any:
    return c.share("drum_heater") * _on_shore(c) * o.power_at_voltage


declare(Rule(
    "PWR-12", "Shore power carries the night", "kW", Basis.BRIEF, "the brief", each_state(OVERNIGHT, ends=(COLDEST,)),
    Words("{place}: the night's heaters draw {need}, shore power gives {supply}; {margin} to spare.",
          "{place}: the night's heaters draw {need}, shore power gives {supply}: {short} short.",
          "Shore power decides the heaters of the night: {need} of {supply}."),
    terms=(
        need("body_heater", "body heater, where the body is kept warm", _body_heater),
        need("drum_heater", "drum heaters, where there is shore power", _drum_heaters),
        supply(None, "shore power", lambda o, c: c.of_duty("shore_power")),
    ),
    effects={"shore_power": Effect.BOTH},
    when=lambda c: _kept_warm(c) + _on_shore(c) > 0.0,
    note="All heaters on at once, the safe side. Without shore power the drum heaters stay off at night; with it they "
         "run, and HEAT-02 counts on them. The generator does not run at night.",
))  # fmt: skip
