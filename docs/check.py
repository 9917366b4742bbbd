"""Checks that the manual cannot lie; with `--write`, writes the generated parts anew.

Run: `python -m docs.check` or `python -m docs.check --write`.

Generated: rules.md, formulas.md, catalog.md, brief.md, commands.md as whole pages; in hand-written pages the blocks
between `<!-- written: NAME -->` and `<!-- end -->`. Checked: pages are up to date; every relative link leads to a file,
and to a heading of it; every command, class, slot, rule and requirement is named in the manual; every rule id in a
hand-written page is a rule, and every file named there is one; the shell blocks of README and DEVELOPERS name commands,
options and files that are there.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from pathlib import Path

from docs.command_pages import command_tree
from docs.markdown import anchor
from docs.pages import blocks, pages
from docs.shell_blocks import shell_complaints
from solver.brief.requirements import REQUIREMENTS
from solver.catalog.base import item_classes
from solver.options.slots import FIXED_SLOTS
from solver.rules import RULES

ROOT = Path(__file__).resolve().parents[1]
DOCS = ROOT / "docs"
_BLOCK = re.compile(r"(<!-- written: (?P<name>[\w-]+) -->\n)(?P<body>.*?)(<!-- end -->)", re.S)
_LINK = re.compile(r"\]\((?!https?:)(?P<target>[^)#]*)(?:#(?P<place>[^)]*))?\)")
_RULE_ID = re.compile(r"\b(?:" + "|".join(sorted({rule.rpartition("-")[0] for rule in RULES})) + r")-\d\d[A-Z]?\b")
_FILE = re.compile(r"`((?:solver|tests|docs|catalog_demo|\.ci)/[\w./-]*)`")
EXAMPLES = ("floor_mat", "size")
"""Names in the recipes of DEVELOPERS.md, of files that a reader would write."""
_CODE = re.compile(r"^ *```.*?^ *```$", re.S | re.M)


def hand_written() -> tuple[Path, ...]:
    """Pages that people write."""
    found = (*sorted(DOCS.glob("*.md")), ROOT / "README.md", ROOT / "DEVELOPERS.md")
    return tuple(path for path in found if path.exists() and path.name not in pages())


def with_blocks(path: Path) -> str:
    """A page with its written blocks made anew."""

    def written(match: re.Match[str]) -> str:
        name = match["name"]
        if name not in blocks():
            raise SystemExit(f"{path.name}: no one writes a block called {name}")
        return f"{match[1]}{blocks()[name]}{match[4]}"

    return _BLOCK.sub(written, path.read_text("utf-8"))


def stale() -> dict[Path, str]:
    """Pages that differ from what the program writes, with what it would write."""
    wanted = {DOCS / name: text for name, text in pages().items()}
    wanted |= {path: with_blocks(path) for path in hand_written()}
    return {path: text for path, text in wanted.items() if not path.exists() or path.read_text("utf-8") != text}


def broken_links() -> Iterator[str]:
    """Relative links that lead to no file, or to no heading of it."""
    for path in (*hand_written(), *(DOCS / name for name in pages())):
        for match in _LINK.finditer(_CODE.sub("", path.read_text("utf-8"))):
            target = (path.parent / match["target"]).resolve() if match["target"] else path
            where = f"{path.relative_to(ROOT)}: link to {match[0][2:-1]}"
            if not target.exists():
                yield f"{where} leads nowhere"
            elif match["place"] and match["place"] not in _anchors(target):
                yield f"{where}: no such heading"


def _anchors(path: Path) -> set[str]:
    text = _CODE.sub("", path.read_text("utf-8"))
    return {anchor(heading.replace("`", "")) for heading in re.findall(r"^#+ (.*)$", text, re.M)}


def unnamed() -> Iterator[str]:
    """Commands, classes, slots, rules and requirements that the manual does not name."""
    manual = "\n".join(path.read_text("utf-8") for path in (*hand_written(), *(DOCS / name for name in pages())))
    readme = (ROOT / "README.md").read_text("utf-8")
    names = {
        "class": [f"`{name}`" for name in item_classes()],
        "slot": [f"`{slot.name}`" for slot in FIXED_SLOTS],
        "rule": [f"### {rule} " for rule in RULES],
        "requirement": [f"`{name}`" for name in REQUIREMENTS],
        "command": [f"## {' '.join(('rigset', *words))}\n" for words in command_tree()],
    }
    for kind, wanted in names.items():
        yield from (f"no page names the {kind} {name.strip('`# ').strip()}" for name in wanted if name not in manual)
    for words in command_tree():
        command = " ".join(("rigset", *words))
        if f"`{command}" not in readme:
            yield f"README.md does not name the command {command}"


def unknown_rules() -> Iterator[str]:
    """Ids in hand-written text that look like those of rules and are none; examples in code are left alone."""
    for path in hand_written():
        for rule in sorted(set(_RULE_ID.findall(_CODE.sub("", path.read_text("utf-8")))) - set(RULES)):
            yield f"{path.relative_to(ROOT)}: there is no rule {rule}"


def missing_files() -> Iterator[str]:
    """Files of the project that a hand-written page names in code marks and that are not there."""
    for path in hand_written():
        for name in sorted(set(_FILE.findall(_CODE.sub("", path.read_text("utf-8"))))):
            if not (ROOT / name).exists() and not any(example in name for example in EXAMPLES):
                yield f"{path.relative_to(ROOT)}: {name} is not there"


def complaints() -> list[str]:
    """Everything that is wrong with the manual; nothing is changed."""
    found = [f"{path.relative_to(ROOT)} is stale: run python -m docs.check --write" for path in stale()]
    if not found:
        found += [*broken_links(), *unnamed(), *unknown_rules(), *missing_files()]
    for name in ("README.md", "DEVELOPERS.md"):
        found += shell_complaints(ROOT, name)
    return found


def main(arguments: list[str]) -> int:
    """Exit code 0 if the manual is true."""
    if "--write" in arguments:
        for path, text in stale().items():
            path.write_text(text, "utf-8")
            sys.stdout.write(f"written: {path.relative_to(ROOT)}\n")
    found = complaints()
    sys.stdout.write("\n".join([*found, f"{len(found)} complaints" if found else "the manual is up to date"]) + "\n")
    return 1 if found else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
