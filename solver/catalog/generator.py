"""The diesel generator set."""

from collections.abc import Iterator
from typing import Literal

from solver.catalog.base import Finding, Item, Record
from solver.catalog.fields import (
    AirFlowOrNone,
    ApparentPower,
    FuelPerEnergy,
    FuelRate,
    LengthOrNone,
    LossPerLength,
    LossPerTemperature,
    Power,
    PowerOrNone,
    ShareAboveNone,
    Sound,
    Speed,
    Temperature,
    VolumeOrNone,
)
from solver.quantities import show


class Output(Record):
    """What a generator gives on one supply system."""

    system: Literal["split", "wye"]
    """Single-phase 120/240 V (`split`) or three-phase 208Y/120 V (`wye`)."""
    power: Power
    """Real power of the engine."""
    apparent_power: ApparentPower
    """Apparent power of the alternator."""

    def findings(self) -> Iterator[Finding]:
        """More kW than kVA."""
        if self.power > self.apparent_power * (1.0 + 1e-9):
            found = f"power {show(self.power, 'kW')}, above apparent_power {show(self.apparent_power, 'kVA')}"
            yield Finding("power", found, "at most as many kW as kVA")


class Generator(Item):
    """The diesel generator set."""

    class_name = "generator"

    outputs: tuple[Output, ...]
    """Its outputs, one for each supply system that it can be ordered for."""
    aspiration: Literal["natural", "turbocharged"]
    """How the engine breathes."""
    altitude_free: LengthOrNone
    """Altitude up to which the engine loses nothing."""
    altitude_loss: LossPerLength
    """Share of the engine's power lost for each length above that."""
    temperature_free: Temperature
    """Air temperature up to which the engine loses nothing."""
    temperature_loss: LossPerTemperature
    """Share of the engine's power lost for each degree above that."""
    alternator_altitude_free: LengthOrNone
    """Altitude up to which the alternator loses nothing."""
    alternator_altitude_loss: LossPerLength
    """Share of the alternator's rating lost for each length above that."""
    alternator_temperature_free: Temperature
    """Air temperature up to which the alternator loses nothing."""
    alternator_temperature_loss: LossPerTemperature
    """Share of the alternator's rating lost for each degree above that."""
    transient_reactance: ShareAboveNone
    """Transient reactance X' of the alternator, as share of its rating."""
    idle_burn: FuelRate
    """Fuel burnt without load."""
    burn_per_energy: FuelPerEnergy
    """Fuel burnt on top for each energy delivered."""
    tank: VolumeOrNone
    """Its own fuel tank."""
    cooling: Literal["liquid", "air"]
    """What cools the engine."""
    speed: Speed
    """Speed of the engine."""
    sound: Sound
    """Sound level at 7 m."""
    radiator_air: AirFlowOrNone
    """Air that its radiator or fan moves."""
    body_heat: PowerOrNone
    """Heat that it leaves in the body; nothing when it sits outside."""

    def findings(self) -> Iterator[Finding]:
        """No output, or one supply system twice."""
        systems = [output.system for output in self.outputs]
        if not systems:
            yield Finding("outputs", "no outputs", "at least one output with system, power and apparent_power")
        for system in sorted({s for s in systems if systems.count(s) > 1}):
            yield Finding("outputs", f"system {system} {systems.count(system)} times", "one output for each system")
