"""Whether the shell blocks of a page name what is there.

Contents: `shell_complaints`.

Understood are lines of simple commands joined by `&&` or `|`. A `rigset` command is compared with the command line, a
`python -m` module with what can be imported, a path below the project's folder with the files; other programs must be
among those known to be used.
"""

from __future__ import annotations

import re
import shlex
from collections.abc import Iterator
from importlib.util import find_spec
from pathlib import Path

from docs.command_pages import command_tree, parameters_of

_BLOCK = re.compile(r"^```sh\n(.*?)^```$", re.S | re.M)
PROGRAMS = ("python", "python3", "pip", "rigset", "ruff", "mypy", "lint-imports", "cd", "cp", "git")
"""Programs that the manual may name; those with a path must be files of the project or of its environment."""
FOLDERS = ("solver/", "tests/", "docs/", "catalog_demo/", ".ci/")


def shell_complaints(root: Path, name: str) -> list[str]:
    """What is wrong with the shell blocks of one page."""
    path = root / name
    if not path.exists():
        return [f"{name} is not there"]
    text = path.read_text("utf-8")
    return [
        f"{name}: `{' '.join(words)}`: {wrong}"
        for block in _BLOCK.findall(text)
        for words in _commands(block)
        for wrong in _wrong(root, words)
    ]


def _commands(block: str) -> Iterator[list[str]]:
    """The simple commands of a block, comments left out."""
    for line in block.replace("\\\n", " ").splitlines():
        words: list[str] = []
        for word in shlex.split(line, comments=True):
            if word in ("&&", "|", ";"):
                yield words
                words = []
            else:
                words.append(word)
        if words:
            yield words


def _wrong(root: Path, words: list[str]) -> Iterator[str]:
    program = words[0].removeprefix(".venv/bin/")
    if program == "rigset":
        yield from _wrong_rigset(words[1:])
    elif program in ("python", "python3") and words[1:2] == ["-m"]:
        if words[2] != "venv" and find_spec(words[2]) is None:
            yield f"no module {words[2]}"
    elif program not in PROGRAMS and not (root / program).exists():
        yield f"{program} is not known"
    for word in words:
        if word.startswith(FOLDERS) and not (root / word.partition("::")[0]).exists():
            yield f"{word} is not there"


def _wrong_rigset(words: list[str]) -> Iterator[str]:
    tree = command_tree()
    length = next((n for n in (2, 1) if tuple(words[:n]) in tree), 0)
    if not length:
        if words != ["--help"]:
            yield f"there is no command {' '.join(words[:1])}"
        return
    known = {"--help", *(word for p in parameters_of(tree[tuple(words[:length])]) for word in p.words)}
    yield from (f"no option {word}" for word in words[length:] if word.startswith("-") and word not in known)
