"""Margins and money figures of a brief: stated practice where the brief is silent.

Contents: `Margins`, `Money`.
"""

from __future__ import annotations

from solver.brief.fields import (
    DaysAYear,
    Dip,
    Factor,
    HeightOrNone,
    InsideTemperature,
    Minutes,
    MoneyPerFoam,
    MoneyPerTime,
    MoneyPerVolume,
    Months,
    Overload,
    ShareBelowAll,
    Years,
)
from solver.catalog.base import Order, Record
from solver.catalog.fields import (
    Density,
    Flag,
    FuelPerEnergy,
    LengthOrNone,
    Mass,
    Pressure,
    PressureOrNone,
    Share,
    ShareAboveNone,
    StandardFlow,
    TemperatureDifference,
    VolumeOrNone,
)
from solver.catalog.fields import Money as Amount
from solver.quantities import parse


class Margins(Record):
    """What the owner keeps in hand. The line of each figure says on what its default stands."""

    trigger_share: ShareAboveNone = 0.5
    """Open time of the gun as a share of spraying time: serves averages, never peaks. Common practice, no source."""
    air_share: ShareAboveNone = 0.65
    """Longest share of the time that the compressor may run on average. Common practice, no source: pistons 60 to 70 %.
    """
    filter_drop: PressureOrNone = parse("5 psi", "pressure")
    """Pressure lost in the filters after the dryer. Common practice, no source: with the dryer about 8 psi."""
    pressure_band: Pressure = parse("30 psi", "pressure")
    """Fall of receiver pressure allowed while a peak lasts. Common practice, no source."""
    peak_time: Minutes = parse("1 min", "time")
    """How long all users draw at once. Common practice, no source."""
    blow_time: Minutes = parse("0.5 min", "time")
    """How long the blow gun draws in cleaning. Common practice, no source."""
    least_receiver: VolumeOrNone = parse("30 gal", "volume")
    """Least receiver volume aboard. Common practice, no source."""
    gun_air_design: StandardFlow = parse("6 scfm", "standard_flow")
    """Air for which the gun's line in the hose bundle is checked. Common practice, no source."""
    dryer_dew_point: InsideTemperature = parse("38 degF", "temperature")
    """Dew point under pressure at which the dryer's cooling load is worked out. Common practice, no source."""
    power_margin: ShareBelowAll = 0.10
    """Apparent power of the alternator kept free. Common practice, no source."""
    engine_margin: ShareBelowAll = 0.10
    """Engine power kept free. Common practice, no source."""
    voltage_dip: Dip = 0.20
    """Largest dip when the largest motor starts. Common practice, no source; as a set of class G2 under load steps."""
    start_power_factor: ShareAboveNone = 0.40
    """Power factor of a starting motor. Common practice, no source."""
    start_overload: Overload = 1.10
    """Short-time power of the engine as a share of its derated rating. Common practice, no source."""
    least_load: Share = 0.30
    """Least average load of the diesel set, as a share of its rating. NFPA 110, exercising load, taken as practice."""
    fuel_reserve: ShareBelowAll = 0.10
    """Share of the tank kept. Common practice, no source."""
    fuel_slope: FuelPerEnergy = parse("0.07 gal/kWh", "volume_per_energy")
    """Fuel burnt for each kWh of load, above idling. Common practice, no source."""
    fuel_density: Density = parse("7.07 lb/gal", "density")
    """Density of low-sulphur diesel. GREET."""
    hitch_share: ShareAboveNone = 0.15
    """Share of a conventional trailer's weight on the hitch. Common practice, no source: the higher of 10 to 15 %."""
    gooseneck_share: ShareAboveNone = 0.25
    """Share of a gooseneck trailer's weight on the hitch. Common practice, no source: the higher of 15 to 25 %."""
    floor_factor: Factor = 1.15
    """Footprints with the gaps around them. Common practice, no source."""
    aisle_width: LengthOrNone = parse("28 in", "length")
    """Free aisle along the body. 29 CFR 1910.36(g)(2), a building rule used as a layout criterion."""
    pump_distance: HeightOrNone = parse("50 ft", "length")
    """How far from the rig, towards the work, a breathing-air pump stands in clean air. Common practice, no source."""
    crew_weight: Mass = parse("200 lb", "mass")
    """One person with clothes and hand tools. Common practice, no source."""
    body_floor: InsideTemperature = parse("60 degF", "temperature")
    """Air inside the body while working in the cold. Common practice, no source: 50 to 70 degF."""
    body_ceiling: InsideTemperature = parse("100 degF", "temperature")
    """Air inside the body on the hottest day. Common practice, no source."""
    evening_temperature: InsideTemperature = parse("65 degF", "temperature")
    """Drums and body when the rig is parked for the night. Common practice, no source."""
    drum_target: InsideTemperature = parse("75 degF", "temperature")
    """Heated drums when work starts. Common practice, no source."""
    drum_hold_share: Share = 0.30
    """Share of the drum heaters' rating that holds temperature while spraying. Common practice, no source."""
    hose_margin: TemperatureDifference = parse("5 delta_degF", "temperature_difference")
    """How far the hose may run below spray temperature at its coldest. Common practice, no source."""
    dew_margin: TemperatureDifference = parse("0 delta_degF", "temperature_difference")
    """How far below the coldest line the dew point must lie. Common practice, no source."""
    heater_efficiency: ShareAboveNone = 0.95
    """Heat that reaches the liquid for each unit of the heaters' power. Common practice, no source."""

    orders = (Order("body_floor", "body_ceiling"),)


class Money(Record):
    """Figures for start-up, loan and yearly cost. Defaults are round figures, to be replaced by the owner's own."""

    tax: Share = 0.07
    """Sales tax on what is bought. A round figure, no source."""
    freight: Share = 0.03
    """Freight on what is bought. A round figure, no source."""
    training: Amount = 2000.0
    """Training and licences before the first job. A round figure, no source."""
    first_material: Flag = False
    """Whether the first material aboard belongs to the start-up money."""
    down_payment: Share = 0.20
    """Share of the start-up total paid from own money. A round figure, no source."""
    interest: ShareAboveNone = 0.09
    """Yearly interest of the loan and of capital tied up. A round figure, no source."""
    loan_months: Months = 60
    """Months of the loan. A round figure, no source."""
    years: Years = 7
    """Years until the equipment is sold. A round figure, no source."""
    resale: Share = 0.25
    """What it sells for then, as a share of the price. A round figure, no source."""
    days_a_year: DaysAYear = 120
    """Days of spraying in a year, shared equally by the duties. A round figure, no source."""
    foam_price: MoneyPerFoam = 1.35
    """What the customer pays for a board foot. A round figure, no source."""
    fuel_price: MoneyPerVolume = parse("4.20 USD/gal", "money_per_volume")
    """Price of diesel. A round figure, no source."""
    labour_rate: MoneyPerTime = parse("35 USD/h", "money_per_time")
    """Cost of an hour of work, in upkeep and for each of the crew. A round figure, no source."""


__all__ = ["Margins", "Money"]
