"""Points on a plain grid of characters, for a terminal.

Contents: `scatter`.
"""

from __future__ import annotations

from collections.abc import Sequence

_FANCY = ("•", "│", "─", "└")
_PLAIN = ("*", "|", "-", "+")


def scatter(
    points: Sequence[tuple[float, float]],
    width: int,
    height: int,
    names: tuple[str, str],
    ends: tuple[tuple[str, str], tuple[str, str]],
    plain: bool = False,
) -> list[str]:
    """Lines of a plot at most `width` columns wide.

    Parameters
    ----------
    points : sequence of (x, y)
    width, height : int
        Columns in all; lines of the field.
    names : (str, str)
        What x and y are.
    ends : ((str, str), (str, str))
        Least and largest x as text, then least and largest y.
    plain : bool
        ASCII only.
    """
    dot, side, floor, corner = _PLAIN if plain else _FANCY
    (left, right), (low, high) = ends
    margin = max(len(low), len(high))
    across = width - margin - 2
    xs, ys = [x for x, _ in points], [y for _, y in points]
    field = [[" "] * across for _ in range(height)]
    for x, y in points:
        field[height - 1 - _cell(y, min(ys), max(ys), height)][_cell(x, min(xs), max(xs), across)] = dot
    lines = [f"{'':{margin}} {names[1]}"]
    for place, row in enumerate(field):
        label = high if place == 0 else low if place == height - 1 else ""
        lines.append(f"{label:>{margin}} {side}{''.join(row)}".rstrip())
    lines.append(f"{'':{margin}} {corner}{floor * across}")
    gap = across + 1 - len(left) - len(right)
    middle = names[0].center(gap) if gap > len(names[0]) else " " * max(1, gap)
    lines.append(f"{'':{margin}} {left}{middle}{right}")
    return lines


def _cell(value: float, low: float, high: float, count: int) -> int:
    return 0 if high <= low else min(count - 1, int((value - low) / (high - low) * count))
