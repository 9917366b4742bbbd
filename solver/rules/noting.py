"""Figures of a case that follow from others: worked out once, and every requirement read on the way is noted each time.

Contents: `kept`, `derived`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Generic, TypeVar

if TYPE_CHECKING:
    from solver.rules.case import Case

_T = TypeVar("_T")


def kept(case: Case, name: str, function: Callable[[Case], _T]) -> _T:
    """What the function makes of the case, worked out once per case and name; what it read is noted each time."""
    memo = case._memo
    if name not in memo:
        outer, case._reads = case._reads, set()
        try:
            value = function(case)
        finally:
            inner, case._reads = case._reads, outer
        memo[name] = (value, frozenset(inner))
    found, reads = memo[name]
    case._reads |= reads
    return found  # type: ignore[no-any-return]


class derived(Generic[_T]):  # noqa: N801  used as a decorator
    """A figure of `Case` that is computed once per case and passes on what it read."""

    def __init__(self, function: Callable[[Case], _T]) -> None:
        self._function, self._name, self.__doc__ = function, function.__name__, function.__doc__

    def __get__(self, case: Case, owner: type[Case]) -> _T:
        return kept(case, self._name, self._function)
