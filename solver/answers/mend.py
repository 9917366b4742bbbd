"""mend: a rig that fails, made to fit by swaps: at least money, or by fewest swaps.

Contents: `mend`, `Mended`, `Swap`; `Changes`, `changes_from` (what leaving a rig costs, option by option), `least_change`.

What is at hand is the rig of the file. Money is what must be bought anew: what stays costs nothing more, what goes brings
nothing back. Of a thing that stays in another number (sections of hose, drum heaters) only what is missing is bought. Each
slot is looked at for itself: a pump that moves from side A to side B counts as bought for B.

A slot is swapped where its item or its number changes. The same item in the same number, but wired or set otherwise, is no
swap and costs nothing; it is told apart. By default the order is money, swaps, wirings; by fewest swaps it is swaps, money,
wirings; then slot and item order.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import TYPE_CHECKING

import numpy as np

from solver.answers.ask import Asked, ask
from solver.answers.clashes import conflict
from solver.answers.facts import Conflict, Line, MoneyFacts, Totals
from solver.answers.failing import failing
from solver.answers.money import money_facts
from solver.answers.rig_file import read_rig
from solver.brief.models import Assumption, Brief
from solver.catalog import Catalog
from solver.errors import NotProven
from solver.options.table import SlotOptions
from solver.program.matrix import Ints, Mask, Program
from solver.rules.balance import Balance, Rig, chosen
from solver.rules.cautions import Caution, cautions

if TYPE_CHECKING:
    from solver.search.best import Found


@dataclass(frozen=True)
class Swap:
    """One slot that changes: what is there now and what comes instead ("none" for nothing), and what it costs [USD]."""

    before: Line
    after: Line
    cost: float

    @property
    def slot(self) -> str:
        """The slot."""
        return self.after.slot


@dataclass(frozen=True)
class Mended:
    """The answer. Status "fits" (nothing to mend), "mended", or "none" with the conflict: no rig fits the brief."""

    title: str
    fewest: bool
    """Whether swaps came before money."""
    status: str
    proven: bool
    failures: tuple[Balance, ...]
    """What fails in the rig of the file, the worst first."""
    swaps: tuple[Swap, ...]
    rewired: tuple[Swap, ...]
    """Slots that keep their item and number but are wired or set otherwise."""
    spending: float
    """What the swaps cost together [USD]."""
    before: Totals
    total: Totals | None
    rig: tuple[Line, ...]
    balances: tuple[Balance, ...]
    conflicts: tuple[Conflict, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    waived: tuple[str, ...]
    money: MoneyFacts | None


@dataclass(frozen=True, eq=False)
class Changes:
    """Per option, over all slots: what must be bought anew [cents], whether it is a swap, whether it is but wired anew."""

    money: Ints
    swaps: Ints
    wirings: Ints


def mend(catalog: Catalog, brief: Brief, rig_path: Path, fewest: bool = False) -> Mended:
    """The rig that fits and is nearest to the one in the file.

    Parameters
    ----------
    catalog : Catalog
        What can be bought.
    brief : Brief
        What is asked.
    rig_path : Path
        The rig at hand; every slot counts, those not named are empty.
    fewest : bool
        Fewest swaps first, then least money, instead of the reverse.

    Raises
    ------
    InputError
        Every mistake of the rig file.
    NotProven
        The limit of work ended before it was known whether a rig exists.
    """
    asked = ask(catalog, brief)
    old = read_rig(rig_path, asked)
    changes = changes_from(asked.setting.slots, asked.costs["price"], old)
    found = least_change(asked.program, changes, fewest)
    if found.columns is None:
        if not found.proven:
            raise NotProven("the limit of work ended before it was known whether the rig can be mended")
        return _answer(asked, old, None, True, fewest, (), ())
    asked.recheck(found.columns)
    swaps, rewired = _swaps(asked, old, asked.rig_of(found.columns), changes)
    return _answer(asked, old, asked.rig_of(found.columns), found.proven, fewest, swaps, rewired)


def _answer(
    asked: Asked, old: Rig, rig: Rig | None, proven: bool, fewest: bool, swaps: tuple[Swap, ...],
    rewired: tuple[Swap, ...],
) -> Mended:  # fmt: skip
    brief = asked.brief
    failures = failing(asked, old)
    balances = asked.balances(rig) if rig is not None else ()
    return Mended(
        title=brief.title,
        fewest=fewest,
        status="none" if rig is None else "mended" if failures else "fits",
        proven=proven,
        failures=failures,
        swaps=swaps,
        rewired=rewired,
        spending=sum(swap.cost for swap in swaps),
        before=asked.totals(old),
        total=None if rig is None else asked.totals(rig),
        rig=() if rig is None else asked.lines(rig),
        balances=balances,
        conflicts=(conflict(asked),) if rig is None else (),
        cautions=cautions(brief, None if rig is None else chosen(asked.setting, rig), balances),
        assumptions=brief.assumed(),
        waived=tuple(brief.waived),
        money=None if rig is None else money_facts(asked, rig),
    )


def least_change(program: Program, changes: Changes, fewest: bool = False, domination: bool = True) -> Found:
    """The rig that fits and changes least, by money first or by swaps first."""
    from solver.search.least import least

    first = (changes.swaps, changes.money) if fewest else (changes.money, changes.swaps)
    return least(program, (*first, changes.wirings), domination)


def changes_from(slots: Mapping[str, SlotOptions], price: Ints, rig: Rig) -> Changes:
    """What each option would change in this rig. `price` is what every option costs [cents], slots in order."""
    money, swaps, wirings = [], [], []
    start = 0
    for name, table in slots.items():
        cents, old = price[start : start + len(table)], rig[name]
        start += len(table)
        item = np.array([other == table.items[old] for other in table.items])
        number = item & _same_number(table, old)
        money.append(np.where(item, _missing(table, cents, old, item), cents))
        swaps.append(np.where(number, 0, 1))
        wirings.append(np.where(number, 1, 0))
        wirings[-1][old] = 0
    return Changes(*(np.concatenate(parts).astype(np.int64) for parts in (money, swaps, wirings)))


def _same_number(table: SlotOptions, old: int) -> Mask:
    """Options of as many things as the old one; of a hose, of as many sections of each length."""
    same = np.array(table.counts) == table.counts[old]
    for sections in ("long_count", "short_count"):
        if sections in table.numbers:
            same &= table.numbers[sections] == table.numbers[sections][old]
    return np.asarray(same)


def _missing(table: SlotOptions, cents: Ints, old: int, item: Mask) -> Ints:
    """What must be bought of an item that is there already [cents]; nothing comes back for what is left over."""
    if "long_count" not in table.numbers:
        return np.asarray(np.maximum(cents - cents[old], 0))
    sections = np.stack([table.numbers["long_count"], table.numbers["short_count"]]).astype(np.int64)
    price = {tuple(counts): int(cents[j]) for j, counts in enumerate(sections.T.tolist()) if item[j]}
    long, short = price[2, 0] - price[1, 0], price[1, 1] - price[1, 0]
    more = np.maximum(sections - sections[:, [old]], 0)
    return np.asarray(more[0] * long + more[1] * short)


def _swaps(asked: Asked, old: Rig, rig: Rig, changes: Changes) -> tuple[tuple[Swap, ...], tuple[Swap, ...]]:
    """Swaps, and slots that are but wired or set otherwise, in the order of the slots."""
    swaps, rewired = [], []
    pairs = zip(asked.lines(old, empty=True), asked.lines(rig, empty=True), strict=True)
    for before, after in pairs:
        column = asked.offsets[after.slot] + rig[after.slot]
        swap = Swap(before, after, int(changes.money[column]) / 100.0)
        if changes.swaps[column]:
            swaps.append(swap)
        elif changes.wirings[column]:
            rewired.append(swap)
    return tuple(swaps), tuple(rewired)
