"""From the events of the YAML parser to plain data with the line of every entry, in one loop without recursion.

Contents: `Builder`, `Plain`, `Lines`, and the bounds. `files.py` wraps it.

The bounds keep what a hostile file can cost below a gigabyte and some seconds; no real catalog comes near them.
"""

from __future__ import annotations

import contextlib
from typing import Any, TypeAlias

import yaml

from solver.errors import Mistake

Plain: TypeAlias = "str | list[Plain] | dict[str, Plain]"
"""What a YAML file holds once read: texts, lists and mappings, nothing else."""

Lines: TypeAlias = "dict[int, dict[str, int] | list[int]]"
"""Per list or mapping (by its identity) the line of each of its entries."""

DEEPEST = 20
"""Lists and mappings inside each other."""

MOST_ENTRIES = 2_000_000
"""Texts, lists and mappings in one file."""
MOST_KEYS = 1_000
"""Keys of one mapping."""
LONGEST_KEY = 200
"""Characters of a key."""
MOST_MISTAKES = 1_000
"""Mistakes that are told at once; reading ends there."""

LOADER: Any = getattr(yaml, "CSafeLoader", yaml.SafeLoader)


class Stop(yaml.MarkedYAMLError):
    """Form so broken that reading on makes no sense; its mistake is noted already."""


class Builder:
    """Turns the events of the C parser into plain data, in one loop without recursion."""

    def __init__(self, path: str) -> None:
        self.path = path
        self.data: Plain = ""
        self.start = 1
        self.lines: Lines = {}
        self.mistakes: list[Mistake] = []

    def build(self, text: str) -> None:
        """Read all events of the text."""
        loader = LOADER(text)
        try:
            with contextlib.suppress(Stop):
                self._loop(loader.get_event)
        finally:
            loader.dispose()

    def _note(self, line: int, found: str, expected: str, advice: str = "") -> None:
        self.mistakes.append(Mistake(self.path, line, found, expected, advice))
        if len(self.mistakes) >= MOST_MISTAKES:
            raise Stop

    def _loop(self, get_event: Any) -> None:
        scalar, opening, closing = yaml.ScalarEvent, yaml.CollectionStartEvent, yaml.CollectionEndEvent
        stack: list[tuple[Any, Any]] = []
        here: Any = []  # the list or mapping being filled; outermost, a list of the one document
        marks: Any = []
        key: str | None = None
        left = MOST_ENTRIES
        while (event := get_event()) is not None:
            kind = event.__class__
            left -= 1
            if left < 0:
                most = f"at most {MOST_ENTRIES:,}"
                self._note(event.start_mark.line + 1, "more entries than a file may have", most, "several smaller files")
                raise Stop
            if kind is scalar:
                value: Any = event.value
                line = event.start_mark.line + 1
                if event.tag is not None:
                    self._tag(event.tag, line)
                if key is not None:
                    here[key] = value
                    key = None
                elif here.__class__ is list:
                    here.append(value)
                    marks.append(line)
                else:
                    if value in here:
                        self._note(line, f'"{value}" a second time', f"each key once (first in line {marks[value]})")
                    else:
                        self._check_key(value, line, len(here))
                        marks[value] = line
                    key = value
            elif issubclass(kind, opening):
                line = event.start_mark.line + 1
                self._check_opening(event, line, len(stack), here.__class__ is dict and key is None)
                inner: Any = {} if kind is yaml.MappingStartEvent else []
                if key is not None:
                    here[key] = inner
                    key = None
                else:
                    here.append(inner)
                    marks.append(line)
                stack.append((here, marks))
                here, marks = inner, {} if inner.__class__ is dict else []
                self.lines[id(inner)] = marks
            elif issubclass(kind, closing):
                here, marks = stack.pop()
            else:
                self._check_other(event, bool(here))
        if not here or here[0] == "":
            self._note(1, "an empty file", "a mapping of keys")
            return
        self.data, self.start = here[0], marks[0]

    def _check_other(self, event: Any, second: bool) -> None:
        """Aliases and second documents end the reading; marks of the stream mean nothing."""
        line = event.start_mark.line + 1
        if isinstance(event, yaml.AliasEvent):
            self._note(line, f"the alias *{str(event.anchor)[:60]}", "every entry written out", "a copy of the entry")
            raise Stop
        if isinstance(event, yaml.DocumentStartEvent) and second:
            self._note(line, "a second document (---)", "one document in a file")
            raise Stop

    def _check_key(self, key: str, line: int, before: int) -> None:
        if len(key) > LONGEST_KEY:
            self._note(line, f"a key of {len(key):,} characters", f"at most {LONGEST_KEY}")
            raise Stop
        if before >= MOST_KEYS:
            self._note(line, f"more than {MOST_KEYS:,} keys in one mapping", f"at most {MOST_KEYS:,}")
            raise Stop

    def _tag(self, tag: str, line: int) -> None:
        self._note(line, f"the tag {tag[:60]}", "plain entries without a tag", "the entry without it")

    def _check_opening(self, event: Any, line: int, depth: int, as_key: bool) -> None:
        if event.tag is not None:
            self._tag(event.tag, line)
        if as_key:
            self._note(line, "a list or mapping as a key", "a word as a key", "quotation marks around the key")
            raise Stop
        if depth >= DEEPEST:
            self._note(line, f"more than {DEEPEST} lists or mappings inside each other", f"at most {DEEPEST}")
            raise Stop
