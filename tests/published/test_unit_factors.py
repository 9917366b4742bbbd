"""Units of the edges against the tables of factors."""

from __future__ import annotations

from solver.quantities import factor_of
from tests.published import documents as of
from tests.published.printed import MEMORY, QUOTED, Figure, Passage, checked

SI = Passage(of.SP_811, "App. B.8", "factors of conversion", QUOTED)
MORE_SI = Passage(of.SP_811, "App. B.8", "further factors of conversion", MEMORY)
EQUIVALENTS = Passage(of.HANDBOOK_44, "App. C", "tables of equivalents", MEMORY)


def _of(unit: str, other: str = "1") -> float:
    """How many of the other unit one unit is; `1` is the SI unit."""
    return factor_of(unit) / (1.0 if other == "1" else factor_of(other))


def _resistance() -> float:
    """ft2 h degF/Btu in m2 K/W."""
    return factor_of("ft2") * factor_of("h") * factor_of("delta_degF") / factor_of("Btu")


FACTORS = (
    (SI, "psi", "kPa", "6.894757"), (SI, "gal", "L", "3.785412"), (SI, "lb", "1", "0.45359237"),
    (SI, "cfm", "L/s", "0.4719474"), (SI, "hp", "1", "745.6999"), (SI, "Btu", "1", "1055.056"),
    (SI, "lb/ft3", "1", "16.01846"), (SI, "gpm", "L/s", "0.0630902"),
    (MORE_SI, "ft", "1", "0.3048"), (MORE_SI, "in", "1", "0.0254"), (MORE_SI, "ft2", "1", "0.09290304"),
    (MORE_SI, "ft3", "1", "0.02831685"), (MORE_SI, "inHg", "kPa", "3.386389"), (MORE_SI, "Btu/h", "1", "0.2930711"),
    (MORE_SI, "lb/gal", "1", "119.8264"), (MORE_SI, "oz", "1", "0.02834952"), (MORE_SI, "qt", "L", "0.9463529"),
    (MORE_SI, "Btu/lb/delta_degF", "1", "4186.8"), (MORE_SI, "atm", "1", "101325"), (MORE_SI, "bar", "1", "100000"),
    (EQUIVALENTS, "ft3", "gal", "7.480519"), (EQUIVALENTS, "gal", "ft3", "0.1336806"), (EQUIVALENTS, "L", "gal", "0.2641721"),
    (EQUIVALENTS, "kg", "lb", "2.204623"), (EQUIVALENTS, "m", "ft", "3.280840"), (EQUIVALENTS, "m3", "ft3", "35.31467"),
)  # fmt: skip
FIGURES = [
    passage.figure(f"{unit} in {'SI' if other == '1' else other}", text, lambda u=unit, o=other: _of(u, o))
    for passage, unit, other, text in FACTORS
] + [SI.figure("ft2 h degF/Btu in m2 K/W", "0.1761102", _resistance)]


@checked(FIGURES)
def test_factor(figure: Figure) -> None:
    """The printed factor, to half a step of its last place."""
    figure.check()


def test_the_pound_is_exact():
    """0.45359237 kg by definition: no rounding allowed for."""
    assert factor_of("lb") == 0.45359237
