"""sheet: what a page about a picked rig says beyond pick itself: why each choice, the working of every balance, and some
points of the front of price and weight.

Contents: `Hindrance`, `Reason` (why a slot holds what it holds), `Temperatures` (of a duty's liquid), `SheetFacts`,
`sheet_facts`; `Trade`, `price_against_weight`. A choice is explained without solving: each better option of its slot is put
into the rig in turn, and the integer rows say which rules break.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

import numpy as np

from solver.answers.ask import Asked, ask
from solver.answers.facts import Line, Picked, Totals
from solver.brief.models import Brief
from solver.catalog import Catalog
from solver.errors import InternalError, NotProven
from solver.options.table import NONE, SlotOptions
from solver.program.matrix import Ints
from solver.rules.balance import Balance, Rig, balance_of, chosen
from solver.rules.record import COLDEST, SPRAYING
from solver.rules.worksheet import Worksheet, worksheet


@dataclass(frozen=True)
class Hindrance:
    """A rule that keeps better options of a slot out, each put into the rig alone.

    `balance` is what the rule comes to with the nearest of them, `item` and `choice` say which that is (`NONE` where
    the slot would stay empty); `options` counts the options that it keeps out.
    """

    rule: str
    options: int
    item: str
    choice: str
    balance: Balance


@dataclass(frozen=True)
class Reason:
    """Why a slot holds what it holds.

    `kind` is "owned" (the owner has it), "least" (no option of the slot is better) or "rules" (every better option,
    put in alone, breaks a rule; `better` counts them, `hindrances` names rules that together keep all of them out).
    """

    slot: str
    kind: str
    better: int = 0
    hindrances: tuple[Hindrance, ...] = ()


@dataclass(frozen=True)
class Temperatures:
    """Temperatures of a duty's liquid in the cold of the day [K], as the rules on pressure and heat take them."""

    duty: str
    drums: float
    """Drums without heaters while spraying: the body's."""
    spray: float
    """At the gun, by the material's data sheet."""
    hose: float
    """The coldest that the hose heat is trusted with."""


@dataclass(frozen=True)
class SheetFacts:
    """What the page shows of a picked rig besides the answer to pick."""

    reasons: tuple[Reason, ...]
    """In the order of the rig's lines."""
    worksheets: tuple[Worksheet, ...]
    """The working of every balance, in the order of the balances."""
    temperatures: tuple[Temperatures, ...]
    """One entry for each duty."""


def sheet_facts(catalog: Catalog, brief: Brief, picked: Picked) -> SheetFacts | None:
    """What a page says about the rig of an answer to pick; None where that has no rig.

    Parameters
    ----------
    catalog : Catalog
        The catalog of the answer.
    brief : Brief
        Its brief.
    picked : Picked
        The answer to pick.

    Raises
    ------
    InternalError
        The answer does not belong to this catalog and brief.
    """
    if picked.total is None:
        return None
    asked = ask(catalog, brief, picked.by)
    rig = rig_of_lines(asked, picked.rig)
    if asked.totals(rig) != picked.total or not asked.program.fits(asked.columns_of(rig)):
        raise InternalError("the rig of the answer is not the one that its lines name")
    options = chosen(asked.setting, rig)
    sheets = tuple(worksheet(asked.setting, instance, options) for instance in asked.instances)
    return SheetFacts(tuple(reasons(asked, rig, picked.rig)), sheets, tuple(_temperatures(asked)))


def rig_of_lines(asked: Asked, lines: tuple[Line, ...]) -> dict[str, int]:
    """The rig whose lines these are: in each slot the option of that item and choice, or the empty one."""
    wanted = {line.slot: (line.item, line.choice) for line in lines}
    rig = {}
    for name, table in asked.setting.slots.items():
        named = wanted.get(name, (NONE, ""))
        found = [i for i, own in enumerate(zip(table.items, table.choices, strict=True)) if own == named]
        if len(found) != 1:
            raise InternalError(f"slot {name} has {len(found)} options called {' '.join(named).strip()}")
        rig[name] = found[0]
    return rig


def _temperatures(asked: Asked) -> Iterator[Temperatures]:
    for duty in asked.brief.duties:
        case = asked.setting.case(duty, SPRAYING, COLDEST)
        spray = float(case.material.spray_temperature)
        yield Temperatures(duty.name, case.body_temperature, spray, case.hose_temperature)


