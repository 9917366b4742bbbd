"""What a what-if answers: one cell for every set of changed values, and the study that they belong to.

Contents: `Study`, `Cell`, `Swap`, `Binding`, `cell_values`, `brief_of_cell`, `to_plain`, `from_plain`.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable
from dataclasses import asdict, dataclass
from functools import cached_property
from typing import Any, Literal

from solver.answers.facts import MoneyFacts, Totals
from solver.answers.whatif_values import Axis
from solver.brief.models import Brief
from solver.brief.ranges import with_values
from solver.catalog import Catalog
from solver.errors import EntryError

MOST_CELLS = 1_000_000
Values = tuple[float | None, ...]
"""One value in SI per axis; None where the brief's own stands."""

Binding = Literal["none", "rules", "savings"]
"""What is said of the rules that bind in a cell: nothing, which they are, or also what each saves."""


@dataclass(frozen=True, eq=False)
class Study:
    """A brief over a catalog, what is varied, and how much is said of each cell."""

    catalog: Catalog
    brief: Brief
    by: str
    axes: tuple[Axis, ...]
    one_at_a_time: bool = False
    binding: Binding = "savings"

    @cached_property
    def cells(self) -> tuple[Values, ...]:
        """The values of every cell in order, the first cell being the brief as it is."""
        return cell_values(self.axes, self.one_at_a_time)


@dataclass(frozen=True)
class Swap:
    """A slot that holds something else than in another rig; empty text for an empty slot."""

    slot: str
    before: str
    after: str


@dataclass(frozen=True)
class Cell:
    """The answer under one set of values."""

    number: int
    """Its place in the study; 0 is the brief as it is."""
    values: Values
    """One per axis in SI; None where the brief's own value stands."""
    status: str
    """found, none (no rig fits), invalid (a brief that cannot be said) or unknown (the limit of work ended)."""
    proven: bool = True
    message: str = ""
    """Why it is invalid or unknown."""
    options: tuple[int, ...] = ()
    """The chosen option of every slot."""
    total: Totals | None = None
    money: MoneyFacts | None = None
    binding: tuple[tuple[str, float | None], ...] = ()
    """Binding rules with their savings [USD, kg or USD a year], the largest first; None where only the rules were asked for,
    which then stand in the order of the rules."""
    conflict: tuple[str, ...] = ()
    """The rules of one minimal conflict, where no rig fits."""
    cautions: tuple[str, ...] = ()
    """Ids of the cautions that belong to it."""
    changed: tuple[Swap, ...] = ()
    """What differs from the rig of the brief as it is; nothing where that has none."""


def cell_values(axes: tuple[Axis, ...], one_at_a_time: bool) -> tuple[Values, ...]:
    """The brief as it is, then every combination (the last axis fastest), or each axis alone."""
    base: Values = (None,) * len(axes)
    count = sum(len(axis.values) for axis in axes) if one_at_a_time else _product(len(axis.values) for axis in axes)
    if count > MOST_CELLS:
        raise EntryError(f"{count:,} cells", f"at most {MOST_CELLS:,}", "fewer values, or --one-at-a-time")
    if one_at_a_time:
        alone = (
            tuple(value if k == place else None for k in range(len(axes)))
            for place, axis in enumerate(axes)
            for value in axis.values
        )
        return (base, *alone)
    return (base, *itertools.product(*(axis.values for axis in axes)))


def _product(sizes: Iterable[int]) -> int:
    count = 1
    for size in sizes:
        count *= size
    return count


def brief_of_cell(brief: Brief, axes: tuple[Axis, ...], values: Values) -> tuple[Brief, frozenset[str]]:
    """The brief with these values, and the ids of all requirements that moved; EntryError where it cannot be said."""
    return with_values(
        brief,
        [(axis.requirement, axis.duties, value) for axis, value in zip(axes, values, strict=True) if value is not None],
    )


def to_plain(cell: Cell) -> dict[str, Any]:
    """A cell as plain data that JSON gives back to the last digit."""
    return asdict(cell)


def from_plain(data: dict[str, Any]) -> Cell:
    """The cell of `to_plain`, also after JSON."""
    return Cell(
        number=data["number"],
        values=tuple(data["values"]),
        status=data["status"],
        proven=data["proven"],
        message=data["message"],
        options=tuple(data["options"]),
        total=None if data["total"] is None else Totals(**data["total"]),
        money=None if data["money"] is None else MoneyFacts(**data["money"]),
        binding=tuple((rule, saving) for rule, saving in data["binding"]),
        conflict=tuple(data["conflict"]),
        cautions=tuple(data["cautions"]),
        changed=tuple(Swap(**swap) for swap in data["changed"]),
    )
