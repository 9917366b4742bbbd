"""Margins and money figures of a brief: stated practice where the brief is silent.

Contents: `Margins`, `Money`.
"""

from __future__ import annotations

from typing import Annotated

from solver.catalog.base import Record
from solver.catalog.fields import (
    Density,
    Flag,
    FuelPerEnergy,
    LengthOrNone,
    Mass,
    NumberFromOne,
    PressureOrNone,
    Quantity,
    Share,
    ShareAboveNone,
    StandardFlow,
    Temperature,
    TemperatureDifference,
    VolumeOrNone,
)
from solver.quantities import parse

Minutes = Annotated[float, Quantity("time", "1 min", above=False)]
Factor = Annotated[float, Quantity("share", "115 %", least=1.0, most=3.0, above=False)]
Overload = Annotated[float, Quantity("share", "110 %", least=0.5, most=2.0, above=False)]
Dip = Annotated[float, Quantity("share", "20 %", most=0.9)]
Tax = Annotated[float, Quantity("share", "7 %", most=1.0, above=False)]
MoneyPerFoam = Annotated[float, Quantity("money_per_board_feet", "1.35 USD/board_feet", above=False)]
MoneyPerVolume = Annotated[float, Quantity("money_per_volume", "4.20 USD/gal", above=False)]
MoneyPerTime = Annotated[float, Quantity("money_per_time", "35 USD/h", above=False)]
MoneyAmount = Annotated[float, Quantity("money", "1500 USD", above=False)]


class Margins(Record):
    """What the owner keeps in hand. Every default is common practice without a source, unless its line says otherwise."""

    model_config = Record.model_config | {"use_attribute_docstrings": True}

    trigger_share: ShareAboveNone = 0.5
    """Open time of the gun as a share of spraying time: serves averages, never peaks."""
    air_share: ShareAboveNone = 0.65
    """Longest share of the time that the compressor may run on average; pistons 60 to 70 %."""
    filter_drop: PressureOrNone = parse("5 psi", "pressure")
    """Pressure lost in the filters after the dryer; with the dryer's own drop about 8 psi."""
    pressure_band: PressureOrNone = parse("30 psi", "pressure")
    """Fall of receiver pressure allowed while a peak lasts."""
    peak_time: Minutes = 60.0
    """How long all users draw at once."""
    blow_time: Minutes = 30.0
    """How long the blow gun draws in cleaning."""
    least_receiver: VolumeOrNone = parse("30 gal", "volume")
    """Least receiver volume aboard."""
    gun_air_design: StandardFlow = parse("6 scfm", "standard_flow")
    """Air for which the gun's line in the hose bundle is checked."""
    dryer_dew_point: Temperature = parse("38 degF", "temperature")
    """Dew point under pressure at which the dryer's cooling load is worked out."""
    power_margin: Share = 0.10
    """Apparent power of the alternator kept free."""
    engine_margin: Share = 0.10
    """Engine power kept free."""
    voltage_dip: Dip = 0.20
    """Largest dip when the largest motor starts."""
    start_power_factor: ShareAboveNone = 0.40
    """Power factor of a starting motor."""
    start_overload: Overload = 1.10
    """Short-time power of the engine as a share of its derated rating."""
    least_load: Share = 0.30
    """Least average load of the diesel set, as a share of its rating (NFPA 110 exercises sets at 30 %)."""
    fuel_reserve: Share = 0.10
    """Share of the tank kept."""
    fuel_slope: FuelPerEnergy = parse("0.07 gal/kWh", "volume_per_energy")
    """Fuel burnt for each kWh of load, above idling."""
    fuel_density: Density = parse("7.07 lb/gal", "density")
    """Density of low-sulphur diesel (GREET)."""
    hitch_share: ShareAboveNone = 0.15
    """Share of a conventional trailer's weight on the hitch; practice 10 to 15 %, the higher taken."""
    gooseneck_share: ShareAboveNone = 0.25
    """Share of a gooseneck trailer's weight on the hitch; practice 15 to 25 %, the higher taken."""
    floor_factor: Factor = 1.15
    """Footprints with the gaps around them."""
    aisle_width: LengthOrNone = parse("28 in", "length")
    """Free aisle along the body (29 CFR 1910.36(g)(2), a building rule used as a layout criterion)."""
    crew_weight: Mass = parse("200 lb", "mass")
    """One person with clothes and hand tools."""
    body_floor: Temperature = parse("60 degF", "temperature")
    """Air inside the body while working in the cold."""
    body_ceiling: Temperature = parse("100 degF", "temperature")
    """Air inside the body on the hottest day."""
    evening_temperature: Temperature = parse("65 degF", "temperature")
    """Drums and body when the rig is parked for the night."""
    drum_target: Temperature = parse("75 degF", "temperature")
    """Heated drums when work starts."""
    drum_hold_share: Share = 0.30
    """Share of the drum heaters' rating that holds temperature while spraying."""
    hose_margin: TemperatureDifference = parse("5 delta_degF", "temperature_difference")
    """How far the hose may run below spray temperature at its coldest."""
    dew_margin: TemperatureDifference = 0.0
    """How far below the coldest line the dew point must lie."""
    heater_efficiency: ShareAboveNone = 0.95
    """Heat that reaches the liquid for each unit of the heaters' power."""


class Money(Record):
    """Figures for start-up, loan and yearly cost. Defaults are round figures to be replaced by the owner's own."""

    model_config = Record.model_config | {"use_attribute_docstrings": True}

    tax: Tax = 0.07
    """Sales tax on what is bought."""
    freight: Tax = 0.03
    """Freight on what is bought."""
    training: MoneyAmount = 2000.0
    """Training and licences before the first job."""
    first_material: Flag = False
    """Whether the first material aboard belongs to the start-up money."""
    down_payment: Tax = 0.20
    """Share of the start-up total paid from own money."""
    interest: Annotated[float, Quantity("share", "9 %", most=1.0)] = 0.09
    """Yearly interest of the loan and of capital tied up."""
    loan_months: NumberFromOne = 60
    """Months of the loan."""
    years: NumberFromOne = 7
    """Years until the equipment is sold."""
    resale: Tax = 0.25
    """What it sells for then, as a share of the price."""
    days_a_year: NumberFromOne = 120
    """Days of spraying in a year, shared equally by the duties."""
    foam_price: MoneyPerFoam = 1.35
    """What the customer pays for a board foot."""
    fuel_price: MoneyPerVolume = parse("4.20 USD/gal", "money_per_volume")
    """Price of diesel."""
    labour_rate: MoneyPerTime = parse("35 USD/h", "money_per_time")
    """Cost of an hour of upkeep."""


__all__ = ["Margins", "Money"]
