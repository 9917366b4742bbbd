"""The air of a rig, read from the worksheets of the rules on flow, pressure and receivers.

Contents: `AirUser`, `Air`, `air_of`.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from solver.quantities import to_unit
from solver.report.drawings.sheets import Sheets
from solver.rules.record import CLEANING, COLDEST, HOTTEST, SPRAYING
from solver.rules.record import Side as OfBalance
from solver.rules.worksheet import Worksheet


@dataclass(frozen=True)
class AirUser:
    """One user of air: its slot and item, average flows [scfm] while spraying and cleaning, pressure it needs [psi]."""

    slot: str
    what: str
    label: str
    spraying: float
    cleaning: float
    pressure: float | None


@dataclass(frozen=True)
class Air:
    """Air of one duty. Flows in scfm, pressures in psi, volumes in gal, dew point in degF; None where no rule says it."""

    duty: str
    compressor: str
    dryer: str
    receiver: str
    delivered: float | None
    cut_in: float | None
    cut_out: float | None
    own_receiver: float | None
    extra_receiver: float | None
    dryer_drop: float | None
    filter_drop: float | None
    dew_point: float | None
    line_drop: float | None
    users: tuple[AirUser, ...]


_PRESSURE_PARTS = {
    "gun": "gun", "proportioner": "drive of the proportioner", "feed_pump_a": "feed pump A",
    "feed_pump_b": "feed pump B", "drum_mixer": "drum mixer", "breathing_air": "breathing-air panel",
}  # fmt: skip


def air_of(sheets: Sheets, duty: str, labels: dict[str, str]) -> Air:
    gun = ("AIR-02", duty, "", "", "gun")
    return Air(
        duty=duty,
        compressor=labels.get("compressor", ""),
        dryer=labels.get("air_dryer", ""),
        receiver=labels.get("receiver", ""),
        delivered=_delivered(sheets.get("AIR-12", duty, SPRAYING, HOTTEST)),
        cut_in=sheets.entry("cut-in pressure", *gun),
        cut_out=sheets.entry("cut-out pressure", "AIR-13"),
        own_receiver=sheets.entry("its own receiver", "AIR-03", duty, SPRAYING, HOTTEST),
        extra_receiver=sheets.entry("extra receiver", "AIR-03", duty, SPRAYING, HOTTEST),
        dryer_drop=sheets.entry("pressure lost in the dryer", *gun),
        filter_drop=sheets.entry("pressure lost in the filters", *gun),
        dew_point=sheets.entry("dew point under pressure", "AIR-06", duty, SPRAYING, COLDEST)
        if "air_dryer" in labels
        else None,
        line_drop=sheets.entry("pressure lost in the gun's air line", *gun),
        users=tuple(_air_users(sheets, duty, labels)),
    )


def _delivered(sheet: Worksheet | None) -> float | None:
    """What the compressor delivers [scfm], from the recorded call."""
    for entry in sheet.entries if sheet else ():
        for call in entry.calls:
            if call.name == "delivered_flow":
                return float(to_unit(float(call.result), "scfm"))
    return None


def _air_users(sheets: Sheets, duty: str, labels: dict[str, str]) -> Iterator[AirUser]:
    states = [sheets.get("AIR-12", duty, state, HOTTEST) for state in (SPRAYING, CLEANING)]
    entries = [[e for e in sheet.entries if e.side is OfBalance.NEED] if sheet else [] for sheet in states]
    names = dict.fromkeys((e.slot, e.what) for found in entries for e in found)
    for slot, what in names:
        spraying, cleaning = (sum(e.value for e in found if (e.slot, e.what) == (slot, what)) for found in entries)
        if spraying or cleaning:
            part = _PRESSURE_PARTS.get(slot, "")
            pressure = sheets.entry("air pressure that it needs", "AIR-02", duty, "", "", part)
            yield AirUser(slot, what, labels.get(slot, ""), spraying, cleaning, pressure or None)
