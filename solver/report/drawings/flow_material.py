"""The material of a rig, read from the worksheets of the rules on flow, pressure and heat.

Contents: `Side`, `Rating`, `Material`, `material_of`.
"""

from __future__ import annotations

from dataclasses import dataclass

from solver.answers.facts import Line
from solver.answers.sheet import Temperatures
from solver.quantities import to_unit
from solver.report.drawings.sheets import Sheets
from solver.rules.record import COLDEST, SPRAYING


@dataclass(frozen=True)
class Side:
    """One side, A or B: pump and its flow [gpm], and the pressures [psi] from the gun back to the machine."""

    name: str
    liquid: str
    pump: str
    pump_flow: float | None
    at_gun: float | None
    in_whip: float | None
    in_hose: float | None
    at_machine: float | None


@dataclass(frozen=True)
class Rating:
    """What bears the pressure, and how much [psi]."""

    part: str
    psi: float


@dataclass(frozen=True)
class Material:
    """The material of one duty: output [lb/min], flow of a side [gpm], heat [kW], hose [ft], temperatures [degF]."""

    duty: str
    sets: int
    set_label: str
    drums: float
    """Drums without heaters, in the cold of the day."""
    at_gun: float
    least_in_hose: float
    output: float | None
    side_flow: float | None
    flow_heat: float | None
    heat_supply: float | None
    """What heaters and warm drums give [kW]."""
    drums_help: bool
    """Whether warm drums save heat."""
    hose_loss: float | None
    hose_heat: float | None
    hose_length: float | None
    sections: str
    proportioner: str
    gun: str
    mixer: str
    circulation: str
    ratings: tuple[Rating, ...]
    sides: tuple[Side, Side]


def _side(sheets: Sheets, duty: str, name: str, labels: dict[str, str]) -> Side:
    liquid = {"A": "isocyanate", "B": "resin"}[name]
    place = (f"MAT-04{name}", duty, SPRAYING, COLDEST, "proportioner")
    return Side(
        name,
        liquid,
        labels.get(f"feed_pump_{name.lower()}", ""),
        sheets.supply("MAT-03", duty, SPRAYING, COLDEST, liquid),
        sheets.entry("pressure at the gun", *place),
        sheets.entry("lost in the whip", *place),
        sheets.entry("lost in the heated hose", *place),
        sheets.need(*place),
    )


def material_of(
    sheets: Sheets, duty: str, rig: dict[str, Line], temperatures: Temperatures, set_label: str, sets: int
) -> Material:
    labels = {slot: line.label for slot, line in rig.items()}
    holders = [(part, sheets.supply("MAT-04A", duty, SPRAYING, COLDEST, part)) for part in ("proportioner", "hose", "gun")]
    return Material(
        duty=duty,
        sets=sets,
        set_label=set_label,
        drums=float(to_unit(temperatures.drums, "degF")),
        at_gun=float(to_unit(temperatures.spray, "degF")),
        least_in_hose=float(to_unit(temperatures.hose, "degF")),
        output=sheets.need("MAT-01", duty),
        side_flow=sheets.need("MAT-03", duty, SPRAYING, COLDEST, "resin"),
        flow_heat=sheets.need("HEAT-01", duty, SPRAYING, COLDEST),
        heat_supply=sheets.supply("HEAT-01", duty, SPRAYING, COLDEST),
        drums_help=bool(sheets.entry("saved by drums at their target", "HEAT-01", duty, SPRAYING, COLDEST)),
        hose_loss=sheets.need("HOSE-03", duty, SPRAYING, COLDEST),
        hose_heat=sheets.supply("HOSE-03", duty, SPRAYING, COLDEST),
        hose_length=sheets.supply("HOSE-01", duty),
        sections=rig["hose"].choice if "hose" in rig else "",
        proportioner=labels.get("proportioner", ""),
        gun=labels.get("gun", ""),
        mixer=labels.get("drum_mixer", ""),
        circulation=labels.get("circulation_set", ""),
        ratings=tuple(Rating(part, value) for part, value in holders if value is not None),
        sides=(_side(sheets, duty, "A", labels), _side(sheets, duty, "B", labels)),
    )
