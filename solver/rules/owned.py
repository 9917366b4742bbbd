"""What the owner keeps and what the owner does not want. Background: an explanation never drops these.

Contents: OWN-01 what is owned is kept, OWN-02 what is unwanted is left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from typing import Any

from solver.options.table import SlotOptions
from solver.rules.asks import carries
from solver.rules.case import Case
from solver.rules.record import ONCE, Basis, Part, Rule, Term, TermFunction, Words, declare, need


def _owned(table: SlotOptions, c: Case) -> frozenset[str]:
    """Items of the owner's among the options of a slot."""
    return c.owned_in(table.slot.name, table.slot.item_class) & frozenset(table.items)


def _another(o: Any, c: Case) -> Any:
    return 1.0 + -1.0 * o.among(c.owned_in(o.slot.name, o.slot.item_class))


def _kept(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    return tuple(
        Part(table.slot.title, (need(name, "not the one that is owned", _another),))
        for name, table in slots.items()
        if _owned(table, c)
    )


declare(Rule(
    id="OWN-01",
    title="what is owned is kept",
    unit="1",
    basis=Basis.BRIEF,
    source="the brief",
    scope=ONCE,
    words=Words(
        fits="The {part} is the owner's own.",
        fails="The owner has one for the slot {part} that is to be kept, and this is another.",
        binds="The owner's own {part} is kept.",
    ),
    parts=_kept,
    note="Where the owner has several for one slot, any of them will do.",
    background=True,
))  # fmt: skip


def _not_owned(of: TermFunction) -> TermFunction:
    """The term, with nothing where the option is the owner's own."""
    return lambda o, c: of(o, c) * _another(o, c)


def _unwanted_terms(name: str, table: SlotOptions, c: Case) -> Iterator[Term]:
    unwanted = c.brief.unwanted
    items = frozenset(unwanted.items) & frozenset(table.items)
    if items:
        yield need(name, "unwanted item", _not_owned(lambda o, c: o.among(items)))
    if table.slot.item_class in unwanted.classes:
        yield need(name, "unwanted class", _not_owned(lambda o, c: o.present))
    for feature in unwanted.features:
        carried = carries(table, feature)
        if float(carried(table, c).max()) > 0.0:
            yield need(name, f"unwanted: {feature}", _not_owned(carried))


def _left_out(slots: Mapping[str, SlotOptions], c: Case) -> tuple[Part, ...]:
    found = ((table.slot.title, tuple(_unwanted_terms(name, table, c))) for name, table in slots.items())
    return tuple(Part(title, terms) for title, terms in found if terms)


declare(Rule(
    id="OWN-02",
    title="what is unwanted is left out",
    unit="1",
    basis=Basis.BRIEF,
    source="the brief",
    scope=ONCE,
    words=Words(
        fits="Nothing unwanted fills the slot {part}.",
        fails="The brief leaves out what fills the slot {part}.",
        binds="The brief leaves out some of what could fill the slot {part}.",
    ),
    parts=_left_out,
    note="The owner's own things are kept, whatever their features.",
    background=True,
))  # fmt: skip
