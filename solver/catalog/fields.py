"""The types of the fields, each with the example that the reference page shows.

Contents: names such as `Power`, `Mass`, `Money`, made of the checks of `checks.py`, which are handed on from here.
A name that ends in `OrNone` allows zero.
"""

from __future__ import annotations

from typing import Annotated

from solver.catalog.checks import Count as Count
from solver.catalog.checks import Name as Name
from solver.catalog.checks import Quantity as Quantity
from solver.catalog.checks import Slug as Slug
from solver.catalog.checks import Switch as Switch
from solver.catalog.checks import Tags as Tags
from solver.catalog.checks import found as found

Identifier = Annotated[str, Slug()]
Label = Annotated[str, Name()]
Flag = Annotated[bool, Switch()]
TagList = Annotated[tuple[str, ...], Tags()]
NeededTags = Annotated[tuple[str, ...], Tags(least=1)]
Connections = Annotated[tuple[str, ...], Tags(("120 V", "240 V", "3-phase"))]
Number = Annotated[int, Count()]
NumberFromOne = Annotated[int, Count(1)]
Drums = Annotated[int, Count(1, 100)]

Money = Annotated[float, Quantity("money", "3200 USD", above=False)]
Mass = Annotated[float, Quantity("mass", "480 lb")]
MassOrNone = Annotated[float, Quantity("mass", "480 lb", above=False)]
Length = Annotated[float, Quantity("length", "50 ft")]
LengthOrNone = Annotated[float, Quantity("length", "36 in", above=False)]
Bore = Annotated[float, Quantity("length", "0.375 in", most=0.1016)]
Hours = Annotated[float, Quantity("time", "12 h", above=False)]
Days = Annotated[float, Quantity("time", "3 day", above=False)]
Weeks = Annotated[float, Quantity("time", "4 week", above=False)]
Voltage = Annotated[float, Quantity("voltage", "240 V")]
Power = Annotated[float, Quantity("power", "12 kW")]
PowerOrNone = Annotated[float, Quantity("power", "12 kW", above=False)]
MotorPower = Annotated[float, Quantity("power", "7.5 hp", above=False)]
ApparentPower = Annotated[float, Quantity("apparent_power", "25 kVA")]
Share = Annotated[float, Quantity("share", "15 %", most=1.0, above=False)]
ShareAboveNone = Annotated[float, Quantity("share", "60 %", most=1.0)]
Pressure = Annotated[float, Quantity("pressure", "120 psi")]
PressureOrNone = Annotated[float, Quantity("pressure", "120 psi", above=False)]
MassFlow = Annotated[float, Quantity("mass_flow", "18 lb/min")]
MassFlowOrNone = Annotated[float, Quantity("mass_flow", "4 lb/min", above=False)]
VolumeFlow = Annotated[float, Quantity("volume_flow", "2.5 gpm")]
AirFlow = Annotated[float, Quantity("volume_flow", "1500 cfm")]
AirFlowOrNone = Annotated[float, Quantity("volume_flow", "1500 cfm", above=False)]
StandardFlow = Annotated[float, Quantity("standard_flow", "18 scfm")]
StandardFlowOrNone = Annotated[float, Quantity("standard_flow", "18 scfm", above=False)]
AirPerOutput = Annotated[float, Quantity("standard_volume_per_mass", "2.1 scfm/(lb/min)", above=False)]
AirPerFlow = Annotated[float, Quantity("standard_flow_per_flow", "2 scfm/gpm", above=False)]
Volume = Annotated[float, Quantity("volume", "30 gal")]
VolumeOrNone = Annotated[float, Quantity("volume", "30 gal", above=False)]
FuelRate = Annotated[float, Quantity("fuel_rate", "0.4 gal/h", above=False)]
FuelPerEnergy = Annotated[float, Quantity("volume_per_energy", "0.07 gal/kWh")]
Temperature = Annotated[float, Quantity("temperature", "60 degF")]
TemperatureDifference = Annotated[float, Quantity("temperature_difference", "20 delta_degF", above=False)]
Viscosity = Annotated[float, Quantity("viscosity", "250 mPa s")]
Density = Annotated[float, Quantity("density", "10 lb/gal")]
FoamDensity = Annotated[float, Quantity("density", "2 lb/ft3")]
SpecificHeatCapacity = Annotated[float, Quantity("specific_heat_capacity", "1.8 kJ/kg/K")]
HoseLoss = Annotated[float, Quantity("conductance_per_length", "0.18 W/ft/K")]
HoseHeatCapacity = Annotated[float, Quantity("heat_capacity_per_length", "0.6 kJ/ft/K")]
Conductance = Annotated[float, Quantity("conductance", "90 W/K")]
HeatCapacity = Annotated[float, Quantity("heat_capacity", "650 kJ/K")]
Rate = Annotated[float, Quantity("rate", "1.5 1/h", above=False)]
LossPerLength = Annotated[float, Quantity("share_per_length", "3 %/kft", above=False, most=0.2 / 304.8)]
LossPerTemperature = Annotated[
    float, Quantity("share_per_temperature_difference", "0.2 %/delta_degF", above=False, most=0.036)
]
Speed = Annotated[float, Quantity("rotation_speed", "1800 rpm")]
Sound = Annotated[float, Quantity("sound_level", "68 dBA", most=200.0)]
