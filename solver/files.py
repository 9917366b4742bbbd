"""Files in and out: YAML read safely and with the line of every entry; outputs that appear whole or not at all.

Contents: `read_yaml` and the `Document` it gives (plain data, lines, a tree of `Node`), `read_bytes`, `find_yaml` (the
files of a folder), `write_whole`, `forget_drafts`, the bounds.

Every plain scalar stays the text that was typed, so that `no`, `1:30` and `010` mean what they say; the models give it
its type. Aliases, tags, duplicate keys and deep nesting are mistakes. Nothing here raises but InputError, OutputExists
and CannotWrite.
"""

from __future__ import annotations

import contextlib
import os
import secrets
import stat
from collections.abc import Iterable, Iterator
from dataclasses import dataclass, field
from functools import cached_property
from pathlib import Path
from typing import Any

import yaml

from solver.errors import CannotWrite, InputError, Mistake, OutputExists
from solver.yaml_events import DEEPEST, Builder, Lines, Plain

LARGEST_FILE = 20_000_000
"""Bytes in one file."""
MOST_FILES = 5_000
"""Files in one folder."""


@dataclass(frozen=True, eq=False)
class Node:
    """An entry with its line; lists and mappings hold further nodes."""

    value: str | list[Node] | dict[str, Node]
    line: int


@dataclass(frozen=True, eq=False)
class Document:
    """A YAML file as read: `data`, and the line of every entry."""

    path: str
    """The file, as it was given."""
    data: Plain
    """Its content."""
    _lines: Lines = field(repr=False)
    _start: int = field(default=1, repr=False)

    def line(self, place: Iterable[str | int] = ()) -> int:
        """Line of the entry at `place` (keys and positions from the top); of the nearest one above it if not there."""
        here, line = self.data, self._start
        for step in place:
            lines = self._lines.get(id(here))
            try:
                line = lines[step]  # type: ignore[index]
                here = here[step]  # type: ignore[index]
            except (KeyError, IndexError, TypeError):
                break
        return line

    @property
    def size(self) -> int:
        """How many entries there are, at all depths."""
        return sum(len(lines) for lines in self._lines.values())

    @cached_property
    def root(self) -> Node:
        """The same content as a tree of nodes."""
        return self._node(self.data, self._start)

    def _node(self, data: Plain, line: int) -> Node:
        lines: Any = self._lines.get(id(data))
        if isinstance(data, dict):
            return Node({key: self._node(inner, lines[key]) for key, inner in data.items()}, line)
        if isinstance(data, list):
            return Node([self._node(inner, lines[k]) for k, inner in enumerate(data)], line)
        return Node(data, line)

    def mistake(self, place: Iterable[str | int], found: str, expected: str, advice: str = "") -> Mistake:
        """A mistake at the entry of this place."""
        return Mistake(self.path, self.line(place), found, expected, advice)


def read_yaml(path: Path | str) -> Document:
    """Read one YAML file; InputError with every mistake of its form (not of its meaning)."""
    shown = str(path)
    text = _read_text(Path(path), shown)
    builder = Builder(shown)
    try:
        builder.build(text)
    except yaml.MarkedYAMLError as error:
        builder.mistakes.append(_yaml_mistake(shown, text, error))
    except yaml.YAMLError as error:
        builder.mistakes.append(_character_mistake(shown, text, error))
    if builder.mistakes:
        raise InputError(builder.mistakes)
    return Document(shown, builder.data, builder.lines, builder.start)


def _read_text(path: Path, shown: str) -> str:
    """The text of a file in UTF-8, with or without a byte-order mark."""
    raw = read_bytes(path, shown)
    try:
        return raw.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = raw.count(b"\n", 0, error.start) + 1
        found = f"the byte 0x{raw[error.start]:02x}, which is not UTF-8"
        raise InputError([Mistake(shown, line, found, "text in UTF-8", "saving the file as UTF-8")]) from None


def read_bytes(path: Path, shown: str) -> bytes:
    """The content of a plain file that is not too large; InputError otherwise. Pipes and devices are not waited for."""
    try:
        if not stat.S_ISREG(path.stat().st_mode):
            raise InputError([Mistake(shown, 0, "no plain file", "a YAML file")])
        with os.fdopen(os.open(path, os.O_RDONLY | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)), "rb") as file:
            if not stat.S_ISREG(os.fstat(file.fileno()).st_mode):  # put in its place meanwhile
                raise InputError([Mistake(shown, 0, "no plain file", "a YAML file")])
            raw = file.read(LARGEST_FILE + 1)
    except OSError as error:
        raise InputError([Mistake(shown, 0, _reason(error), "a YAML file that can be read")]) from None
    if len(raw) > LARGEST_FILE:
        limit = f"at most {LARGEST_FILE // 1_000_000} MB"
        raise InputError([Mistake(shown, 0, "a larger file", limit, "several smaller files")])
    return raw


def _reason(error: OSError) -> str:
    if isinstance(error, FileNotFoundError):
        return "nothing there"
    return (error.strerror or "an error of the file system").lower()


