"""The mappings of a brief's file, as people write them. `models.py` has the flat form that the rules read.

Contents: `CrewEntry`, `ReachEntry`, `AirEntry`, `HoursEntry`, `OvernightEntry`, `SiteEntry`, `DutyEntry`,
`MaterialAboard`, `Limits`, `Unwanted`, `RangeEntry`, `BriefEntry`.
"""

from __future__ import annotations

from collections.abc import Iterator
from typing import Annotated, Literal

from pydantic import Field, field_validator, model_validator

from solver.brief.fields import (
    AirTemperature,
    Altitude,
    BoardFeet,
    BoolAsWord,
    Budget,
    DayHours,
    DayHoursOrNone,
    HeightOrNone,
    HoursAYear,
    Humidity,
    InsideTemperature,
    SupplyPower,
    WaitInDays,
    WaitInWeeks,
)
from solver.brief.margins import Margins, Money
from solver.catalog.base import Finding, Order, Record
from solver.catalog.fields import (
    Flag,
    Identifier,
    Label,
    Length,
    Mass,
    MassFlow,
    Number,
    NumberFromOne,
    PowerOrNone,
    Share,
    TagList,
    found,
)
from solver.errors import EntryError
from solver.quantities import parse

DAY = 86400.0


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
    """Kind of supplied-air respirator; it decides the air that regulation asks for."""
    respirators: Number | None = None
    """Respirators in use at once; everybody if not said."""


class ReachEntry(Record):
    """How far the gun works from the rig: a plain length, or its parts. Needed: (distance + height) × (1 + slack)."""

    length: Length | None = None
    """The whole length at once, instead of its parts; the same as a plain length."""
    distance: Length | None = None
    """From the rig to the wall."""
    height: HeightOrNone = 0.0
    """Up the building."""
    slack: Share = 0.10
    """Further length for bends and corners. Common practice, no source."""

    @model_validator(mode="before")
    @classmethod
    def _plain(cls, entry: object) -> object:
        return {"length": _read(cls, "length", entry)} if isinstance(entry, str) else entry

    def findings(self) -> Iterator[Finding]:
        """The whole length, or its parts."""
        if self.length is None and self.distance is None:
            yield Finding("distance", "neither length nor distance", "one of them", "hose_reach: 180 ft")
        if self.length is not None and len(self.model_fields_set) > 1:
            parts = ", ".join(name for name in ("distance", "height", "slack") if name in self.model_fields_set)
            yield Finding("length", f"length beside {parts}", "the whole length or its parts, not both")

    @property
    def total(self) -> float:
        """Length of hose needed [m]."""
        if self.distance is None:
            return self.length or 0.0
        return (self.distance + self.height) * (1.0 + self.slack)


class AirEntry(Record):
    """The day's outdoor air, coldest and hottest; one plain temperature stands for both."""

    coldest: AirTemperature
    """Coldest air while the rig works."""
    hottest: AirTemperature
    """Hottest air while the rig works."""

    orders = (Order("coldest", "hottest"),)

    @model_validator(mode="before")
    @classmethod
    def _plain(cls, entry: object) -> object:
        return dict.fromkeys(("coldest", "hottest"), _read(cls, "coldest", entry)) if isinstance(entry, str) else entry


def _read(model: type[Record], name: str, text: str) -> float:
    """A text that stands for a whole mapping, as one of its fields would take it."""
    quantity = model.quantity(name)
    return float(quantity.checker()(text)) if quantity else float("nan")


class HoursEntry(Record):
    """The day's hours by state; together at most 24 h."""

    model_config = Record.model_config | {"populate_by_name": True}

    overnight: DayHoursOrNone = parse("14 h", "time")
    """Parked."""
    warm_up: Annotated[DayHours, Field(alias="warm-up")] = parse("1.5 h", "time")
    """From starting the machines to the first foam."""
    spraying: DayHours = parse("5 h", "time")
    """Spraying time, pauses between triggers included."""
    cleaning: DayHoursOrNone = parse("0.5 h", "time")
    """Cleaning up."""

    def findings(self) -> Iterator[Finding]:
        """A day has 24 hours."""
        total = self.overnight + self.warm_up + self.spraying + self.cleaning
        if total > DAY + 1.0:
            given = [name for name in ("overnight", "spraying", "warm_up", "cleaning") if name in self.model_fields_set]
            field = (given or ["overnight"])[0].replace("_", "-")
            yield Finding(field, f"{total / 3600.0:.4g} h in all", "at most 24 h in a day", "a shorter night")


class OvernightEntry(Record):
    """How the rig spends the night."""

    parking: Literal["outdoors", "indoors"] = "outdoors"
    """Where it stands."""
    air: AirTemperature | None = None
    """Air around it at night; outdoors the day's coldest if not said, indoors it must be said."""
    keep_warm: InsideTemperature | None = None
    """Temperature that the body heater holds inside on shore power; left to coast if not said."""
    hose_inside: Flag = True
    """Whether the hose is carried inside the body."""
    shore_power: PowerOrNone = 0.0
    """Power from the building at night."""

    def findings(self) -> Iterator[Finding]:
        """Nobody can guess how warm a hall is."""
        if self.parking == "indoors" and self.air is None:
            yield Finding("parking", "parking indoors without air", "the air around it at night", "air: 55 degF")


