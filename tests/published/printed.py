"""How a printed figure is compared: to half a step of its last printed place.

Contents: `printed`, `rows`.

Standing of a figure, said with each: "read" in a copy of the document or in two texts that quote it; "quoted" in one
text; "memory"; "derived" with a named library.
"""

from __future__ import annotations

from fractions import Fraction
from typing import Any

import pytest


def printed(text: str, steps: float = 0.5) -> Any:
    """The figure as printed, with half a step of its last place (or so many steps) as the tolerance.

    >>> 377.4249 == printed("377.42"), 377.43 == printed("377.42")
    (True, False)
    """
    figure = text.replace(",", "")
    _, _, decimals = figure.partition(".")
    step = 10.0 ** -len(decimals)
    return pytest.approx(float(figure), rel=0.0, abs=step * steps * (1.0 + 1e-9))


def number(text: str) -> float:
    """A printed size as a number: `7-1/2` is 7.5."""
    return float(sum(Fraction(part) for part in text.split("-")))


def rows(table: str) -> list[tuple[str, str, str]]:
    """Every cell of a printed table as (row, column, figure); a first line of column names, `-` for an empty cell."""
    lines = [line.split() for line in table.strip().splitlines()]
    head = lines[0][1:]
    return [
        (line[0], column, figure)
        for line in lines[1:]
        for column, figure in zip(head, line[1:], strict=True)
        if figure != "-"
    ]
