"""A further air receiver beside the compressor's own."""

from solver.catalog.base import Item
from solver.catalog.fields import Pressure, Volume


class Receiver(Item):
    """A further air receiver beside the compressor's own."""

    class_name = "receiver"

    volume: Volume
    """Volume."""
    pressure: Pressure
    """Rated pressure."""
