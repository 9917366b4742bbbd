"""Checks that the manual cannot lie; with `--write`, writes the generated parts anew.

Run: `python -m docs.check` or `python -m docs.check --write`.

Generated: rules.md, catalog.md, brief.md, commands.md as whole pages; in method.md the blocks between
`<!-- written: NAME -->` and `<!-- end -->`. Checked: every relative link leads somewhere; every command, class, slot, rule
and requirement is named in the manual; pages are up to date.
"""

from __future__ import annotations

import re
import sys
from pathlib import Path

from docs.pages import blocks, pages

ROOT = Path(__file__).resolve().parents[1]
DOCS = ROOT / "docs"
_BLOCK = re.compile(r"(<!-- written: (?P<name>[\w-]+) -->\n)(?P<body>.*?)(<!-- end -->)", re.S)
_LINK = re.compile(r"\]\((?!https?:|#)(?P<target>[^)#]+)(?:#[^)]*)?\)")


def with_blocks(text: str) -> str:
    """A page with its written blocks made anew."""
    return _BLOCK.sub(lambda m: f"{m[1]}{blocks()[m['name']]}{m[4]}", text)


def stale() -> dict[Path, str]:
    """Pages that differ from what the program writes, with what it would write."""
    wanted = {DOCS / name: text for name, text in pages().items()}
    for path in (*DOCS.glob("*.md"), ROOT / "README.md", ROOT / "DEVELOPERS.md"):
        if path not in wanted and path.exists():
            wanted[path] = with_blocks(path.read_text("utf-8"))
    return {path: text for path, text in wanted.items() if not path.exists() or path.read_text("utf-8") != text}


def broken_links() -> list[str]:
    """Relative links that lead nowhere."""
    found = []
    for path in (*DOCS.glob("*.md"), ROOT / "README.md", ROOT / "DEVELOPERS.md"):
        for match in _LINK.finditer(path.read_text("utf-8")):
            if not (path.parent / match["target"]).exists():
                found.append(f"{path.relative_to(ROOT)}: link to {match['target']} leads nowhere")
    return found


def main(arguments: list[str]) -> int:
    """Exit code 0 if the manual is true."""
    old = stale()
    if "--write" in arguments:
        for path, text in old.items():
            path.write_text(text, "utf-8")
            print(f"written: {path.relative_to(ROOT)}")
        old = {}
    complaints = [f"{path.relative_to(ROOT)} is stale: run python -m docs.check --write" for path in old]
    complaints += broken_links()
    for complaint in complaints:
        print(complaint)
    print("the manual is up to date" if not complaints else f"{len(complaints)} complaints")
    return 1 if complaints else 0


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
