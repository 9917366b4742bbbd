"""Every rig of a small catalog, judged by the rules' own terms on its options one by one: no matrix, no reduction, no engine.

Contents: `Judge`, `Rigs`, `TooManyRigs`.

A rig grows slot by slot. As soon as all slots that a balance touches are filled, the balance is judged in floating point,
need against supply, with its guard as an `if`. A partial rig goes where it breaks a rule of the background or two others:
it can be the best of no question asked here. What is left is every rig that keeps all rules, or all but one.

The integer rows round each figure to the safe side, so a rig that holds by less than that is counted as not fitting. Here
such a rig is held apart: `sure` is false where some margin is less than as many steps as figures were rounded.
"""

from __future__ import annotations

import itertools
from collections import Counter
from dataclasses import dataclass
from functools import cached_property
from math import inf

import numpy as np
from numpy.typing import NDArray

from solver.answers.ask import Asked
from solver.quantities import factor_of
from solver.rules.balance import RESOLUTION
from solver.rules.instances import Instance
from solver.rules.record import Side

MOST = 100_000
"""Partial rigs at once; a catalog with more is not small."""
TIE = {"price": "weight", "weight": "price", "yearly-cost": "price"}
KEPT = -1
Floats = NDArray[np.float64]


class TooManyRigs(Exception):
    """The catalog is not small."""


@dataclass(frozen=True, eq=False)
class _Balance:
    """A balance: margin in steps of resolution by slot (constant: what no slot changes), where it counts, its rule."""

    rule: int
    parts: dict[str, Floats]
    constant: float
    guard: tuple[str, NDArray[np.bool_]] | None
    rounded: int

    @cached_property
    def slots(self) -> frozenset[str]:
        """Slots that make a difference to it."""
        return frozenset(self.parts) | (frozenset((self.guard[0],)) if self.guard else frozenset())

    def judged(self, rigs: dict[str, NDArray[np.intp]], count: int) -> tuple[NDArray[np.bool_], NDArray[np.bool_]]:
        """(holds, holds whatever the rounding) for each of these rigs."""
        margin = np.full(count, self.constant)
        for name, values in self.parts.items():
            margin += values[rigs[name]]
        holds, sure = margin >= -1e-5, margin >= self.rounded - 1e-5
        if self.guard is not None:
            outside = ~self.guard[1][rigs[self.guard[0]]]
            holds, sure = holds | outside, sure | outside
        return holds, sure


@dataclass(frozen=True, eq=False)
class Rigs:
    """Rigs that keep all rules, or all but one: the option of each slot, the position of the rule broken (or KEPT)."""

    options: NDArray[np.intp]
    broken: NDArray[np.intp]
    sure: NDArray[np.bool_]
    costs: dict[str, NDArray[np.int64]]

    def __len__(self) -> int:
        return len(self.broken)


