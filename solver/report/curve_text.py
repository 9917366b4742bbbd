"""The curve of one requirement, for people: a plot of steps, and a table of what changes where.

Contents: `curve_text`, `plot_lines`.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from solver.answers.steps_facts import Curve, Stretch
from solver.brief.requirements import REQUIREMENTS, Kind
from solver.report.layout import Table, heading, paragraph
from solver.report.pick_text import amount, caution_lines
from solver.report.steps_text import only_wiring, swap_words, value_words

HEIGHT = 10
"""Lines of the plot."""
_OBJECT = {"price": "Least price", "weight": "Least weight", "yearly-cost": "Least yearly cost"}


@dataclass(frozen=True)
class _Marks:
    """Signs of the plot."""

    flat: str
    jump: str
    none: str
    side: str
    floor: str
    now: str


_FINE = _Marks("━", "┃", "·", "│", "─", "▲")
_PLAIN = _Marks("=", "|", ".", "|", "-", "^")


def curve_text(curve: Curve, width: int, units: str = "us", unicode: bool = True) -> str:
    """The whole curve in at most `width` columns; with plain signs where the stream has no others."""
    requirement = REQUIREMENTS[curve.requirement]
    where = f" in {', '.join(curve.duties)}" if curve.duties else ""
    lines = [curve.title, ""]
    first, last = (value_words(curve.points[i][0], requirement, units) for i in (0, -1))
    now = "" if curve.present is None else f", now {value_words(curve.present, requirement, units)}"
    lines += paragraph(
        f"{_OBJECT[curve.by]} over the {requirement.title}{where}, from {first} to {last}{now}. Each of the "
        f"{len(curve.points)} values is exact.",
        width,
    )
    if requirement.kind is Kind.SITE:
        lines += paragraph("The site sets it; nobody can change it. The curve shows what another site would take.", width)
    if all(cost is None for _, cost in curve.points):
        return "\n".join([*lines, "", "No rig fits at any of them.", *caution_lines(curve.cautions, width)]) + "\n"
    lines += ["", *plot_lines(curve, width, units, _FINE if unicode else _PLAIN)]
    lines += heading("What changes") + _table(curve, units).lines(width)
    return "\n".join([*lines, *_notes(curve, width, units), *caution_lines(curve.cautions, width)]) + "\n"


# --- plot -------------------------------------------------------------------------------------------------------------
def plot_lines(curve: Curve, width: int, units: str, marks: _Marks) -> list[str]:
    """The least cost as steps over the grid; where no rig fits, dots at the foot; the present value below."""
    requirement = REQUIREMENTS[curve.requirement]
    costs = [cost for _, cost in curve.points if cost is not None]
    low, high = min(costs), max(costs)
    labels = {HEIGHT - 1: amount(low, curve.by, units).removesuffix(" a year")}
    if high > low:
        labels[0] = amount(high, curve.by, units).removesuffix(" a year")
    margin = max(map(len, labels.values())) + 1
    area = width - margin - 1
    columns = _columns(curve, area)
    canvas = [[" "] * len(columns) for _ in range(HEIGHT)]
    before: int | None = None
    for x, own in enumerate(columns):
        rows = [_level(cost, low, high) for cost in own if cost is not None]
        if not rows:
            canvas[HEIGHT - 1][x] = marks.none
            before = None
            continue
        reach = [*rows, *([before] if before is not None else [])]
        for y in range(min(reach), max(reach) + 1):
            canvas[y][x] = marks.jump if min(reach) < max(reach) else marks.flat
        if len(set(rows)) == 1 and len(own) == 1 and min(reach) < max(reach):
            canvas[rows[0]][x] = marks.flat
        before = rows[-1]
    lines = [f"{labels.get(y, ''):>{margin}}{marks.side}{''.join(row)}".rstrip() for y, row in enumerate(canvas)]
    lines.append(" " * margin + marks.side + marks.floor * len(columns))
    lines.append(_below(curve, requirement.id, margin, len(columns), units, marks))
    return lines


def _columns(curve: Curve, area: int) -> list[list[float | None]]:
    """Costs of the values in each column: several values share one, or one value takes several."""
    count = len(curve.points)
    if count >= area:
        found: list[list[float | None]] = [[] for _ in range(area)]
        for i, (_, cost) in enumerate(curve.points):
            found[i * area // count].append(cost)
        return found
    each = min(area // count, 8)
    return [[cost] for _, cost in curve.points for _ in range(each)]


def _level(cost: float, low: float, high: float) -> int:
    """Line of the plot for a cost, 0 at the top."""
    return HEIGHT - 1 if high == low else round((high - cost) / (high - low) * (HEIGHT - 1))


def _below(curve: Curve, name: str, margin: int, size: int, units: str, marks: _Marks) -> str:
    """The ends of the grid, and a mark under the present value."""
    requirement = REQUIREMENTS[name]
    first, last = curve.points[0][0], curve.points[-1][0]
    left, right = value_words(first, requirement, units), value_words(last, requirement, units)
    line = [" "] * (margin + 1 + size)
    line[margin + 1 : margin + 1 + len(left)] = left
    line[len(line) - len(right) :] = right
    if curve.present is not None and first <= curve.present <= last:
        values = [value for value, _ in curve.points]
        nearest = min(range(len(values)), key=lambda i: abs(values[i] - curve.present))  # type: ignore[operator]
        x = margin + 1 + (2 * nearest + 1) * size // (2 * len(values))
        word = f"{marks.now} now"
        if margin + 1 + len(left) < x and x + len(word) < len(line) - len(right):
            line[x : x + len(word)] = word
    return "".join(line).rstrip()


# --- table ------------------------------------------------------------------------------------------------------------
def _table(curve: Curve, units: str) -> Table:
    """One row for each stretch: values, cost, difference from the one before, what changes."""
    rows = []
    before: float | None = None
    for stretch in _rows(curve.stretches):
        rows.append((_values(curve, stretch, units), *_cost(curve, stretch, before, units)))
        before = stretch.cost_last if stretch.cost_last is not None else before
    return Table((REQUIREMENTS[curve.requirement].title, _OBJECT[curve.by].lower(), "step", "what changes"), rows, "<>><", 3)


def _rows(stretches: tuple[Stretch, ...]) -> list[Stretch]:
    """The stretches, those as one between which nothing but wiring changes."""
    found: list[Stretch] = []
    for stretch in stretches:
        last = found[-1] if found else None
        same = last is not None and None is not last.cost_last == stretch.cost and all(map(only_wiring, stretch.swaps))
        if last is not None and same:
            found[-1] = replace(last, last=stretch.last, cost_last=stretch.cost_last)
        else:
            found.append(stretch)
    return found


def _values(curve: Curve, stretch: Stretch, units: str) -> str:
    requirement = REQUIREMENTS[curve.requirement]
    first, last = value_words(stretch.first, requirement, units), value_words(stretch.last, requirement, units)
    return first if first == last else f"{first} to {last}"


def _cost(curve: Curve, stretch: Stretch, before: float | None, units: str) -> tuple[str, str, str]:
    if stretch.cost is None or stretch.cost_last is None:
        return "", "", "no rig fits"
    cost = amount(stretch.cost, curve.by, units).removesuffix(" a year")
    if stretch.cost_last != stretch.cost:
        cost += f" to {amount(stretch.cost_last, curve.by, units).removesuffix(' a year')}"
    if before is None:
        return cost, "", ""
    moved = stretch.cost - before
    size = amount(abs(moved), curve.by, units).removesuffix(" a year")
    step = "none" if moved == 0 else f"{'+' if moved > 0 else '-'}{size}"
    return cost, step, swap_words(stretch.swaps, curve.by, units)


def _notes(curve: Curve, width: int, units: str) -> list[str]:
    requirement = REQUIREMENTS[curve.requirement]
    lines = [""]
    if curve.skipped:
        few = ", ".join(value_words(value, requirement, units) for value in curve.skipped[:4])
        more = f" and {len(curve.skipped) - 4} more" if len(curve.skipped) > 4 else ""
        lines += paragraph(f"Left out, since the brief cannot have it as the rest of it stands: {few}{more}.", width)
    way = (
        "Every row moves one way over the grid, checked on the numbers, so one question a step was enough."
        if curve.one_way
        else "Rows move both ways over the grid, so it was scanned."
    )
    lines += paragraph(f"{way} The engine was asked {curve.solves} times.", width)
    return lines
