"""insist: for every item of the catalog, what the best rig with it costs or weighs more, or the rules that exclude it.

Contents: `insist`, `Insist`, `Extra`.
"""

from __future__ import annotations

from collections.abc import Iterator
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from solver.answers.ask import Asked, Progress, ask
from solver.answers.clashes import conflict
from solver.answers.facts import Conflict, Totals
from solver.answers.rivals_excluded import Barred, Bars
from solver.brief.models import Assumption, Brief
from solver.catalog import Catalog
from solver.errors import InternalError
from solver.options.table import NONE
from solver.program.matrix import Mask
from solver.rules.balance import chosen
from solver.rules.cautions import Caution, cautions

_SHORT = 4
"""Sets of up to so many rules are made minimal for each item and slot; longer ones may serve several items as they are."""


@dataclass(frozen=True)
class Extra:
    """One item: what the best rig with it costs more than the pick [USD, kg or USD a year]; None if no rig has it.

    `rules`: a set of rules that excludes every rig with it, in any of its slots; empty for an item that some rig can have.
    `minimal`: each of them is known to be needed for that. It is not where a set of more than four, found for one item, is
    taken as it is for another of the slot that it excludes too, nor where the slots of an item have reasons of their own.
    """

    item: str
    item_class: str
    label: str
    slots: tuple[str, ...]
    picked: bool
    extra: float | None
    rules: tuple[str, ...]
    minimal: bool = True


@dataclass(frozen=True)
class Insist:
    """Every item in the order of the slots; `solves` and `rule_solves`: questions put to the engine for the extras and for
    the rules that exclude an item."""

    title: str
    by: str
    status: str
    total: Totals | None
    items: tuple[Extra, ...]
    solves: int
    rule_solves: int
    conflicts: tuple[Conflict, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    waived: tuple[str, ...]


def insist(catalog: Catalog, brief: Brief, by: str | None = None, progress: Progress | None = None) -> Insist:
    """The insist table of a brief.

    Parameters
    ----------
    catalog : Catalog
        What can be bought.
    brief : Brief
        What is asked.
    by : {"price", "weight", "yearly-cost"}, optional
        What to make least; the brief's own `by` if not given.
    progress : callable, optional
        Told what is being done, and the share done.

    Raises
    ------
    NotProven
        The limit of work ended before something was known for certain.
    """
    from solver.errors import NotProven
    from solver.search.rivals_insist import insist as search

    asked = ask(catalog, brief, by)
    found = asked.best()
    if not found.proven:
        raise NotProven("the limit of work ended before the best rig was proven")
    if found.columns is None:
        return Insist(brief.title, asked.by, "none", None, (), 0, 0, (conflict(asked),), cautions(brief, None, ()),
                      brief.assumed(), tuple(brief.waived))  # fmt: skip
    told = progress or (lambda words, share: None)
    items = list(_items(asked))
    answers, solves = search(
        asked.program, asked.by, found.columns, [mask for _, _, mask in items], lambda share: told("extras", share)
    )
    barred = _barred(asked, items, [k for k, answer in enumerate(answers) if answer.cost is None], told)
    best = asked.program.cost(found.columns, asked.by)
    rig = asked.rig_of(found.columns)
    on_board = {line.item for line in asked.lines(rig)}
    extras = []
    for k, (answer, (item, slots, _)) in enumerate(zip(answers, items, strict=True)):
        table = asked.setting.slots[slots[0]]
        extra = None if answer.cost is None else (answer.cost - best) / asked.unit
        why_not = barred.get(k, Barred((), 0))
        label = table.labels[table.items.index(item)]
        extras.append(Extra(item, table.slot.item_class, label, slots, item in on_board, extra, why_not.rules,
                            why_not.minimal))  # fmt: skip
    rule_solves = sum(one.solves for one in barred.values())
    shown = cautions(brief, chosen(asked.setting, rig), asked.balances(rig))
    return Insist(brief.title, asked.by, "found", asked.totals(rig), tuple(extras), solves, rule_solves, (), shown,
                  brief.assumed(), tuple(brief.waived))  # fmt: skip


def _items(asked: Asked) -> Iterator[tuple[str, tuple[str, ...], Mask]]:
    """(item, slots that it can fill, its options) of every item, in the order of the slots."""
    places: dict[str, list[str]] = {}
    for name, table in asked.setting.slots.items():
        for item in dict.fromkeys(table.items):
            if item != NONE:
                places.setdefault(item, []).append(name)
    everything = np.array([item for table in asked.setting.slots.values() for item in table.items])
    for item, slots in places.items():
        yield item, tuple(slots), everything == item


def _barred(
    asked: Asked, items: list[tuple[str, tuple[str, ...], Mask]], closed: list[int], told: Progress
) -> dict[int, Barred]:
    """What excludes each of these items in all of its slots. Items by first slot side by side, those of one by cost."""
    firsts: dict[str, list[int]] = {}
    for k in closed:
        firsts.setdefault(items[k][1][0], []).append(k)
    cost = asked.program.costs[asked.by]
    for own in firsts.values():  # what excludes a cheap item mostly excludes a dear one
        own.sort(key=lambda k: int(cost[items[k][2]].min()))

    def of_first(first: str) -> list[tuple[int, Barred]]:
        bars: dict[str, Bars] = {}
        found = []
        for k in firsts[first]:
            each = []
            for slot in items[k][1]:
                one = bars.setdefault(slot, Bars(asked)).of(_in_slot(asked, slot, items[k][2]), _SHORT)
                if one is None:
                    raise InternalError(f"a rig with {items[k][0]} was found after it was proven that there is none")
                each.append(one)
            found.append((k, _joined(asked, each)))
        return found

    barred: dict[int, Barred] = {}
    with ThreadPoolExecutor(2) as pool:
        for found in pool.map(of_first, firsts):
            barred.update(found)
            told("rules that exclude an item", len(barred) / len(closed))
    return barred


def _in_slot(asked: Asked, slot: str, options: Mask) -> Mask:
    """All options of the other slots, and of this one only those given."""
    start = asked.offsets[slot]
    own = slice(start, start + len(asked.setting.slots[slot]))
    allowed = np.ones(len(options), bool)
    allowed[own] = options[own]
    return allowed


def _joined(asked: Asked, each: list[Barred]) -> Barred:
    """What excludes an item in all its slots: the rules of each together, minimal where those of one slot hold all others."""
    rules = {rule for one in each for rule in one.rules}
    minimal = any(one.minimal and set(one.rules) == rules for one in each)
    preferred = max(each, key=lambda one: len(one.rules)).rules
    rest = tuple(rule for rule in asked.groups if rule in rules and rule not in preferred)
    return Barred((*preferred, *rest), sum(one.solves for one in each), minimal)
