"""Lists of things that must be aboard: safety, tools, spare parts, winter kit; each thing covered by any yes/no item that
provides it.

Contents: `Wanted`, `KitList`, `KITS` (the lists as data), `is_winter`; rules SAFE-01 to SAFE-03, TOOL-01, SPARE-01,
WINTER-01. A list is one rule with a part for each thing: so an explanation says once what a list costs, and the owner
waives a list that is practice as a whole.
"""

from __future__ import annotations

from dataclasses import dataclass

from solver.options.slots import ACCESSORY_CLASSES
from solver.rules.case import Case
from solver.rules.record import ONCE, Basis, Effect, Part, Rule, Words, declare, need, supply

PRACTICE = "common practice, no source"


@dataclass(frozen=True)
class Wanted:
    """One thing that must be aboard: the tag by which items provide it, and its name."""

    tag: str
    name: str


@dataclass(frozen=True)
class KitList:
    """Things that stand on one list: its rule's id and title, who says so, and whether it holds in winter only."""

    id: str
    title: str
    things: tuple[Wanted, ...]
    basis: Basis = Basis.PRACTICE
    source: str = PRACTICE
    winter: bool = False
    note: str = ""


KITS: tuple[KitList, ...] = (
    KitList(
        "SAFE-01", "safety equipment aboard", (
            Wanted("eyewash", "eyewash"), Wanted("extinguisher", "fire extinguisher"), Wanted("first-aid", "first-aid kit"),
            Wanted("hearing-protection", "hearing protection"), Wanted("gloves", "gloves"),
            Wanted("coveralls", "coveralls"), Wanted("full-face-respirator", "full-face respirators"),
        ),
        Basis.REGULATION,
        "29 CFR 1910.151(b) and (c), from memory, and ANSI/ISEA Z358.1 (quoted): first aid and eyewash; 1910.157(d) "
        "(quoted): extinguisher; 1910.95: hearing; 1910.132 and 1910.138, from memory: coveralls and gloves; 1910.134, from "
        "memory, and 1910.1000: respirators",
        note="The volume of eyewash water and the size of the extinguisher are left to the items' data; how many "
             "respirators the crew needs is judged by the breathing air.",
    ),
    KitList("SAFE-02", "warning signs aboard", (Wanted("warning-signs", "warning signs"),)),
    KitList(
        "SAFE-03", "eyewash proof against frost in winter",
        (Wanted("eyewash-frost-proof", "eyewash that is proof against frost"),), winter=True,
        note="ANSI/ISEA Z358.1 asks for water at 60-100 degF; by which means is practice.",
    ),
    KitList("TOOL-01", "tools aboard", (
        Wanted("hand-tools", "hand tools"), Wanted("gun-cleaning", "gun cleaning set"),
        Wanted("thickness-gauge", "thickness gauge"), Wanted("drum-tools", "drum tools"),
        Wanted("scraper-knives", "scrapers and knives"), Wanted("ladder", "ladder"),
    )),
    KitList("SPARE-01", "spare parts aboard", (
        Wanted("gun-rebuild", "rebuild kit for the gun"), Wanted("feed-pump-rebuild", "rebuild kit for the feed pumps"),
        Wanted("hose-couplings", "hose couplings"), Wanted("filter-screens", "filter screens"), Wanted("fuses", "fuses"),
    )),
    KitList("WINTER-01", "winter kit aboard", (
        Wanted("drum-insulation", "insulating drum jackets"), Wanted("hose-cover", "hose cover"),
        Wanted("antifreeze-wash", "antifreeze wash"),
    ), winter=True),
)  # fmt: skip
"""Every list, with everything that must be aboard."""


def is_winter(c: Case) -> bool:
    """Whether winter kit is asked for: by the brief, or, where that leaves it open, because a duty meets frost."""
    if c.brief.winter_said is None:
        c.note("coldest_air", "overnight_air")
    return c.brief.winter


def _always(c: Case) -> bool:
    return True


def _part(wanted: Wanted) -> Part:
    return Part(
        wanted.name,
        (
            need(None, f"{wanted.name}: must be aboard", lambda o, c: 1.0),
            supply(ACCESSORY_CLASSES, f"provides {wanted.tag}", lambda o, c: o.has(wanted.tag)),
        ),
    )


def _aboard(kit: KitList) -> Rule:
    """The rule that everything on a list is aboard."""
    season = " in winter" if kit.winter else ""
    return Rule(
        id=kit.id,
        title=kit.title,
        unit="1",
        basis=kit.basis,
        source=kit.source,
        scope=ONCE,
        words=Words(
            fits="Aboard: {part}.",
            fails=f"Missing{season}: {{part}}.",
            binds=f"What the list asks for{season} must be bought: {', '.join(thing.name for thing in kit.things)}.",
        ),
        parts=tuple(_part(wanted) for wanted in kit.things),
        effects={"coldest_air": Effect.EASES, "overnight_air": Effect.EASES} if kit.winter else {},
        when=is_winter if kit.winter else _always,
        note=kit.note,
    )


for _kit in KITS:
    declare(_aboard(_kit))
