"""How many published figures are checked, counted from the cases that the tests of this folder are run with."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from math import ceil

import pytest

from docs.published_page import published_page
from tests.published import documents
from tests.published.printed import MEMORY, Document, Figure, checked, registered, worked_examples

CASES = registered()
COUNTED = [figure for _, figure in CASES if figure.counts]
COMPUTED = [figure for figure in COUNTED if not figure.passage.held]


def titles(figures: list[Figure]) -> set[str]:
    """Documents of these figures: two editions of one title count as one."""
    return {figure.passage.document.title for figure in figures}


def test_there_are_150_figures_from_25_documents() -> None:
    """At printed precision, from documents that can be named; a figure of a passage counts once."""
    assert len({(figure.passage, figure.name) for figure in COUNTED}) >= 150
    assert len(titles(COUNTED)) >= 25


def test_so_many_without_the_tables_that_we_hold() -> None:
    """The same for what our formulas work out: no table or limit that the formulas only repeat."""
    assert len({(figure.passage, figure.name) for figure in COMPUTED}) >= 150
    assert len(titles(COMPUTED)) >= 25


def test_more_than_150_figures_were_read() -> None:
    """Figures from memory are beside those that were read, not instead of them."""
    assert len([figure for figure in COUNTED if figure.passage.standing is not MEMORY]) >= 150


def test_no_figure_stands_twice() -> None:
    """One case for each printed number."""
    keys = [(figure.passage, figure.name) for _, figure in CASES]
    assert len(keys) == len(set(keys))


def test_a_wider_tolerance_has_a_reason() -> None:
    """And a figure at its printed precision needs none."""
    assert [str(figure) for _, figure in CASES if bool(figure.reason) is figure.at_printed_precision] == []


def test_every_document_is_used() -> None:
    """No document is listed without a figure, and none is listed twice."""
    listed = [thing for thing in vars(documents).values() if isinstance(thing, Document)]
    assert set(listed) == {figure.passage.document for _, figure in CASES}
    assert len(listed) == len(set(listed))


def moved(figure: Figure, sign: int) -> Figure:
    """The figure as if its document printed another number, just beyond what is allowed on both sides."""
    text = figure.text.replace(",", "")
    step = Decimal(1).scaleb(-len(text.partition(".")[2]))
    share = abs(Decimal(text)) * Decimal(figure.share) / step
    steps = ceil(2 * max(Decimal(figure.steps), share) + Decimal("0.01"))
    return replace(figure, text=str(Decimal(text) + sign * steps * step))


@pytest.mark.parametrize("sign", [-1, 1])
def test_every_case_would_notice_another_figure(sign: int) -> None:
    """Each test fails for each of its figures when the document says something else."""
    blind = []
    for test, figure in CASES:
        try:
            test(moved(figure, sign))
        except AssertionError:
            continue
        blind.append(str(figure))
    assert blind == []


def test_an_uncounted_figure_is_not_counted() -> None:
    """Beyond half a step, or from a text without a title."""
    figure = COUNTED[0]
    assert figure.counts
    assert not replace(figure, steps=1.0).counts
    assert not replace(figure, share=1e-3).counts
    nameless = replace(figure.passage.document, not_counted="its title is not on record")
    assert not replace(figure, passage=replace(figure.passage, document=nameless)).counts


WORKED = worked_examples()


def test_three_worked_examples_of_named_documents_are_followed() -> None:
    """Of different subjects, with every step and the answer at printed precision, and each step a case that is run."""
    run = {(figure.passage, figure.name) for _, figure in CASES}
    whole = [w for w in WORKED if all(step.at_printed_precision for step in w.figures)]
    assert whole == WORKED
    assert all((step.passage, step.name) in run for w in WORKED for step in w.figures)
    assert len({w.passage.document.title for w in WORKED if len(w.figures) >= 4 and w.figures[-1].counts}) >= 3


def test_the_page_tells_the_same_numbers() -> None:
    """The page of the manual is made of these cases."""
    page = published_page()
    assert f"**{len(COUNTED)} figures from {len(titles(COUNTED))} documents** are counted." in page
    assert [title for title in titles([figure for _, figure in CASES]) if f"| {title} |" not in page] == []
    assert [worked.title for worked in WORKED if f"### {worked.title}\n" not in page] == []


def test_the_marks_are_those_of_a_run() -> None:
    """`checked` makes exactly one case of each figure, so what is counted is what is run."""
    mark = checked(COUNTED[:3]).mark
    assert [case.values[0] for case in mark.args[1]] == COUNTED[:3]
