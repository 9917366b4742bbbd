"""The page of published figures, written from the cases that the tests are run with.

Contents: `published_page`.
"""

from __future__ import annotations

from itertools import groupby

from docs.markdown import WRITTEN, table
from tests.published.printed import READ, Figure, Passage, Standing, Worked, registered, worked_examples


def _documents(figures: list[Figure]) -> int:
    """How many documents these figures are from."""
    return len({figure.passage.document.title for figure in figures})


def _opening(figures: list[Figure]) -> str:
    """What is counted, and how much there is of it."""
    counted = [figure for figure in figures if figure.counts]
    computed = [figure for figure in counted if not figure.passage.held]
    read = [figure for figure in counted if figure.passage.standing in (READ, Standing.QUOTED)]
    return (
        "# Published figures\n\n"
        "What our formulas are held against outside of this project: printed numbers of standards, regulations, handbooks "
        "and textbooks. A figure counts if it is met at its printed precision, half a step of its last place, and if its "
        "document can be named. The tests stand in `tests/published/`; this page lists the cases that they are run with.\n\n"
        f"- **{len(counted)} figures from {_documents(counted)} documents** are counted.\n"
        f"- {len(computed)} of them, from {_documents(computed)} documents, are worked out by a formula; the rest are "
        "printed tables and limits that a formula holds, compared entry by entry.\n"
        f"- {len(read)} of them, from {_documents(read)} documents, were read in the document or in a text that quotes it; "
        f"{len(counted) - len(read)} are recalled, from memory, and say so below.\n"
        f"- {len(figures) - len(counted)} more are tested and not counted: their tolerance is wider, with its reason, or "
        "their text came to us without its title.\n\n"
        "Agreement with libraries (psychrolib, CoolProp, fluids) is tested beside this and is not a published figure. The "
        "published examples of minimal conflicts stand in `tests/published/test_explanations.py`.\n\n"
    )


def _number(figures: list[Figure]) -> str:
    """How many count, and how many more are tested."""
    counted = sum(figure.counts for figure in figures)
    more = len(figures) - counted
    return str(counted) if not more else f"{counted}, and {more} not counted"


def _remark(passage: Passage, figures: list[Figure]) -> str:
    """Why some do not count."""
    reasons = dict.fromkeys(figure.reason for figure in figures if figure.reason)
    return "; ".join(filter(None, (passage.document.not_counted, *reasons)))


def _row(passage: Passage, figures: list[Figure]) -> tuple[str, ...]:
    """One line of the table."""
    edition = passage.document.edition or "not on record"
    what = f"{passage.what} (held)" if passage.held else passage.what
    return (
        passage.document.title, edition, passage.place, what, _number(figures), passage.standing.value,
        _remark(passage, figures),
    )  # fmt: skip


def _worked(worked: Worked) -> str:
    """One worked example in words, with its steps as printed and as found."""
    passage = worked.passage
    source = f"{passage.document.title}, edition {passage.document.edition or 'not on record'}"
    steps = [(figure.name, figure.text, f"{figure.found():.6g}") for figure in worked.figures]
    return (
        f"### {worked.title}\n\n{source}; {passage.place}. Standing: {passage.standing.value}.\n\nGiven: {worked.given}\n\n"
        f"Followed: {worked.steps}\n\n" + table(("step; the last is the answer", "printed", "found"), steps) + "\n"
    )


def published_page() -> str:
    """docs/published.md."""
    figures = [figure for _, figure in registered()]
    figures.sort(key=lambda figure: (figure.passage.document.title.casefold(), figure.passage.place, figure.passage.what))
    rows = [_row(passage, list(group)) for passage, group in groupby(figures, key=lambda figure: figure.passage)]
    headings = ("document", "edition", "place", "what is checked", "figures", "standing", "remark")
    return (
        WRITTEN
        + _opening(figures)
        + "## Worked examples\n\nFollowed from the given data through our formulas to the printed answer.\n\n"
        + "".join(_worked(worked) for worked in worked_examples())
        + "## Documents\n\n\"Held\" marks a table or limit that a formula holds as printed.\n\n"
        + table(headings, rows)
    )