class Judge:
    """All rigs of a brief over a small catalog."""

    def __init__(self, of: Asked) -> None:
        self.of = of
        self.slots = tuple(of.setting.slots)
        self.rules = tuple(dict.fromkeys(instance.rule.id for instance in of.instances))
        self.background = {self.rules.index(i.rule.id) for i in of.instances if i.rule.background}
        self._one = {name: [table.one(j) for j in range(len(table))] for name, table in of.setting.slots.items()}
        self._known: dict[tuple[int, int, str], Floats] = {}
        self.balances = [self._balance(instance) for instance in of.instances]

    # --- terms --------------------------------------------------------------------------------------------------------
    def _values(self, instance: Instance, side: Side, name: str) -> Floats:
        """What the terms on one side come to in one slot, option by option."""
        setting = self.of.setting
        found = np.zeros(len(self._one[name]))
        for term in instance.terms:
            if term.side is side and name in setting.slots_of(term):
                key = (id(term), id(instance.case), name)
                if key not in self._known:
                    self._known[key] = np.array([float(term.of(one, instance.case)) for one in self._one[name]])
                found += self._known[key]
        return found

    def _balance(self, instance: Instance) -> _Balance:
        unit = instance.rule.unit
        step = RESOLUTION[unit] * (1.0 if unit in ("1", "set") else factor_of(unit))
        parts: dict[str, Floats] = {}
        constant, rounded = 0.0, 0
        for side, sign in ((Side.SUPPLY, 1.0), (Side.NEED, -1.0)):
            own = [t for t in instance.terms if t.side is side]
            alone = sum(float(t.of(None, instance.case)) for t in own if t.slot is None) / step
            rounded += not _whole(np.array([alone]))
            constant += sign * alone
            touched = {name for t in own for name in self.of.setting.slots_of(t)}
            for name in self.slots:
                if name not in touched:
                    continue
                values = self._values(instance, side, name) / step
                rounded += not _whole(values)
                parts[name] = parts.get(name, 0.0) + sign * values
        for name in [name for name, values in parts.items() if (values == values[0]).all()]:
            constant += float(parts.pop(name)[0])
        guard = None
        if instance.guard is not None:
            slot = instance.guard.slot
            when = np.array([float(instance.guard.when(one, instance.case)) > 0.5 for one in self._one[slot]])
            guard = (slot, when)
        return _Balance(self.rules.index(instance.rule.id), parts, constant, guard, rounded)

    # --- rigs ---------------------------------------------------------------------------------------------------------
    def _order(self) -> list[str]:
        """Slots in the order in which they are filled: those that let balances be judged come early."""
        order: list[str] = []
        open_slots = [set(balance.slots) for balance in self.balances if balance.slots]
        while len(order) < len(self.slots):
            closed = Counter(next(iter(own)) for own in open_slots if len(own) == 1)
            left = [name for name in self.slots if name not in order]
            order.append(min(left, key=lambda name: len(self._one[name]) / (1.0 + closed[name])))
            for own in open_slots:
                own.discard(order[-1])
        return order

    @cached_property
    def rigs(self) -> Rigs:
        """Every rig that keeps all rules, or all but one that is not of the background."""
        chosen: dict[str, NDArray[np.intp]] = {}
        broken, sure = np.full(1, KEPT), np.ones(1, bool)
        done: set[str] = set()
        for name in ("", *self._order()):
            if name:
                size = len(self._one[name])
                if len(broken) * size > MOST:
                    raise TooManyRigs(f"{len(broken) * size:,} partial rigs")
                chosen = {slot: np.repeat(own, size) for slot, own in chosen.items()}
                chosen[name] = np.tile(np.arange(size), len(broken))
                broken, sure = np.repeat(broken, size), np.repeat(sure, size)
                done.add(name)
            for balance in self.balances:
                if balance.slots <= done and (name in balance.slots or not (name or balance.slots)):
                    holds, certain = balance.judged(chosen, len(broken))
                    stay = holds | (broken == balance.rule) | (broken == KEPT)
                    if balance.rule in self.background:
                        stay &= holds
                    broken = np.where(holds, broken, balance.rule)[stay]
                    sure = (sure & (certain | ~holds))[stay]
                    chosen = {slot: own[stay] for slot, own in chosen.items()}
        options = np.stack([chosen[name] for name in self.slots], axis=1)
        return Rigs(options, broken, sure, {by: self._cost(by, options) for by in self.of.costs})

    def _cost(self, by: str, options: NDArray[np.intp]) -> NDArray[np.int64]:
        """Cost of each rig: price and weight from the options themselves, the yearly cost as the program counts it."""
        case = self.of.setting.case(None, "", "")
        if by == "price":
            own = [[round(float(case.paid(one)) * 100.0) for one in self._one[name]] for name in self.slots]
        elif by == "weight":
            own = [[round(one.weight * 1000.0) for one in self._one[name]] for name in self.slots]
        else:
            edges = [*self.of.offsets.values(), len(self.of.costs[by])]
            own = [self.of.costs[by][a:b].tolist() for a, b in itertools.pairwise(edges)]
        return np.sum([np.array(values)[options[:, k]] for k, values in enumerate(own)], axis=0).astype(np.int64)

    # --- what is asked ------------------------------------------------------------------------------------------------
    def least(self, by: str, without: str = "", among: NDArray[np.bool_] | None = None) -> tuple[float, float]:
        """Least cost without a rule and among some rigs: (of rigs that hold, of rigs that surely do); the same but for
        rounding. Infinite where there is none."""
        rigs = self.rigs
        rule = self.rules.index(without) if without else KEPT
        good = (rigs.broken == KEPT) | (rigs.broken == rule)
        if among is not None:
            good &= among
        cost = rigs.costs[by]
        return (float(cost[good].min(initial=2**62)) if good.any() else inf,
                float(cost[good & rigs.sure].min(initial=2**62)) if (good & rigs.sure).any() else inf)  # fmt: skip

    def first(self, by: str) -> tuple[dict[str, int], bool] | None:
        """The best rig, by cost, by the other cost, by slots and items in order, and whether it surely holds; or None."""
        rigs = self.rigs
        good = np.flatnonzero(rigs.broken == KEPT)
        if not len(good):
            return None
        keys = (*rigs.options[good].T[::-1], rigs.costs[TIE[by]][good], rigs.costs[by][good])
        place = int(good[np.lexsort(keys)[0]])
        return self.rig(place), bool(rigs.sure[place])

    def rig(self, place: int) -> dict[str, int]:
        """One of the rigs."""
        return dict(zip(self.slots, self.rigs.options[place].tolist(), strict=True))

    def with_item(self, slot: str, item: str) -> NDArray[np.bool_]:
        """Which rigs have this item in this slot."""
        own = np.array([one.item == item for one in self._one[slot]])
        return own[self.rigs.options[:, self.slots.index(slot)]]


def _whole(values: Floats) -> bool:
    """Whether no figure is rounded."""
    return bool((np.abs(values - np.rint(values)) < 1e-6).all())
