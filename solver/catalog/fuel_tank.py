"""A further fuel tank."""

from solver.catalog.base import Item
from solver.catalog.fields import Volume


class FuelTank(Item):
    """A further fuel tank."""

    class_name = "fuel_tank"

    volume: Volume
    """Volume."""
