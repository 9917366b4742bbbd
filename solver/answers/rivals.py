"""rivals: the next best rigs with other items in the slots the owner cares about, and the best of each kind people ask for.

Contents: `rivals`, `Rivals`, `Rival`, `Kind`, `DIFFER`.

Rival k is the cheapest rig whose items in the chosen slots differ from those of each of the k - 1 before it; the first is
the pick. Kinds: power, truck or trailer, drive of the proportioner, new or used, time to delivery.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Iterator, Sequence
from concurrent.futures import ThreadPoolExecutor
from dataclasses import dataclass

import numpy as np

from solver.answers.ask import Asked, Progress, ask
from solver.answers.clashes import conflict
from solver.answers.facts import Conflict, Line, MoneyFacts, Totals
from solver.answers.money import money_facts
from solver.answers.rivals_excluded import barred_by
from solver.answers.swaps import Swap, swaps
from solver.brief.models import Assumption, Brief
from solver.catalog import Catalog
from solver.errors import EntryError, InternalError
from solver.options.table import Column, SlotOptions
from solver.program.matrix import Ints, Mask
from solver.rules.balance import Rig, chosen
from solver.rules.cautions import Caution, cautions

DIFFER = ("proportioner", "compressor", "generator", "vehicle")
"""Slots in which rivals differ unless the owner says otherwise."""
WEEKS = (2, 4, 8, 12)
"""Times to delivery that are asked about."""
_WEEK = 604800.0


@dataclass(frozen=True)
class Rival:
    """One rig: its totals, its lines, how it differs from the pick, and money to decide by."""

    total: Totals
    rig: tuple[Line, ...]
    swaps: tuple[Swap, ...]
    proven: bool
    money: MoneyFacts


@dataclass(frozen=True)
class Kind:
    """The best rig of a kind, or the rules that exclude every rig of that kind.

    `group` is what is asked about (power, vehicle, drive, condition, delivery), `name` the kind in it. An empty `rules`
    without a rival: the owner's own or unwanted things alone exclude it.
    """

    group: str
    name: str
    rival: Rival | None
    rules: tuple[str, ...] = ()


@dataclass(frozen=True)
class Rivals:
    """Rivals in order of the objective, the pick first; or the kinds; or the conflict where nothing fits."""

    title: str
    by: str
    status: str
    differ: tuple[str, ...]
    count: int
    rivals: tuple[Rival, ...]
    exhausted: bool
    """Whether it is proven that no further rig differs."""
    kinds: tuple[Kind, ...]
    conflicts: tuple[Conflict, ...]
    cautions: tuple[Caution, ...]
    assumptions: tuple[Assumption, ...]
    waived: tuple[str, ...]


def rivals(
    catalog: Catalog,
    brief: Brief,
    by: str | None = None,
    differ: Sequence[str] = DIFFER,
    count: int = 5,
    kinds: bool = False,
    progress: Progress | None = None,
) -> Rivals:
    """The next best rigs for a brief.

    Parameters
    ----------
    catalog : Catalog
        What can be bought.
    brief : Brief
        What is asked.
    by : {"price", "weight", "yearly-cost"}, optional
        What to make least; the brief's own `by` if not given.
    differ : sequence of str
        Slots of which at least one must hold another item.
    count : int
        How many rigs at most, the pick among them.
    kinds : bool
        Ask for the best of each kind instead of the next best ones.
    progress : callable, optional
        Told what is being done, and the share done.

    Raises
    ------
    EntryError
        A slot that is not there, no slot at all, or a count below 1.
    """
    asked = ask(catalog, brief, by)
    slots = _checked(asked, differ, count)
    told = progress or (lambda words, share: None)
    found, exhausted = _next_best(asked, slots, 1 if kinds else count, told)
    by_kind = _kinds(asked, found[0][0], told) if kinds and found else ()
    rigs = tuple(_rival(asked, found[0][0], rig, proven) for rig, proven in found)
    conflicts = (conflict(asked),) if not found and exhausted else ()
    first = found[0][0] if found else None
    told_cautions = cautions(
        brief,
        None if first is None else chosen(asked.setting, first),
        () if first is None else asked.balances(first),
    )
    return Rivals(
        brief.title, asked.by, "found" if found else "none" if exhausted else "unknown", slots, count, rigs,
        exhausted and not kinds, by_kind, conflicts, told_cautions, brief.assumed(), tuple(brief.waived),
    )  # fmt: skip


def _checked(asked: Asked, differ: Sequence[str], count: int) -> tuple[str, ...]:
    names = list(asked.setting.slots)
    for name in differ:
        if name not in names:
            raise EntryError(f'slot "{name}"', "a slot of the rig", "one or more of " + ", ".join(names[:22]))
    if not differ:
        raise EntryError("no slot to differ in", "one slot or more", "--differ " + ",".join(DIFFER))
    if count < 1:
        raise EntryError(f"a count of {count}", "1 or more")
    return tuple(name for name in names if name in set(differ))


def kinds_of_items(asked: Asked) -> Ints:
    """A number for every column: equal where the item is the same."""
    numbers: dict[str, int] = {}
    items = [item for table in asked.setting.slots.values() for item in table.items]
    return np.array([numbers.setdefault(item, len(numbers)) for item in items], np.int64)


def _next_best(asked: Asked, slots: tuple[str, ...], count: int, told: Progress) -> tuple[list[tuple[Rig, bool]], bool]:
    """(rig, proven) of each rival, and whether it is proven that there is no further one."""
    from solver.search.rivals import rivals as search

    places = [list(asked.setting.slots).index(name) for name in slots]
    found: list[tuple[Rig, bool]] = []
    for answer in search(asked.question(), places, kinds_of_items(asked), count):
        if answer.columns is None:
            return found, answer.proven
        asked.recheck(answer.columns)
        found.append((asked.rig_of(answer.columns), answer.proven))
        told("rivals", len(found) / count)
    return found, False


def _rival(asked: Asked, pick: Rig, rig: Rig, proven: bool) -> Rival:
    return Rival(asked.totals(rig), asked.lines(rig), swaps(asked, pick, rig), proven, money_facts(asked, rig))


Allowed = Callable[[SlotOptions], Column]


def _wanted(asked: Asked) -> Iterator[tuple[str, str, str | None, Allowed]]:
    """(group, name, slot or None for all, which options) of every kind that people ask for."""
    brief = asked.brief
    for system, title in (("split", "single-phase power"), ("wye", "three-phase power")):
        yield "power", title, "generator", lambda t, s=system: t.present * t.numbers[f"system_{s}"]  # type: ignore[misc]
    for word in ("truck", "trailer"):
        yield "vehicle", word, "vehicle", lambda t, w=word: t.is_("kind", w)  # type: ignore[misc]
    for word in ("electric", "hydraulic", "air"):
        name = f"{word}-driven proportioner" if word == "air" else f"{word} proportioner"
        yield "drive", name, "proportioner", lambda t, w=word: t.is_("drive", w)  # type: ignore[misc]
    owned = frozenset(brief.owned)
    yield "condition", "new equipment only", None, lambda t: np.maximum(1.0 - t.is_("condition", "used"), t.among(owned))
    yield "condition", "used equipment allowed", None, lambda t: np.ones(len(t))
    limit = brief.limits.delivery_time
    longest = max(float(table.delivery.max()) for table in asked.setting.slots.values()) / _WEEK
    for weeks in WEEKS:
        if weeks < longest and (limit is None or weeks * _WEEK <= limit * (1.0 + 1e-9)):
            yield (
                "delivery",
                f"all delivered within {weeks} weeks",
                None,
                lambda t, w=weeks: np.maximum(  # type: ignore[misc]
                    t.delivery <= w * _WEEK * (1.0 + 1e-9), t.among(owned)
                ),
            )


def _mask(asked: Asked, slot: str | None, which: Allowed) -> Mask:
    parts = [
        np.asarray(which(table), float) > 0.5 if slot is None or name == slot else np.ones(len(table), bool)
        for name, table in asked.setting.slots.items()
    ]
    return np.concatenate(parts)


def _kinds(asked: Asked, pick: Rig, told: Progress) -> tuple[Kind, ...]:
    asked.program  # noqa: B018  compiled before the threads start
    wanted = [(group, name, _mask(asked, slot, which)) for group, name, slot, which in _wanted(asked)]
    found: list[Kind] = []
    with ThreadPoolExecutor(min(4, os.cpu_count() or 1)) as pool:
        for kind in pool.map(lambda entry: _kind(asked, pick, *entry), wanted):
            found.append(kind)
            told("kinds", len(found) / len(wanted))
    return tuple(found)


def _kind(asked: Asked, pick: Rig, group: str, name: str, allowed: Mask) -> Kind:
    from solver.search.best import Question, best

    columns = asked.columns_of(pick)
    if allowed[columns].all():
        return Kind(group, name, _rival(asked, pick, pick, True))
    found = best(Question(asked.program, asked.by, allowed=allowed))
    if found.columns is None:
        barred = barred_by(asked, allowed)
        return Kind(group, name, None, barred.rules if barred is not None else ())
    if not asked.program.fits(found.columns):
        raise InternalError("the engine's rig breaks an integer row")
    return Kind(group, name, _rival(asked, pick, asked.rig_of(found.columns), found.proven))
