"""The heater of the body."""

from collections.abc import Iterator
from typing import Literal

from solver.catalog.base import ElectricLoad, Finding, Item, wired_if
from solver.catalog.fields import FuelRate, Power, PowerOrNone


class BodyHeater(ElectricLoad, Item):
    """The heater of the body."""

    class_name = "body_heater"

    kind: Literal["electric", "fuel"]
    """What makes the heat."""
    heat: Power
    """Heat given."""
    power: PowerOrNone
    """Electric power taken; of a fuel-fired one that of its fan and pump."""
    burn: FuelRate
    """Fuel burnt; nothing for an electric one."""

    def findings(self) -> Iterator[Finding]:
        """Fuel and power must agree with the kind; power without wiring."""
        fuel = self.kind == "fuel"
        if (self.burn > 0.0) != fuel:
            found = f"burn {self.figure('burn', self.burn)}, with kind {self.kind}"
            yield Finding("burn", found, f"burn {'above' if fuel else 'of'} nothing")
        if not fuel and self.power == 0.0:
            yield Finding("power", "a power of nothing, with kind electric", "the power that makes the heat")
        yield from wired_if(self.power, self.connections, "power", self.figure("power", self.power))
