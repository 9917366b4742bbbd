"""How a load is wired: supply systems, the connections each gives, and the legs that a load can sit on.

Contents: `Wiring`, `WIRINGS` (connection and system to the ways of wiring), `wirings_of`.

A leg share is the part of the load's apparent power that flows in that leg: V(leg to neutral) x I / S. A single-phase
load between two legs of a 208Y/120 V system draws S / 208 V in each, hence 120/208 of its apparent power on both.
References: power relations of three-phase circuits; systems as commonly built (common practice, no source).
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import sqrt

SYSTEMS: tuple[str, ...] = ("split", "wye")
SYSTEM_TITLES: dict[str, str] = {"split": "single-phase 120/240 V", "wye": "three-phase 208Y/120 V"}
_THIRD, _PAIR = 1.0 / 3.0, 1.0 / sqrt(3.0)


@dataclass(frozen=True)
class Wiring:
    """One way of connecting a load: system, volts, phases, and the share of its kVA on each leg."""

    system: str
    voltage: float
    phases: int
    legs: tuple[float, float, float]
    text: str


UNWIRED = Wiring("", 240.0, 1, (0.0, 0.0, 0.0), "")
"""For items that draw no electricity: a voltage is kept so that no formula divides by zero; their power is zero."""

WIRINGS: dict[tuple[str, str], tuple[Wiring, ...]] = {
    ("120 V", "split"): (
        Wiring("split", 120.0, 1, (1.0, 0.0, 0.0), "120 V, leg A"),
        Wiring("split", 120.0, 1, (0.0, 1.0, 0.0), "120 V, leg B"),
    ),
    ("240 V", "split"): (Wiring("split", 240.0, 1, (0.5, 0.5, 0.0), "240 V single-phase"),),
    ("120 V", "wye"): (
        Wiring("wye", 120.0, 1, (1.0, 0.0, 0.0), "120 V, leg A of three"),
        Wiring("wye", 120.0, 1, (0.0, 1.0, 0.0), "120 V, leg B of three"),
        Wiring("wye", 120.0, 1, (0.0, 0.0, 1.0), "120 V, leg C of three"),
    ),
    ("240 V", "wye"): (
        Wiring("wye", 208.0, 1, (_PAIR, _PAIR, 0.0), "208 V single-phase, legs A-B"),
        Wiring("wye", 208.0, 1, (0.0, _PAIR, _PAIR), "208 V single-phase, legs B-C"),
        Wiring("wye", 208.0, 1, (_PAIR, 0.0, _PAIR), "208 V single-phase, legs C-A"),
    ),
    ("3-phase", "wye"): (Wiring("wye", 208.0, 3, (_THIRD, _THIRD, _THIRD), "208 V three-phase"),),
}


def wirings_of(connections: Iterable[str], fixed_leg: int | None = None) -> tuple[Wiring, ...]:
    """Every way of wiring a load with these connections, by system; with `fixed_leg` only that one of the leg choices.

    The largest load keeps one fixed leg pair: turning all legs round changes nothing, so the other pairs are copies.
    """
    found: list[Wiring] = []
    for system in SYSTEMS:
        for connection in connections:
            ways = WIRINGS.get((connection, system), ())
            if fixed_leg is not None and len(ways) > 1:
                ways = (ways[fixed_leg % len(ways)],)
            found.extend(ways)
    return tuple(found) or (UNWIRED,)
