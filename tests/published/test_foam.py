"""Foam yield against its definition and published densities."""

from __future__ import annotations

import pytest

from solver.formulas.foam import BOARD_FOOT, board_feet_made, board_feet_per_mass, output_for_board_feet
from solver.quantities import factor_of, from_unit
from tests.published import documents as of
from tests.published.printed import READ, Figure, Passage, checked

# Board feet per lb = 12 / density in lb/ft3, at the densities of the US EPA spray foam publication (read).
DEFINITION = Passage(of.FOAM_DEFINITION, "12 / density in lb/ft3", "board feet per lb; board foot in m3", READ)
YIELDS = (("open-cell", 0.5, "24"), ("closed-cell", 2.0, "6"), ("roofing", 3.0, "4"))
FIGURES = [
    DEFINITION.figure(
        f"{kind}, {density} lb/ft3", text,
        lambda density=density: board_feet_per_mass(from_unit(density, "lb/ft3")) * factor_of("lb"),
        steps=1e-9,
    )
    for kind, density, text in YIELDS
] + [DEFINITION.figure("board foot", "0.002359737", lambda: BOARD_FOOT)]  # fmt: skip


@checked(FIGURES)
def test_board_feet(figure: Figure) -> None:
    """A definition holds exactly, so far tighter than its printed place."""
    figure.check()


@pytest.mark.parametrize(
    ("lost", "left"),
    [
        pytest.param(20, 0.80, id="common practice, no source: closed-cell loses 20 percent"),
        pytest.param(35, 0.65, id="common practice, no source: closed-cell loses 35 percent"),
    ],
)
def test_closed_cell_fields_give_less(lost, left):
    """A field yield of 65 to 80 percent makes 20 to 35 percent less than the nominal density promises."""
    pound, nominal = factor_of("lb"), from_unit(2.0, "lb/ft3")
    made = board_feet_made(pound, nominal, left)
    assert (1.0 - made / 6.0) * 100.0 == pytest.approx(lost, abs=1e-9)


def test_board_feet_a_day():
    """Practice: output = board feet x density / 12 / field yield / (hours x trigger share); no source."""
    output = output_for_board_feet(3000.0, from_unit(2.0, "lb/ft3"), 0.75, from_unit(5.0, "h"), 0.5)
    assert output / factor_of("lb/min") == pytest.approx(3000.0 * 2.0 / 12.0 / 0.75 / (5.0 * 60.0 * 0.5), rel=1e-12)
