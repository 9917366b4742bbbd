"""The two-component foam material. One item is one set: two drums; A is the isocyanate, B the resin."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Literal

from solver.catalog.base import Finding, Item, Order, Record
from solver.catalog.fields import (
    Density,
    Flag,
    FoamDensity,
    Mass,
    Pressure,
    ShareAboveNone,
    SpecificHeatCapacity,
    Temperature,
    Viscosity,
)
from solver.quantities import show


class ViscosityPoint(Record):
    """Viscosity at one temperature."""

    temperature: Temperature
    """Temperature of the liquid."""
    viscosity: Viscosity
    """Its viscosity there."""


def _point_findings(name: str, points: tuple[ViscosityPoint, ...]) -> Iterator[Finding]:
    if len(points) < 2:
        yield Finding(name, f"{name} with {len(points)} point{'s' * (len(points) != 1)}", "at least 2 points")
    for cold, warm in pairwise(points):
        if warm.temperature <= cold.temperature:
            found = f"{name} with {show(warm.temperature, 'degF')} after {show(cold.temperature, 'degF')}"
            yield Finding(name, found, "points from cold to warm, each temperature once")
        elif warm.viscosity > cold.viscosity:
            found = (
                f"{name} rising from {show(cold.viscosity, 'mPa s')} at {show(cold.temperature, 'degF')} "
                f"to {show(warm.viscosity, 'mPa s')} at {show(warm.temperature, 'degF')}"
            )
            yield Finding(name, found, "a viscosity that falls as the liquid gets warmer")


class Material(Item):
    """The two-component foam material. One item is one set: two drums; A is the isocyanate, B the resin."""

    class_name = "material"
    required = True

    kind: Literal["closed-cell", "open-cell"]
    """Kind of foam."""
    density_a: Density
    """Density of the isocyanate."""
    density_b: Density
    """Density of the resin."""
    viscosity_a: tuple[ViscosityPoint, ...]
    """Viscosity of the isocyanate at two temperatures or more, from cold to warm."""
    viscosity_b: tuple[ViscosityPoint, ...]
    """Viscosity of the resin at two temperatures or more, from cold to warm."""
    heat_capacity_a: SpecificHeatCapacity
    """Specific heat capacity of the isocyanate."""
    heat_capacity_b: SpecificHeatCapacity
    """Specific heat capacity of the resin."""
    spray_temperature: Temperature
    """Temperature at the gun."""
    least_feed_temperature: Temperature
    """Coldest that it may be fed to the proportioner."""
    storage_temperature: Temperature
    """Coldest that it may be stored."""
    gun_pressure: Pressure
    """Pressure needed at the gun."""
    foam_density: FoamDensity
    """Nominal density of the foam in place."""
    field_yield: ShareAboveNone
    """Share of the nominal yield that is reached in the field."""
    resin_must_be_mixed: Flag
    """Whether the resin must be stirred before and while it is used."""
    net_mass_a: Mass
    """Liquid in one drum of isocyanate."""
    net_mass_b: Mass
    """Liquid in one drum of resin."""

    orders = (
        Order("least_feed_temperature", "spray_temperature"),
        Order("storage_temperature", "spray_temperature"),
        Order("foam_density", "density_a", strict=True),
        Order("foam_density", "density_b", strict=True),
    )

    def findings(self) -> Iterator[Finding]:
        """Viscosity points that are too few, unsorted, or thicken when warmed; more liquid than the gross weight."""
        yield from _point_findings("viscosity_a", self.viscosity_a)
        yield from _point_findings("viscosity_b", self.viscosity_b)
        net = self.net_mass_a + self.net_mass_b
        if net >= self.weight:
            found = f"weight {show(self.weight, 'lb', 0)}, with {show(net, 'lb', 0)} of liquid in its drums"
            yield Finding("weight", found, "the gross weight of one set, above that of its liquid")
