"""What fits: one file a subject, each rule one record. Importing this package fills the register `RULES`.

Contents: materials, hose, heat (the foam and its warmth); air, breathing (compressed air); power (electricity and
engine); weight, fit (vehicle); cover, asks, money, owned (what the owner wants aboard, wants kept and can pay).
"""

from solver.rules import (  # noqa: I001  the order of the register is the order of the reports
    materials,
    hose,
    heat,
    air,
    breathing,
    power,
    weight,
    fit,
    cover,
    asks,
    money,
    owned,
)
from solver.rules.record import RULES

__all__ = ["RULES", "air", "asks", "breathing", "cover", "fit", "heat", "hose", "materials", "money", "owned", "power",
           "weight"]  # fmt: skip
