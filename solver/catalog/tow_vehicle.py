"""The vehicle that tows a trailer rig. Its weight is the curb weight."""

from collections.abc import Iterator
from typing import Annotated

from solver.catalog.base import Finding, Item, Order
from solver.catalog.fields import Mass, Tags
from solver.catalog.vehicle import payload_within_rating


class TowVehicle(Item):
    """The vehicle that tows a trailer rig. Its weight is the curb weight."""

    class_name = "tow_vehicle"

    gvwr: Mass
    """Gross vehicle weight rating."""
    payload: Mass
    """What it may carry itself, hitch load and crew included."""
    tow_rating: Mass
    """Heaviest trailer that it may tow."""
    gcwr: Mass
    """Gross combined weight rating."""
    hitches: Annotated[tuple[str, ...], Tags(("conventional", "gooseneck"), least=1)]
    """The couplings that it has."""

    orders = (Order("weight", "gvwr", strict=True), Order("gvwr", "gcwr"))

    def findings(self) -> Iterator[Finding]:
        """More payload than the rating leaves."""
        yield from payload_within_rating(self.weight, self.gvwr, self.payload)
