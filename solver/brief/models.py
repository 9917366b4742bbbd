"""What is asked, as the rules read it: flat, frozen, all figures in SI.

Contents: `Duty`, `Crew`, `Brief`, `Assumption`, `BriefEntry` (the file's whole mapping), `flatten`.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Annotated, Literal

from pydantic import Field, field_validator

from solver.brief.entries import (
    CrewEntry,
    DutyEntry,
    Limits,
    MaterialAboard,
    Unwanted,
)
from solver.brief.margins import Margins, Money
from solver.catalog.base import Record
from solver.catalog.fields import Flag, Label, Number, TagList
from solver.errors import EntryError
from solver.quantities import show


FREEZING = 273.15


@dataclass(frozen=True)
class Duty:
    """One situation that the rig must serve. SI: kg/s, m, K, s, W, VA; humidity as a share."""

    name: str
    material: str
    output: float | None
    board_feet_a_day: float | None
    hose_reach: float
    reach_parts: tuple[float, float, float] | None
    altitude: float
    coldest_air: float
    hottest_air: float
    humidity: float
    overnight_time: float
    warm_up_time: float
    spraying_time: float
    cleaning_time: float
    overnight_air: float
    keep_warm: float | None
    parking: str
    hose_inside: bool
    shore_power: float
    site_system: str
    site_power: float
    resupply: int
    tool_power: float


@dataclass(frozen=True)
class Crew:
    """Who works; `respirators` None means everybody."""

    sprayers: int
    helpers: int
    trimmers: int
    respirator: str
    respirators: int | None


@dataclass(frozen=True)
class Assumption:
    """A figure that the brief does not state, and on what it stands."""

    name: str
    value: str
    why: str


@dataclass(frozen=True)
class Brief:
    """The whole brief. `assumed` names what the file left to stated practice."""

    title: str
    story: str
    by: str
    materials: tuple[MaterialAboard, ...]
    crew: Crew
    duties: tuple[Duty, ...]
    limits: Limits
    margins: Margins
    money: Money
    outlets: int
    asked: Mapping[str, tuple[str, ...]]
    owned: tuple[str, ...]
    unwanted: Unwanted
    waived: tuple[str, ...]
    interlocks: tuple[str, ...]
    unheated_air_line: bool
    winter_said: bool | None
    defaults: tuple[Assumption, ...]

    @property
    def winter(self) -> bool:
        """Whether winter kit is needed: as the brief says, else when any duty meets frost by day or night."""
        if self.winter_said is not None:
            return self.winter_said
        return any(min(duty.coldest_air, duty.overnight_air) < FREEZING for duty in self.duties)

    def duty(self, name: str) -> Duty:
        """The duty of this name."""
        return next(duty for duty in self.duties if duty.name == name)

    def assumed(self) -> tuple[Assumption, ...]:
        """Every default used, so that it can be printed."""
        return self.defaults


class BriefEntry(Record):
    """The mapping of a brief's file."""

    title: Label
    """What the brief is called."""
    story: Annotated[str, Field(max_length=5000)] = ""
    """Who asks, and for what, in a few lines."""
    by: Literal["price", "weight", "yearly-cost"] = "price"
    """What is to be made least."""
    materials: tuple[MaterialAboard, ...]
    """Sets of material aboard at the start of a day."""
    crew: CrewEntry = CrewEntry()
    """Who works."""
    duties: tuple[DutyEntry, ...]
    """The situations that the rig must serve, all of them."""
    limits: Limits = Limits()
    """Upper limits."""
    margins: Margins = Margins()
    """What is kept in hand."""
    money: Money = Money()
    """Figures for start-up, loan and yearly cost."""
    outlets: Number = 2
    """Outlets wanted on the rig."""
    asked: Annotated[dict[str, tuple[str, ...]], Field()] = {}
    """Feature tags that the item of a slot must carry."""
    owned: Annotated[tuple[str, ...], Field()] = ()
    """Ids of items that the owner has: they are kept, at no price."""
    unwanted: Unwanted = Unwanted()
    """What is left out."""
    waived: Annotated[tuple[str, ...], Field()] = ()
    """Ids of practice rules that the owner waives."""
    interlocks: Annotated[tuple[Literal["drum-heat-after-hose", "compressor-after-warm-up"], ...], Field()] = ()
    """Loads that are kept off in warm-up."""
    unheated_air_line: Flag = False
    """Whether an air line runs outdoors without heat."""
    winter: Literal["auto", "true", "false"] = "auto"
    """Whether winter kit is needed; `auto`: when frost is met."""

    @field_validator("asked", mode="before")
    @classmethod
    def _lists(cls, value: object) -> object:
        if isinstance(value, dict) and all(isinstance(tags, list | tuple) for tags in value.values()):
            return {slot: tuple(tags) for slot, tags in value.items()}
        raise EntryError("something else", "a mapping from slot to a list of tags", "generator: [quiet]")


def flatten(entry: BriefEntry) -> Brief:
    """The flat form of a checked file."""
    crew = entry.crew
    duties = tuple(_duty(duty, entry.materials[0].material) for duty in entry.duties)
    return Brief(
        title=entry.title,
        story=" ".join(entry.story.split()),
        by=entry.by,
        materials=entry.materials,
        crew=Crew(crew.sprayers, crew.helpers, crew.trimmers, crew.respirator, crew.respirators),
        duties=duties,
        limits=entry.limits,
        margins=entry.margins,
        money=entry.money,
        outlets=entry.outlets,
        asked=entry.asked,
        owned=entry.owned,
        unwanted=entry.unwanted,
        waived=entry.waived,
        interlocks=entry.interlocks,
        unheated_air_line=entry.unheated_air_line,
        winter_said=None if entry.winter == "auto" else entry.winter == "true",
        defaults=tuple(_defaults(entry)),
    )


def _duty(entry: DutyEntry, first_material: str) -> Duty:
    air, reach, hours, night = entry.air_temperature, entry.hose_reach, entry.hours, entry.overnight
    parts = None if reach.distance is None else (reach.distance, reach.height, reach.slack)
    site = entry.site_supply
    return Duty(
        name=entry.name,
        material=entry.material or first_material,
        output=entry.output,
        board_feet_a_day=entry.board_feet_a_day,
        hose_reach=reach.total,
        reach_parts=parts,
        altitude=entry.altitude,
        coldest_air=air.coldest,
        hottest_air=air.hottest,
        humidity=entry.humidity,
        overnight_time=hours.overnight,
        warm_up_time=hours.warm_up,
        spraying_time=hours.spraying,
        cleaning_time=hours.cleaning,
        overnight_air=night.air if night.air is not None else air.coldest,
        keep_warm=night.keep_warm,
        parking=night.parking,
        hose_inside=night.hose_inside,
        shore_power=night.shore_power,
        site_system=site.system if site else "",
        site_power=site.power if site else 0.0,
        resupply=entry.resupply,
        tool_power=entry.tool_power,
    )


def _defaults(entry: BriefEntry) -> Iterator[Assumption]:
    for record in (entry.margins, entry.money):
        model = type(record)
        for name, info in model.model_fields.items():
            if name in record.model_fields_set:
                continue
            value = getattr(record, name)
            quantity = model.quantity(name)
            text = show(value, quantity.unit) if quantity else str(value).lower()
            yield Assumption(name.replace("_", " "), text, info.description or "")
