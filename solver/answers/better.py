"""Why no rig is so much better, as one argument: rules that together exclude every such rig.

Contents: `argument`, `jointly`.

The rules form a minimal set: with any one left out, some rig that keeps the others is as much better. A rule that alone
saves more than that is in every such set. Members that only say that a slot already holds its cheapest possible item, or
that a list of small kit must be aboard, are told apart, so that a person can read the rest.
"""

from __future__ import annotations

from math import floor
from typing import TYPE_CHECKING

import numpy as np

from solver.answers.ask import Asked
from solver.answers.clashes import in_order
from solver.answers.facts import Argument, Reason
from solver.answers.reasons import RuleSaving, tightest
from solver.rules.balance import Balance

if TYPE_CHECKING:
    from solver.program.matrix import Ints


def argument(
    asked: Asked, columns: Ints, savings: tuple[RuleSaving, ...], balances: tuple[Balance, ...], share: float
) -> Argument:
    """Rules that together exclude every rig better by `share` (0.05: by 5 %) than the best one in `columns`."""
    cost = asked.program.cost(columns, asked.by)
    most = min(floor(cost * (1.0 - share)), cost - 1)
    members = _members(asked, most, {rule: saving for rule, saving, _ in savings}, cost)
    saved = {rule: saving / asked.unit for rule, saving, _ in savings}
    plain: list[Reason] = []
    least: list[Reason] = []
    for rule in members:
        slots, cheapest = _slots_of(asked, rule, columns, members)
        reason = Reason(rule, tightest(balances, rule), saved.get(rule, 0.0), slots)
        (least if cheapest else plain).append(reason)
    plain.sort(key=lambda reason: -reason.saving)
    return Argument(share, most / asked.unit, tuple(plain), tuple(least))


def jointly(asked: Asked, cost: int) -> tuple[str, ...]:
    """Where no rule binds alone: rules that together hold the best rig where it is; none where nothing holds it."""
    return _members(asked, cost - 1, {}, cost)


def _members(asked: Asked, most: int, savings: dict[str, int], cost: int) -> tuple[str, ...]:
    from solver.search.minimal import minimal_set
    from solver.search.witnesses import Witnesses

    witnesses = Witnesses(asked.question(at_most={asked.by: most}))

    def possible(kept: frozenset[str]) -> bool:
        return witnesses.any_rig(asked.rows_of(kept | sure)) is not None

    sure = frozenset(rule for rule, saving in savings.items() if saving >= cost - most)
    rest = [rule for rule in sorted(savings, key=lambda rule: -savings[rule]) if rule not in sure]
    rest += [rule for rule in in_order(asked) if rule not in savings]
    enough = _enough(asked, most) if most < cost - 1 else None  # so close to the best the relaxation alone is no proof
    rest = [rule for rule in rest if enough is None or rule in enough]
    found = minimal_set(rest, possible) if possible(frozenset()) else ()
    return tuple(rule for rule in asked.groups if rule in sure or rule in (found or ()))


def _enough(asked: Asked, most: int) -> frozenset[str] | None:
    """Rules that the linear relaxation needs to exclude every rig within `most`; None where it alone does not exclude them.

    A minimal set is sought among these: far fewer questions, and rules that carry weight rather than any that will do.
    """
    from solver.search.proving import rows_needed

    rows = rows_needed(asked.program, asked.by, most + 1)
    return None if rows is None else frozenset(asked.program.groups[i] for i in rows)


def _slots_of(asked: Asked, rule: str, columns: Ints, members: tuple[str, ...]) -> tuple[tuple[str, ...], bool]:
    """Slots whose options the rule tells apart, and whether it only says that they hold the cheapest possible there.

    The latter: each of its rows is about one slot, or about yes/no slots alone, and the options that the rig holds there
    cost as little as any that keep those rows of all members which are about the same slot.
    """
    program = asked.program
    rows = np.flatnonzero([group == rule for group in program.groups])
    varied = np.stack([(program.rows[rows, a:b] != program.rows[rows, a : a + 1]).any(axis=1) for a, b in program.slices])
    sizes = np.diff(program.offsets)
    names = list(asked.offsets)
    slots = tuple(names[s] for s in np.flatnonzero(varied.any(axis=1)).tolist())
    if all(sizes[s] == 2 for s in np.flatnonzero(varied.any(axis=1))):
        return slots, True
    if not (varied.sum(axis=0) <= 1).all():
        return slots, False
    keep = np.isin(program.groups, members)
    for s in np.flatnonzero(varied.any(axis=1)).tolist():
        a, b = program.slices[s]
        own = program.rows[:, a:b]
        alone = keep & (own != own[:, :1]).any(axis=1) & _single(asked)
        good = (own[alone] + _others(asked, alone, s) <= program.rhs[alone][:, None]).all(axis=0)
        price = program.costs[asked.by][a:b]
        if price[good].min(initial=np.iinfo(np.int64).max) < price[int(columns[s]) - a]:
            return slots, False
    return slots, True


def _single(asked: Asked) -> np.ndarray[tuple[int], np.dtype[np.bool_]]:
    """Rows that tell the options of one slot apart and of no other."""
    program = asked.program
    varied = np.stack([(program.rows[:, a:b] != program.rows[:, a : a + 1]).any(axis=1) for a, b in program.slices])
    return np.asarray(varied.sum(axis=0) == 1)


def _others(asked: Asked, rows: np.ndarray[tuple[int], np.dtype[np.bool_]], slot: int) -> Ints:
    """What the other slots, all of whose options count the same in these rows, add to each."""
    program = asked.program
    firsts = program.rows[np.ix_(np.flatnonzero(rows), program.offsets[:-1])]
    return np.asarray(firsts.sum(axis=1) - firsts[:, slot])[:, None]
