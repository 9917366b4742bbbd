"""The material: all its rules, in the order of the register.

    material_flow.py    output, gun, feed pumps, pressure
    material_care.py    what must be there for it, enough of it, not stored too cold
"""

from solver.rules import material_care, material_flow

__all__ = ["material_care", "material_flow"]
