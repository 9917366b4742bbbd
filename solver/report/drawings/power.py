"""The electricity of a rig as a drawing: the set, its breaker, the panel, then each branch with its kVA in each state.

Contents: `power_drawing`.
"""

from __future__ import annotations

from solver.report.drawings import symbols
from solver.report.drawings.canvas import Canvas, wrapped
from solver.report.drawings.flow_power import Branch, Column, Power
from solver.report.sheet.figures import Text, bare, fig, unit_word

WIDTH, TRUNK, WORDS = 420.0, 34.0, 122.0
ROW = 44.0
RIGHT, COLUMN = 416.0, 58.0


def power_drawing(power: Power, name: str, units: str = "us", of: str = "") -> Canvas:
    """How electricity flows in one duty. `of` is the place of the figures in the JSON of the answer."""
    source = "generator" if power.source else "supply of the site"
    c = Canvas(
        name,
        f"Electricity, {power.duty}",
        f"From the {source} through the panel to {len(power.branches)} branches, with the apparent power of each in "
        f"every state that is judged: {', '.join(_title(column) for column in power.columns)}.",
        WIDTH,
    )
    y = _source(c, power)
    y = _heads(c, y, power, units)
    for k, branch in enumerate(power.branches):
        y = _branch(c, y, k, branch, power, units, of)
    y = _sums(c, y, power, units, of)
    c.height = y + 4
    return c


def _title(column: Column) -> str:
    return f"{column.state}, {column.end} air"


def _x(k: int, power: Power) -> float:
    return RIGHT - COLUMN * (len(power.columns) - 1 - k)


def _source(c: Canvas, power: Power) -> float:
    """The set with its breaker; the y where the panel begins."""
    c.line((TRUNK, 28), (TRUNK, 58), look="pipe")
    if power.source:
        symbols.generator(c, TRUNK, 28)
    else:
        symbols.site_supply(c, TRUNK, 28)
    symbols.breaker_down(c, TRUNK, 50, 34)
    words = [*wrapped(power.source, 52, 2), power.system] if power.source else ["The rig has no generator of its own."]
    c.text(70, 22, "Generator" if power.source else "Supply of the site", "strong")
    c.lines(70, 38, words, "small", 14)
    return 84.0


def _heads(c: Canvas, y: float, power: Power, units: str) -> float:
    c.text(WORDS - 52, y + 24, f"Panel, {unit_word('kVA', units)}", "small")
    for k, column in enumerate(power.columns):
        words = [*wrapped(column.state, 9, 2), column.end]
        c.lines(_x(k, power), y + 26 - 12 * (len(words) - 1), words, "small end", 12)
    c.line((TRUNK, y), (TRUNK, y + 34), look="pipe")
    c.line((TRUNK, y + 32), (RIGHT, y + 32), look="faint")
    return y + 34


def _branch(c: Canvas, y: float, k: int, branch: Branch, power: Power, units: str, of: str) -> float:
    middle = y + ROW / 2
    last = k == len(power.branches) - 1
    c.line((TRUNK, y), (TRUNK, middle if last else y + ROW), look="pipe")
    symbols.breaker(c, TRUNK, middle, 38)
    x = TRUNK + 56
    if len(branch.kinds) > 1:
        c.line((TRUNK + 38, middle - 9), (TRUNK + 38, middle + 10))
        for step, kind in zip((-9, 10), branch.kinds, strict=False):
            c.line((TRUNK + 38, middle + step), (x - 4, middle + step))
            _load(c, kind, x, middle + step, 0.72)
    else:
        c.line((TRUNK + 38, middle), (x, middle))
        _load(c, branch.kinds[0], x, middle, 1.0)
    room = int((_x(0, power) - 46 - WORDS) / 5.9)
    words = wrapped(branch.wiring, max(16, room), 2) if branch.wiring else []
    c.text(WORDS, middle + (4 if not words else 0 if len(words) == 1 else -7), branch.slot.replace("_", " "))
    c.lines(WORDS, middle + (14 if len(words) == 1 else 6), words, "small", 12.5)
    for k_column, value in enumerate(branch.kva):
        shown = bare(fig(f"{of}.branches.{k}.kva.{k_column}", value, "kVA", units))
        c.text(_x(k_column, power), middle + 4, shown if value else "–", "end")
    c.line((WORDS, y + ROW), (RIGHT, y + ROW), look="faint")
    return y + ROW


def _load(c: Canvas, kind: str, x: float, y: float, size: float) -> None:
    if kind == "motor":
        symbols.motor(c, x, y, 12.0 if size == 1.0 else 9.5)
    elif kind == "light":
        symbols.lamp(c, x, y, 11.0 * size)
    elif kind == "outlet":
        symbols.outlet(c, x - 6, y, 10.0 * size)
    elif kind == "heat":
        symbols.heating_element(c, x, y, 26.0 * size + 4, 13.0 * size + 2)
    else:
        symbols.load(c, x, y)


def _sums(c: Canvas, y: float, power: Power, units: str, of: str) -> float:
    """Totals, what the set may give, the legs, and the night."""
    y += 20
    rows: list[tuple[str, str, str]] = [
        ("all together", "kva", "strong"),
        (f"{'alternator' if power.source else 'site'} may give", "supply_kva", ""),
    ]
    for words, name, look in rows:
        c.text(WORDS - 52, y, words, look)
        for k, column in enumerate(power.columns):
            shown = bare(fig(f"{of}.columns.{k}.{name}", getattr(column, name), "kVA", units))
            c.text(_x(k, power), y, shown, f"end {look}")
        y += 17
    for j, leg in enumerate(power.columns[0].legs if power.columns else ()):
        c.text(WORDS - 52, y, f"{leg.name} carries", "small")
        for k, column in enumerate(power.columns):
            if j < len(column.legs):
                shown = bare(fig(f"{of}.columns.{k}.legs.{j}.need", column.legs[j].need, "kVA", units))
                c.text(_x(k, power), y, shown, "small end")
        y += 15
    night = power.night
    if night is not None and night.need:
        told: Text = ("Night, on shore power: ", fig(f"{of}.night.need", night.need, "kW", units), " of ",
                      fig(f"{of}.night.supply", night.supply, "kW", units))  # fmt: skip
        c.text(WORDS - 52, y, told, "small")
        y += 15
    return y
