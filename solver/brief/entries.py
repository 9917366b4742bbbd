"""The mappings of a brief's file, as people write them. `models.py` has the flat form that the rules read.

Contents: `CrewEntry`, `ReachEntry`, `AirEntry`, `HoursEntry`, `OvernightEntry`, `SiteEntry`, `DutyEntry`,
`MaterialAboard`, `Limits`, `Unwanted`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field, model_validator

from solver.catalog.base import Finding, Order, Record
from solver.catalog.fields import (
    Flag,
    Hours,
    Identifier,
    Label,
    Length,
    LengthOrNone,
    Mass,
    MassFlow,
    Number,
    NumberFromOne,
    PowerOrNone,
    Quantity,
    Share,
    TagList,
    Temperature,
)

Altitude = Annotated[float, Quantity("length", "7500 ft", least=-450.0, most=11000.0, above=False)]
AirTemperature = Annotated[float, Quantity("temperature", "35 degF", least=213.15, most=333.15, above=False)]
Humidity = Annotated[float, Quantity("share", "60 %", most=1.0)]
BoardFeet = Annotated[float, Quantity("board_feet", "3000 board_feet")]
Budget = Annotated[float, Quantity("money", "120000 USD", most=1e8)]
WaitingTime = Annotated[float, Quantity("time", "8 week")]


class MaterialAboard(Record):
    """Sets of one material on the rig when the day starts."""

    material: Identifier
    """Id of the material in the catalog."""
    sets: NumberFromOne = 1
    """Sets of two drums aboard."""


class CrewEntry(Record):
    """Who works."""

    sprayers: NumberFromOne = 1
    """People who spray."""
    helpers: Number = 1
    """People who move hose and mask."""
    trimmers: Number = 0
    """People who cut foam while spraying goes on."""
    respirator: Literal["tight-fitting", "loose-fitting"] = "tight-fitting"
    """Kind of supplied-air respirator."""
    respirators: Number | None = None
    """Respirators in use at once; everybody if not said."""


class ReachEntry(Record):
    """How far the gun works from the rig, in parts."""

    length: Length | None = None
    """The whole length at once, instead of its parts."""
    distance: Length | None = None
    """From the rig to the wall."""
    height: LengthOrNone = 0.0
    """Up the building."""
    slack: Share = 0.10
    """Further length for bends and corners; common practice 10 %."""

    @model_validator(mode="before")
    @classmethod
    def _plain(cls, entry: object) -> object:
        return {"length": entry} if isinstance(entry, str) else entry

    def findings(self) -> Iterator[Finding]:
        """Exactly one of `length` and `distance`."""
        if (self.length is None) == (self.distance is None):
            which = "both length and distance" if self.length is not None else "neither length nor distance"
            yield Finding("distance", which, "one of them", "hose_reach: 180 ft")

    @property
    def total(self) -> float:
        """Length of hose needed [m]."""
        if self.distance is None:
            return self.length or 0.0
        return (self.distance + self.height) * (1.0 + self.slack)


class AirEntry(Record):
    """The day's outdoor air."""

    coldest: AirTemperature
    """Coldest air while the rig works."""
    hottest: AirTemperature
    """Hottest air while the rig works."""

    orders = (Order("coldest", "hottest"),)

    @model_validator(mode="before")
    @classmethod
    def _plain(cls, entry: object) -> object:
        return {"coldest": entry, "hottest": entry} if isinstance(entry, str) else entry


class HoursEntry(Record):
    """The day's hours by state."""

    model_config = Record.model_config | {"populate_by_name": True}

    overnight: Hours = 14 * 3600.0
    """Parked."""
    warm_up: Annotated[float, Quantity("time", "1.5 h"), Field(alias="warm-up")] = 1.5 * 3600.0
    """From starting the generator to the first foam."""
    spraying: Annotated[float, Quantity("time", "5 h")] = 5 * 3600.0
    """Spraying time, pauses between triggers included."""
    cleaning: Hours = 0.5 * 3600.0
    """Cleaning up."""

    def findings(self) -> Iterator[Finding]:
        """A day has 24 hours."""
        total = self.overnight + self.warm_up + self.spraying + self.cleaning
        if total > 24 * 3600.0 + 1.0:
            yield Finding("overnight", f"{total / 3600.0:.4g} h in all", "at most 24 h in a day", "a shorter night")


class OvernightEntry(Record):
    """How the rig spends the night."""

    parking: Literal["outdoors", "indoors"] = "outdoors"
    """Where it stands."""
    air: AirTemperature | None = None
    """Air around it at night; the day's coldest if not said and parked outdoors."""
    keep_warm: Temperature | None = None
    """Temperature that the body heater holds inside on shore power; left to coast if not said."""
    hose_inside: Flag = True
    """Whether the hose is carried inside the body."""
    shore_power: PowerOrNone = 0.0
    """Power from the building at night."""


class SiteEntry(Record):
    """Electricity at the site, for a rig without a generator."""

    system: Literal["split", "wye"]
    """Single-phase 120/240 V (split) or three-phase 208Y/120 V (wye)."""
    power: Annotated[float, Quantity("apparent_power", "12 kVA")]
    """Apparent power that may be drawn."""


class DutyEntry(Record):
    """One situation that the rig must serve."""

    name: Label
    """What people call it."""
    material: Identifier | None = None
    """Material sprayed; the first aboard if not said."""
    output: MassFlow | None = None
    """Mass flow while the gun is open, both sides together."""
    board_feet_a_day: BoardFeet | None = None
    """Instead of an output: board feet in the day's spraying hours."""
    hose_reach: ReachEntry
    """Length of hose needed, or its parts."""
    altitude: Altitude
    """Height of the site above sea level."""
    air_temperature: AirEntry
    """The day's outdoor air, coldest and hottest, or one value."""
    humidity: Humidity = 0.5
    """Relative humidity of the outdoor air."""
    hours: HoursEntry = HoursEntry()
    """Hours by state."""
    overnight: OvernightEntry = OvernightEntry()
    """The night before."""
    site_supply: SiteEntry | None = None
    """Electricity at the site."""
    resupply: Number = 0
    """Further sets brought to the site during the day."""
    tool_power: PowerOrNone = 0.0
    """Tools on the rig's outlets while spraying."""

    def findings(self) -> Iterator[Finding]:
        """One way of saying the output."""
        if (self.output is None) == (self.board_feet_a_day is None):
            which = "both output and board_feet_a_day" if self.output is not None else "no output"
            yield Finding("output", which, "output or board_feet_a_day, one of them", "output: 12 lb/min")


class Limits(Record):
    """Upper limits; what is not said is not limited."""

    budget: Budget | None = None
    """Start-up money: everything bought with tax and freight, training, first material if asked."""
    combined_rating: Mass | None = None
    """Largest sum of the gross ratings of vehicle and tow vehicle."""
    trailer_rating: Mass | None = None
    """Largest gross rating of a trailer."""
    upkeep_time: WaitingTime | None = None
    """Upkeep of all equipment in a year."""
    parts_time: WaitingTime | None = None
    """Longest wait for spare parts of any item."""
    delivery_time: WaitingTime | None = None
    """Longest wait for delivery of any item bought."""


class Unwanted(Record):
    """What the owner does not want aboard."""

    items: TagList = ()
    """Ids of items."""
    classes: Annotated[tuple[str, ...], Field()] = ()
    """Whole classes whose slot may stay empty."""
    features: TagList = ()
    """Feature tags, or `used` or `new`."""
