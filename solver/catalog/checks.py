"""What a field accepts and makes of it: text in a range to an SI value, a whole number, a word, a list of tags.

Contents: `Quantity`, `Count`, `Switch`, `Tags`, `Name`, `Slug`, each to stand in an Annotated type; `found`.

From a file every entry is text with its unit; a bare number is "unit forgotten". A Python float is taken as SI, so that
items can be built in code. Beyond one billion SI units nothing is believed.
"""

from __future__ import annotations

import re
from collections.abc import Callable
from dataclasses import dataclass
from difflib import get_close_matches
from typing import Any

from pydantic_core import core_schema

from solver.errors import EntryError, InternalError, QuantityError, UnitForgotten
from solver.quantities import parse, show, title_of

LEAST = 1e-15
"""SI units below which a figure that is not zero is taken for a slip of the pen; dividing by it would leave all range."""
MOST = 1e9
"""SI units beyond which a figure is taken for a slip of the pen, and beyond which integers of the program could not be
exact."""


def found(value: object) -> str:
    """A value as it stands in a message."""
    if isinstance(value, str):
        return f'"{value}"' if len(value) <= 60 else f'"{value[:57]}..."'
    if isinstance(value, dict):
        return "a mapping"
    return "a list" if isinstance(value, list) else repr(value)


class Checked:
    """An entry that a plain function checks; the rest is what pydantic asks of a type."""

    def checker(self) -> Callable[[Any], Any]:
        """The function that turns an entry into its value or raises EntryError."""
        raise InternalError(f"{type(self).__name__} does not say how it checks")

    def json_schema(self) -> dict[str, Any]:
        """How an editor may check the entry."""
        return {"type": "string"}

    def __get_pydantic_core_schema__(self, source: Any, handler: Any) -> core_schema.CoreSchema:
        return core_schema.no_info_plain_validator_function(self.checker())

    def __get_pydantic_json_schema__(self, schema: Any, handler: Any) -> dict[str, Any]:
        return self.json_schema()


@dataclass(frozen=True)
class Quantity(Checked):
    """A figure with a unit, kept as SI float. `least` and `most` are SI values; with `above`, `least` itself is out."""

    dimension: str
    example: str
    least: float = 0.0
    most: float = MOST
    above: bool = True

    @property
    def unit(self) -> str:
        """The unit of the example: in it the field is shown and written."""
        return self.example.split(" ", 1)[1]

    def checker(self) -> Callable[[Any], Any]:
        """Text to SI float, each text once."""
        known: dict[str, float] = {}
        check = self._check

        def value_of(entry: Any) -> float:
            try:
                return known[entry]
            except (KeyError, TypeError):
                pass
            if entry.__class__ is float:
                return check(entry, show(entry, self.unit))
            value = check(self._parse(entry), entry)
            if len(known) < 100_000:
                known[entry] = value
            return value

        return value_of

    def _parse(self, entry: Any) -> float:
        try:
            return parse(entry, self.dimension)
        except UnitForgotten as error:
            raise UnitForgotten(error.found, self.expected(), f"{str(entry).strip()} {self.unit}") from None
        except QuantityError as error:
            raise type(error)(error.found, self.expected(), error.advice) from None

    def _check(self, value: float, text: str) -> float:
        if 0.0 < abs(value) < LEAST:
            raise QuantityError(f"{found(text)}, a figure too small to be meant", self.expected())
        if self.least < value <= self.most or (value == self.least and not self.above):
            return value
        beyond = f", at most {_short(self.most, self.unit)}" if value > self.most == MOST else ""
        raise QuantityError(found(text), f"{self.expected()}{beyond}")

    def expected(self) -> str:
        """What a message says is expected: dimension and range."""
        low = f"{'above' if self.above else 'of at least'} {_short(self.least, self.unit)}"
        high = f" and at most {_short(self.most, self.unit)}" if self.most != MOST else ""
        if not high and self.above and self.least == 0 and self.dimension == "temperature":
            low = "above absolute zero"
        return f"{title_of(self.dimension)} {low}{high}, such as {self.example}"

    def json_schema(self) -> dict[str, Any]:
        """A text that begins with a number and ends with a unit."""
        return {"type": "string", "pattern": r"^[+\-]?[$]?[0-9.].*$", "examples": [self.example]}


def _short(value: float, unit: str) -> str:
    text = show(value, unit)
    number, rest = text.split(" ", 1)
    return f"{number.rstrip('0').rstrip('.') if '.' in number else number} {rest}"


