"""A brief with ranges: its points, the briefs there, and where a rig is tried.

Contents: `Ranged`, `Point`, `points_of` (random points), `ends_of`, `sayable`.
"""

from __future__ import annotations

import itertools
import random
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cached_property

from solver.answers.ask import Asked
from solver.answers.changed import changed_brief
from solver.brief.models import Brief
from solver.brief.ranges import Range, with_values
from solver.brief.requirements import moved_by
from solver.errors import EntryError

GRID = 400
"""Points of the grid, about: so many along one range, their square root along each of two."""
RANDOM = 200
SEED = 1

Point = tuple[float, ...]


@dataclass(frozen=True, eq=False)
class Ranged:
    """A brief with its ranges, and the questions at their points."""

    base: Asked
    ranges: tuple[Range, ...]

    @cached_property
    def moved(self) -> frozenset[str]:
        """Ids of all requirements that move within the ranges."""
        brief, found = self.base.brief, frozenset[str]()
        for each in self.ranges:
            for requirement, duties in each.targets:
                for duty in duties or (None,):
                    found |= moved_by(brief, requirement, duty)
        return found

    @cached_property
    def duties(self) -> frozenset[str]:
        """Duties in which something moves; none where a requirement of the whole brief does."""
        named = [duties for each in self.ranges for _, duties in each.targets]
        return frozenset(itertools.chain(*named)) if all(named) else frozenset()

    @property
    def nominal(self) -> Point:
        """The nominal point."""
        return tuple(each.nominal for each in self.ranges)

    def brief(self, point: Point) -> Brief:
        """The brief at a point; EntryError where it cannot be said."""
        changes = itertools.chain(*(each.changes(value) for each, value in zip(self.ranges, point, strict=True)))
        return with_values(self.base.brief, changes)[0]

    def asked(self, point: Point) -> Asked:
        """The question at a point."""
        return changed_brief(self.base, self.brief(point), self.moved)

    def corner(self, point: Point) -> bool:
        """Whether every value is an end."""
        return all(value in (each.low, each.high) for each, value in zip(self.ranges, point, strict=True))


def ends_of(ranges: Sequence[Range]) -> list[tuple[float, ...]]:
    return [tuple(dict.fromkeys((each.low, each.high))) for each in ranges]


def points_of(ranges: Sequence[Range], count: int, seed: int) -> tuple[Point, ...]:
    """Random points of the ranges, the same for the same seed."""
    rng = random.Random(seed)
    return tuple(tuple(each.rounded(rng.uniform(each.low, each.high)) for each in ranges) for _ in range(count))


def sayable(ranged: Ranged) -> tuple[dict[Point, Brief], dict[Point, Brief], int]:
    """Briefs at the points of the grid, at all points that are tried, and how many points cannot be said."""
    open_ranges = sum(each.low < each.high for each in ranged.ranges)
    most = max(3, round(GRID ** (1.0 / max(1, open_ranges))))
    grid = tuple(itertools.product(*(each.grid(most) for each in ranged.ranges)))
    extra = points_of(ranged.ranges, RANDOM if open_ranges else 0, SEED)
    briefs: dict[Point, Brief] = {}
    wrong: set[Point] = set()
    for point in (*grid, ranged.nominal, *extra):
        try:
            briefs.setdefault(point, ranged.brief(point))
        except EntryError:
            wrong.add(point)
    return {point: briefs[point] for point in grid if point in briefs}, briefs, len(wrong)
