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
from solver.options.table import NONE
from solver.program.matrix import Mask
from solver.rules.balance import chosen
from solver.rules.cautions import Caution, cautions


@dataclass(frozen=True)
class Extra:
    """One item: what the best rig with it costs more than the pick [USD, kg or USD a year]; None if no rig has it.

    `rules`: a minimal set of rules that excludes every rig with it; empty for an item that some rig can have.
    """

    item: str
    item_class: str
    label: str
    slots: tuple[str, ...]
    picked: bool
    extra: float | None
    rules: tuple[str, ...]


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
        rules = barred[k].rules if k in barred else ()
        label = table.labels[table.items.index(item)]
        extras.append(Extra(item, table.slot.item_class, label, slots, item in on_board, extra, rules))
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
    """What excludes each of these items in the first of its slots. Slots side by side, the items of one in their order."""
    slots: dict[str, list[int]] = {}
    for k in closed:
        slots.setdefault(items[k][1][0], []).append(k)

    def of_slot(name: str) -> list[tuple[int, Barred]]:
        bars = Bars(asked)
        start = asked.offsets[name]
        own = slice(start, start + len(asked.setting.slots[name]))
        found = []
        for k in slots[name]:
            allowed = np.ones(len(items[k][2]), bool)
            allowed[own] = items[k][2][own]
            found.append((k, bars.of(allowed) or Barred((), 0)))
        return found

    barred: dict[int, Barred] = {}
    with ThreadPoolExecutor(2) as pool:
        for found in pool.map(of_slot, slots):
            barred.update(found)
            told("rules that exclude an item", len(barred) / len(closed))
    return barred
