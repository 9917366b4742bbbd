"""complete: a rig of which some slots are filled, completed at least cost; or what of it stands in the way.

Contents: `complete`, `Completed`, `Way`; `held` (a brief with the named slots held fast), `ways_out`, `smallest_sets`.

A named slot keeps its item, and its choice too where the file says one; otherwise any choice of that item will do. Slots
not named are open. What is held is background: a conflict never names it. Which of the named slots stand in the way is a
question of its own: the smallest sets of them that must be let go, found by counting, all slots at once, so none is smaller.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence, Sized
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from solver.answers.ask import Asked, ask
from solver.answers.clashes import conflict
from solver.answers.facts import Conflict, Line, MoneyFacts, Totals
from solver.answers.money import money_facts
from solver.answers.rig_file import Named, read_named
from solver.brief.models import Assumption, Brief
from solver.catalog import Catalog
from solver.errors import NotProven
from solver.options.table import OneOption
from solver.program.matrix import Ints, Program
from solver.rules import RULES
from solver.rules.balance import Balance, Rig, chosen
from solver.rules.cautions import Caution, cautions
from solver.rules.instances import Instance, Place, Setting
from solver.rules.record import ONCE, Basis, Rule, TermFunction, Words, need

MOST_WAYS = 3
"""How many of the smallest sets to let go are told."""

_HELD = Rule(
    id="HELD",
    title="what is named is held fast",
    unit="1",
    basis=Basis.BRIEF,
    source="the rig file",
    scope=ONCE,
    words=Words("{part} is as named.", "{part} is another than named.", "{part} is as named."),
    background=True,
)
"""Not a rule of the register: it stands for one rig file, and no answer shows it."""


@dataclass(frozen=True)
class Way:
    """One smallest set of named slots that must be let go: what was named there, what the best rig then has there."""

    slots: tuple[str, ...]
    named: tuple[Line, ...]
    instead: tuple[Line, ...]
    total: Totals
    """Of the best rig that keeps all the other named slots."""


@dataclass(frozen=True)
class Completed:
    """The answer: status "found" with the best completion, or "none" with the reasons and the ways out."""

    title: str
    by: str
    status: str
    proven: bool
    named: tuple[str, ...]
    """Slots that the file names."""
    total: Totals | None
    rig: tuple[Line, ...]
    added: tuple[Line, ...]
    """Lines of the rig that the file did not name."""
    added_price: float
    """What they cost together [USD]."""
    balances: tuple[Balance, ...]
    conflicts: tuple[Conflict, ...]
    against: tuple[Balance, ...]
    """Where the named items go against what the brief itself keeps or leaves out; then no other conflict is told."""
    any_rig: bool
    """False where no rig at all fits the brief, whatever is named; the conflict is then that of the brief."""
    ways: tuple[Way, ...]
    more_ways: bool
    """Whether there are further sets as small as those told."""
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    waived: tuple[str, ...]
    money: MoneyFacts | None


def complete(catalog: Catalog, brief: Brief, rig_path: Path, by: str | None = None) -> Completed:
    """The best rig that has everything the file names.

    Parameters
    ----------
    catalog : Catalog
        What can be bought.
    brief : Brief
        What is asked.
    rig_path : Path
        A rig file; slots that it does not name are open.
    by : {"price", "weight", "yearly-cost"}, optional
        What to make least; the brief's own `by` if not given.

    Raises
    ------
    InputError
        Every mistake of the rig file.
    NotProven
        The limit of work ended before it was known whether a rig exists.
    """
    asked = ask(catalog, brief, by)
    named = read_named(rig_path, asked)
    fixed = held(asked, named)
    found = fixed.best()
    if found.columns is None:
        if not found.proven:
            raise NotProven("the limit of work ended before it was known whether what is named can be completed")
        return _stuck(asked, fixed, named)
    rig = asked.rig_of(found.columns)
    balances = asked.balances(rig)
    lines = asked.lines(rig)
    added = tuple(line for line in lines if line.slot not in named)
    return Completed(
        title=brief.title,
        by=asked.by,
        status="found",
        proven=found.proven,
        named=tuple(named),
        total=asked.totals(rig),
        rig=lines,
        added=added,
        added_price=sum(line.price for line in added),
        balances=balances,
        conflicts=(),
        against=(),
        any_rig=True,
        ways=(),
        more_ways=False,
        cautions=cautions(brief, chosen(asked.setting, rig), balances),
        assumptions=brief.assumed(),
        waived=tuple(brief.waived),
        money=money_facts(asked, rig),
    )


def _stuck(asked: Asked, fixed: Asked, named: Named) -> Completed:
    """Nothing completes what is named: why, and what must be let go."""
    from solver.search.best import exists

    brief = asked.brief
    ways, more = ways_out(asked, named)
    against: tuple[Balance, ...] = ()
    if ways and not exists(fixed.question(rows=fixed.rows_of(frozenset()))):
        against = _against(asked, named)
    conflicts = () if against else (conflict(fixed if ways else asked),)
    return Completed(
        title=brief.title,
        by=asked.by,
        status="none",
        proven=True,
        named=tuple(named),
        total=None,
        rig=(),
        added=(),
        added_price=0.0,
        balances=(),
        conflicts=conflicts,
        against=against,
        any_rig=bool(ways),
        ways=ways,
        more_ways=more,
        cautions=cautions(brief, None, ()),
        assumptions=brief.assumed(),
        waived=tuple(brief.waived),
        money=None,
    )


def _other(options: tuple[int, ...]) -> TermFunction:
    """1 for an option that is none of these."""

    def term(o: Any, c: Any) -> Any:
        if isinstance(o, OneOption):
            return float(o.index not in options)
        return 1.0 - np.isin(np.arange(len(o)), options)

    return term


def held_places(setting: Setting, named: Named) -> tuple[Instance, ...]:
    """One balance a named slot that holds for its named options alone."""
    case = setting.case(None, "", "")
    return tuple(
        Instance(_HELD, Place(_HELD.id, part=name), case, (need(name, "another", _other(options)),), None, frozenset())
        for name, options in named.items()
    )


def held(asked: Asked, named: Named) -> Asked:
    """The same question with the named slots held fast, as background."""
    return Asked(asked.catalog, asked.brief, asked.setting, (*asked.instances, *held_places(asked.setting, named)), asked.by)


def smallest_sets(
    program: Program, slots: Mapping[str, Sized], named: Named, costs: Sequence[Ints], domination: bool = True
) -> tuple[tuple[tuple[str, ...], Ints], ...]:
    """The smallest sets of named slots to let go, each with the best rig by these two costs that keeps the others.

    The best rig comes first. One set more than `MOST_WAYS` at the most; none where no rig fits, whatever is let go.
    """
    from solver.search.least import and_rows, least

    other = [~np.isin(np.arange(len(table)), named.get(name, range(len(table)))) for name, table in slots.items()]
    gone = np.concatenate(other).astype(np.int64)
    found: list[tuple[tuple[str, ...], Ints]] = []
    while len(found) <= MOST_WAYS:
        rig = least(program, (gone, *costs), domination)
        if not rig.proven:
            raise NotProven("the limit of work ended before it was known which of the named slots stand in the way")
        if rig.columns is None:
            break
        left = tuple(name for name, column in zip(slots, rig.columns.tolist(), strict=True) if gone[column])
        if found and len(left) > len(found[0][0]):
            break
        found.append((left, rig.columns))
        within = np.concatenate([np.full(len(table), name in left) for name, table in slots.items()])
        row = np.where(within, gone, 0)
        program = and_rows(program, row[None, :], np.array([len(left) - 1], np.int64), "LET-GO")
    return tuple(found)


def ways_out(asked: Asked, named: Named) -> tuple[tuple[Way, ...], bool]:
    """The smallest sets of named slots to let go, the best rig first; and whether there are more as small."""
    from solver.search.best import TIE

    costs = (asked.costs[asked.by], asked.costs[TIE[asked.by]])
    sets = smallest_sets(asked.program, asked.setting.slots, named, costs)
    ways = tuple(_way(asked, named, asked.rig_of(columns), left) for left, columns in sets[:MOST_WAYS])
    return ways, len(sets) > MOST_WAYS


def _way(asked: Asked, named: Named, rig: Rig, slots: tuple[str, ...]) -> Way:
    first = {name: options[0] for name, options in named.items()}
    return Way(slots, _lines(asked, {**rig, **first}, slots), _lines(asked, rig, slots), asked.totals(rig))


def _lines(asked: Asked, rig: Rig, slots: tuple[str, ...]) -> tuple[Line, ...]:
    return tuple(line for line in asked.lines(rig, empty=True) if line.slot in slots)


def _against(asked: Asked, named: Named) -> tuple[Balance, ...]:
    """What the named items break of the background; its rules look at one slot each."""
    rig = {**dict.fromkeys(asked.setting.slots, 0), **{name: options[0] for name, options in named.items()}}
    titles = {asked.setting.slots[name].slot.title for name in named}
    return tuple(
        balance
        for balance in asked.balances(rig)
        if RULES[balance.place.rule].background and not balance.holds and balance.place.part in titles
    )
