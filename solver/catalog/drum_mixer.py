"""The mixer in the resin drum."""

from collections.abc import Iterator
from typing import Literal

from solver.catalog.base import ElectricLoad, Finding, Item, wired_if
from solver.catalog.fields import PowerOrNone, PressureOrNone, ShareAboveNone, StandardFlowOrNone


class DrumMixer(ElectricLoad, Item):
    """The mixer in the resin drum."""

    class_name = "drum_mixer"

    drive: Literal["air", "electric"]
    """What turns it."""
    air_flow: StandardFlowOrNone = 0.0
    """Air taken by an air-driven one."""
    air_pressure: PressureOrNone = 0.0
    """Air pressure that an air-driven one needs."""
    power: PowerOrNone = 0.0
    """Electric power of an electric one."""
    power_factor: ShareAboveNone = 1.0
    """Power factor of an electric one."""

    def findings(self) -> Iterator[Finding]:
        """Air and electric power must agree with the drive."""
        for name, wanted in (("air_flow", "air"), ("air_pressure", "air"), ("power", "electric")):
            value = getattr(self, name)
            if (value > 0.0) != (self.drive == wanted):
                found = f"{name} {self.figure(name, value)}, with drive {self.drive}"
                yield Finding(name, found, f"{name} {'above' if self.drive == wanted else 'of'} nothing")
        yield from wired_if(self.power, self.connections, "power", self.figure("power", self.power))