@dataclass(frozen=True)
class Count(Checked):
    """A whole number without a unit."""

    least: int = 0
    most: int = 1_000_000

    def checker(self) -> Callable[[Any], Any]:
        """Digits to int."""

        def value_of(entry: Any) -> int:
            number = entry
            if isinstance(entry, str) and re.fullmatch(r"[0-9]{1,9}", entry.strip()):
                number = int(entry)
            if number.__class__ is int and self.least <= number <= self.most:
                return int(number)
            raise EntryError(found(entry), self.expected())

        return value_of

    def expected(self) -> str:
        """What a message says is expected."""
        return f"a whole number from {self.least} to {self.most:,}"

    def json_schema(self) -> dict[str, Any]:
        """An integer in its range."""
        return {"type": "integer", "minimum": self.least, "maximum": self.most}


@dataclass(frozen=True)
class Switch(Checked):
    """`true` or `false`, nothing else: `yes`, `no`, `on` are refused rather than guessed."""

    def checker(self) -> Callable[[Any], Any]:
        """Word to bool."""
        words = {"true": True, "false": False, True: True, False: False}

        def value_of(entry: Any) -> bool:
            if entry.__class__ in (str, bool) and entry in words:
                return words[entry]
            meant = {"yes": "true", "on": "true", "no": "false", "off": "false"}.get(str(entry).lower(), "")
            raise EntryError(found(entry), "true or false", meant or str(entry).lower() * (str(entry).lower() in words))

        return value_of

    def json_schema(self) -> dict[str, Any]:
        """A boolean."""
        return {"type": "boolean"}


_SLUG = re.compile(r"[a-z0-9]+(?:-[a-z0-9]+)*")


@dataclass(frozen=True)
class Slug(Checked):
    """A short name of small letters, digits and single hyphens."""

    def checker(self) -> Callable[[Any], Any]:
        """The text itself."""

        def value_of(entry: Any) -> str:
            if isinstance(entry, str) and len(entry) <= 60 and _SLUG.fullmatch(entry):
                return entry
            advice = "-".join(re.findall(r"[a-z0-9]+", entry.lower()))[:60] if isinstance(entry, str) else ""
            raise EntryError(found(entry), "small letters, digits and hyphens", advice)

        return value_of

    def json_schema(self) -> dict[str, Any]:
        """A string of that form."""
        return {"type": "string", "pattern": f"^{_SLUG.pattern}$", "maxLength": 60}


@dataclass(frozen=True)
class Name(Checked):
    """A label for people: one line of printable text."""

    most: int = 120

    def checker(self) -> Callable[[Any], Any]:
        """The text without space around it."""

        def value_of(entry: Any) -> str:
            text = entry.strip() if isinstance(entry, str) else ""
            if text and len(text) <= self.most and text.isprintable():
                return text
            raise EntryError(found(entry), f"one line of text, at most {self.most} characters")

        return value_of

    def json_schema(self) -> dict[str, Any]:
        """A string that is not empty."""
        return {"type": "string", "minLength": 1, "maxLength": self.most}


_MOST_TAGS = 1000


@dataclass(frozen=True)
class Tags(Checked):
    """A list of tags, each once. With `words`, only these; `least` is how many there must be."""

    words: tuple[str, ...] = ()
    least: int = 0

    def checker(self) -> Callable[[Any], Any]:
        """List to tuple."""

        def value_of(entry: Any) -> tuple[str, ...]:
            if not isinstance(entry, list | tuple):
                advice = f"[{entry}]" if isinstance(entry, str) and 0 < len(entry) <= 60 else ""
                raise EntryError(found(entry), f"a list {self.expected()}", advice)
            if len(entry) > _MOST_TAGS:
                raise EntryError(f"with {len(entry):,} in it", f"a list {self.expected()}, at most {_MOST_TAGS:,}")
            for k, tag in enumerate(entry):
                self._check(tag)
                if tag in entry[:k]:
                    raise EntryError(f"{found(tag)} twice", f"a list {self.expected()}, each once")
            if len(entry) < self.least:
                raise EntryError(f"with {len(entry) or 'nothing'} in it", f"a list {self.expected()}")
            return tuple(entry)

        return value_of

    def _check(self, tag: object) -> None:
        if self.words and tag not in self.words:
            near = get_close_matches(str(tag), self.words, 1, 0.6)
            raise EntryError(f"{found(tag)} in the list", f"a list {self.expected()}", near[0] if near else "")
        if not self.words and not (isinstance(tag, str) and len(tag) <= 60 and _SLUG.fullmatch(tag)):
            raise EntryError(f"{found(tag)} in the list", f"a list {self.expected()}")

    def expected(self) -> str:
        """What a message says is expected, after "a list"."""
        if self.words:
            return f"of {f'at least {self.least} of ' * bool(self.least)}{', '.join(self.words)}"
        count = f"at least {self.least} tag{'s' * (self.least > 1)}" if self.least else "tags"
        return f"of {count} in small letters, digits and hyphens"

    def json_schema(self) -> dict[str, Any]:
        """An array of distinct strings."""
        items: dict[str, Any] = {"enum": list(self.words)} if self.words else {"type": "string"}
        return {"type": "array", "items": items, "uniqueItems": True, "minItems": self.least}
