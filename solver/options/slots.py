"""The slots of a rig: which class fills each, and whether it may stay empty.

Contents: `Slot`, `FIXED_SLOTS` (the order is part of the answer: ties fall to the earlier slot), `ACCESSORY_CLASSES`
(each item of these is a yes/no slot of its own), `slots_of`.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass


@dataclass(frozen=True)
class Slot:
    """A place in the rig that takes exactly one option."""

    name: str
    item_class: str
    optional: bool = False
    item: str | None = None
    """For a yes/no slot: the one item that it takes or leaves."""

    @property
    def title(self) -> str:
        """The slot's name in words."""
        return self.name.replace("_", " ")


FIXED_SLOTS: tuple[Slot, ...] = (
    Slot("proportioner", "proportioner"),
    Slot("hose", "hose"),
    Slot("gun", "gun"),
    Slot("feed_pump_a", "feed_pump"),
    Slot("feed_pump_b", "feed_pump"),
    Slot("drum_mixer", "drum_mixer", optional=True),
    Slot("drum_dryer", "drum_dryer", optional=True),
    Slot("circulation_set", "circulation_set", optional=True),
    Slot("compressor", "compressor"),
    Slot("receiver", "receiver", optional=True),
    Slot("air_dryer", "air_dryer", optional=True),
    Slot("generator", "generator", optional=True),
    Slot("fuel_tank", "fuel_tank", optional=True),
    Slot("breathing_air", "breathing_air", optional=True),
    Slot("drum_heater", "drum_heater", optional=True),
    Slot("body_heater", "body_heater", optional=True),
    Slot("body_cooler", "body_cooler", optional=True),
    Slot("ventilation_fan", "ventilation_fan", optional=True),
    Slot("lighting", "lighting"),
    Slot("fit_out", "fit_out"),
    Slot("vehicle", "vehicle"),
    Slot("tow_vehicle", "tow_vehicle", optional=True),
)

ACCESSORY_CLASSES: tuple[str, ...] = ("safety_item", "tool", "spare_part", "winter_kit")


def slots_of(accessories: Iterable[tuple[str, str]]) -> tuple[Slot, ...]:
    """All slots of a catalog: the fixed ones, then one per accessory given as (class, item id)."""
    extra = sorted(accessories, key=lambda pair: ACCESSORY_CLASSES.index(pair[0]))
    return FIXED_SLOTS + tuple(Slot(item, item_class, optional=True, item=item) for item_class, item in extra)
