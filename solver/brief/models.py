"""What is asked, as the rules read it: flat, frozen, all figures in SI.

Contents: `Duty`, `Crew`, `Brief`; handed on from other files: `BriefEntry`, `MaterialAboard`, `Limits`, `Unwanted`,
`Margins`, `Money`, `Assumption`.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from difflib import get_close_matches
from functools import cached_property

from solver.brief.assumptions import Assumption, figures_of
from solver.brief.entries import BriefEntry, DutyEntry, Limits, MaterialAboard, RangeEntry, Unwanted
from solver.brief.margins import Margins, Money
from solver.errors import EntryError

FREEZING = 273.15

__all__ = ["Assumption", "Brief", "BriefEntry", "Crew", "Duty", "Limits", "Margins", "MaterialAboard", "Money",
           "Unwanted"]  # fmt: skip


@dataclass(frozen=True)
class Duty:
    """One situation that the rig must serve."""

    name: str
    """What people call it."""
    material: str
    """Id of the material sprayed."""
    output: float | None
    """Mass flow while the gun is open, both sides [kg/s]; None where it follows from `board_feet_a_day`."""
    board_feet_a_day: float | None
    """Board feet in the day's spraying hours; None where the output is said."""
    hose_reach: float
    """Length of hose needed, slack included [m]."""
    reach_parts: tuple[float, float, float] | None
    """Distance [m], height [m] and slack [share] that the reach was worked out from; None for a plain length."""
    altitude: float
    """Height of the site above sea level [m]."""
    coldest_air: float
    """Coldest outdoor air while the rig works [K]."""
    hottest_air: float
    """Hottest outdoor air while the rig works [K]."""
    humidity: float
    """Relative humidity of the outdoor air [share]."""
    overnight_time: float
    """Time parked [s]."""
    warm_up_time: float
    """From starting the machines to the first foam [s]."""
    spraying_time: float
    """Spraying time, pauses between triggers included [s]."""
    cleaning_time: float
    """Cleaning up [s]."""
    overnight_air: float
    """Air around the rig at night [K]; the coldest air where the brief does not say it."""
    keep_warm: float | None
    """Temperature held inside at night on shore power [K]; None where the body coasts."""
    parking: str
    """outdoors or indoors."""
    hose_inside: bool
    """Whether the hose spends the night inside the body."""
    shore_power: float
    """Power from the building at night [W]."""
    site_system: str
    """Supply system at the site, split or wye; empty where there is none."""
    site_power: float
    """Apparent power that the site supplies [VA]; 0 where it has none."""
    resupply: int
    """Further sets brought to the site during the day."""
    tool_power: float
    """Tools on the rig's outlets while spraying [W]."""


@dataclass(frozen=True)
class Crew:
    """Who works."""

    sprayers: int
    """People who spray."""
    helpers: int
    """People who move hose and mask."""
    trimmers: int
    """People who cut foam."""
    respirator: str
    """tight-fitting or loose-fitting."""
    respirators: int | None
    """Respirators in use at once; None means everybody."""


