"""The cooling unit of the body."""

from collections.abc import Iterator

from solver.catalog.base import ElectricLoad, Finding, Item, Motor, wired_if
from solver.catalog.fields import Power, ShareAboveNone


class BodyCooler(Motor, ElectricLoad, Item):
    """The cooling unit of the body."""

    class_name = "body_cooler"

    heat: Power
    """Heat moved out of the body."""
    power: Power
    """Electric power taken."""
    power_factor: ShareAboveNone
    """Power factor."""

    def findings(self) -> Iterator[Finding]:
        """Power without wiring."""
        yield from wired_if(self.power, self.connections, "power", self.figure("power", self.power))
