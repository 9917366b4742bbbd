"""Graphic symbols, each drawn at its centre, with the standard whose geometry it follows.

Contents: `STANDARDS` (symbol to standard), and one function for each: `compressor`, `receiver`, `dryer`, `filter_`,
`pump`, `heater`, `gauge` of ISO 1219-1; `generator`, `motor`, `breaker`, `heating_element`, `lamp`, `outlet`, `load` of
IEC 60617 and IEEE 315; `drum`, `gun`, `user`, which no standard has, plain shapes of our own.

All are drawn from memory of the standards' well-known shapes, at sizes that suit these drawings.
"""

from __future__ import annotations

from math import cos, pi, sin

from solver.report.drawings.canvas import Canvas, number

ISO = "ISO 1219-1"
IEC = "IEC 60617 (IEEE 315 has the like)"
OWN = "no standard symbol: a plain shape of our own"
STANDARDS: dict[str, str] = {
    "compressor": f"{ISO}: circle with an open triangle, its tip where the air leaves",
    "receiver": f"{ISO}: a lying capsule",
    "dryer": f"{ISO}: a square on its corner; the mark inside is simplified",
    "filter": f"{ISO}: a square on its corner with a broken line across the flow",
    "pump": f"{ISO}: circle with a filled triangle, its tip where the liquid leaves",
    "heater": f"{ISO}: a square on its corner with arrows pointing in",
    "generator": f"{IEC}: circle with G and the sign of alternating current",
    "motor": f"{IEC}: circle with M",
    "breaker": f"{IEC}: an opening contact with a cross at its fixed end",
    "heating element": f"{IEC}: a rectangle divided by lines",
    "lamp": f"{IEC}: circle with a diagonal cross",
    "socket outlet": f"{IEC}: an open half circle on its line",
    "other load": f"{IEC}: a plain rectangle",
    "supply of the site": f"{IEC}: circle with the sign of alternating current",
    "heated line": "process flow diagrams (ISO 10628): a line with a broken line beside it",
    "drum": OWN,
    "spray gun": OWN,
    "user of air": OWN,
}
"""Every symbol of the drawings and where it comes from. `docs/sheet.md` lists them; a test compares."""


def _triangle(c: Canvas, x: float, y: float, r: float, look: str) -> None:
    """A triangle in the lower half of a circle, its tip at the bottom."""
    w = r * sin(pi / 3)
    h = r * cos(pi / 3) * 0.55
    c.path(
        f"M{number(x - w * 0.82)} {number(y + h)}L{number(x + w * 0.82)} {number(y + h)}L{number(x)} {number(y + r)}Z", look
    )


def compressor(c: Canvas, x: float, y: float, r: float = 17.0) -> None:
    """A compressor that delivers downwards."""
    c.circle(x, y, r)
    _triangle(c, x, y, r, "symbol")


def pump(c: Canvas, x: float, y: float, r: float = 12.0) -> None:
    """A liquid pump that delivers downwards."""
    c.circle(x, y, r)
    _triangle(c, x, y, r, "solid")


def _lettered(c: Canvas, x: float, y: float, r: float, letter: str) -> None:
    c.circle(x, y, r)
    c.text(x, y + 4.5, letter, "middle strong")


def motor(c: Canvas, x: float, y: float, r: float = 12.0) -> None:
    """A motor."""
    _lettered(c, x, y, r, "M")


def _wave(c: Canvas, x: float, y: float) -> None:
    c.path(f"M{number(x - 6)} {number(y)}q3 -5 6 0t6 0", "line")


def generator(c: Canvas, x: float, y: float, r: float = 18.0) -> None:
    """A generator of alternating current."""
    c.circle(x, y, r)
    c.text(x, y + 1, "G", "middle strong")
    _wave(c, x, y + 8)


def site_supply(c: Canvas, x: float, y: float, r: float = 18.0) -> None:
    """A supply of alternating current that is not the rig's own."""
    c.circle(x, y, r)
    _wave(c, x, y)


def receiver(c: Canvas, x: float, y: float, w: float = 46.0, h: float = 22.0) -> None:
    """A pressure vessel for air."""
    c.rect(x - w / 2, y - h / 2, w, h, "symbol", h / 2)


def _diamond(c: Canvas, x: float, y: float, r: float) -> None:
    c.path(
        f"M{number(x)} {number(y - r)}L{number(x + r)} {number(y)}L{number(x)} {number(y + r)}L{number(x - r)} {number(y)}Z"
    )