# --- why each choice --------------------------------------------------------------------------------------------------
def reasons(asked: Asked, rig: Rig, lines: tuple[Line, ...]) -> Iterator[Reason]:
    """Why each slot holds what it holds, by the objective of the question."""
    columns = asked.columns_of(rig)
    slack = asked.program.rhs - asked.program.rows[:, columns].sum(axis=1)
    for line in lines:
        yield Reason(line.slot, "owned") if line.owned else _reason(asked, rig, line.slot, slack)


def _reason(asked: Asked, rig: Rig, slot: str, slack: Ints) -> Reason:
    table, start, held = asked.setting.slots[slot], asked.offsets[slot], rig[slot]
    cost = asked.costs[asked.by][start : start + len(table)]
    better = np.flatnonzero(cost < cost[held])
    if not len(better):
        return Reason(slot, "least")
    rows = asked.program.rows[:, start : start + len(table)]
    left = slack[:, None] - (rows[:, better] - rows[:, [held]])
    broken = left < 0
    return Reason(slot, "rules", len(better), tuple(_hindrances(asked, rig, table, better, broken, left)))


def _hindrances(
    asked: Asked, rig: Rig, table: SlotOptions, better: Ints, broken: np.ndarray, left: Ints
) -> Iterator[Hindrance]:
    """Rules that together keep every better option out: the one that keeps out most, then most of the rest."""
    groups = np.array(asked.program.groups)
    out = {rule: broken[groups == rule].any(axis=0) for rule in asked.groups}
    open_ = np.ones(len(better), dtype=bool)
    while open_.any():
        rule = max(out, key=lambda name: int((out[name] & open_).sum()))  # the first of the best, in register order
        kept = out[rule] & open_
        if not kept.any():
            raise InternalError(f"a better option of slot {table.slot.name} breaks no rule")
        yield _hindrance(asked, rig, table, rule, better[kept], left[:, kept], int(out[rule].sum()))
        open_ &= ~kept


def _hindrance(asked: Asked, rig: Rig, table: SlotOptions, rule: str, options: Ints, left: Ints, count: int) -> Hindrance:
    """The rule with the option that comes nearest to keeping it, where it is broken worst."""
    own = np.flatnonzero(np.array(asked.program.groups) == rule)
    worst = left[own].min(axis=0)
    nearest = int(np.argmax(worst))
    option = int(options[nearest])
    row = int(own[int(np.argmin(left[own, nearest]))])
    swapped = chosen(asked.setting, {**rig, table.slot.name: option})
    balance = balance_of(asked.setting, asked.instances[row], swapped)
    return Hindrance(rule, count, table.items[option], table.choices[option], balance)


# --- price against weight ---------------------------------------------------------------------------------------------
TRADES = 10
"""Points of the front that a page shows at most."""


@dataclass(frozen=True)
class Trade:
    """A rig that no other equals or beats in price and in weight."""

    total: Totals
    rig: tuple[Line, ...]


def price_against_weight(catalog: Catalog, brief: Brief, most: int = TRADES) -> tuple[Trade, ...]:
    """Some points of the exact front of price and weight, from the cheapest to the lightest, at about even steps of price.

    Each is the lightest rig that costs no more than a step, and of several the cheapest: so it is on the front. The front
    may hold many more points; `frontier` finds them all.

    Parameters
    ----------
    catalog, brief
        As for `pick`.
    most : int
        How many points at most, at least 2.

    Raises
    ------
    NotProven
        The limit of work ended before a point was certain.
    """
    asked = ask(catalog, brief)
    cheapest, lightest = _least(asked, "price"), _least(asked, "weight")
    if cheapest is None or lightest is None:
        return ()
    low, high = (asked.program.cost(columns, "price") for columns in (cheapest, lightest))
    found = {low: cheapest}
    for k in range(1, most - 1):
        columns = _least(asked, "weight", {"price": low + (high - low) * k // (most - 1)})
        if columns is not None:
            found.setdefault(asked.program.cost(columns, "price"), columns)
    found.setdefault(high, lightest)
    rigs = [asked.rig_of(found[price]) for price in sorted(found)]
    return tuple(Trade(asked.totals(rig), asked.lines(rig)) for rig in rigs)


def _least(asked: Asked, by: str, at_most: dict[str, int] | None = None) -> Ints | None:
    """Columns of the best rig by a cost, re-checked; None where there is none."""
    from solver.search.best import best

    found = best(asked.question(by, at_most=at_most))
    if not found.proven:
        raise NotProven("the limit of work ended before a point of the front was certain")
    if found.columns is not None:
        asked.recheck(found.columns)
    return found.columns
