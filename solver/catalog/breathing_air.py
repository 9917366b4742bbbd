"""What feeds the respirators: a pump for ambient air, or a filter panel on the compressor."""

from collections.abc import Iterator
from typing import Literal

from solver.catalog.base import ElectricLoad, Finding, Item, Motor, wired_if
from solver.catalog.fields import Flag, Length, NumberFromOne, PressureOrNone, StandardFlowOrNone


class BreathingAir(Motor, ElectricLoad, Item):
    """What feeds the respirators: a pump for ambient air, or a filter panel on the compressor."""

    class_name = "breathing_air"

    kind: Literal["ambient-pump", "compressor-panel"]
    """Whether it has its own pump or takes air from the compressor."""
    respirators: NumberFromOne
    """How many respirators it feeds."""
    air_per_respirator: StandardFlowOrNone
    """Air that a panel takes from the compressor for each respirator; nothing for a pump."""
    air_pressure: PressureOrNone
    """Air pressure that a panel needs; nothing for a pump."""
    monoxide_alarm: Flag
    """Whether it gives alarm on carbon monoxide."""
    hose_length: Length
    """Length of the breathing hose."""

    def findings(self) -> Iterator[Finding]:
        """A pump has a motor and takes no compressed air; a panel the other way round."""
        panel = self.kind == "compressor-panel"
        for name, wanted in (("air_per_respirator", panel), ("air_pressure", panel), ("motor_power", not panel)):
            value = getattr(self, name)
            if (value > 0.0) != wanted:
                found = f"{name} {self.figure(name, value)}, with kind {self.kind}"
                yield Finding(name, found, f"{name} {'above' if wanted else 'of'} nothing")
        yield from wired_if(
            self.motor_power, self.connections, "motor_power", self.figure("motor_power", self.motor_power)
        )