def dryer(c: Canvas, x: float, y: float, r: float = 19.0) -> None:
    """An air dryer."""
    _diamond(c, x, y, r)
    c.line((x - r * 0.5, y + 2), (x - 4, y + 2), (x - 4, y - 6), (x + 4, y - 6), (x + 4, y + 2), (x + r * 0.5, y + 2))


def filter_(c: Canvas, x: float, y: float, r: float = 19.0) -> None:
    """A filter; the flow goes down."""
    _diamond(c, x, y, r)
    c.line((x - r, y), (x + r, y), look="line warm")


def heater(c: Canvas, x: float, y: float, r: float = 13.0) -> None:
    """A heater of a liquid; the flow goes down."""
    _diamond(c, x, y, r)
    for side in (-1, 1):
        c.line((x + side * (r + 6), y), (x + side * 3.5, y))
        c.line((x + side * 7, y - 3), (x + side * 3.5, y), (x + side * 7, y + 3))


def breaker(c: Canvas, x: float, y: float, length: float = 30.0) -> None:
    """A circuit breaker in a line that runs to the right from x, y."""
    a, b = x + length * 0.32, x + length * 0.78
    c.line((x, y), (a, y))
    c.line((a - 2.6, y - 2.6), (a + 2.6, y + 2.6))
    c.line((a - 2.6, y + 2.6), (a + 2.6, y - 2.6))
    c.line((b, y), (a + 1.5, y - 7.5))
    c.line((b, y), (x + length, y))


def breaker_down(c: Canvas, x: float, y: float, length: float = 30.0) -> None:
    """A circuit breaker in a line that runs down from x, y."""
    a, b = y + length * 0.32, y + length * 0.78
    c.line((x, y), (x, a))
    c.line((x - 2.6, a - 2.6), (x + 2.6, a + 2.6))
    c.line((x - 2.6, a + 2.6), (x + 2.6, a - 2.6))
    c.line((x, b), (x - 7.5, a + 1.5))
    c.line((x, b), (x, y + length))


def heating_element(c: Canvas, x: float, y: float, w: float = 26.0, h: float = 13.0) -> None:
    """A heating element."""
    c.rect(x - w / 2, y - h / 2, w, h)
    for k in (1, 2, 3):
        c.line((x - w / 2 + k * w / 4, y - h / 2), (x - w / 2 + k * w / 4, y + h / 2))


def lamp(c: Canvas, x: float, y: float, r: float = 11.0) -> None:
    """A lamp."""
    c.circle(x, y, r)
    d = r * sin(pi / 4)
    c.line((x - d, y - d), (x + d, y + d))
    c.line((x - d, y + d), (x + d, y - d))


def outlet(c: Canvas, x: float, y: float, r: float = 10.0) -> None:
    """A socket outlet on a line that comes from the left."""
    c.path(f"M{number(x + r)} {number(y - r)}A{number(r)} {number(r)} 0 0 0 {number(x + r)} {number(y + r)}", "line")
    c.line((x - 12, y), (x, y))


def load(c: Canvas, x: float, y: float, w: float = 24.0, h: float = 16.0) -> None:
    """Any other load."""
    c.rect(x - w / 2, y - h / 2, w, h)


def user(c: Canvas, x: float, y: float, size: float = 9.0) -> None:
    """A user of air on a line that comes from the left: an arrow into a box."""
    c.path(f"M{number(x - 9)} {number(y - 4)}L{number(x)} {number(y)}L{number(x - 9)} {number(y + 4)}Z", "solid")
    c.rect(x, y - size, size * 1.5, 2 * size)


def drum(c: Canvas, x: float, y: float, letter: str, w: float = 34.0, h: float = 44.0) -> None:
    """A drum with its letter."""
    c.rect(x - w / 2, y - h / 2, w, h, "symbol", 4)
    for share in (0.32, 0.68):
        c.line((x - w / 2, y - h / 2 + h * share), (x + w / 2, y - h / 2 + h * share), look="faint")
    c.text(x, y + 5, letter, "middle strong")


def gun(c: Canvas, x: float, y: float) -> None:
    """A spray gun that sprays downwards, fed from above at both sides."""
    c.path(f"M{number(x - 16)} {number(y)}h32v8l-10 10h-12l-10 -10Z")
    for k in (-1, 0, 1):
        c.line((x + 4 * k, y + 21), (x + 11 * k, y + 34), look="line warm")


def heated_line(c: Canvas, x: float, top: float, bottom: float, side: int) -> None:
    """A line with heat along it."""
    c.line((x, top), (x, bottom), look="pipe")
    c.line((x + side * 5, top + 3), (x + side * 5, bottom - 3), look="line warm")