def _yaml_mistake(shown: str, text: str, error: yaml.MarkedYAMLError) -> Mistake:
    mark = error.problem_mark or error.context_mark
    problem = " ".join((error.problem or error.context or "unreadable text").split())
    line = mark.line + 1 if mark else 0
    if "nesting depth" in problem:
        return Mistake(shown, line, f"more than {DEEPEST} lists or mappings inside each other", f"at most {DEEPEST}")
    rows = text.split("\n")
    if mark and mark.line < len(rows) and rows[mark.line][mark.column : mark.column + 1] == "\t":
        return Mistake(shown, line, "a tab", "spaces before and between entries", "two spaces for each tab")
    return Mistake(shown, line, f"text that is no YAML ({problem})", "YAML", _advice(problem))


def _advice(problem: str) -> str:
    if "mapping values" in problem:
        return "quotation marks around a text that holds a colon"
    if "start any token" in problem:
        return "quotation marks around the text"
    return "the same indent for entries of one list or mapping, and a closing mark for every opening one"


def _character_mistake(shown: str, text: str, error: yaml.YAMLError) -> Mistake:
    """A character that YAML does not allow; its position is counted in bytes or in characters."""
    bad = next((at for at, c in enumerate(text) if _forbidden(c)), None)
    if bad is None:
        return Mistake(shown, 0, f"text that is no YAML ({' '.join(str(error).split())})", "YAML")
    found = f"the control character U+{ord(text[bad]):04X}"
    return Mistake(shown, text.count("\n", 0, bad) + 1, found, "printable text", "taking it out")


def _forbidden(c: str) -> bool:
    code = ord(c)
    return (code < 0x20 and c not in "\t\n\r") or (0x7F <= code < 0xA0 and code != 0x85) or code in (0xFFFE, 0xFFFF)


def find_yaml(folder: Path) -> tuple[Path, ...]:
    """All .yaml and .yml files under a folder, in order of their path; hidden ones are left out."""
    if not folder.is_dir():
        found = "no folder" if folder.exists() else "nothing there"
        raise InputError([Mistake(str(folder), 0, found, "a folder with YAML files")])
    paths = []
    for path in _walk(folder):
        paths.append(path)
        if len(paths) > MOST_FILES:
            raise InputError([Mistake(str(folder), 0, f"more than {MOST_FILES} files", "the folder of one catalog")])
    return tuple(sorted(paths, key=lambda path: path.relative_to(folder).parts))


def _unreadable(error: OSError) -> None:
    """A folder whose files cannot be listed is a mistake: leaving them out would change the answer without a word."""
    raise InputError([Mistake(str(error.filename), 0, _reason(error), "a folder that can be read")])


def _walk(folder: Path) -> Iterator[Path]:
    for root, folders, names in os.walk(folder, onerror=_unreadable):
        folders[:] = [name for name in folders if not name.startswith(".")]
        for name in names:
            if name.lower().endswith((".yaml", ".yml")) and not name.startswith("."):
                yield Path(root, name)


def write_whole(path: Path | str, content: str | bytes, force: bool = False) -> None:
    """Write a file so that it appears whole or not at all; a file that is there is kept unless `force`."""
    target = Path(os.path.realpath(path))
    try:
        if target.is_dir():
            raise CannotWrite(str(path), "it is a folder")
        if target.exists() and not force:
            raise OutputExists(str(path))
        if target.exists() and not target.is_file():
            raise CannotWrite(str(path), "it is no plain file")
    except OSError as error:
        raise CannotWrite(str(path), _reason(error)) from None
    data = content.encode("utf-8") if isinstance(content, str) else content
    draft = target.with_name(f".{os.fsdecode(os.fsencode(target.name)[:60])}.{secrets.token_hex(6)}.part")
    _drafts.add(draft)
    try:
        _write_draft(draft, data)
        if force:
            if target.exists():
                draft.chmod(stat.S_IMODE(target.stat().st_mode))
            draft.replace(target)
        else:
            _place_new(draft, target)
    except FileExistsError:
        raise OutputExists(str(path)) from None
    except OSError as error:
        raise CannotWrite(str(path), _reason(error).replace("nothing there", "the folder is not there")) from None
    finally:
        with contextlib.suppress(OSError):
            draft.unlink(missing_ok=True)
        _drafts.discard(draft)


_drafts: set[Path] = set()
"""Files of this process that are not whole yet."""


def forget_drafts() -> None:
    """Take away what is half written. For a process that has to end at once."""
    for draft in tuple(_drafts):
        with contextlib.suppress(OSError):
            draft.unlink(missing_ok=True)


def _write_draft(draft: Path, data: bytes) -> None:
    with os.fdopen(os.open(draft, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666), "wb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def _place_new(draft: Path, target: Path) -> None:
    """Give the draft its name unless a file of that name has appeared meanwhile."""
    try:
        os.link(draft, target)
    except FileExistsError:
        raise
    except OSError:  # a file system without links
        if target.exists():
            raise FileExistsError from None
        draft.replace(target)
