"""The machine that pumps and heats both sides at 1:1."""

from collections.abc import Iterator
from typing import Literal

from solver.catalog.base import ElectricLoad, Finding, Item, Motor, wired_if
from solver.catalog.fields import AirPerOutput, Length, MassFlow, PowerOrNone, Pressure, PressureOrNone
from solver.quantities import show


class Proportioner(Motor, ElectricLoad, Item):
    """The machine that pumps and heats both sides at 1:1."""

    class_name = "proportioner"
    required = True

    drive: Literal["electric", "hydraulic", "air"]
    """What moves its pumps. An air-driven one has a motor of `0 hp` and electric heaters all the same."""
    output: MassFlow
    """Rated output, both sides together."""
    pressure: Pressure
    """Rated outlet pressure."""
    heater_power: PowerOrNone
    """Rating of the heaters of both sides together, at the rated voltage."""
    longest_hose: Length
    """Longest heated hose that it may feed; the whip is not counted."""
    hose_heat: PowerOrNone
    """Rating of the supply for the hose heat, at the rated voltage."""
    air_per_output: AirPerOutput = 0.0
    """Air that an air-driven one takes for its output; nothing for the others."""
    air_pressure: PressureOrNone = 0.0
    """Air pressure that an air-driven one needs; nothing for the others."""
    body_heat: PowerOrNone
    """Heat that it gives off to the body while spraying, besides that of the liquid."""

    def findings(self) -> Iterator[Finding]:
        """Air on one that is not driven by air, or none on one that is; a motor likewise; heat without wiring."""
        air = self.drive == "air"
        for name in ("air_per_output", "air_pressure"):
            value = getattr(self, name)
            if (value > 0.0) != air:
                wanted = f"{name} above nothing" if air else f"{name} of nothing"
                yield Finding(name, f"{name} {self.figure(name, value)}, with drive {self.drive}", wanted)
        if (self.motor_power > 0.0) == air:
            wanted = "motor_power of nothing" if air else "motor_power above nothing"
            found = f"motor_power {self.figure('motor_power', self.motor_power)}, with drive {self.drive}"
            yield Finding("motor_power", found, wanted)
        power = self.heater_power + self.hose_heat + self.motor_power
        yield from wired_if(power, self.connections, "heaters and motor of", show(power, "kW"))
