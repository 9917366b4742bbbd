"""Heat: all its rules, in the order of the register.

    heat_liquid.py    flow and drums
    heat_body.py      the body by day and by night
"""

from solver.rules import heat_body, heat_liquid

__all__ = ["heat_body", "heat_liquid"]