class SiteEntry(Record):
    """Electricity at the site, for a rig without a generator."""

    system: Literal["split", "wye"]
    """Single-phase 120/240 V (split) or three-phase 208Y/120 V (wye)."""
    power: SupplyPower
    """Apparent power that may be drawn."""


class DutyEntry(Record):
    """One situation that the rig must serve."""

    name: Label
    """What people call it; each name once."""
    material: Identifier | None = None
    """Material sprayed; may be left out when only one is aboard."""
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
    hours: HoursEntry = Field(default_factory=HoursEntry)
    """Hours by state."""
    overnight: OvernightEntry = Field(default_factory=OvernightEntry)
    """The night before."""
    site_supply: SiteEntry | None = None
    """Electricity at the site."""
    resupply: Number = 0
    """Further sets brought to the site during the day."""
    tool_power: PowerOrNone = 0.0
    """Tools on the rig's outlets while spraying."""


class Limits(Record):
    """Upper limits; what is not said is not limited."""

    budget: Budget | None = None
    """Start-up money: everything bought with tax and freight, training, first material if asked."""
    combined_rating: Mass | None = None
    """Largest sum of the gross ratings of vehicle and tow vehicle."""
    trailer_rating: Mass | None = None
    """Largest gross rating of a trailer."""
    upkeep_time: HoursAYear | None = None
    """Upkeep of all equipment in a year."""
    parts_time: WaitInDays | None = None
    """Longest wait for spare parts of any item."""
    delivery_time: WaitInWeeks | None = None
    """Longest wait for delivery of any item bought."""


class Unwanted(Record):
    """What the owner does not want aboard."""

    items: TagList = ()
    """Ids of items."""
    classes: tuple[str, ...] = ()
    """Whole classes whose slot may stay empty."""
    features: TagList = ()
    """Feature tags, `used` or `new`, or a drive: `electric`, `hydraulic`, `air`."""


class RangeEntry(Record):
    """A requirement of which only the range is known: the rig must serve all of it."""

    model_config = Record.model_config | {"populate_by_name": True}

    low: Annotated[Label, Field(alias="from")]
    """Lower end, with its unit."""
    high: Annotated[Label, Field(alias="to")]
    """Higher end, with its unit."""


class BriefEntry(Record):
    """The mapping of a brief's file."""

    title: Label
    """What the brief is called."""
    story: str = ""
    """Who asks, and for what, in a few lines."""
    by: Literal["price", "weight", "yearly-cost"] = "price"
    """What is to be made least."""
    materials: tuple[MaterialAboard, ...]
    """Sets of material aboard at the start of a day."""
    crew: CrewEntry = Field(default_factory=CrewEntry)
    """Who works."""
    duties: tuple[DutyEntry, ...]
    """The situations that the rig must serve, all of them."""
    limits: Limits = Field(default_factory=Limits)
    """Upper limits."""
    margins: Margins = Field(default_factory=Margins)
    """What is kept in hand."""
    money: Money = Field(default_factory=Money)
    """Figures for start-up, loan and yearly cost."""
    ranges: dict[str, RangeEntry] = Field(default_factory=dict)
    """Requirements given as ranges: by path, such as `winter attic.altitude`, the ends that the rig must serve and all
    between. `air_temperature` stands for the coldest and the hottest air together."""
    outlets: Number = 2
    """Outlets wanted on the rig."""
    asked: dict[str, TagList] = Field(default_factory=dict)
    """Per slot the feature tags that its item must carry, such as `generator: [quiet]`."""
    owned: tuple[Identifier, ...] = ()
    """Ids of items that the owner has: they are kept, at no price. A feed pump twice stands for both sides."""
    unwanted: Unwanted = Field(default_factory=Unwanted)
    """What is left out."""
    waived: tuple[str, ...] = ()
    """Ids of practice rules that the owner waives, such as AIR-07."""
    interlocks: tuple[Literal["drum-heat-after-hose", "compressor-after-warm-up"], ...] = ()
    """Loads that are kept off in warm-up."""
    unheated_air_line: Flag = False
    """Whether an air line runs outdoors without heat."""
    winter: Annotated[Literal["auto", "true", "false"], BoolAsWord] = "auto"
    """Whether winter kit is needed; auto means when a duty meets frost by day or night."""

    @field_validator("asked", mode="before")
    @classmethod
    def _mapping(cls, entry: object) -> object:
        if isinstance(entry, dict):
            return entry
        raise EntryError(found(entry), "a mapping from slot to a list of tags", "generator: [quiet]")

    @field_validator("ranges", mode="before")
    @classmethod
    def _by_path(cls, entry: object) -> object:
        if isinstance(entry, dict):
            return entry
        advice = "winter attic.altitude: {from: 0 ft, to: 7000 ft}"
        raise EntryError(found(entry), "a mapping from a requirement to its range", advice)
