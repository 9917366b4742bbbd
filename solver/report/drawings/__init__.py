"""Drawings of a picked rig as SVG: how air, electricity and material flow, every figure from the answer's own worksheets.

    canvas.py     a small SVG writer: lines, shapes, text; a drawing with its title and description
    symbols.py    graphic symbols, each with the standard whose geometry it follows
    flows.py      what is drawn of each duty; flow_air.py, flow_power.py, flow_material.py read it from worksheets
    air.py        from the compressor to each user of air
    power.py      from the generator to each load
    material.py   from the drums to the gun

The drawings are written by hand, without a drawing library: a few dozen lines and shapes each, laid out for their own
content, readable at the width of a phone. `draw_all` makes them all.
"""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from solver.report.drawings.flows import Drawn

__all__ = ["draw_all"]


def draw_all(drawn: Drawn, units: str = "us", of: str = "drawings", alone: bool = False) -> dict[str, str]:
    """Every drawing as SVG text by its name, "air-1", "power-1", "material-1" and so on, one of each for each duty.

    `of` is the place of the figures in the JSON of the answer; `alone` gives files that stand by themselves.
    """
    from solver.report.drawings.air import air_drawing
    from solver.report.drawings.material import material_drawing
    from solver.report.drawings.power import power_drawing

    found = {}
    for k, duty in enumerate(drawn.duties):
        found[f"air-{k + 1}"] = air_drawing(duty.air, f"air-{k + 1}", units, f"{of}.{k}.air")
        found[f"power-{k + 1}"] = power_drawing(duty.power, f"power-{k + 1}", units, f"{of}.{k}.power")
        found[f"material-{k + 1}"] = material_drawing(duty.material, f"material-{k + 1}", units, f"{of}.{k}.material")
    return {name: canvas.svg(alone) for name, canvas in found.items()}
