"""Markdown as the generated pages use it.

Contents: `WRITTEN` (the first line of a generated page), `table`, `anchor`.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

WRITTEN = "<!-- This page is written by `python -m docs.check --write`; change the program, not the page. -->\n\n"


def table(headings: Sequence[str], rows: Iterable[Sequence[str]]) -> str:
    """A Markdown table."""
    lines = ["| " + " | ".join(headings) + " |", "|" + "---|" * len(headings)]
    lines += ["| " + " | ".join(cell.replace("|", "\\|").replace("\n", " ") for cell in row) + " |" for row in rows]
    return "\n".join(lines) + "\n"


def anchor(heading: str) -> str:
    """The link target of a heading."""
    return "".join(c for c in heading.lower() if c.isalnum() or c in " -_").replace(" ", "-")