@dataclass(frozen=True)
class Brief:
    """The whole brief, a view of its checked file. It is changed only by `changed` and `requirements.with_value`."""

    entry: BriefEntry
    """The file's mapping, figures in SI."""

    @property
    def title(self) -> str:
        """What the brief is called."""
        return self.entry.title

    @cached_property
    def story(self) -> str:
        """Who asks, and for what, on one line."""
        return " ".join(self.entry.story.split())

    @property
    def by(self) -> str:
        """What is to be made least: price, weight or yearly-cost."""
        return self.entry.by

    @property
    def materials(self) -> tuple[MaterialAboard, ...]:
        """Sets of material aboard at the start of a day."""
        return self.entry.materials

    @cached_property
    def crew(self) -> Crew:
        """Who works."""
        crew = self.entry.crew
        return Crew(crew.sprayers, crew.helpers, crew.trimmers, crew.respirator, crew.respirators)

    @cached_property
    def duties(self) -> tuple[Duty, ...]:
        """The situations that the rig must serve, all of them."""
        return tuple(_duty(duty, self.entry.materials[0].material) for duty in self.entry.duties)

    @property
    def limits(self) -> Limits:
        """Upper limits."""
        return self.entry.limits

    @property
    def margins(self) -> Margins:
        """What is kept in hand."""
        return self.entry.margins

    @property
    def money(self) -> Money:
        """Figures for start-up, loan and yearly cost."""
        return self.entry.money

    @property
    def ranges(self) -> Mapping[str, RangeEntry]:
        """Requirements given as ranges, by path, as the file has them. `ranges_of` gives them in SI."""
        return self.entry.ranges

    @property
    def outlets(self) -> int:
        """Outlets wanted on the rig."""
        return self.entry.outlets

    @property
    def asked(self) -> Mapping[str, tuple[str, ...]]:
        """Per slot the feature tags that its item must carry."""
        return self.entry.asked

    @property
    def owned(self) -> tuple[str, ...]:
        """Ids of items that are kept at no price."""
        return self.entry.owned

    @property
    def unwanted(self) -> Unwanted:
        """What is left out."""
        return self.entry.unwanted

    @property
    def waived(self) -> tuple[str, ...]:
        """Ids of practice rules that the owner waives."""
        return self.entry.waived

    @property
    def interlocks(self) -> tuple[str, ...]:
        """Loads that are kept off in warm-up."""
        return self.entry.interlocks

    @property
    def unheated_air_line(self) -> bool:
        """Whether an air line runs outdoors without heat."""
        return self.entry.unheated_air_line

    @property
    def winter_said(self) -> bool | None:
        """Whether winter kit is needed, as the file says; None where it leaves that open."""
        return {"true": True, "false": False}.get(self.entry.winter)

    @cached_property
    def winter(self) -> bool:
        """Whether winter kit is needed: as the brief says, else when any duty meets frost by day or night."""
        if self.winter_said is not None:
            return self.winter_said
        return any(min(duty.coldest_air, duty.overnight_air) < FREEZING for duty in self.duties)

    def duty(self, name: str) -> Duty:
        """The duty of this name; EntryError if there is none."""
        for duty in self.duties:
            if duty.name == name:
                return duty
        names = [duty.name for duty in self.duties]
        near = get_close_matches(name, names, 1, 0.4)
        raise EntryError(f'duty "{name}"', f"one of the duties {', '.join(names)}", near[0] if near else "")

    def assumed(self) -> tuple[Assumption, ...]:
        """Every default used, so that it can be printed."""
        return tuple(figure for figure, said in figures_of(self.entry) if not said)

    def stated(self) -> tuple[Assumption, ...]:
        """Every figure that the file itself states, where it could have left it to a default."""
        return tuple(figure for figure, said in figures_of(self.entry) if said)

    def changed(self, **keys: object) -> Brief:
        """The brief with some of the file's keys replaced, checked anew: `brief.changed(by="weight", waived=())`."""
        data = self.entry.model_dump(by_alias=True, exclude_unset=True)
        return Brief(BriefEntry.model_validate({**data, **keys}))

    def without_duty(self, name: str) -> Brief:
        """The brief with one of several duties declined."""
        self.duty(name)
        data = self.entry.model_dump(by_alias=True, exclude_unset=True)
        rest = [duty for duty in data["duties"] if duty["name"] != name]
        if not rest:
            raise EntryError(f'only the duty "{name}"', "a duty that is left when this one is declined")
        return self.changed(duties=rest)


def _duty(entry: DutyEntry, first_material: str) -> Duty:
    air, reach, hours, night = entry.air_temperature, entry.hose_reach, entry.hours, entry.overnight
    site = entry.site_supply
    return Duty(
        name=entry.name,
        material=entry.material or first_material,
        output=entry.output,
        board_feet_a_day=entry.board_feet_a_day,
        hose_reach=reach.total,
        reach_parts=None if reach.distance is None else (reach.distance, reach.height, reach.slack),
        altitude=entry.altitude,
        coldest_air=air.coldest,
        hottest_air=air.hottest,
        humidity=entry.humidity,
        overnight_time=hours.overnight,
        warm_up_time=hours.warm_up,
        spraying_time=hours.spraying,
        cleaning_time=hours.cleaning,
        overnight_air=air.coldest if night.air is None else night.air,
        keep_warm=night.keep_warm,
        parking=night.parking,
        hose_inside=night.hose_inside,
        shore_power=night.shore_power,
        site_system=site.system if site else "",
        site_power=site.power if site else 0.0,
        resupply=entry.resupply,
        tool_power=entry.tool_power,
    )
