"""The pump that lifts one side from its drum to the proportioner."""

from collections.abc import Iterator
from typing import Literal

from solver.catalog.base import Finding, Item
from solver.catalog.fields import AirPerFlow, Flag, Pressure, PressureOrNone, Viscosity, VolumeFlow


class FeedPump(Item):
    """The pump that lifts one side from its drum to the proportioner."""

    class_name = "feed_pump"
    required = True

    kind: Literal["stick", "diaphragm"]
    """A stick pump stands in the drum; a diaphragm pump hangs beside it."""
    flow: VolumeFlow
    """Flow of a thin liquid."""
    half_flow_viscosity: Viscosity
    """Viscosity at which half of that flow is left."""
    air_per_flow: AirPerFlow
    """Air taken for the flow pumped."""
    air_pressure: PressureOrNone
    """Air pressure that it needs."""
    outlet_pressure: Pressure
    """Pressure of the liquid at its outlet."""
    temperature_gauge: Flag
    """Whether it shows the temperature of what it feeds."""

    def findings(self) -> Iterator[Finding]:
        """A pump that takes air without pressure."""
        if self.air_per_flow > 0.0 and self.air_pressure == 0.0:
            yield Finding("air_pressure", "an air_pressure of nothing, with air_per_flow", "the pressure of that air")
