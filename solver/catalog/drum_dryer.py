"""The desiccant breather that keeps moisture out of the isocyanate drum."""

from solver.catalog.base import Item
from solver.catalog.fields import NumberFromOne


class DrumDryer(Item):
    """The desiccant breather that keeps moisture out of the isocyanate drum."""

    class_name = "drum_dryer"

    drums: NumberFromOne
    """How many drums it serves."""
