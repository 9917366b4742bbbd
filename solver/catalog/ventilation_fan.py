"""The fan that draws outside air through the body."""

from collections.abc import Iterator

from solver.catalog.base import ElectricLoad, Finding, Item, wired_if
from solver.catalog.fields import AirFlow, Power, ShareAboveNone


class VentilationFan(ElectricLoad, Item):
    """The fan that draws outside air through the body."""

    class_name = "ventilation_fan"

    flow: AirFlow
    """Air moved."""
    power: Power
    """Electric power taken."""
    power_factor: ShareAboveNone
    """Power factor."""

    def findings(self) -> Iterator[Finding]:
        """Power without wiring."""
        yield from wired_if(self.power, self.connections, "power", self.figure("power", self.power))
