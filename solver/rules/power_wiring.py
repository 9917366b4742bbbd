"""How the loads hang on the supply, and what kind of set it is.

Contents: PWR-04 supply systems, PWR-08 kind of set, PWR-09 outlets.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cache
from typing import Any

from solver.options.table import SlotOptions
from solver.options.wiring import SYSTEM_TITLES
from solver.rules.case import Case
from solver.rules.loads import LOADS
from solver.rules.record import ONCE, Basis, Effect, Part, Rule, Term, Words, declare, need, supply

FOUR_POLE_SPEED = 30.0
"""Speed of a four-pole set at 60 Hz [revolutions/s]: 1,800 rpm."""


# --- PWR-04: systems --------------------------------------------------------------------------------------------------
_LOAD_SLOTS = tuple(dict.fromkeys(load.slot for load in LOADS if load.slot != "hose"))


@cache
def _system_need(slot: str, system: str) -> Term:
    return need(slot, f"wired to {SYSTEM_TITLES[system]}", lambda o, c: getattr(o, f"system_{system}"))


@cache
def _system_supply(system: str) -> Term:
    def given(o: Any, c: Case) -> Any:
        at_every_site = float(all(duty.site_system == system for duty in c.brief.duties))
        return getattr(o, f"system_{system}") + (1.0 - o.present) * at_every_site

    return supply("generator", f"gives {SYSTEM_TITLES[system]}", given)


def _systems(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return tuple(
        Part(
            f"{slot.replace('_', ' ')} on {SYSTEM_TITLES[system]}",
            (_system_need(slot, system), _system_supply(system)),
        )
        for slot in _LOAD_SLOTS
        for system in SYSTEM_TITLES
        if slot in slots and getattr(slots[slot], f"system_{system}").any()
    )


declare(Rule(
    "PWR-04", "Every load finds its supply system", "1", Basis.RATING,
    "connections and outputs on the data sheets of the items", ONCE,
    Words("The supply suits the {part}.",
          "The supply does not give what is needed for the {part}.",
          "The choice of supply system follows from the {part}."),
    parts=_systems, background=True,
    note="Without a generator the sites of all duties must give the system. Converters and transformers are not "
         "judged.",
))  # fmt: skip


# --- PWR-08, PWR-09 ---------------------------------------------------------------------------------------------------
declare(Rule(
    "PWR-08", "Kind of generator set", "1", Basis.PRACTICE, "common practice, no source", ONCE,
    Words("The generator set is one that is {part}.",
          "The generator set is not one that is {part}.",
          "A set must be {part}, which the cheaper ones are not."),
    parts=(
        Part("liquid-cooled", (
            need("generator", "a set is aboard", lambda o, c: o.present),
            supply("generator", "liquid-cooled", lambda o, c: o.is_("cooling", "liquid")),
        )),
        Part("not faster than 1,800 rpm", (
            need("generator", "its speed over 1,800 rpm", lambda o, c: o.speed * (1.0 / FOUR_POLE_SPEED)),
            supply(None, "a four-pole set", lambda o, c: 1.0),
        )),
    ),
    note="Sets for hours of work every day are liquid-cooled and turn at 1,800 rpm or less.",
))  # fmt: skip


def _outlets(o: Any, c: Case) -> float:
    c.note("outlets")
    return float(c.brief.outlets)


declare(Rule(
    "PWR-09", "Outlets", "1", Basis.BRIEF, "the brief", ONCE,
    Words("{supply} outlets are there, {need} are wanted.",
          "{need} outlets are wanted, {supply} are there: {short} short.",
          "The number of outlets decides the panel of lights and outlets."),
    terms=(
        need(None, "outlets wanted", _outlets),
        supply("lighting", "outlets", lambda o, c: o.outlets),
    ),
    effects={"outlets": Effect.TIGHTENS},
))  # fmt: skip

