"""What the drawings show of a rig, duty by duty; no figure is worked out anew but the root of kW and kvar.

Contents: `DutyDrawn`, `Drawn`, `drawn`. `flow_air.py`, `flow_power.py` and `flow_material.py` read the figures.

Figures are in the units of the rules they come from (scfm, psi, gal, kVA, kW, gpm, lb/min, ft, degF), the same in which
JSON gives them; the drawings put them into words in the units wanted.
"""

from __future__ import annotations

from dataclasses import dataclass

from solver.answers.facts import Line
from solver.answers.sheet import SheetFacts
from solver.brief.models import Brief
from solver.report.drawings.flow_air import Air, air_of
from solver.report.drawings.flow_material import Material, material_of
from solver.report.drawings.flow_power import Power, power_of
from solver.report.drawings.sheets import Sheets


@dataclass(frozen=True)
class DutyDrawn:
    """Everything drawn of one duty."""

    duty: str
    air: Air
    power: Power
    material: Material


@dataclass(frozen=True)
class Drawn:
    """Everything drawn of a rig."""

    duties: tuple[DutyDrawn, ...]


def drawn(brief: Brief, rig: tuple[Line, ...], facts: SheetFacts, labels: dict[str, str]) -> Drawn:
    """What the drawings of a picked rig show; `labels` has the labels of the materials by their id."""
    sheets = Sheets(facts.worksheets)
    lines = {line.slot: line for line in rig}
    names = {line.slot: line.label for line in rig}
    found = []
    for duty, temperatures in zip(brief.duties, facts.temperatures, strict=True):
        material = duty.material or brief.materials[0].material
        sets = sum(aboard.sets for aboard in brief.materials if aboard.material == material)
        found.append(
            DutyDrawn(
                duty.name,
                air_of(sheets, duty.name, names),
                power_of(sheets, duty.name, lines),
                material_of(sheets, duty.name, lines, temperatures, labels.get(material, material), sets),
            )
        )
    return Drawn(tuple(found))
