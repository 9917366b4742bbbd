"""Printed figures of documents: what is checked, where it stands, and how closely it is met.

Contents: `Standing`, `Document`, `Passage`, `Figure`, `Worked`; `checked` (a test for each figure), `registered` and
`worked_examples` (what the tests of this folder hold, read from the tests themselves); `printed`, `number`, `rows`.

A figure is one printed number of one document that our formulas must meet at its printed precision, half a step of its
last place. Where that cannot be, the figure says why and how far it may be off; it is tested all the same and not counted.
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum
from fractions import Fraction
from types import ModuleType
from typing import Any

import pytest


class Standing(StrEnum):
    """How a figure came to us."""

    READ = "printed, read in the document or in two texts that quote it"
    QUOTED = "printed, read in one text that quotes it"
    MEMORY = "recalled, from memory"


READ, QUOTED, MEMORY = Standing


@dataclass(frozen=True)
class Document:
    """One edition of a standard, handbook, regulation or paper; `not_counted` says why one is only shown."""

    title: str
    edition: str = ""
    not_counted: str = ""


@dataclass(frozen=True)
class Passage:
    """A place in a document and what we check there; `held` where our formulas hold the printed table or limit itself."""

    document: Document
    place: str
    what: str
    standing: Standing
    held: bool = False

    def figure(
        self, name: str, text: str, found: Callable[[], float], *, steps: float = 0.5, share: float = 0.0, reason: str = ""
    ) -> Figure:
        """One printed number of this passage."""
        return Figure(self, name, text, found, steps, share, reason)


@dataclass(frozen=True)
class Figure:
    """One printed number: the text as printed, and what our formulas make of it.

    `steps` of its last place it may be off, or a `share` of it; either beyond half a step needs a `reason`.
    """

    passage: Passage
    name: str
    text: str
    found: Callable[[], float]
    steps: float = 0.5
    share: float = 0.0
    reason: str = ""

    @property
    def at_printed_precision(self) -> bool:
        """Whether it is met to half a step of its last place."""
        return self.steps <= 0.5 and not self.share

    @property
    def counts(self) -> bool:
        """Whether it is one of the published figures that are counted."""
        return self.at_printed_precision and not self.passage.document.not_counted

    @property
    def wanted(self) -> Any:
        """The figure with its tolerance."""
        if self.share:
            return pytest.approx(float(self.text.replace(",", "")), rel=self.share)
        return printed(self.text, self.steps)

    def check(self) -> None:
        """Hold what our formulas find against what is printed."""
        found = self.found()
        assert found == self.wanted, f"{self}: printed {self.text}, found {found}"

    def __str__(self) -> str:
        passage = self.passage
        return f"{passage.document.title}, {passage.place}, {passage.standing.name.lower()}: {self.name} {self.text}"


@dataclass(frozen=True)
class Worked:
    """A worked example followed from its given data to its printed answer; the last figure is the answer."""

    title: str
    passage: Passage
    given: str
    steps: str
    figures: Sequence[Figure]


def checked(figures: Sequence[Figure]) -> pytest.MarkDecorator:
    """One case for each figure; the test takes `figure`."""
    return pytest.mark.parametrize("figure", [pytest.param(figure, id=str(figure)) for figure in figures])


def _modules() -> Iterator[ModuleType]:
    """The test modules of this folder."""
    import tests.published as folder

    for module in pkgutil.iter_modules(folder.__path__):
        if module.name.startswith("test_") and module.name != "test_count":
            yield importlib.import_module(f"{folder.__name__}.{module.name}")


def registered() -> list[tuple[Callable[[Figure], None], Figure]]:
    """Every case that a test of this folder is run with, read from the marks of the tests: the test, and the figure."""
    found = []
    for module in _modules():
        for name, test in inspect.getmembers(module, inspect.isfunction):
            if name.startswith("test_") and test.__module__ == module.__name__:
                for mark in getattr(test, "pytestmark", ()):
                    cases = mark.args[1] if mark.name == "parametrize" and mark.args[0] == "figure" else ()
                    found += [(test, case.values[0]) for case in cases if isinstance(case.values[0], Figure)]
    return found


def worked_examples() -> list[Worked]:
    """The worked examples of this folder, in the order of their modules."""
    return [worked for module in _modules() for worked in getattr(module, "WORKED", ())]


def printed(text: str, steps: float = 0.5) -> Any:
    """The figure as printed, with half a step of its last place (or so many steps) as the tolerance.

    >>> 377.4249 == printed("377.42"), 377.43 == printed("377.42")
    (True, False)
    """
    figure = text.replace(",", "")
    return pytest.approx(float(figure), rel=0.0, abs=step_of(text) * steps * (1.0 + 1e-9))


def step_of(text: str) -> float:
    """One step of the last printed place.

    >>> step_of("0.25"), step_of("66,000")
    (0.01, 1.0)
    """
    return float(10.0 ** -len(text.partition(".")[2]))


def number(text: str) -> float:
    """A printed size as a number: `7-1/2` is 7.5."""
    return float(sum(Fraction(part) for part in text.split("-")))


def rows(table: str) -> list[tuple[str, str, str]]:
    """Every cell of a printed table as (row, column, figure); a first line of column names, `-` for an empty cell."""
    lines = [line.split() for line in table.strip().splitlines()]
    head = lines[0][1:]
    return [
        (line[0], column, figure)
        for line in lines[1:]
        for column, figure in zip(head, line[1:], strict=True)
        if figure != "-"
    ]
