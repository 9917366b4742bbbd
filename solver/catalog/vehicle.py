"""The truck or trailer that carries the rig. Its weight is the empty (curb) weight with the body."""

from collections.abc import Iterator
from typing import Literal

from solver.catalog.base import Finding, Item, Order
from solver.catalog.fields import Conductance, HeatCapacity, Length, LengthOrNone, Mass, MassOrNone, Rate
from solver.quantities import show


def payload_within_rating(weight: float, gvwr: float, payload: float) -> Iterator[Finding]:
    """A payload that, with the empty weight, goes beyond the rating by more than a pound of rounding."""
    if weight < gvwr < weight + payload - 0.5:
        found = f"payload {show(payload, 'lb', 0)}, with gvwr {show(gvwr, 'lb', 0)} and weight {show(weight, 'lb', 0)}"
        yield Finding("payload", found, f"at most {show(gvwr - weight, 'lb', 0)}")


class Vehicle(Item):
    """The truck or trailer that carries the rig. Its weight is the empty (curb) weight with the body."""

    class_name = "vehicle"
    required = True

    kind: Literal["truck", "trailer"]
    """Truck or trailer."""
    gvwr: Mass
    """Gross vehicle weight rating."""
    payload: Mass
    """What it may carry; at most the rating less its own weight."""
    floor_length: Length
    """Inside length of the floor."""
    floor_width: Length
    """Inside width of the floor."""
    inside_height: Length
    """Inside height."""
    door_zone: LengthOrNone
    """Length of floor that is kept free at the door."""
    ua: Conductance
    """Heat lost by the closed body for each degree."""
    heat_capacity: HeatCapacity
    """Heat capacity of the body itself, without drums."""
    air_changes: Rate
    """Times that its air changes in an hour when closed."""
    hitch: Literal["none", "conventional", "gooseneck"]
    """How a trailer is coupled; `none` for a truck."""
    front_axle_rating: MassOrNone
    """Rating of the front axle; `0 lb` for a trailer."""
    rear_axle_rating: Mass
    """Rating of the rear axle or axles."""
    wheelbase: Length
    """Between the axles; of a trailer from the hitch to the middle of the axles."""

    orders = (Order("weight", "gvwr", strict=True), Order("door_zone", "floor_length", strict=True))

    def findings(self) -> Iterator[Finding]:
        """More payload than the rating leaves; hitch and front axle that do not agree with the kind."""
        yield from payload_within_rating(self.weight, self.gvwr, self.payload)
        trailer = self.kind == "trailer"
        if (self.hitch != "none") != trailer:
            wanted = "conventional or gooseneck" if trailer else "none"
            yield Finding("hitch", f"hitch {self.hitch}, with kind {self.kind}", wanted)
        if (self.front_axle_rating > 0.0) == trailer:
            figure = self.figure("front_axle_rating", self.front_axle_rating)
            wanted = "0 lb" if trailer else "a rating above 0 lb"
            yield Finding("front_axle_rating", f"front_axle_rating {figure}, with kind {self.kind}", wanted)
