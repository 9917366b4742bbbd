"""Small random problems that use every row form, and a direct evaluator written without rows.

Slots: three motors (running kW, starting kW, kvar, three wirings to legs), a source (kW, kVA, which tag it provides), a
user that may need the tag, a carrier that may be a trailer, a tow that may be empty. The rules are ordinary records:

| id | form | direct evaluator |
|---|---|---|
| SUM | sum | plain sum |
| PEAK | peak | max over motors of (start - run) on top of the sum |
| PROV | needs/provides | any |
| GUARD | guard | if |
| LEG | legs | one sum per leg |
| KVA | tangents | hypot |
"""

from __future__ import annotations

from dataclasses import dataclass
from math import cos, hypot, radians

import numpy as np

from solver.formulas.electricity import tangent_load
from solver.options.slots import Slot
from solver.options.table import SlotOptions
from solver.program.compile import compile_program
from solver.program.matrix import Program
from solver.rules.case import Case
from solver.rules.instances import Instance, Place, Setting
from solver.rules.record import ONCE, Basis, Guard, Part, Rule, Words, need, supply

MOTORS = ("motor_1", "motor_2", "motor_3")
STEP_DEGREES = 15
ANGLES = tuple(range(0, 91, STEP_DEGREES))
SAFE = cos(radians(STEP_DEGREES / 2))
WORDS = Words("fits", "fails", "binds")


@dataclass(frozen=True)
class Toy:
    """A random problem: its setting, instances and program."""

    setting: Setting
    instances: tuple[Instance, ...]
    program: Program


def _table(name: str, columns: dict[str, list[float]], optional: bool = False) -> SlotOptions:
    size = len(next(iter(columns.values())))
    items = tuple(f"{name}-{j + 1:02d}" for j in range(size))
    return SlotOptions(
        Slot(name, name, optional), items, items, ("",) * size, (1,) * size,
        {key: np.array(values, float) for key, values in columns.items()}, {}, {},
    )  # fmt: skip


def _slots(rng: np.random.Generator) -> dict[str, SlotOptions]:
    def draw(low: float, high: float, size: int) -> list[float]:
        return np.round(rng.uniform(low, high, size), 3).tolist()

    found = {}
    for name in MOTORS:
        k = int(rng.integers(2, 4))
        run = draw(500, 4000, k)
        legs = np.eye(3)[rng.integers(0, 3, k)]
        found[name] = _table(name, {
            "run": run, "start": [r * f for r, f in zip(run, draw(1.5, 4, k), strict=True)],
            "kvar": draw(100, 3000, k), "kva": [r * 1.2 for r in run],
            "leg_a": legs[:, 0].tolist(), "leg_b": legs[:, 1].tolist(), "leg_c": legs[:, 2].tolist(),
            "price": rng.integers(1, 6, k).astype(float).tolist(), "weight": rng.integers(1, 6, k).astype(float).tolist(),
        })  # fmt: skip
    k = int(rng.integers(2, 4))
    found["source"] = _table("source", {
        "kw": draw(4000, 14000, k), "kva": draw(5000, 16000, k), "tag": rng.integers(0, 2, k).astype(float).tolist(),
        "price": rng.integers(1, 9, k).astype(float).tolist(), "weight": rng.integers(1, 9, k).astype(float).tolist(),
    })  # fmt: skip
    found["user"] = _table("user", {
        "asks": [0.0, 1.0], "price": rng.integers(1, 6, 2).astype(float).tolist(), "weight": [2.0, 1.0],
    })  # fmt: skip
    found["carrier"] = _table("carrier", {
        "trailer": [0.0, 1.0, 1.0], "gross": draw(1000, 3000, 3), "price": rng.integers(1, 9, 3).astype(float).tolist(),
        "weight": rng.integers(1, 9, 3).astype(float).tolist(),
    })  # fmt: skip
    found["tow"] = _table("tow", {
        "rating": [*draw(1500, 4000, 2), 0.0], "price": [*rng.integers(1, 6, 2).astype(float).tolist(), 0.0],
        "weight": [*rng.integers(1, 6, 2).astype(float).tolist(), 0.0],
    }, optional=True)  # fmt: skip
    return found


