"""Valve block and return hoses that lead warm material back to the drums."""

from solver.catalog.base import Item
from solver.catalog.fields import VolumeFlow


class CirculationSet(Item):
    """Valve block and return hoses that lead warm material back to the drums."""

    class_name = "circulation_set"

    flow: VolumeFlow
    """Flow that the return hoses carry."""
