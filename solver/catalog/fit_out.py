"""Panel, cable, air piping, lining, bench, and the labour of building it all in."""

from typing import Literal

from solver.catalog.base import Item


class FitOut(Item):
    """Panel, cable, air piping, lining, bench, and the labour of building it all in."""

    class_name = "fit_out"
    required = True

    vehicle_kind: Literal["truck", "trailer"]
    """The kind of vehicle that it is for."""
