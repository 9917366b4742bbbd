"""All minimal sets of row groups that cannot hold together, the least of them first, and the minimal corrections.

Contents: `Oracle`, `Sets`, `minimal_conflicts`, `grown`, `least_open`.

A map of subsets is kept: a set of groups is still open if it meets every correction found and contains no conflict found.
The least open set is asked for. If no rig keeps it, it is a minimal conflict, and no lesser one is left: each of its proper
subsets weighs less, so it was not open, and since it contains no conflict found it misses a correction, so it can be kept.
If a rig keeps it, the rig's groups are grown to a set to which nothing can be added; what is missing is a minimal
correction, and every conflict meets it. When no open set is left, all minimal conflicts are known.

References: the map of subsets is that of M. H. Liffiton, A. Previti, A. Malik, J. Marques-Silva, Fast, flexible MUS
enumeration, Constraints 21(2), 2016; least sets by hitting sets as in A. Ignatiev, A. Previti, M. Liffiton, J. Marques-Silva,
Smallest MUS extraction with minimal hitting set dualization, CP 2015 (both from memory).
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Mapping, Sequence
from dataclasses import dataclass

import numpy as np

from solver.search.engine import Status, solve_rows

Oracle = Callable[[frozenset[str]], frozenset[str] | None]
"""All groups kept by some rig that keeps these (and the background); None if no rig keeps them."""


@dataclass(frozen=True)
class Sets:
    """Minimal conflicts, the least first; minimal corrections in the order found; whether these are all conflicts; how
    many rigs were asked for."""

    conflicts: tuple[tuple[str, ...], ...]
    corrections: tuple[tuple[str, ...], ...]
    complete: bool
    asked: int


def minimal_conflicts(
    groups: Sequence[str], weights: Mapping[str, int], oracle: Oracle, most: int, patience: int = 4000,
    known: Sequence[Sequence[str]] = (),
) -> Sets:  # fmt: skip
    """At most so many minimal conflicts, in order of weight; groups inside a set in the order given.

    Parameters
    ----------
    groups : sequence of str
        What may be dropped.
    weights : mapping
        A positive whole number for each group: a conflict weighs the sum of its members.
    oracle : Oracle
        Asks for a rig.
    most : int
        How many conflicts are wanted.
    patience : int
        How many rigs may be asked for, about; then the search ends with what it has, and not complete.
    known : sequence of conflicts
        Minimal conflicts that are known already and not wanted again; they do not count among `most`.

    Examples
    --------
    >>> def oracle(kept):
    ...     for rig in ({"b", "c"}, {"a"}):
    ...         if kept <= rig: return frozenset(rig)
    >>> minimal_conflicts(["a", "b", "c"], {"a": 1, "b": 3, "c": 1}, oracle, 5)
    Sets(conflicts=(('a', 'c'), ('a', 'b')), corrections=(('a',), ('b', 'c')), complete=True, asked=5)
    """
    place = {group: k for k, group in enumerate(groups)}
    conflicts: list[frozenset[str]] = [frozenset(members) for members in known]
    corrections: list[frozenset[str]] = []
    asked = 0
    rigs: list[frozenset[str]] = []
    none: list[frozenset[str]] = []

    def ask(kept: frozenset[str]) -> frozenset[str] | None:
        """The oracle, unless a rig found before keeps these too, or fewer were already too many."""
        nonlocal asked
        known = next((rig for rig in rigs if kept <= rig), None)
        if known is not None or any(few <= kept for few in none):
            return known
        asked += 1
        found = oracle(kept)
        if found is None:
            none.append(kept)
        else:
            rigs.append(found)
        return found

    most += len(known)
    while len(conflicts) < most and asked < patience:
        seed = least_open(place, weights, conflicts, corrections)
        if seed is None:
            break
        kept = ask(seed)
        if kept is None:
            conflicts.append(seed)
            continue
        often = {group for correction in corrections for group in correction}
        corrections.append(frozenset(groups) - grown(groups, kept, ask, often))
    complete = asked < patience and least_open(place, weights, conflicts, corrections) is None

    def ordered(found: list[frozenset[str]]) -> tuple[tuple[str, ...], ...]:
        return tuple(tuple(sorted(members, key=place.__getitem__)) for members in found)

    return Sets(ordered(conflicts[len(known) :]), ordered(corrections), complete, asked)


def grown(
    groups: Sequence[str], kept: frozenset[str], oracle: Oracle, unlikely: Collection[str] = ()
) -> frozenset[str]:
    """The kept groups with others added until none can be added: in order, but the unlikely ones last.

    Many at once: what can be added together need not be asked one by one, and of what cannot, one half after the other. The
    unlikely ones are asked one by one.
    """
    blocks: list[tuple[str, ...]] = [(group,) for group in reversed(groups) if group in unlikely and group not in kept]
    blocks.append(tuple(group for group in groups if group not in kept and group not in unlikely))
    while blocks:
        block = tuple(group for group in blocks.pop() if group not in kept)
        if not block:
            continue
        more = oracle(kept | frozenset(block))
        if more is not None:
            kept = more
        elif len(block) > 1:
            middle = len(block) // 2
            blocks += [block[middle:], block[:middle]]
    return kept


def least_open(
    place: Mapping[str, int],
    weights: Mapping[str, int],
    closed: Sequence[Collection[str]],
    met: Sequence[Collection[str]],
    unless: Sequence[Collection[str]] = (),
) -> frozenset[str] | None:
    """The set of least weight that meets every set in `met` and contains none in `closed`; None if there is none.

    `place` numbers the groups. A set in `met` counts as met too if a group of the set in the same place of `unless` is left
    out. Of several least sets the one that the engine finds, always the same.
    """
    size = 2 * len(place)
    rows = np.zeros((len(closed) + len(met), size), np.int64)
    limits = np.zeros(len(rows), np.int64)
    for i, members in enumerate(closed):
        rows[i, [2 * place[group] + 1 for group in members]] = 1
        limits[i] = len(members) - 1
    for i, missing in enumerate(met, len(closed)):
        rows[i, [2 * place[group] + 1 for group in missing]] = -1
        limits[i] = -1
    for i, spoiling in enumerate(unless, len(closed)):
        rows[i, [2 * place[group] + 1 for group in spoiling]] += 1
        limits[i] += len(spoiling)
    cost = np.zeros(size, np.int64)
    for group, k in place.items():
        cost[2 * k + 1] = weights[group]
    outcome = solve_rows(rows, limits, [2] * len(place), cost)
    if outcome.status is Status.INFEASIBLE or outcome.chosen is None:
        return None
    taken = set((outcome.chosen // 2)[outcome.chosen % 2 == 1].tolist())
    return frozenset(group for group, k in place.items() if k in taken)
