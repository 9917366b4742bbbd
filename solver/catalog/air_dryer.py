"""The dryer of the compressed air."""

from collections.abc import Iterator
from typing import Literal

from solver.catalog.base import ElectricLoad, Finding, Item, Order, wired_if
from solver.catalog.fields import PowerOrNone, PressureOrNone, Share, ShareAboveNone, StandardFlow, Temperature

FREEZING = 273.15 - 1e-6
"""Where water freezes [K], less the noise of turning degrees."""


class AirDryer(ElectricLoad, Item):
    """The dryer of the compressed air."""

    class_name = "air_dryer"

    kind: Literal["refrigerated", "desiccant"]
    """How it dries."""
    rated_flow: StandardFlow
    """Flow at 100 degF inlet, 100 psi, 100 degF around it."""
    dew_point: Temperature
    """Dew point that it reaches, under pressure."""
    power: PowerOrNone
    """Electric power."""
    power_factor: ShareAboveNone = 1.0
    """Power factor."""
    least_ambient: Temperature
    """Coldest air around it in which it may run."""
    largest_ambient: Temperature
    """Hottest air around it in which it may run."""
    purge_share: Share = 0.0
    """Share of its rated flow that a desiccant dryer blows off."""
    pressure_drop: PressureOrNone
    """Pressure lost in it at its rated flow."""

    orders = (Order("least_ambient", "largest_ambient", strict=True),)

    def findings(self) -> Iterator[Finding]:
        """A refrigerated dryer that purges or freezes; a dryer that purges everything; power without wiring."""
        if self.kind == "refrigerated":
            if self.purge_share > 0.0:
                found = f"purge_share {self.figure('purge_share', self.purge_share)}, with kind refrigerated"
                yield Finding("purge_share", found, "0 %")
            if self.dew_point < FREEZING:
                found = f"dew_point {self.figure('dew_point', self.dew_point)}, with kind refrigerated"
                yield Finding("dew_point", found, "32 degF or above: its water would freeze")
        elif self.purge_share == 1.0:
            yield Finding("purge_share", "purge_share 100 %", "less than all of its flow")
        yield from wired_if(self.power, self.connections, "power", self.figure("power", self.power))
