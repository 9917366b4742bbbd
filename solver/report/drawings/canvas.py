"""A small SVG writer: what a drawing or a chart is put together from.

Contents: `Canvas` (lines, shapes, text, groups), `number` (a coordinate as text), `STYLE` (how a drawing that stands
alone looks; in a page the page's own style speaks of the same classes), `wrapped`.

Everything is drawn in user units on a canvas of a fixed width; the page scales it. Text is escaped here and nowhere
else. A figure carries its value: `data-of` says where it stands in the JSON of the answer, `data-value` what stands
there.
"""

from __future__ import annotations

import textwrap
from collections.abc import Sequence
from dataclasses import dataclass, field
from html import escape

from solver.report.sheet.figures import Figure, Text, typeset

STYLE = """
text{font-family:system-ui,-apple-system,'Segoe UI',Roboto,'Helvetica Neue',Arial,sans-serif;font-size:13px;fill:#20261f}
.small{font-size:11.5px;fill:#4c564d}.strong{font-weight:650}.end{text-anchor:end}.middle{text-anchor:middle}
.line,.symbol{fill:none;stroke:#20261f;stroke-width:1.6;stroke-linecap:round;stroke-linejoin:round}
.symbol{fill:#fff}.solid{fill:#20261f;stroke:#20261f;stroke-width:1.2}.pipe{fill:none;stroke:#20261f;stroke-width:2.2}
.faint{fill:none;stroke:#b9c2b8;stroke-width:1}.warm{stroke-dasharray:7 4}
"""


def number(value: float) -> str:
    """A coordinate, at most two decimals."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def wrapped(text: str, width: int, most: int = 2) -> list[str]:
    """Text in lines of at most `width` characters; what does not fit into `most` lines ends in an ellipsis."""
    return textwrap.wrap(text, width, max_lines=most, placeholder=" …", break_on_hyphens=False) or [""]


@dataclass
class Canvas:
    """A drawing being made: width and height in user units, an id, a title and a description for those who cannot see."""

    name: str
    title: str
    description: str
    width: float
    height: float = 0.0
    kind: str = "drawing"
    parts: list[str] = field(default_factory=list)

    def line(self, *points: tuple[float, float], look: str = "line") -> None:
        """A line through these points."""
        path = "M" + "L".join(f"{number(x)} {number(y)}" for x, y in points)
        self.parts.append(f'<path class="{look}" d="{path}"/>')

    def path(self, data: str, look: str = "symbol") -> None:
        """A path as SVG writes it."""
        self.parts.append(f'<path class="{look}" d="{data}"/>')

    def rect(self, x: float, y: float, w: float, h: float, look: str = "symbol", radius: float = 0.0) -> None:
        """A rectangle."""
        round_ = f' rx="{number(radius)}"' if radius else ""
        self.parts.append(
            f'<rect class="{look}" x="{number(x)}" y="{number(y)}" width="{number(w)}" height="{number(h)}"{round_}/>'
        )

    def circle(self, x: float, y: float, r: float, look: str = "symbol") -> None:
        """A circle."""
        self.parts.append(f'<circle class="{look}" cx="{number(x)}" cy="{number(y)}" r="{number(r)}"/>')

    def text(self, x: float, y: float, text: str | Figure | Text, look: str = "") -> None:
        """A line of text; figures in it carry their values."""
        parts = [text] if isinstance(text, str | Figure) else text
        inner = "".join(part.svg() if isinstance(part, Figure) else escape(typeset(part)) for part in parts)
        style = f' class="{look}"' if look else ""
        self.parts.append(f'<text{style} x="{number(x)}" y="{number(y)}">{inner}</text>')

    def lines(self, x: float, y: float, texts: Sequence[str | Figure | Text], look: str = "", step: float = 15.0) -> float:
        """Several lines of text; the y below them."""
        for text in texts:
            self.text(x, y, text, look)
            y += step
        return y

    def svg(self, alone: bool = False) -> str:
        """The whole drawing; `alone` for a file of its own."""
        name = escape(self.name)
        size = f"0 0 {number(self.width)} {number(self.height)}"
        own = (
            f' xmlns="http://www.w3.org/2000/svg" width="{number(self.width)}" height="{number(self.height)}"'
            if alone
            else ""
        )
        paper = f'<style>{STYLE}</style><rect width="100%" height="100%" fill="#fff"/>' if alone else ""
        head = '<?xml version="1.0" encoding="UTF-8"?>\n' if alone else ""
        return (
            f'{head}<svg{own} class="{self.kind}" viewBox="{size}" role="img" '
            f'aria-labelledby="{name}-t {name}-d">'
            f'<title id="{name}-t">{escape(self.title)}</title><desc id="{name}-d">{escape(self.description)}</desc>'
            f"{paper}{''.join(self.parts)}</svg>" + ("\n" if alone else "")
        )
