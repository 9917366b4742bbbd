"""From the catalog's tables to the options of every slot: each item in every way it can be configured.

Contents: `build_options`, `Way`, and one function per class that can be configured (wiring, hose sections, drum heaters,
generator outputs). Depends on the catalog alone, never on the brief.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field

import numpy as np

from solver.catalog.columns import Table
from solver.catalog.read import Catalog
from solver.formulas.electricity import code_letter_kva
from solver.options.slots import ACCESSORY_CLASSES, Slot, slots_of
from solver.options.table import NONE, Column, SlotOptions
from solver.options.wiring import SYSTEM_TITLES, Wiring, wirings_of

LONGEST_RUN_OF_LONG_SECTIONS = 6
"""Hoses are offered up to six long sections and one short one: 325 ft, past every heated hose limit in the trade."""

FIXED_LEG: dict[str, int] = {
    "proportioner": 0, "lighting": 2, "ventilation_fan": 1, "drum_mixer": 1, "air_dryer": 1, "body_cooler": 2,
}  # fmt: skip
"""Loads that keep one leg: the largest breaks the symmetry of the legs; the small ones (up to about 2 kW) are wired where
the panel has room. The legs of the others (compressor, breathing pump, heaters) are chosen with the rig."""

NONE_FIELDS: dict[str, float] = {
    "voltage": 240.0,
    "rated_voltage": 240.0,
    "phases": 1.0,
    "power_factor": 1.0,
    "start_share": 1.0,
    "transient_reactance": 1.0,
    "half_flow_viscosity": 1.0,
    "dew_point": 373.15,
    "largest_ambient": 1000.0,
}
"""Figures of "nothing in this slot": no air dryer leaves air that is saturated at any line temperature met."""


@dataclass(frozen=True)
class Way:
    """One configured option: the row of the item in its table, words, count, and figures that come with the choice."""

    row: int
    choice: str = ""
    count: int = 1
    figures: Mapping[str, float] = field(default_factory=dict)


Ways = Callable[[Slot, Table], Iterator[Way]]


def _wired(wiring: Wiring) -> dict[str, float]:
    return {
        "voltage": wiring.voltage,
        "phases": float(wiring.phases),
        "system_split": float(wiring.system == "split"),
        "system_wye": float(wiring.system == "wye"),
        "leg_a": wiring.legs[0],
        "leg_b": wiring.legs[1],
        "leg_c": wiring.legs[2],
    }


def _plain(slot: Slot, table: Table) -> Iterator[Way]:
    for row, item in enumerate(table.ids):
        if slot.item is None or item == slot.item:
            yield Way(row)


def _load(slot: Slot, table: Table) -> Iterator[Way]:
    letters = table.words["code_letter"].texts() if "code_letter" in table.words else None
    for row in range(len(table)):
        figures = {"start_kva_per_power": float(code_letter_kva(letters[row]))} if letters else {}
        for wiring in wirings_of(table.lists["connections"][row], FIXED_LEG.get(slot.name)):
            yield Way(row, wiring.text, figures={**_wired(wiring), **figures})


def _drum_heater(slot: Slot, table: Table) -> Iterator[Way]:
    for way in _load(slot, table):
        row = way.row
        for count in range(2, int(table.numbers["most_drums"][row]) + 1, 2):
            many = {name: float(table.numbers[name][row]) * count for name in ("price", "weight", "power")}
            words = f"{count} drums, {way.choice}" if way.choice else f"{count} drums"
            yield Way(row, words, count, {**way.figures, **many, "heated_drums": float(count)})


def _hose(slot: Slot, table: Table) -> Iterator[Way]:
    n = table.numbers
    for row in range(len(table)):
        for long in range(LONGEST_RUN_OF_LONG_SECTIONS + 1):
            for short in (0, 1):
                if long + short == 0:
                    continue
                heated = long * n["section_length"][row] + short * n["short_length"][row]
                figures = {
                    "long_count": float(long),
                    "short_count": float(short),
                    "heated_length": float(heated),
                    "hose_length": float(heated + n["whip_length"][row]),
                    **{
                        name: float(long * n[name][row] + short * n[f"short_{name}"][row] + n[f"whip_{name}"][row])
                        for name in ("price", "weight")
                    },
                }
                yield Way(row, _sections(table, row, long, short), long + short, figures)


def _sections(table: Table, row: int, long: int, short: int) -> str:
    feet = [round(float(table.numbers[name][row]) / 0.3048) for name in ("section_length", "short_length")]
    parts = [f"{count} x {length} ft" for count, length in zip((long, short), feet, strict=True) if count]
    return " + ".join(parts) + " + whip"


def _generator(slot: Slot, table: Table) -> Iterator[Way]:
    for row in range(len(table)):
        for output in table.lists["outputs"][row]:
            figures = {
                "power": float(output.power),
                "apparent_power": float(output.apparent_power),
                "system_split": float(output.system == "split"),
                "system_wye": float(output.system == "wye"),
            }
            yield Way(row, SYSTEM_TITLES[output.system], figures=figures)


def _tow_vehicle(slot: Slot, table: Table) -> Iterator[Way]:
    for row in range(len(table)):
        hitches = table.lists["hitches"][row]
        yield Way(row, figures={f"takes_{hitch}": float(hitch in hitches) for hitch in ("conventional", "gooseneck")})


_SPECIAL: dict[str, Ways] = {
    "hose": _hose,
    "generator": _generator,
    "drum_heater": _drum_heater,
    "tow_vehicle": _tow_vehicle,
}
_CHOICE_FIELDS: dict[str, tuple[str, ...]] = {
    "hose": ("long_count", "short_count", "heated_length", "hose_length"),
    "drum_heater": ("heated_drums",),
    "generator": ("power", "apparent_power", "system_split", "system_wye"),
    "tow_vehicle": ("takes_conventional", "takes_gooseneck"),
}
_LOAD_FIELDS = ("voltage", "phases", "system_split", "system_wye", "leg_a", "leg_b", "leg_c", "start_kva_per_power")


def _ways(slot: Slot, table: Table) -> tuple[Way, ...]:
    special = _SPECIAL.get(slot.item_class)
    if special is not None:
        return tuple(special(slot, table))
    return tuple(_load(slot, table) if "connections" in table.lists else _plain(slot, table))


def build_slot(slot: Slot, table: Table) -> SlotOptions:
    """The options of one slot, "none" last where the slot may stay empty."""
    ways = _ways(slot, table)
    rows = np.array([way.row for way in ways], dtype=np.intp)
    names = dict.fromkeys((*table.numbers, *table.switches, *_CHOICE_FIELDS.get(slot.item_class, ())))
    if "connections" in table.lists:
        names.update(dict.fromkeys(_LOAD_FIELDS))
    extra = 1 if slot.optional else 0
    numbers: dict[str, Column] = {}
    for name in names:
        column = np.zeros(len(ways) + extra)
        if name in table.numbers or name in table.switches:
            column[: len(ways)] = table.column(name)[rows]
        for k, way in enumerate(ways):
            if name in way.figures:
                column[k] = way.figures[name]
        if extra:
            column[-1] = NONE_FIELDS.get(name, 0.0)
        numbers[name] = column
    numbers["present"] = np.array([1.0] * len(ways) + [0.0] * extra)
    numbers["count"] = np.array([float(way.count) for way in ways] + [0.0] * extra)
    tail: tuple[str, ...] = (NONE,) * extra
    return SlotOptions(
        slot,
        tuple(table.ids[way.row] for way in ways) + tail,
        tuple(table.labels[way.row] for way in ways) + tail,
        tuple(way.choice for way in ways) + ("",) * extra,
        tuple(way.count for way in ways) + (0,) * extra,
        numbers,
        {name: _picked(words.texts(), ways) + ("",) * extra for name, words in table.words.items()},
        {tag: np.append(flags[rows], np.zeros(extra)).astype(float) for tag, flags in table.tags.items()},
    )


def _picked(texts: tuple[str, ...], ways: tuple[Way, ...]) -> tuple[str, ...]:
    return tuple(texts[way.row] for way in ways)


def build_options(catalog: Catalog) -> dict[str, SlotOptions]:
    """The options of every slot, slots in their fixed order."""
    accessories = [(name, item) for name in ACCESSORY_CLASSES for item in catalog.tables[name].ids]
    return {slot.name: build_slot(slot, catalog.tables[slot.item_class]) for slot in slots_of(accessories)}