RUN = need(MOTORS, "running", lambda o, c: o.run)
SOURCE_KW = supply("source", "source", lambda o, c: o.kw)


def _tangent(angle: int) -> Part:
    turn = radians(angle)
    return Part(f"{angle} deg", (
        need(MOTORS, "load", lambda o, c: tangent_load(o.run, o.kvar, turn)),
        supply("source", "source", lambda o, c: SAFE * o.kva),
    ))  # fmt: skip


def _leg(leg: str) -> Part:
    return Part(leg, (
        need(MOTORS, "load", lambda o, c: o.kva * getattr(o, f"leg_{leg}")),
        supply("source", "third", lambda o, c: o.kva * (1 / 2)),
    ))  # fmt: skip


def rules(budget: float) -> tuple[Rule, ...]:
    """The toy rules, one per row form."""
    every = (*MOTORS, "source", "user", "carrier", "tow")

    def rule(name: str, unit: str, **more: object) -> Rule:
        return Rule(name, name, unit, Basis.PHYSICS, "none: invented", ONCE, WORDS, **more)  # type: ignore[arg-type]

    return (
        rule("SUM", "USD", terms=(need(every, "price", lambda o, c: o.price), supply(None, "budget", lambda o, c: budget))),
        rule("PEAK", "W", terms=(RUN, SOURCE_KW), parts=tuple(
            Part(m, (need(m, "starting", lambda o, c: o.start), *(need(n, "running", lambda o, c: o.run) for n in MOTORS
                                                                 if n != m)), without=MOTORS) for m in MOTORS)),
        rule("PROV", "1", terms=(need("user", "asks", lambda o, c: o.asks), supply("source", "gives", lambda o, c: o.tag))),
        rule("GUARD", "lb", guard=Guard("carrier", lambda o, c: o.trailer, "a trailer"), terms=(
            need("carrier", "gross", lambda o, c: o.gross), need("source", "weight", lambda o, c: o.weight * 100.0),
            supply("tow", "rating", lambda o, c: o.rating))),
        rule("LEG", "kVA", parts=tuple(_leg(leg) for leg in "abc")),
        rule("KVA", "kVA", parts=tuple(_tangent(angle) for angle in ANGLES)),
    )  # fmt: skip


def toy(seed: int) -> Toy:
    """The random problem of this seed."""
    rng = np.random.default_rng(seed)
    setting = Setting(None, _slots(rng), {})  # type: ignore[arg-type]
    case = Case(None, {}, None)  # type: ignore[arg-type]
    budget = float(rng.integers(8, 40))
    instances = tuple(
        Instance(rule, Place(rule.id, part=part.name), case,
                 tuple(t for t in rule.terms if not part.without or t.slot != MOTORS) + part.terms,
                 part.guard or rule.guard, frozenset())
        for rule in rules(budget) for part in rule.parts
    )  # fmt: skip
    costs = {
        by: np.concatenate([table.numbers[column] for table in setting.slots.values()]).astype(np.int64)
        for by, column in (("price", "price"), ("weight", "weight"))
    }
    return Toy(setting, instances, compile_program(setting, instances, costs))


def direct(found: Toy, rig: dict[str, int]) -> dict[str, float]:
    """Margin of every rule on a rig, by max, any, if and hypot; >= 0 where it holds."""
    o = {name: table.one(rig[name]) for name, table in found.setting.slots.items()}
    motors = [o[m] for m in MOTORS]
    run = sum(m.run for m in motors)
    budget = next(i for i in found.instances if i.rule.id == "SUM").terms[1].of(None, None)  # type: ignore[arg-type]
    peak = run + max(m.start - m.run for m in motors)
    load = hypot(run, sum(m.kvar for m in motors))
    legs = max(sum(m.kva * getattr(m, f"leg_{leg}") for m in motors) for leg in "abc")
    tows = o["tow"].rating - o["carrier"].gross - 100.0 * o["source"].weight
    return {
        "SUM": budget - sum(each.price for each in o.values()),
        "PEAK": o["source"].kw - peak,
        "PROV": 0.0 if not o["user"].asks or any([o["source"].tag]) else -1.0,
        "GUARD": tows if o["carrier"].trailer else 0.0,
        "LEG": o["source"].kva / 2 - legs,
        "KVA": o["source"].kva - load,
    }
