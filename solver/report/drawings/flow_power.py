"""The electricity of a rig, read from the worksheets of the rules on apparent power and legs.

Contents: `Branch`, `Leg`, `Night`, `Column`, `Power`, `power_of`. Only the root of kW and kvar is worked out here.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from math import hypot

from solver.answers.facts import Line
from solver.report.drawings.sheets import Sheets
from solver.rules.day import LATE
from solver.rules.record import CLEANING, COLDEST, ENDS, OVERNIGHT, SPRAYING, WARM_UP
from solver.rules.record import Side as OfBalance
from solver.rules.worksheet import Entry, Worksheet


@dataclass(frozen=True)
class Branch:
    """One branch of the panel: slot, item, what hangs on it, how it is wired, and kVA in each column of the drawing."""

    slot: str
    label: str
    wiring: str
    kinds: tuple[str, ...]
    """"motor", "heat", "light" or "other", in this order, each once."""
    kva: tuple[float, ...]


@dataclass(frozen=True)
class Leg:
    """What a leg carries of what it may [kVA]."""

    name: str
    need: float
    supply: float


@dataclass(frozen=True)
class Night:
    """What the night's heaters draw of the shore power [kW]."""

    need: float
    supply: float


@dataclass(frozen=True)
class Column:
    """A state of the day at the end of the air at which it draws most: totals and what the set gives."""

    state: str
    end: str
    kva: float
    kw: float
    supply_kva: float
    """What the alternator may give, after altitude, heat, margin and the safe side of the tangents."""
    legs: tuple[Leg, ...]
    """The legs in use."""


@dataclass(frozen=True)
class Power:
    """Electricity of one duty; `night` where shore power has something to carry."""

    duty: str
    source: str
    system: str
    columns: tuple[Column, ...]
    branches: tuple[Branch, ...]
    night: Night | None


_KINDS = {
    "pump motor": "motor", "compressor motor": "motor", "breathing-air pump": "motor", "body cooler": "motor",
    "ventilation fan": "motor", "drum mixer": "motor", "lights": "light", "air dryer": "other",
    "tools on the outlets": "outlet",
}  # fmt: skip
"""What is drawn for a load of this name; everything else is heat."""


def _columns(sheets: Sheets, duty: str) -> Iterator[tuple[str, str, Worksheet, Worksheet | None, str]]:
    """(state, end, real, reactive, before) of every phase that is judged, at the end of the air that draws more."""
    for phase, state in ((WARM_UP, WARM_UP), (LATE, WARM_UP), (SPRAYING, SPRAYING), (CLEANING, CLEANING)):
        before = "" if phase == state else f"{phase}, "
        found = []
        for end in ENDS:
            real = sheets.get("PWR-01", duty, state, end, f"{before}0 degrees")
            if real is not None:
                reactive = sheets.get("PWR-01", duty, state, end, f"{before}90 degrees")
                total = _total(real, reactive)
                found.append((total, end, real, reactive))
        if found:
            _, end, real, reactive = max(found, key=lambda entry: entry[0])
            yield phase, end, real, reactive, before


def _total(real: Worksheet, reactive: Worksheet | None) -> float:
    return hypot(_net(real), _net(reactive) if reactive else 0.0)


def _net(sheet: Worksheet) -> float:
    """Loads less what warm drums save, which stands on the other side of the balance."""
    saved = sum(e.value for e in sheet.entries if e.side is OfBalance.SUPPLY and e.slot == "drum_heater")
    return sheet.balance.need - saved


def power_of(sheets: Sheets, duty: str, rig: dict[str, Line]) -> Power:
    found = list(_columns(sheets, duty))
    columns = []
    for phase, end, real, reactive, before in found:
        saved = real.balance.need - _net(real)
        state = real.balance.place.state
        legs = []
        for leg in ("leg A", "leg B", "leg C"):
            sheet = sheets.get("PWR-05", duty, state, end, f"{before}{leg}")
            if sheet is not None and sheet.balance.applies:
                legs.append(Leg(leg, sheet.balance.need, sheet.balance.supply))
        columns.append(Column(phase, end, _total(real, reactive), _net(real), real.balance.supply - saved, tuple(legs)))
    night = sheets.get("PWR-12", duty, OVERNIGHT, COLDEST)
    generator = rig.get("generator")
    return Power(
        duty,
        generator.label if generator else "",
        generator.choice if generator else "",
        tuple(columns),
        tuple(_branches([(real, reactive) for _, _, real, reactive, _ in found], rig)),
        Night(night.balance.need, night.balance.supply) if night is not None else None,
    )


def _branches(pairs: list[tuple[Worksheet, Worksheet | None]], rig: dict[str, Line]) -> Iterator[Branch]:
    needs = [(_needs(real), _needs(reactive)) for real, reactive in pairs]
    slots = dict.fromkeys(e.slot for real, reactive in needs for e in real if e.value)
    for slot in slots:
        kva = tuple(
            hypot(sum(e.value for e in real if e.slot == slot), sum(e.value for e in reactive if e.slot == slot))
            for real, reactive in needs
        )
        kinds = dict.fromkeys(_KINDS.get(e.what, "heat") for real, _ in needs for e in real if e.slot == slot and e.value)
        line = rig.get(slot)
        wiring = "through the proportioner" if slot == "hose" else line.choice if line else ""
        yield Branch(slot, line.label if line else "", wiring, tuple(kinds), kva)


def _needs(sheet: Worksheet | None) -> list[Entry]:
    return [entry for entry in sheet.entries if entry.side is OfBalance.NEED] if sheet else []
