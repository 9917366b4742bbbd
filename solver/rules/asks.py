"""What the owner asks of the items chosen: features, and time for parts, upkeep and delivery.

Contents: `carries` (whether an option has a feature), ASK-01 features, ASK-02 parts, ASK-03 upkeep, ASK-04 delivery.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from solver.options.table import SlotOptions
from solver.rules.case import Case
from solver.rules.record import EVERY, ONCE, Basis, Effect, Part, Rule, TermFunction, Words, declare, need, supply

FEATURE_WORDS = ("condition", "drive")
"""Fields in words whose values serve as features beside the tags: new, used, electric, hydraulic, air."""


def carries(table: SlotOptions, feature: str) -> TermFunction:
    """A term that is above 0 where an option has the feature as a tag or as one of its words, else 0."""
    fields = tuple(name for name in FEATURE_WORDS if feature in table.words.get(name, ()))

    def of(o: Any, c: Case) -> Any:
        return sum((o.is_(name, feature) for name in fields), o.has(feature))

    return of


def _asked(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return tuple(
        Part(
            f"{slots[slot].slot.title}: {feature}",
            (need(None, "asked for", lambda o, c: 1.0), supply(slot, f"has {feature}", carries(slots[slot], feature))),
        )
        for slot, features in c.brief.asked.items()
        for feature in features
    )


declare(Rule(
    id="ASK-01",
    title="features asked for",
    unit="1",
    basis=Basis.BRIEF,
    source="the brief",
    scope=ONCE,
    words=Words(
        fits="As asked for, {part}.",
        fails="Asked for and not there: {part}.",
        binds="The brief asks for {part}.",
    ),
    parts=_asked,
    note="A slot that stays empty has no feature: asking for one fills the slot.",
))  # fmt: skip


def _parts_of(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return tuple(
        Part(table.slot.title, (need(name, "days until spare parts arrive", lambda o, c: o.parts),))
        for name, table in slots.items()
        if table.slot.item is None
    )


declare(Rule(
    id="ASK-02",
    title="spare parts arrive in time",
    unit="day",
    basis=Basis.BRIEF,
    source="limit of the brief; times from the catalog",
    scope=ONCE,
    words=Words(
        fits="Parts for the {part} arrive in {need}, {supply} are allowed: {margin} to spare.",
        fails="Parts for the {part} take {need}, {supply} are allowed: {short} too long.",
        binds="Parts for the {part} must arrive within {supply}.",
    ),
    terms=(supply(None, "limit of the brief", lambda o, c: c.limit("parts_time")),),
    parts=_parts_of,
    effects={"parts_time": Effect.EASES},
    when=lambda c: c.has_limit("parts_time"),
    note="The small kit (safety, tools, spares, winter) is left out: it is replaced, not mended.",
))  # fmt: skip

declare(Rule(
    id="ASK-03",
    title="upkeep in a year",
    unit="h",
    basis=Basis.BRIEF,
    source="limit of the brief; hours from the catalog",
    scope=ONCE,
    words=Words(
        fits="Upkeep takes {need} of the {supply} allowed in a year: {margin} to spare.",
        fails="Upkeep takes {need} in a year, {supply} are allowed: {short} too much.",
        binds="The time for upkeep decides which items are simple enough.",
    ),
    terms=(
        need(EVERY, "upkeep in a year", lambda o, c: o.upkeep_time),
        supply(None, "limit of the brief", lambda o, c: c.limit("upkeep_time")),
    ),
    effects={"upkeep_time": Effect.EASES},
    when=lambda c: c.has_limit("upkeep_time"),
    note="Mending what breaks is left out: the unsafe side.",
))  # fmt: skip


def _delivery(o: Any, c: Case) -> Any:
    return o.delivery * (1.0 + -1.0 * o.among(c.owned_in(o.slot.name, o.slot.item_class)))


def _deliveries(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return tuple(
        Part(table.slot.title, (need(name, "weeks until delivered, none if owned", _delivery),))
        for name, table in slots.items()
    )


declare(Rule(
    id="ASK-04",
    title="delivered in time",
    unit="week",
    basis=Basis.BRIEF,
    source="limit of the brief; times from the catalog",
    scope=ONCE,
    words=Words(
        fits="Delivery for {part} takes {need} of the {supply} allowed: {margin} to spare.",
        fails="Delivery for {part} takes {need}, {supply} are allowed: {short} too long.",
        binds="What fills {part} must be delivered within {supply}.",
    ),
    terms=(supply(None, "limit of the brief", lambda o, c: c.limit("delivery_time")),),
    parts=_deliveries,
    effects={"delivery_time": Effect.EASES},
    when=lambda c: c.has_limit("delivery_time"),
    note="Building it all in comes after the last delivery and is left out: the unsafe side.",
))  # fmt: skip
