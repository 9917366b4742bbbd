"""Random small problems for rigs that are at hand: the toy rules, with items that come in several ways; and trying all rigs.

Contents: `small`, `loose`, `every_rig`, `write_rig`.
"""

from __future__ import annotations

import itertools
import json
from dataclasses import replace
from pathlib import Path

import numpy as np

from solver.answers.ask import Asked
from solver.options.slots import Slot
from solver.options.table import SlotOptions
from solver.program.matrix import Ints, Program
from solver.rules.balance import Rig
from solver.rules.instances import Setting
from tests.program.toy import Toy, toy
from tests.search.test_best_is_exhaustive import random_program


def small(seed: int) -> Toy:
    """A toy problem in which neighbouring options are one item, in one number or in two."""
    found, rng = toy(seed), np.random.default_rng(seed)
    slots = {}
    for name, table in found.setting.slots.items():
        items = tuple(table.items[j - j % 2] for j in range(len(table)))
        slots[name] = replace(table, items=items, counts=tuple(rng.integers(1, 3, len(table)).tolist()))
    return replace(found, setting=Setting(None, slots, {}))  # type: ignore[arg-type]


def loose(seed: int) -> Toy:
    """A random program of arbitrary rows with many ties in cost, most of which some rig keeps; items as in `small`."""
    program, rng = random_program(seed), np.random.default_rng(seed)
    slots = {}
    for k, (start, end) in enumerate(program.slices):
        name, size = f"slot_{k}", end - start
        items = tuple(f"{name}-{j - j % 2:02d}" for j in range(size))
        counts = tuple(rng.integers(1, 3, size).tolist())
        slots[name] = SlotOptions(Slot(name, name), items, items, ("",) * size, counts, {}, {}, {})
    return Toy(Setting(None, slots, {}), (), program)  # type: ignore[arg-type]


def every_rig(program: Program) -> Ints:
    """The columns of every rig that fits, in the order of slots and items."""
    every = np.array(list(itertools.product(*[range(a, b) for a, b in program.slices])), dtype=np.int64)
    sums = program.rows[:, every].sum(axis=2)
    return np.asarray(every[(sums <= program.rhs[:, None]).all(axis=0)])


def write_rig(path: Path, of: Asked, rig: Rig, slots: frozenset[str] | None = None) -> Path:
    """A rig file of these slots (of all of them if not said) as lines of slot, item and choice."""
    lines = [
        {"slot": line.slot, "item": line.item, "choice": line.choice}
        for line in of.lines(rig)
        if slots is None or line.slot in slots
    ]
    path.write_text(json.dumps({"rig": lines}), encoding="utf-8")
    return path
