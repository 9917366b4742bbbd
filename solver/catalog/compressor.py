"""The reciprocating air compressor."""

from collections.abc import Iterator
from typing import Annotated, Literal

from solver.catalog.base import ElectricLoad, Finding, Item, Motor, Order, wired_if
from solver.catalog.fields import (
    Count,
    Flag,
    Pressure,
    ShareAboveNone,
    StandardFlow,
    TemperatureDifference,
    VolumeOrNone,
)


class Compressor(Motor, ElectricLoad, Item):
    """The reciprocating air compressor."""

    class_name = "compressor"
    required = True

    free_air: StandardFlow
    """Flow at standard inlet air, at its rating pressure."""
    rating_pressure: Pressure
    """Pressure at which that flow is stated."""
    cut_in: Pressure
    """Pressure at which it starts to pump again."""
    cut_out: Pressure
    """Pressure at which it stops pumping."""
    stages: Annotated[int, Count(1, 2)]
    """Stages of compression: 1 or 2."""
    unloaders: Flag
    """Whether head unloaders let it idle instead of stopping."""
    pressure_lubricated: Flag
    """Whether an oil pump lubricates it."""
    oil_lubricated: Flag
    """Whether there is oil in it that can reach the air."""
    alarm: Literal["none", "carbon-monoxide", "high-temperature", "both"]
    """Alarms that it carries for breathing air."""
    receiver: VolumeOrNone
    """Its own receiver."""
    approach: TemperatureDifference
    """How much hotter than the air in the body its compressed air leaves it."""
    duty_share: ShareAboveNone
    """Longest share of the time that its maker lets it run."""
    heat_share: ShareAboveNone
    """Share of the shaft power that stays in the body as heat."""

    orders = (Order("cut_in", "cut_out", strict=True),)

    def findings(self) -> Iterator[Finding]:
        """No motor, no wiring, oil that an oil pump pumps but is not there."""
        if self.motor_power == 0.0:
            yield Finding("motor_power", "a motor_power of nothing", "the power of its motor, such as 7.5 hp")
        yield from wired_if(
            self.motor_power, self.connections, "motor_power", self.figure("motor_power", self.motor_power)
        )
        if self.pressure_lubricated and not self.oil_lubricated:
            yield Finding("oil_lubricated", "oil_lubricated false, with pressure_lubricated true", "true")
