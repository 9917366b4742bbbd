"""The heated hose bundle from the proportioner to the gun, with its whip."""

from solver.catalog.base import Item, Order
from solver.catalog.fields import (
    Bore,
    Flag,
    HoseHeatCapacity,
    HoseLoss,
    Length,
    LengthOrNone,
    Mass,
    MassOrNone,
    Money,
    Pressure,
)


class Hose(Item):
    """The heated hose bundle from the proportioner to the gun, with its whip."""

    class_name = "hose"
    required = True

    section_length: Length
    """Length of a long section. Price, weight and upkeep of the item are those of one long section."""
    short_length: Length
    """Length of a short section."""
    short_price: Money
    """Price of a short section."""
    short_weight: Mass
    """Weight of a short section."""
    bore: Bore
    """Inside diameter of each material line."""
    pressure: Pressure
    """Rated pressure."""
    loss: HoseLoss
    """Heat lost by the whole bundle for each length and degree."""
    heat_capacity: HoseHeatCapacity
    """Heat capacity of the whole bundle, filled, for each length."""
    gun_air_bore: Bore
    """Inside diameter of the air line to the gun."""
    whip_length: LengthOrNone
    """Length of the unheated whip before the gun."""
    whip_bore: Bore
    """Inside diameter of each line of the whip."""
    whip_price: Money
    """Price of the whip."""
    whip_weight: MassOrNone
    """Weight of the whip."""
    jacket: Flag
    """Whether the bundle wears a scuff jacket."""

    orders = (Order("short_length", "section_length", strict=True),)
