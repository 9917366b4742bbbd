"""How an item can be configured: from the catalog's tables to the options of every slot.

Contents: `build_options`; slots (`slots.py`), wiring (`wiring.py`), columns (`table.py`), derived fields (`derived.py`).
"""

from solver.options import derived
from solver.options.build import build_options

__all__ = ["build_options", "derived"]
