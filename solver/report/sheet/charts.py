"""Charts as SVG: steps of a curve, points of a front, a heat map. Small functions over `Canvas`, no chart library.

Contents: `Axis`, `step_chart`, `front_chart`, `heat_map`, `ticks`.

A page needs three plain kinds of chart, all with few points and with text that must be readable on a phone and by a
screen reader. That is some hundred lines; a chart library would bring several megabytes, its own look, and scripts.
Sizes are in user units of a canvas 480 wide; on narrow screens the page makes the letters larger.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, floor, log10

from solver.report.drawings.canvas import Canvas, number
from solver.report.sheet.figures import Figure

WIDTH, HEIGHT = 480.0, 320.0
LEFT, RIGHT, TOP, BOTTOM = 92.0, 466.0, 40.0, 262.0


def ticks(low: float, high: float, most: int = 5) -> list[float]:
    """Round figures from `low` to `high`, at most about `most` of them.

    Examples
    --------
    >>> ticks(0.0, 10.0)
    [0.0, 2.0, 4.0, 6.0, 8.0, 10.0]
    """
    span = high - low
    if span <= 0.0:
        return [low]
    raw = span / most
    size = 10.0 ** floor(log10(raw))
    step = next(size * k for k in (1.0, 2.0, 2.5, 5.0, 10.0) if size * k >= raw * (1.0 - 1e-9))
    first = ceil(low / step - 1e-9)
    return [round(k * step, 9) for k in range(first, floor(high / step + 1e-9) + 1)]


@dataclass(frozen=True)
class Axis:
    """What an axis shows: its title, the ends of its scale, and how a tick is written."""

    title: str
    low: float
    high: float
    before: str = ""
    after: str = ""

    def words(self, value: float) -> str:
        """A tick in words."""
        return f"{self.before}{value:,.10g}{self.after}"


def _frame(c: Canvas, x: Axis, y: Axis) -> None:
    c.text(LEFT - 82, 18, y.title, "small axis")
    c.text(RIGHT, HEIGHT - 8, x.title, "small end axis")
    for value in ticks(y.low, y.high, 5):
        at = _at(value, y, BOTTOM, TOP)
        c.line((LEFT, at), (RIGHT, at), look="faint")
        c.text(LEFT - 8, at + 5, y.words(value), "small end")
    for value in ticks(x.low, x.high, 5):
        at = _at(value, x, LEFT, RIGHT)
        c.line((at, BOTTOM), (at, BOTTOM + 5))
        c.text(at, BOTTOM + 22, x.words(value), "small middle")
    c.line((LEFT, BOTTOM), (RIGHT, BOTTOM))


def _at(value: float, axis: Axis, start: float, end: float) -> float:
    return start + (end - start) * (value - axis.low) / ((axis.high - axis.low) or 1.0)


def padded(values: Sequence[float], share: float = 0.08) -> tuple[float, float]:
    """Ends of a scale around these values."""
    low, high = min(values), max(values)
    room = (high - low) * share or abs(high) * share or 1.0
    return low - room, high + room


@dataclass(frozen=True)
class Run:
    """A stretch of a curve: from `start` to `end` the least cost is `cost`; None where no rig fits; one value is a dot."""

    start: float
    end: float
    cost: float | None


def step_chart(
    name: str,
    title: str,
    description: str,
    runs: Sequence[Run],
    present: Figure | None,
    now: tuple[float, float | None],
    x: Axis,
    y: Axis,
) -> Canvas:
    """A curve that goes in steps, the present one marked at `now` (value and cost); where no rig fits it is hatched."""
    c = Canvas(name, title, description, WIDTH, HEIGHT, "chart")
    _frame(c, x, y)
    before: tuple[float, float] | None = None
    for run in _together(runs):
        a, b = _at(run.start, x, LEFT, RIGHT), _at(run.end, x, LEFT, RIGHT)
        if run.cost is None:
            _nothing(c, a, b)
            before = None
            continue
        level = _at(run.cost, y, BOTTOM, TOP)
        if before is not None:
            between = (before[0] + a) / 2
            c.line(before, (between, before[1]), (between, level), (a, level), look="curve thin")
        if run.start == run.end:
            c.circle(a, level, 4.5, "point")
        else:
            c.line((a, level), (b, level), look="curve")
        before = (b, level)
    if present is None:
        return c
    at = _at(now[0], x, LEFT, RIGHT)
    c.line((at, TOP), (at, BOTTOM), look="now")
    if now[1] is not None:
        c.circle(at, _at(now[1], y, BOTTOM, TOP), 5.5, "mark")
    side = "end" if at > (LEFT + RIGHT) / 2 else "start"
    c.text(at + (-7 if side == "end" else 7), TOP + 4, ("now ", present), f"small {side}")
    return c


def _together(runs: Sequence[Run]) -> list[Run]:
    """The same runs with neighbouring ones that have no rig as one."""
    found: list[Run] = []
    for run in runs:
        if found and run.cost is None and found[-1].cost is None:
            found[-1] = Run(found[-1].start, run.end, None)
        else:
            found.append(run)
    return found


def _nothing(c: Canvas, a: float, b: float) -> None:
    c.rect(a, TOP, max(b - a, 3.0), BOTTOM - TOP, "void")
    step, at = 12.0, a
    while at < b:
        c.line((at, BOTTOM), (min(at + 14, b), TOP), look="hatch")
        at += step
    if b - a > 76:
        c.text((a + b) / 2, (TOP + BOTTOM) / 2, "no rig fits", "small middle halo")


def front_chart(
    name: str, title: str, description: str, points: Sequence[tuple[float, float, bool]], x: Axis, y: Axis
) -> Canvas:
    """Points of a front, (x, y, whether it is the picked one), joined by the steps that they dominate."""
    c = Canvas(name, title, description, WIDTH, HEIGHT, "chart")
    _frame(c, x, y)
    placed = [(_at(a, x, LEFT, RIGHT), _at(b, y, BOTTOM, TOP), chosen) for a, b, chosen in points]
    for (a, b, _), (a2, b2, _) in pairwise(placed):
        c.line((a, b), (a2, b), (a2, b2), look="curve thin")
    for k, (a, b, chosen) in sorted(enumerate(placed, 1), key=lambda entry: entry[1][2]):
        if chosen:
            c.path(f"M{number(a)} {number(b - 8)}l8 8l-8 8l-8 -8Z", "mark")
        else:
            c.circle(a, b, *((4.5, "point") if len(placed) <= 40 else (2.0, "speck")))
        if chosen or len(placed) <= 12:
            c.text(a + 9, b - 8, str(k), "small")
    return c


def heat_map(
    name: str, title: str, description: str, columns: Sequence[str], rows: Sequence[str],
    cells: Sequence[Sequence[Figure | None]], x_title: str, y_title: str, marked: tuple[int, int] | None = None,
) -> Canvas:  # fmt: skip
    """A table of costs with a tint for each: darker is dearer; a cell without a rig is hatched. Row by row."""
    w = (RIGHT - LEFT) / max(1, len(columns))
    h = 34.0
    c = Canvas(name, title, description, WIDTH, TOP + h * len(rows) + 44, "chart")
    c.text(LEFT - 82, 18, y_title, "small axis")
    c.text(RIGHT, TOP + h * len(rows) + 38, x_title, "small end axis")
    values = [cell.value for row in cells for cell in row if cell is not None]
    low, high = (min(values), max(values)) if values else (0.0, 1.0)
    for j, row in enumerate(cells):
        y = TOP + j * h
        c.text(LEFT - 8, y + h / 2 + 5, rows[j], "small end")
        for i, cell in enumerate(row):
            x = LEFT + i * w
            if cell is None:
                c.rect(x, y, w, h, "void cell")
                c.line((x, y + h), (x + w, y), look="hatch")
                continue
            level = 0 if high == low else round(4 * (cell.value - low) / (high - low))
            c.rect(x, y, w, h, f"heat{level} cell")
            c.text(x + w / 2, y + h / 2 + 5, cell, "small middle ink")
    for i, head in enumerate(columns):
        c.text(LEFT + (i + 0.5) * w, TOP + h * len(rows) + 18, head, "small middle")
    if marked is not None:
        c.rect(LEFT + marked[0] * w + 1.5, TOP + marked[1] * h + 1.5, w - 3, h - 3, "frame")
    return c
