"""The spray gun."""

from typing import Literal

from solver.catalog.base import Item, Order
from solver.catalog.fields import MassFlow, MassFlowOrNone, Pressure, StandardFlowOrNone


class Gun(Item):
    """The spray gun."""

    class_name = "gun"
    required = True

    purge: Literal["air", "mechanical", "solvent"]
    """What keeps the mixing chamber clear."""
    purge_air: StandardFlowOrNone
    """Air taken while spraying."""
    cleaning_air: StandardFlowOrNone
    """Air of the blow gun while cleaning."""
    air_pressure: Pressure
    """Air pressure that it needs."""
    least_output: MassFlowOrNone
    """Least output at which it still mixes."""
    largest_output: MassFlow
    """Largest output."""
    pressure: Pressure
    """Rated pressure of the material."""

    orders = (Order("least_output", "largest_output", strict=True),)
