"""The requirements as data: every number of a brief that a person may change, or that the site sets.

Contents: `Kind`, `Direction`, `Requirement`, `REQUIREMENTS`. `requirements.py` has what is done with them.

A requirement is one record: its kind (a wish and a limit can be changed, a margin with a caution, a site fact never),
its unit, the grid on which it is stepped, the finest amount that means something, the direction in which it gets
easier, and the ends of what is admissible. Steps, curves, repairs and what-ifs stand on these records.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from enum import Enum
from math import floor
from types import MappingProxyType


class Kind(Enum):
    """What a requirement is to the owner."""

    WISH = "wish"
    LIMIT = "limit"
    MARGIN = "margin"
    SITE = "site fact"


class Direction(Enum):
    """The direction in which a requirement gets easier to meet; EITHER where both ways can help."""

    LOWER = "lower"
    HIGHER = "higher"
    EITHER = "either"


@dataclass(frozen=True)
class Requirement:
    """One number of the brief."""

    id: str
    """Its name; for a duty also the attribute of `Duty`."""
    title: str
    """Its name in words."""
    kind: Kind
    """Wish, limit, margin or site fact."""
    duty: bool
    """Whether every duty has its own."""
    unit: str
    """Unit of the four figures below, and of display."""
    step: float
    """Step of its grid."""
    resolution: float
    """Finest amount that means something."""
    easier: Direction
    """The way in which it gets easier to meet."""
    least: float
    """Lower end of what is admissible in a search; a brief may go beyond it."""
    most: float
    """Upper end of what is admissible in a search."""
    where: tuple[str | int, ...]
    """Keys that lead to it in the file, from the top or from its duty."""

    @property
    def scope(self) -> str:
        """`duty` or `brief`."""
        return "duty" if self.duty else "brief"

    @property
    def whole(self) -> bool:
        """Whether it is a count."""
        return self.unit == "1"

    def grid(self) -> tuple[float, ...]:
        """The figures on its grid, in its unit, from `least` to `most`."""
        count = floor((self.most - self.least) / self.step + 1e-9)
        return tuple(round(self.least + k * self.step, 9) for k in range(count + 1))


_LOWER, _HIGHER, _EITHER = Direction.LOWER, Direction.HIGHER, Direction.EITHER
_FOUND: dict[str, Requirement] = {}
REQUIREMENTS: Mapping[str, Requirement] = MappingProxyType(_FOUND)
"""Every requirement by its id."""

_PLACES: dict[str, tuple[str | int, ...]] = {
    "warm_up_time": ("hours", "warm-up"),
    "spraying_time": ("hours", "spraying"),
    "cleaning_time": ("hours", "cleaning"),
    "overnight_time": ("hours", "overnight"),
    "coldest_air": ("air_temperature", "coldest"),
    "hottest_air": ("air_temperature", "hottest"),
    "overnight_air": ("overnight", "air"),
    "shore_power": ("overnight", "shore_power"),
    "site_power": ("site_supply", "power"),
    "sets": ("materials", 0, "sets"),
}
"""Where a requirement stands in the file, if not under its own id."""


def _add(
    kind: Kind, duty: bool, holder: str, *rows: tuple[str, str, str, float, float, Direction, float, float]
) -> None:
    for name, title, unit, step, resolution, easier, least, most in rows:
        where = _PLACES.get(name, (holder, name) if holder else (name,))
        _FOUND[name] = Requirement(name, title, kind, duty, unit, step, resolution, easier, least, most, where)


_add(Kind.WISH, True, "",
     ("output", "output", "lb/min", 0.5, 0.1, _LOWER, 4, 45),
     ("hose_reach", "hose reach", "ft", 5, 1, _LOWER, 25, 330),
     ("warm_up_time", "warm-up time", "h", 0.25, 0.05, _HIGHER, 0.25, 6),
     ("spraying_time", "spraying time", "h", 0.5, 0.1, _EITHER, 0.5, 12),
     ("cleaning_time", "cleaning time", "h", 0.25, 0.05, _EITHER, 0, 3),
     ("tool_power", "tool power", "kW", 0.2, 0.05, _EITHER, 0, 6),
     ("resupply", "sets brought to the site", "1", 1, 1, _HIGHER, 0, 10))  # fmt: skip
_add(Kind.WISH, False, "crew",
     ("sprayers", "sprayers", "1", 1, 1, _LOWER, 1, 4),
     ("helpers", "helpers", "1", 1, 1, _LOWER, 0, 4),
     ("trimmers", "trimmers", "1", 1, 1, _LOWER, 0, 4),
     ("respirators", "respirators", "1", 1, 1, _LOWER, 1, 8))  # fmt: skip
_add(Kind.WISH, False, "",
     ("sets", "sets of material aboard", "1", 1, 1, _EITHER, 1, 10),
     ("outlets", "outlets", "1", 1, 1, _LOWER, 0, 12))  # fmt: skip
_add(Kind.LIMIT, True, "",
     ("shore_power", "shore power", "kW", 0.5, 0.1, _HIGHER, 0, 20),
     ("site_power", "site supply", "kVA", 1, 0.1, _HIGHER, 1, 60))  # fmt: skip
_add(Kind.LIMIT, False, "limits",
     ("budget", "budget", "USD", 500, 1, _HIGHER, 10_000, 500_000),
     ("combined_rating", "combined rating", "lb", 500, 10, _HIGHER, 6000, 45_000),
     ("trailer_rating", "trailer rating", "lb", 500, 10, _HIGHER, 3000, 25_000),
     ("upkeep_time", "upkeep time a year", "h", 5, 1, _HIGHER, 20, 600),
     ("parts_time", "wait for parts", "day", 1, 1, _HIGHER, 1, 90),
     ("delivery_time", "wait for delivery", "week", 1, 1, _HIGHER, 1, 60))  # fmt: skip
_add(Kind.MARGIN, False, "margins",
     ("trigger_share", "trigger share", "%", 5, 1, _EITHER, 20, 100),
     ("air_share", "running share of the compressor", "%", 5, 1, _HIGHER, 40, 100),
     ("filter_drop", "pressure lost in filters", "psi", 1, 0.5, _LOWER, 0, 20),
     ("pressure_band", "pressure band of the receiver", "psi", 5, 1, _HIGHER, 10, 60),
     ("peak_time", "time of the peak", "min", 0.25, 0.05, _LOWER, 0, 5),
     ("blow_time", "time of blowing off", "min", 0.25, 0.05, _LOWER, 0, 5),
     ("least_receiver", "least receiver", "gal", 5, 1, _LOWER, 0, 120),
     ("gun_air_design", "design air of the gun line", "scfm", 0.5, 0.1, _EITHER, 1, 12),
     ("dryer_dew_point", "design dew point of the dryer", "degF", 1, 0.5, _HIGHER, 35, 50),
     ("power_margin", "apparent power kept free", "%", 5, 1, _LOWER, 0, 40),
     ("engine_margin", "engine power kept free", "%", 5, 1, _LOWER, 0, 40),
     ("voltage_dip", "voltage dip", "%", 5, 1, _HIGHER, 10, 35),
     ("start_power_factor", "power factor of a starting motor", "%", 5, 1, _LOWER, 20, 80),
     ("start_overload", "short-time engine power", "%", 5, 1, _HIGHER, 100, 120),
     ("least_load", "least load of the set", "%", 5, 1, _LOWER, 0, 50),
     ("fuel_reserve", "fuel reserve", "%", 5, 1, _LOWER, 0, 40),
     ("fuel_slope", "fuel for each kWh", "gal/kWh", 0.005, 0.001, _LOWER, 0.05, 0.1),
     ("fuel_density", "density of fuel", "lb/gal", 0.05, 0.01, _LOWER, 6.7, 7.3),
     ("hitch_share", "hitch share, conventional", "%", 1, 0.5, _LOWER, 10, 20),
     ("gooseneck_share", "hitch share, gooseneck", "%", 1, 0.5, _LOWER, 15, 30),
     ("floor_factor", "floor factor", "%", 5, 1, _LOWER, 100, 150),
     ("aisle_width", "aisle", "in", 2, 1, _LOWER, 0, 48),
     ("pump_distance", "breathing pump towards the work", "ft", 10, 5, _HIGHER, 0, 150),
     ("crew_weight", "weight of a person", "lb", 10, 1, _LOWER, 120, 300),
     ("body_floor", "least temperature inside", "degF", 5, 1, _EITHER, 40, 80),
     ("body_ceiling", "highest temperature inside", "degF", 5, 1, _EITHER, 80, 120),
     ("evening_temperature", "temperature of the drums in the evening", "degF", 5, 1, _HIGHER, 40, 90),
     ("drum_target", "temperature of heated drums", "degF", 5, 1, _EITHER, 60, 100),
     ("drum_hold_share", "holding share of drum heaters", "%", 5, 1, _EITHER, 0, 100),
     ("hose_margin", "sag of the hose temperature", "delta_degF", 1, 0.5, _LOWER, 0, 25),
     ("dew_margin", "margin of the dew point", "delta_degF", 1, 0.5, _LOWER, 0, 30),
     ("heater_efficiency", "efficiency of the heaters", "%", 1, 0.5, _HIGHER, 80, 100))  # fmt: skip
_add(Kind.SITE, True, "",
     ("altitude", "altitude", "ft", 500, 100, _EITHER, 0, 11_000),
     ("coldest_air", "coldest air", "degF", 5, 1, _EITHER, -40, 110),
     ("hottest_air", "hottest air", "degF", 5, 1, _EITHER, -20, 125),
     ("humidity", "humidity", "%", 5, 1, _LOWER, 5, 100),
     ("overnight_air", "air at night", "degF", 5, 1, _HIGHER, -40, 100),
     ("overnight_time", "length of the night", "h", 1, 0.25, _EITHER, 6, 20))  # fmt: skip
