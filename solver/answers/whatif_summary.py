"""Where the answer of a what-if switches from one value to the next, and why.

Contents: `Switch`, `switches`, `swaps`, `rewired`, `unwired`.

Neighbouring values of one requirement are compared with all others alike. Switches with the same items are told once, with
how many of the places they occur in; how things are wired makes no difference to that. The reason is worked out, not
guessed: the rules that the rig of the one value breaks at the other.
"""

from __future__ import annotations

import itertools
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from solver.answers.ask import Asked
from solver.answers.changed import changed_brief
from solver.answers.facts import Line
from solver.answers.whatif_facts import Cell, Study, Swap, brief_of_cell
from solver.options.wiring import WIRINGS
from solver.rules.balance import Balance, balance_of, chosen

MOST_REASONED = 40
"""Switches whose reasons are worked out; those that occur most often come first."""

_WIRED = tuple(sorted({way.text for ways in WIRINGS.values() for way in ways}, key=len, reverse=True))

Rigs = Mapping[tuple[int, ...], tuple[Line, ...]]


@dataclass(frozen=True)
class Switch:
    """The answer changes between two neighbouring values of one requirement."""

    axis: int
    """Which of the requirements."""
    before: float
    """The lower value [SI]."""
    after: float
    """The higher value [SI]."""
    places: int
    """In how many settings of the other requirements it is so."""
    of: int
    """How many settings were compared."""
    numbers: tuple[int, int]
    """Cells of the first such place."""
    status: tuple[str, str]
    price: tuple[float | None, float | None]
    """Prices in the first such place [USD]."""
    swaps: tuple[Swap, ...]
    """Slots that change; none where one side has no rig."""
    came: tuple[str, ...]
    """Rules that bind at the higher value only."""
    gone: tuple[str, ...]
    """Rules that bind at the lower value only."""
    breaks_after: tuple[Balance, ...] = ()
    """What the rig of the lower value breaks at the higher one, one balance a rule."""
    breaks_before: tuple[Balance, ...] = ()
    """What the rig of the higher value breaks at the lower one."""


def swaps(before: tuple[Line, ...], after: tuple[Line, ...]) -> tuple[Swap, ...]:
    """Slots that hold something else, in the order of the slots."""
    old, new = ({line.slot: _what(line) for line in rig} for rig in (before, after))
    order = dict.fromkeys(line.slot for line in (*before, *after))
    found = (Swap(slot, old.get(slot, ""), new.get(slot, "")) for slot in order)
    return tuple(swap for swap in found if swap.before != swap.after)


def _what(line: Line) -> str:
    return line.label + (f" ({line.choice})" if line.choice else "")


def rewired(swap: Swap) -> bool:
    """Whether a slot holds the same item as before, wired otherwise."""
    return bool(swap.before and swap.after) and unwired(swap.before) == unwired(swap.after)


def unwired(text: str) -> str:
    """What stands in a slot, without how it is wired."""
    way = next((way for way in _WIRED if text.endswith((f"({way})", f", {way})"))), None)
    return text if way is None else text[: -len(way) - 1].rstrip(" ,(")


def switches(study: Study, cells: Sequence[Cell], rigs: Rigs, asked: Asked) -> tuple[Switch, ...]:
    """Every switch, those that occur most often first; `cells` begin with the brief as it is."""
    compared: dict[tuple[int, int], int] = {}
    pairs: dict[object, list[tuple[int, int, Cell, Cell]]] = {}
    for axis, place, before, after in _neighbours(study, cells):
        compared[axis, place] = compared.get((axis, place), 0) + 1
        if "invalid" in (before.status, after.status) or before.options == after.options:
            continue
        items = tuple(swap for swap in _swapped(before, after, rigs) if not rewired(swap))
        key = (axis, place, before.status, after.status, items)
        pairs.setdefault(key, []).append((axis, place, before, after))
    found = [_switch(study, own, compared, rigs) for own in pairs.values()]
    found.sort(key=lambda switch: -switch.places)
    reasoned = [_reasoned(study, cells, asked, switch) for switch in found[:MOST_REASONED]]
    return (*reasoned, *found[MOST_REASONED:])


def _neighbours(study: Study, cells: Sequence[Cell]) -> list[tuple[int, int, Cell, Cell]]:
    """(axis, place of the lower value, cell there, cell at the next value) with all other values alike."""
    by_values = {cell.values: cell for cell in cells[1:]}
    found = []
    for k, axis in enumerate(study.axes):
        steps = list(itertools.pairwise(sorted(axis.values)))
        others = dict.fromkeys((*c.values[:k], None, *c.values[k + 1 :]) for c in cells[1:] if c.values[k] is not None)
        for place, (low, high) in enumerate(steps):
            for other in others:
                pair = [by_values.get((*other[:k], value, *other[k + 1 :])) for value in (low, high)]
                if pair[0] is not None and pair[1] is not None:
                    found.append((k, place, pair[0], pair[1]))
    return found


def _swapped(before: Cell, after: Cell, rigs: Rigs) -> tuple[Swap, ...]:
    return swaps(rigs[before.options], rigs[after.options]) if before.options and after.options else ()


def _switch(study: Study, own: list[tuple[int, int, Cell, Cell]], compared: dict[tuple[int, int], int], rigs: Rigs) -> Switch:
    axis, place, before, after = own[0]
    values = sorted(study.axes[axis].values)
    old, new = ([rule for rule, _ in cell.binding] for cell in (before, after))
    return Switch(
        axis,
        values[place],
        values[place + 1],
        len(own),
        compared[axis, place],
        (before.number, after.number),
        (before.status, after.status),
        (before.total.price if before.total else None, after.total.price if after.total else None),
        _swapped(before, after, rigs),
        tuple(rule for rule in new if rule not in old) if before.options and after.options else (),
        tuple(rule for rule in old if rule not in new) if before.options and after.options else (),
    )


def _reasoned(study: Study, cells: Sequence[Cell], asked: Asked, switch: Switch) -> Switch:
    """With what each of the two rigs breaks at the value of the other."""
    before, after = (cells[number] for number in switch.numbers)
    return replace(
        switch,
        breaks_after=_broken(study, asked, before, after),
        breaks_before=_broken(study, asked, after, before),
    )


def _broken(study: Study, base: Asked, of: Cell, at: Cell) -> tuple[Balance, ...]:
    """The balances that the rig of one cell fails in another: the worst one of each rule."""
    if not of.options:
        return ()
    brief, moved = brief_of_cell(study.brief, study.axes, at.values)
    asked = changed_brief(base, brief, moved) if moved else base
    rig = dict(zip(asked.offsets, of.options, strict=True))
    program = asked.program
    short = program.rows[:, asked.columns_of(rig)].sum(axis=1) > program.rhs
    options = chosen(asked.setting, rig)
    worst: dict[str, Balance] = {}
    for instance, fails in zip(asked.instances, short.tolist(), strict=True):
        if fails:
            balance = balance_of(asked.setting, instance, options)
            held = worst.get(balance.place.rule)
            if held is None or balance.slack_share < held.slack_share:
                worst[balance.place.rule] = balance
    return tuple(worst.values())
