"""Which rule and which slot belongs to which part of the page.

Contents: `Subject`, `SUBJECTS` (of balances), `subject_of`; `SHARES` (groups of slots for money and weight), `group_of`;
`MAIN` and `KIT` (lines of the shopping list), `slot_words`.
"""

from __future__ import annotations

from dataclasses import dataclass

from solver.options.slots import ACCESSORY_CLASSES


@dataclass(frozen=True)
class Subject:
    """One subject of the balance picture: an id for links, its title, and the rules in it by the start of their ids."""

    id: str
    title: str
    rules: tuple[str, ...]


SUBJECTS: tuple[Subject, ...] = (
    Subject("air", "Air", ("AIR-", "RESP-02", "RESP-06")),
    Subject("electricity", "Electricity", ("PWR-01", "PWR-02", "PWR-03", "PWR-05", "PWR-07", "PWR-09", "PWR-10", "PWR-12")),
    Subject("fuel", "Fuel", ("PWR-06",)),
    Subject("heat", "Heat", ("HEAT-",)),
    Subject("hose", "Hose", ("HOSE-", "RESP-05")),
    Subject("material", "Material", ("MAT-",)),
    Subject("weight", "Weight", ("WT-",)),
    Subject("floor", "Floor", ("FIT-",)),
    Subject("budget", "Budget and time", ("MONEY-", "ASK-")),
)
"""Order of the page. A rule that no subject names is shown under "Other"."""
OTHER = Subject("other", "Other", ())


def subject_of(rule: str) -> Subject:
    """The subject of a rule."""
    return next((s for s in SUBJECTS if any(rule.startswith(start) for start in s.rules)), OTHER)


SHARES: tuple[tuple[str, tuple[str, ...]], ...] = (
    ("proportioner, hose and gun", ("proportioner", "hose", "gun")),
    ("drums and their pumps", ("feed_pump_a", "feed_pump_b", "drum_mixer", "drum_dryer", "circulation_set", "drum_heater")),
    ("compressed and breathing air", ("compressor", "receiver", "air_dryer", "breathing_air")),
    ("electricity", ("generator", "fuel_tank", "lighting")),
    ("heating and cooling of the body", ("body_heater", "body_cooler", "ventilation_fan")),
    ("fit-out", ("fit_out",)),
    ("vehicle", ("vehicle",)),
    ("tow vehicle", ("tow_vehicle",)),
)
"""Groups of slots for money and weight; what is in none is kit."""
KIT_GROUP = "safety, tools, spares, winter kit"


def group_of(slot: str) -> str:
    """The group of a slot."""
    return next((title for title, slots in SHARES if slot in slots), KIT_GROUP)


KIT_TITLES: tuple[tuple[str, str], ...] = (
    ("safety_item", "Safety"), ("tool", "Tools"), ("spare_part", "Spare parts"), ("winter_kit", "Winter kit"),
)  # fmt: skip
"""Classes of the rest of the start-up list."""


def is_kit(item_class: str) -> bool:
    """Whether a line belongs to the rest of the start-up list."""
    return item_class in ACCESSORY_CLASSES


def slot_words(slot: str, item_class: str) -> str:
    """A slot in words; a yes/no slot is called by its class."""
    words = (item_class if is_kit(item_class) else slot).replace("_", " ")
    return words[:-2] + f" {words[-1].upper()}" if words.startswith("feed pump ") else words
