"""Units of the edges against NIST SP 811, Appendix B.8; standing: quoted."""

from __future__ import annotations

import pytest

from solver.quantities import factor_of
from tests.published.printed import printed

FACTORS = (
    ("psi in kPa", factor_of("psi") / factor_of("kPa"), "6.894757"),
    ("gal in L", factor_of("gal") / factor_of("L"), "3.785412"),
    ("lb in kg", factor_of("lb"), "0.45359237"),
    ("cfm in L/s", factor_of("cfm") / factor_of("L/s"), "0.4719474"),
    ("hp in W", factor_of("hp"), "745.6999"),
    ("Btu in J", factor_of("Btu"), "1055.056"),
    ("lb/ft3 in kg/m3", factor_of("lb/ft3"), "16.01846"),
    ("gpm in L/s", factor_of("gpm") / factor_of("L/s"), "0.0630902"),
    (
        "ft2 h degF/Btu in m2 K/W",
        factor_of("ft2") * factor_of("h") * factor_of("delta_degF") / factor_of("Btu"),
        "0.1761102",
    ),
)


@pytest.mark.parametrize(
    ("factor", "figure"), [pytest.param(*row[1:], id=f"NIST SP 811 B.8, quoted: {row[0]}") for row in FACTORS]
)
def test_factor(factor, figure):
    """The printed factor, to half a step of its last place."""
    assert factor == printed(figure)


def test_the_pound_is_exact():
    """0.45359237 kg by definition: no rounding allowed for."""
    assert factor_of("lb") == 0.45359237
