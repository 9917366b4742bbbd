"""Minimal sets of row groups that cannot hold together.

Contents: `minimal_set` (one, by divide and conquer), `Oracle`.

References: U. Junker, QUICKXPLAIN: Preferred Explanations and Relaxations for Over-Constrained Problems, AAAI 2004,
algorithm of figure 1. The order of the groups is the order of preference: earlier groups are kept in the set rather than
later ones. No infeasible core reported by an engine is trusted; every step solves exactly the rows in question.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

Oracle = Callable[[frozenset[str]], bool]
"""Whether some rig keeps all rows of these groups (and the background)."""


def minimal_set(groups: Sequence[str], possible: Oracle) -> tuple[str, ...] | None:
    """A minimal set of groups that no rig keeps together, or None if all can hold. Preferred groups come first.

    Examples
    --------
    >>> def possible(kept): return not {"a", "c"} <= kept
    >>> minimal_set(["a", "b", "c"], possible)
    ('a', 'c')
    >>> minimal_set(["a", "b"], possible) is None
    True
    """
    if possible(frozenset(groups)):
        return None
    if not groups or not possible(frozenset()):
        return ()
    chosen = set(_explain(frozenset(), False, tuple(groups), possible))
    return tuple(group for group in groups if group in chosen)


def _explain(background: frozenset[str], added: bool, groups: tuple[str, ...], possible: Oracle) -> tuple[str, ...]:
    if added and not possible(background):
        return ()
    if len(groups) == 1:
        return groups
    middle = len(groups) // 2
    first, second = groups[:middle], groups[middle:]
    from_second = _explain(background | frozenset(first), bool(first), second, possible)
    from_first = _explain(background | frozenset(from_second), bool(from_second), first, possible)
    return from_first + from_second
