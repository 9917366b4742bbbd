"""Three worked examples of heat loss: a window of one pane, one of two panes, and a wall of three layers.

The windows: Cengel, Heat and Mass Transfer, Examples 3-2 and 3-3, from memory. The wall: university notes whose title is
not on record; read.
"""

from __future__ import annotations

from solver.formulas.heat import body_loss, wall_loss
from tests.published import documents as of
from tests.published.printed import MEMORY, READ, Figure, Passage, Worked, checked

SINGLE = Passage(of.CENGEL, "Example 3-2", "single-pane window: K/W, W, degC of its inner face", MEMORY)
DOUBLE = Passage(of.CENGEL, "Example 3-3", "double-pane window: K/W, W, degC of its inner face", MEMORY)
WALL = Passage(of.WALL_NOTES, "composite wall", "heat through three layers and two films, W", READ)

AREA, INSIDE, OUTSIDE = 0.8 * 1.5, 20.0, -10.0
"""Given: the window [m2], the air on both sides [degC]."""
FILM_INSIDE, FILM_OUTSIDE = 1.0 / 10.0, 1.0 / 40.0
PANE, HALF_PANE, GAP = 0.008 / 0.78, 0.004 / 0.78, 0.010 / 0.026
"""Given: films of 10 and 40 W/(m2 K), glass of 8 or 4 mm with 0.78 W/(m K), air of 10 mm with 0.026 [m2 K/W]."""
ONE_PANE = FILM_INSIDE + PANE + FILM_OUTSIDE
TWO_PANES = FILM_INSIDE + HALF_PANE + GAP + HALF_PANE + FILM_OUTSIDE


def _resistance(layers: float) -> float:
    """Kelvin for each watt through the window: the inverse of what our formula lets through at one kelvin."""
    return 1.0 / wall_loss(AREA, 1.0, layers)


def _loss(layers: float) -> float:
    """Heat through the window [W]."""
    return wall_loss(AREA, INSIDE - OUTSIDE, layers)


def _face(layers: float) -> float:
    """Temperature of the inner face [degC]: the difference at which the inner film lets the same heat through."""
    return INSIDE - _loss(layers) / wall_loss(AREA, 1.0, FILM_INSIDE)


SINGLE_STEPS = [
    SINGLE.figure("inner film", "0.08333", lambda: _resistance(FILM_INSIDE)),
    SINGLE.figure("glass", "0.00855", lambda: _resistance(PANE)),
    SINGLE.figure("outer film", "0.02083", lambda: _resistance(FILM_OUTSIDE)),
    SINGLE.figure("all", "0.1127", lambda: _resistance(ONE_PANE)),
    SINGLE.figure("inner face", "-2.2", lambda: _face(ONE_PANE)),
    SINGLE.figure("heat", "266", lambda: _loss(ONE_PANE)),
]
DOUBLE_STEPS = [
    DOUBLE.figure("inner film", "0.08333", lambda: _resistance(FILM_INSIDE)),
    DOUBLE.figure("each pane", "0.00427", lambda: _resistance(HALF_PANE)),
    DOUBLE.figure("air between", "0.3205", lambda: _resistance(GAP)),
    DOUBLE.figure("outer film", "0.02083", lambda: _resistance(FILM_OUTSIDE)),
    DOUBLE.figure("all", "0.4332", lambda: _resistance(TWO_PANES)),
    DOUBLE.figure("inner face", "14.2", lambda: _face(TWO_PANES)),
    DOUBLE.figure("heat", "69.2", lambda: _loss(TWO_PANES)),
]
LAYERS = 1 / 23 + 0.1429 + 1.6667 + 0.04 + 1 / 8
"""Given: films of 23 and 8 W/(m2 K), three layers [m2 K/W]."""
WALL_STEPS = [
    WALL.figure("10 m2, 30 K", "148.66", lambda: wall_loss(10.0, 30.0, LAYERS)),
    WALL.figure("the same as a body of that conductance", "148.66", lambda: body_loss(10.0 / LAYERS, 293.15, 263.15)),
]
WORKED = (
    Worked(
        "Heat loss through a window of one pane", SINGLE,
        "0.8 m x 1.5 m, 8 mm of glass with 0.78 W/(m K), 20 degC inside with 10 W/(m2 K), -10 degC outside with 40 W/(m2 K).",
        "The resistance of each layer and of all, the heat, and the temperature of the inner face.", SINGLE_STEPS,
    ),
    Worked(
        "Heat loss through a window of two panes", DOUBLE,
        "The same window with two panes of 4 mm and 10 mm of still air, 0.026 W/(m K), between them.",
        "The resistance of each layer and of all, the heat, and the temperature of the inner face.", DOUBLE_STEPS,
    ),
    Worked(
        "Heat loss through a composite wall", WALL,
        "10 m2, 30 K, films of 23 and 8 W/(m2 K), layers of 0.1429, 1.6667 and 0.04 m2 K/W.",
        "The sum of the resistances, then the heat; once as a wall, once as a body.", WALL_STEPS,
    ),
)  # fmt: skip


@checked(SINGLE_STEPS + DOUBLE_STEPS + WALL_STEPS)
def test_heat_loss(figure: Figure) -> None:
    """Every printed step."""
    figure.check()
