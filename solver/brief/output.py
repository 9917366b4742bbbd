"""The output a duty asks for, said as such or as board feet a day.

Contents: `output_of`.
"""

from __future__ import annotations

from solver.brief.models import Duty, Margins
from solver.catalog.material import Material
from solver.formulas.foam import output_for_board_feet


def output_of(duty: Duty, material: Material, margins: Margins) -> float:
    """Mass flow while the gun is open, both sides together [kg/s]; `margins` has the trigger share."""
    if duty.output is not None:
        return duty.output
    flow = output_for_board_feet(
        duty.board_feet_a_day or 0.0,
        material.foam_density,
        material.field_yield,
        duty.spraying_time,
        margins.trigger_share,
    )
    return float(flow)
