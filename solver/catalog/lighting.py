"""Lights and convenience outlets."""

from collections.abc import Iterator

from solver.catalog.base import ElectricLoad, Finding, Item, wired_if
from solver.catalog.fields import Number, PowerOrNone


class Lighting(ElectricLoad, Item):
    """Lights and convenience outlets."""

    class_name = "lighting"
    required = True

    power: PowerOrNone
    """Electric power of the lights."""
    outlets: Number
    """Convenience outlets."""

    def findings(self) -> Iterator[Finding]:
        """Power or outlets without wiring."""
        yield from wired_if(self.power, self.connections, "power", self.figure("power", self.power))
