"""Requirements given as ranges: what a brief says of them, in SI, and the brief at one point of them.

Contents: `Range`, `ranges_of`, `range_of`, `with_values`, `misfits_of_ranges`.

A range is nominal at the value that the brief itself states where that lies within; else in the middle, and this is said.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from solver.brief.models import Brief
from solver.brief.requirements import Requirement, find, moved_by, si, value_of, with_value
from solver.errors import EntryError, Mistake
from solver.files import Document
from solver.quantities import dimension_of, parse, show

_TOGETHER = {"air_temperature": ("coldest_air", "hottest_air")}
"""Words of a brief that stand for several requirements with one value."""

Change = tuple[Requirement, tuple[str, ...], float]
"""A requirement, the duties in which it changes (none: the whole brief), and its new value in SI."""


@dataclass(frozen=True)
class Range:
    """A requirement, or several with one value, anywhere between two ends."""

    path: str
    """As it is named."""
    targets: tuple[tuple[Requirement, tuple[str, ...]], ...]
    """What has the value: requirements with the duties in which they are meant."""
    low: float
    """Lower end in SI."""
    high: float
    """Higher end in SI."""
    nominal: float
    """The value taken as nominal, in SI."""
    stated: bool
    """Whether the nominal value is the one that the brief states; else it is the middle."""

    @property
    def requirement(self) -> Requirement:
        """The first of its requirements, whose unit and grid it has."""
        return self.targets[0][0]

    def grid(self, most: int) -> tuple[float, ...]:
        """Values of the requirement's grid between the ends, both ends with them; evenly spaced where those are too many."""
        if self.low == self.high:
            return (self.low,)
        inside = [
            value for figure in self.requirement.grid() if self.low < (value := si(self.requirement, figure)) < self.high
        ]
        if len(inside) + 2 > most:
            steps = [self.low + (self.high - self.low) * k / (most - 1) for k in range(1, most - 1)]
            inside = list(dict.fromkeys(self.rounded(step) for step in steps))
        return tuple(dict.fromkeys((self.low, *inside, self.high)))

    def rounded(self, value: float) -> float:
        """The value, whole where the requirement is a count."""
        return float(round(value)) if self.requirement.whole else value

    def changes(self, value: float) -> Iterator[Change]:
        """What changes where the range has this value."""
        return ((requirement, duties, value) for requirement, duties in self.targets)


def ranges_of(brief: Brief) -> tuple[Range, ...]:
    """The ranges that the brief states; EntryError for one that is none."""
    return tuple(
        range_of(path, _end(path, entry.low, brief), _end(path, entry.high, brief), brief)
        for path, entry in brief.ranges.items()
    )


def range_of(path: str, low: float, high: float, brief: Brief) -> Range:
    """A range from its path and its ends in SI; EntryError where there is no such requirement or the ends are swapped."""
    targets = _targets(path, brief)
    requirement = targets[0][0]
    if not low <= high:
        found = f"from {_figure(requirement, low)} to {_figure(requirement, high)}"
        raise EntryError(found, "first the lower end, then the higher one")
    values = {value_of(brief, each, duty) for each, duties in targets for duty in (duties or (None,))}
    own = values.pop() if len(values) == 1 else None
    stated = own is not None and low <= own <= high
    middle = 0.5 * (low + high)
    nominal = own if stated and own is not None else float(round(middle)) if requirement.whole else middle
    return Range(path, targets, float(low), float(high), float(nominal), stated)


def _targets(path: str, brief: Brief) -> tuple[tuple[Requirement, tuple[str, ...]], ...]:
    head, _, name = (part.strip() for part in path.rpartition("."))
    names = _TOGETHER.get(name, (name,))
    return tuple(find(f"{head}.{each}" if head else each, brief) for each in names)


def _end(path: str, text: str, brief: Brief) -> float:
    requirement = _targets(path, brief)[0][0]
    if not requirement.whole:
        return parse(text, dimension_of(requirement.unit))
    if not text.isdecimal():
        raise EntryError(f'"{text}"', f"a whole number for {requirement.title}", "2")
    return float(text)


def _figure(requirement: Requirement, value: float) -> str:
    return f"{value:g}" if requirement.whole else show(value, requirement.unit)


def with_values(brief: Brief, changes: Iterable[Change]) -> tuple[Brief, frozenset[str]]:
    """The brief with several requirements changed, and the ids of all that moved; EntryError where it cannot be said.

    The changes are made one after another, in the first order in which every brief on the way can be said: where the
    coldest and the hottest air both rise, the hottest has to rise first.
    """
    wanted = tuple(changes)
    first: EntryError | None = None
    for order in itertools.permutations(wanted) if len(wanted) <= 5 else iter([wanted]):
        try:
            return _changed(brief, order)
        except EntryError as error:
            first = first or error
    if first is not None:
        raise first
    return brief, frozenset()


def _changed(brief: Brief, changes: Iterable[Change]) -> tuple[Brief, frozenset[str]]:
    moved: frozenset[str] = frozenset()
    for requirement, duties, value in changes:
        for duty in duties or (None,):
            moved |= moved_by(brief, requirement, duty)
        brief = with_value(brief, requirement, value, duties or None)
    return brief, moved


def misfits_of_ranges(brief: Brief, document: Document) -> list[Mistake]:
    """Every range of a brief that names no requirement, has a wrong end, or cannot be said at one of its ends."""
    wrong: list[Mistake] = []
    seen: dict[tuple[str, str], str] = {}
    for path, entry in brief.ranges.items():
        try:
            found = range_of(path, _end(path, entry.low, brief), _end(path, entry.high, brief), brief)
            for value in (found.low, found.high):
                with_values(brief, found.changes(value))
        except EntryError as error:
            wrong.append(document.mistake(("ranges", path), error.found, error.expected, error.advice))
            continue
        for requirement, duties in found.targets:
            for duty in duties or ("",):
                if (requirement.id, duty) in seen:
                    again = f'"{path}", which "{seen[requirement.id, duty]}" names too'
                    wrong.append(document.mistake(("ranges", path), again, "one range for each requirement"))
                seen.setdefault((requirement.id, duty), path)
    return wrong
