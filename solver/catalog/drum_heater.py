"""The heater of a drum. Price, weight and power are those of ONE drum's heater."""

from collections.abc import Iterator
from typing import Literal

from solver.catalog.base import ElectricLoad, Finding, Item, wired_if
from solver.catalog.fields import Drums, Power, Temperature


class DrumHeater(ElectricLoad, Item):
    """The heater of a drum. Price, weight and power are those of ONE drum's heater."""

    class_name = "drum_heater"

    kind: Literal["band", "blanket"]
    """A band heats a ring of the drum, a blanket all of it."""
    power: Power
    """Power on one drum, at the rated voltage."""
    skin_temperature: Temperature
    """Highest temperature that the drum's skin reaches under it."""
    most_drums: Drums
    """How many drums its control can serve."""

    def findings(self) -> Iterator[Finding]:
        """Power without wiring."""
        yield from wired_if(self.power, self.connections, "power", self.figure("power", self.power))
