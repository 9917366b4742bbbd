"""The tree of errors. Every error that a user can cause is a RigsetError with one clear sentence, never a traceback.

RigsetError
├── InputError          mistakes in files, all at once: .mistakes, each a Mistake with file and line
├── EntryError          one entry that cannot be what it should: .found, .expected, .advice; no file and line yet
│   └── QuantityError       a text that is no quantity of the wanted dimension
│       ├── NotANumber      no readable, finite number in it
│       ├── UnitForgotten   a bare number where a unit is needed
│       ├── UnknownUnit     a unit that nobody knows
│       └── WrongDimension  a known unit of another dimension ("12 ft" for a pressure)
├── OutsideRange        a formula was asked outside the range in which it holds
├── OutputExists        a file is there already and --force was not given
├── CannotWrite         a file could not be written; nothing of it was
├── NotProven           work ended before the answer was proven
├── DoesNotHold         a claim was checked, and what it stands on does not carry it
└── InternalError       a fault of the program itself, not of its input
"""
# ruff: noqa: N818 (an error is named by what went wrong; the tree above says that all are errors)

from __future__ import annotations

import sys
from collections.abc import Iterable
from dataclasses import dataclass


class RigsetError(Exception):
    """Anything that rigset reports in a sentence instead of a traceback."""


@dataclass(frozen=True, order=True)
class Mistake:
    """One mistake in a file: where, what was found, what was expected, what to try. Sorts by file and line."""

    file: str
    """Path of the file as it was given."""
    line: int
    """Line, from 1; 0 means the file or folder as a whole."""
    found: str
    """What stands there, with value and unit."""
    expected: str
    """What should stand there."""
    advice: str = ""
    """What to try."""

    def __str__(self) -> str:
        where = f"{self.file}:{self.line}" if self.line else self.file
        return f"{_one_line(where)}: {_sentence(self.found, self.expected, self.advice)}"


def _sentence(found: str, expected: str, advice: str) -> str:
    return _one_line(f"found {found}; expected {expected}." + (f" Try: {advice}" if advice else ""))


def _one_line(text: str) -> str:
    """The text with what a terminal would not show as it stands (ends of line, marks of direction) written as escapes."""
    if text.isprintable():
        return text
    return "".join(c if c.isprintable() else c.encode("unicode_escape").decode() for c in text)


class InputError(RigsetError):
    """Every mistake of one stage of reading, sorted by file and line, each once."""

    def __init__(self, mistakes: Iterable[Mistake]) -> None:
        self.mistakes: tuple[Mistake, ...] = tuple(sorted(set(mistakes)))
        super().__init__(self.mistakes)

    def __str__(self) -> str:
        return "\n".join(str(mistake) for mistake in self.mistakes)


class EntryError(RigsetError, ValueError):
    """One entry that cannot be what it should be. A ValueError too, so that validators pass it on."""

    def __init__(self, found: str, expected: str, advice: str = "") -> None:
        self.found, self.expected, self.advice = found, expected, advice
        super().__init__(found, expected, advice)

    def __str__(self) -> str:
        return _sentence(self.found, self.expected, self.advice)

    def at(self, file: str, line: int, name: str = "") -> Mistake:
        """The same as a mistake in a file; `name` is the field that it was found in."""
        return Mistake(file, line, f"{name} {self.found}".strip(), self.expected, self.advice)


class QuantityError(EntryError):
    """A text that is no quantity of the wanted dimension."""


class NotANumber(QuantityError):
    """No readable, finite number."""


class UnitForgotten(QuantityError):
    """A bare number where a unit is needed."""


class UnknownUnit(QuantityError):
    """A unit that nobody knows."""


class WrongDimension(QuantityError):
    """A known unit of another dimension."""


class OutsideRange(RigsetError):
    """A formula was asked outside the range in which it holds."""

    def __init__(self, name: str, value: float, unit: str, low: float, high: float) -> None:
        self.name, self.value, self.unit, self.low, self.high = name, value, unit, low, high
        super().__init__(name, value, unit, low, high)

    def __str__(self) -> str:
        return f"{self.name} is {self._figure(self.value)}; the formula holds {self._range()}"

    def _figure(self, value: float) -> str:
        unit = "" if self.unit in ("", "1", "-") else f" {self.unit}"
        return f"{value:.6g}{unit}"

    def _range(self) -> str:
        above_zero, no_top = 0.0 < self.low <= sys.float_info.min, self.high >= sys.float_info.max
        low = "above " + self._figure(0.0) if above_zero else "from " + self._figure(self.low)
        if no_top:
            return low if above_zero else f"{low} up"
        return f"{low} to {self._figure(self.high)}"


class OutputExists(RigsetError):
    """A file is there already; it is kept unless force is asked for."""

    def __init__(self, path: str) -> None:
        self.path = path
        super().__init__(path)

    def __str__(self) -> str:
        return f"{self.path} exists already and was left as it is. Try: another name, or --force to replace it"


class CannotWrite(RigsetError):
    """A file could not be written; nothing of it was."""

    def __init__(self, path: str, reason: str) -> None:
        self.path, self.reason = path, reason
        super().__init__(path, reason)

    def __str__(self) -> str:
        return f"{self.path} could not be written ({self.reason}). Nothing was written. Try: another folder"


class NotProven(RigsetError):
    """Work ended, at a limit that was set, before the answer was proven."""


class DoesNotHold(RigsetError):
    """A claim that was checked, and that does not follow from what it stands on."""


class InternalError(RigsetError):
    """A fault of the program itself."""
