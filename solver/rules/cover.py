"""Things that must be aboard: safety, tools, spare parts, winter kit; each covered by any yes/no item that provides it.

Contents: `Wanted`, `WANTED` (the list as data), `is_winter`; rules SAFE-01.., TOOL-01.., SPARE-01.., WINTER-01...
Each thing is a rule of its own, so that the owner can waive a ladder without waiving the gloves.
"""

from __future__ import annotations

from dataclasses import dataclass

from solver.options.slots import ACCESSORY_CLASSES
from solver.rules.case import Case
from solver.rules.record import ONCE, Basis, Effect, Rule, Words, declare, need, supply

PRACTICE = "common practice, no source"
_LAW, _CUSTOM = Basis.REGULATION, Basis.PRACTICE


@dataclass(frozen=True)
class Wanted:
    """One thing that must be aboard: the tag by which items provide it, its name, and who says so."""

    id: str
    tag: str
    name: str
    basis: Basis = _CUSTOM
    source: str = PRACTICE
    winter: bool = False
    note: str = ""


WANTED: tuple[Wanted, ...] = (
    Wanted(
        "SAFE-01", "eyewash", "eyewash", _LAW,
        "29 CFR 1910.151(c), from memory; ANSI/ISEA Z358.1: 0.4 gal/min for 15 minutes at 60-100 degF (quoted)",
        note="The volume of water is left to the item's data.",
    ),
    Wanted("SAFE-02", "extinguisher", "fire extinguisher", _LAW, "29 CFR 1910.157(d) (quoted)"),
    Wanted("SAFE-03", "first-aid", "first-aid kit", _LAW, "29 CFR 1910.151(b), from memory"),
    Wanted("SAFE-04", "hearing-protection", "hearing protection", _LAW, "29 CFR 1910.95"),
    Wanted("SAFE-05", "gloves", "set of gloves", _LAW, "29 CFR 1910.138, from memory"),
    Wanted("SAFE-06", "coveralls", "set of coveralls", _LAW, "29 CFR 1910.132, from memory"),
    Wanted(
        "SAFE-07", "full-face-respirator", "set of full-face respirators", _LAW, "29 CFR 1910.134; 29 CFR 1910.1000",
        note="How many the crew needs is judged by the breathing air.",
    ),
    Wanted("SAFE-08", "warning-signs", "set of warning signs"),
    Wanted(
        "SAFE-09", "eyewash-frost-proof", "eyewash that is proof against frost", winter=True,
        note="ANSI/ISEA Z358.1 asks for water at 60-100 degF; by which means is practice.",
    ),
    Wanted("TOOL-01", "hand-tools", "set of hand tools"),
    Wanted("TOOL-02", "gun-cleaning", "gun cleaning set"),
    Wanted("TOOL-03", "thickness-gauge", "thickness gauge"),
    Wanted("TOOL-04", "drum-tools", "set of drum tools"),
    Wanted("TOOL-05", "scraper-knives", "set of scrapers and knives"),
    Wanted("TOOL-06", "ladder", "ladder"),
    Wanted("SPARE-01", "gun-rebuild", "rebuild kit for the gun"),
    Wanted("SPARE-02", "feed-pump-rebuild", "rebuild kit for the feed pumps"),
    Wanted("SPARE-03", "hose-couplings", "set of hose couplings"),
    Wanted("SPARE-04", "filter-screens", "set of filter screens"),
    Wanted("SPARE-05", "fuses", "set of fuses"),
    Wanted("WINTER-01", "drum-insulation", "set of insulating drum jackets", winter=True),
    Wanted("WINTER-02", "hose-cover", "hose cover", winter=True),
    Wanted("WINTER-03", "antifreeze-wash", "antifreeze wash", winter=True),
)  # fmt: skip
"""Everything that must be aboard."""


def is_winter(c: Case) -> bool:
    """Whether winter kit is asked for: by the brief, or, where that leaves it open, because a duty meets frost."""
    if c.brief.winter_said is None:
        c.note("coldest_air", "overnight_air")
    return c.brief.winter


def _always(c: Case) -> bool:
    return True


def _aboard(wanted: Wanted) -> Rule:
    """The rule that one thing is aboard."""
    name = wanted.name
    season = " in winter" if wanted.winter else ""
    return Rule(
        id=wanted.id,
        title=f"{name} aboard{season}",
        unit="1",
        basis=wanted.basis,
        source=wanted.source,
        scope=ONCE,
        words=Words(
            fits=f"Aboard: {name}.",
            fails=f"Missing{season}: {name}.",
            binds=f"The rig must have aboard{season}: {name}.",
        ),
        terms=(
            need(None, "must be aboard", lambda o, c: 1.0),
            supply(ACCESSORY_CLASSES, f"provides {wanted.tag}", lambda o, c: o.has(wanted.tag)),
        ),
        effects={"coldest_air": Effect.EASES, "overnight_air": Effect.EASES} if wanted.winter else {},
        when=is_winter if wanted.winter else _always,
        note=wanted.note,
    )


for _wanted in WANTED:
    declare(_aboard(_wanted))
